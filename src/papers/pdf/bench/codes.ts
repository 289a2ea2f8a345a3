/** Codes for the phone: each opens this board in the viewer, at the place it is printed beside. */
import { boardLink, leftOutText, QR_LIMIT } from '../../../link/boardLink';
import { qrCode, QUIET } from '../../../link/qr';
import { len, lenUnit, type Kit } from './kit';

/** Codes in a row, and the height each takes with its words, mm. */
const ACROSS = 3;
const HIGH = 66;
/** Side of a code with its light margin, mm. */
const SIDE = 54;

interface Spot {
  readonly name: string;
  readonly where: string;
  readonly s: number;
}

function spots(kit: Kit): Spot[] {
  const { plan } = kit;
  const where = (x: number) => `${len(kit, x)} from tail, ${lenUnit(kit, plan.hull.length - x)} from nose`;
  return plan.rail.ribs.map((rib) => ({ name: `Rib ${rib.index + 1}`, where: where(rib.x), s: rib.s }));
}

/** What the first page says of the codes. */
export function codesLine(kit: Kit): string {
  const { plan, address, record } = kit;
  if (address === '') return 'No codes for the phone: no address was given for the page that opens this board.';
  const { code, length } = boardLink(plan.design, plan.rail.face.length, address, undefined, record);
  return code
    ? `Codes on the last pages open this board on a phone, rib by rib.${code.leavesOut.length > 0 ? ` ${leftOutText(code.leavesOut)}` : ''}`
    : `No codes for the phone: the link has ${length} characters, and a QR code holds ${QR_LIMIT}.`;
}

/** One code for each rib, and one for the board; nothing where there is no address or the board is too long for a code. */
export function codesChapter(kit: Kit): void {
  const { flow, plan, address, record } = kit;
  // The place at the nose has the longest figure: where its link fits, all do.
  const longest = boardLink(plan.design, plan.rail.face.length, address, undefined, record).code;
  if (!longest) return;
  flow.page('Codes for the phone');
  flow.text(`Each code opens this board, as on this sheet, at its rib. The address is ${address}; the board itself is in the code.${longest.leavesOut.length > 0 ? ` ${leftOutText(longest.leavesOut)}` : ''}`, 10.5);
  flow.space(3);
  const all: Spot[] = [{ name: 'The board', where: plan.design.name, s: Number.NaN }, ...spots(kit)];
  const wide = flow.width / ACROSS;
  all.forEach(({ name, where, s }, i) => {
    if (i % ACROSS === 0) {
      if (i > 0) flow.space(HIGH);
      flow.need(HIGH);
    }
    const left = flow.left + (i % ACROSS) * wide;
    const link = boardLink(plan.design, s, address, undefined, record);
    const code = qrCode(link.code?.href ?? link.href);
    const module = SIDE / (code.size + 2 * QUIET);
    const x0 = left + (wide - SIDE) / 2;
    flow.pen.cells(code.runs.map(([x, y, n]) => [x0 + (x + QUIET) * module, flow.y + (y + QUIET) * module, n * module, module]));
    flow.fitted(left + 2, flow.y + SIDE + 3.5, wide - 4, name, 12, 'bold', 'centre');
    flow.fitted(left + 2, flow.y + SIDE + 7.8, wide - 4, where, 8.5, 'regular', 'centre', 0.25);
  });
  flow.space(HIGH);
}
