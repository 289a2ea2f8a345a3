/** For the saw: stock lengths with their pieces drawn on them, skin blanks on their boards, frames on the laser's sheets. */
import { stripName } from '../../../../geometry/parts/stripWords';
import { cutStockLengths, proofOf, stockName } from '../../listTables';
import { limberWords } from '../../laserTable';
import { grouped } from '../../millTable';
import { textOf } from '../../../say/said';
import { tickBox, type PrintColumn } from '../flow';
import type { Pen } from '../pen';
import { len, lenUnit, signOf, type Kit } from './kit';

const box = (pen: Pen, _: number, x: number, y: number, w: number, h: number): void => tickBox(pen, x + w / 2, y + h / 2, 4.2);
export const TICK: PrintColumn = { title: [''], width: 8, draw: box };

/** Stock lengths that are cut alike, port and starboard as a rule. */
const alike = (kit: Kit): ReturnType<typeof cutStockLengths>[] => grouped(cutStockLengths(kit.parts), ({ stock: { stock, thickness, length }, pieces }) =>
  [stock, thickness, length, ...pieces.flatMap(({ piece }) => [stripName(piece.strip), len(kit, piece.length)])].join('|'));

const SIDES = { starboard: 'stbd', port: 'port' } as const;

/** Each stock length as it is cut, to one scale, with numbered pieces; those cut alike are drawn once. */
function stockDrawings(kit: Kit): void {
  const { flow } = kit;
  const groups = alike(kit);
  const longest = Math.max(...groups.map(([{ stock }]) => stock.length));
  const name = 41;
  const high = 8.8;
  const k = (flow.width - name) / longest;
  for (const group of groups) {
    flow.need(high + 2);
    const { pen } = flow;
    const top = flow.y + 0.8;
    const [{ stock, pieces }] = group;
    group.forEach((_, i) => tickBox(pen, flow.left + 2.4 + i * 4.6, top + 2.4, 3.8));
    flow.fitted(flow.left + group.length * 4.6 + 1, top + 3.8, name - group.length * 4.6 - 3, `${group.length} x ${len(kit, stock.length, 0)}`, 12, 'bold');
    flow.fitted(flow.left, top + 8.2, name - 2, `${stockName(stock)} ${len(kit, stock.thickness)} thick, no. ${group.map(({ number }) => number).join(', ')}`, 8.5);
    const left = flow.left + name;
    pen.rect(left, top, stock.length * k, high, { width: 0.2, fill: 1 });
    if (stock.waste > 0) {
      const from = left + (stock.length - stock.waste) * k;
      pen.within(from, top, stock.waste * k, high, () => {
        for (let a = -high; a < stock.waste * k; a += 2) pen.line(from + a, top + high, from + a + high, top, { width: 0.1, grey: 0.5 });
      });
      if (stock.waste * k > 14) pen.text(left + stock.length * k - 1, top + 5.4, `${len(kit, stock.waste, 0)} left`, { size: 8, align: 'right' });
    }
    let at = left;
    const spare = pieces.reduce((sum, { piece }) => sum + piece.length, 0);
    // What kerfs take is shown as the small space between the pieces.
    const kerf = pieces.length > 0 ? Math.max(0, stock.length - stock.waste - spare) / pieces.length : 0;
    pieces.forEach(({ piece }, i) => {
      const wide = piece.length * k;
      const numbers = group.map((one) => `${one.pieces[i].number} ${SIDES[one.pieces[i].piece.side]}`).join(', ');
      pen.rect(at, top, wide, high, { fill: 0.95, width: 0.35 });
      flow.fitted(at + 1, top + 3.5, wide - 2, `${stripName(piece.strip)}: ${numbers}`, 8.5, 'regular', 'centre');
      flow.fitted(at + 1, top + 7.9, wide - 2, len(kit, piece.length), 12, 'bold', 'centre');
      at += wide + kerf * k;
    });
    flow.space(high + 1.7);
  }
}

function stripCuts(kit: Kit): void {
  const { flow, parts } = kit;
  flow.chapter('Cut: strips and spacers', 36);
  if (!parts.joints) {
    flow.text('There is no cutting plan: see the findings.', 12, 'bold');
    return;
  }
  flow.text(`${textOf(proofOf(parts), kit.stamp.unit)} Lengths are along the strip's own middle, scarfs counted in; cut a hair over and trim to fit. As you cut it, write on the face that looks up: the piece's number, its side, and an arrow to the nose.`, 9.5);
  flow.space(1.5);
  stockDrawings(kit);
}

/** A shape's cut lines, scaled into place; y up from the bottom left corner at (x, y). */
function smallShape(pen: Pen, points: ArrayLike<number>, x: number, y: number, k: number, fill?: number): void {
  pen.path(Float64Array.from(points, (v, i) => (i % 2 === 0 ? x + v * k : y - v * k)), { closed: true, width: 0.2, ...(fill === undefined ? {} : { fill }) });
}

function blankCuts(kit: Kit): void {
  const { flow, parts, plan } = kit;
  if (parts.blanks.length === 0) return;
  flow.chapter('Cut: outer skins', 40);
  const over = plan.design.rail.blankOversize;
  flow.text(`Draw each piece by the offsets of the skin blanks, or take the full-size DXF or SVG: both have ${lenUnit(kit, over)} of oversize beyond the rocker and deck lines; trim after gluing. Grain runs along the piece. Drawn is the outside of starboard; the copy turned over is port's: write "out" on the face that looks out.`, 9.5);
  flow.space(1);
  const pieces = parts.blanks.flatMap((blank) => blank.pieces);
  const sign = signOf(kit);
  flow.table([
    TICK, { title: ['piece'], width: 42, align: 'left', face: 'bold' }, { title: ['cut'], width: 14, align: 'centre', face: 'bold' },
    { title: ['length', sign], width: 24, face: 'bold' }, { title: ['width', sign], width: 22, face: 'bold' }, { title: ['from a board'], width: 42, align: 'left' }, { title: ['to the next'], width: flow.width - 152, align: 'left' },
  ], pieces.map((piece) => {
    const board = piece.board === undefined ? undefined : plan.design.timber.boards[piece.board];
    return [
      '', `Layer ${piece.layer}, piece ${piece.index + 1}${piece.layers > 1 ? `: in ${piece.layers} of ${len(kit, piece.thickness)}` : ''}`, String(piece.count * piece.layers), len(kit, piece.boxLength, 0), len(kit, piece.boxWidth, 0),
      board ? `${len(kit, board.length, 0)} x ${len(kit, board.width, 0)}` : 'none is wide enough', piece.joint ? piece.joint.kind : '',
    ];
  }), { rowHeight: 5.8, size: 10.5 });
}

/** Stock boards with the skin blanks as they are cut from them; those cut alike are drawn once. */
function boardCuts(kit: Kit): void {
  const { flow, parts } = kit;
  const boards = (parts.boards?.boards ?? []).map((board, n) => ({ ...board, number: n + 1 }));
  if (boards.length === 0) return;
  const k = Math.min(...boards.map((board) => flow.width / board.length));
  const groups = grouped(boards, ({ type, thickness, pieces }) => JSON.stringify([type, thickness, pieces.map(({ layer, index, copy, x, y }) => [layer, index, copy, x, y])]));
  for (const group of groups) {
    const [board] = group;
    flow.need(board.width * k + 7);
    const { pen } = flow;
    const name = `${group.length === 1 ? 'Board' : 'Boards'} ${group.map(({ number }) => number).join(', ')}: ${len(kit, board.length, 0)} x ${len(kit, board.width, 0)} x ${lenUnit(kit, board.thickness)}, ${Math.round(board.yield * 100)} % used`;
    flow.fitted(flow.left, flow.y + 3.6, flow.width, name, 9.5, 'bold');
    const y = flow.y + 4.6 + board.width * k;
    pen.rect(flow.left, flow.y + 4.6, board.length * k, board.width * k, { width: 0.3 });
    for (const placed of board.pieces) {
      const piece = parts.blanks.find(({ layer }) => layer === placed.layer)?.pieces.find(({ index }) => index === placed.index);
      if (!piece) continue;
      // The second copy is turned over end for end: the same box, its shape mirrored.
      const over = placed.copy === 2;
      const points = Float64Array.from(piece.shape.outline, (v, i) => (i % 2 === 0 ? v + placed.x : (over ? piece.boxWidth - v : v) + placed.y));
      smallShape(pen, points, flow.left, y, k, 0.93);
      pen.text(flow.left + (placed.x + piece.boxLength / 2) * k, y - (placed.y + piece.boxWidth / 2) * k + 1.2, `layer ${placed.layer}, piece ${placed.index + 1}${over ? ', turned over' : ''}`, { size: 8.5, align: 'centre' });
    }
    flow.y = y;
    flow.space(1.6);
  }
}

/** Tallest that a sheet is drawn, and the space between two side by side, mm. */
const SHEET_HIGH = 36;
const SHEET_GAP = 6;

type Sheet = NonNullable<Kit['parts']['nest']>['sheets'][number];

/** One sheet with its parts, its upper left corner at (left, top), `k` of its size, and the face grain as an arrow under it. */
function sheetDrawing({ flow: { pen }, parts }: Kit, sheet: Sheet, left: number, top: number, k: number): void {
  const y = top + sheet.width * k;
  const right = left + sheet.length * k;
  pen.rect(left, top, sheet.length * k, sheet.width * k, { width: 0.3 });
  for (const placed of sheet.parts) {
    const part = parts.frames.find(({ id }) => id === placed.id);
    if (!part) continue;
    const [c, s] = [Math.cos(placed.turn), Math.sin(placed.turn)];
    const turn = (points: ArrayLike<number>): Float64Array =>
      Float64Array.from({ length: points.length }, (_, i) => (i % 2 === 0
        ? points[i] * c - points[i + 1] * s + placed.x : points[i - 1] * s + points[i] * c + placed.y));
    const outline = turn(part.shape.outline);
    smallShape(pen, outline, left, y, k, 0.92);
    for (const hole of part.shape.holes) smallShape(pen, turn(hole), left, y, k, 1);
    let [mx, my] = [0, 0];
    for (let i = 0; i < outline.length; i += 2) {
      mx += (2 * outline[i]) / outline.length;
      my += (2 * outline[i + 1]) / outline.length;
    }
    const half = pen.measure(part.label, 7.5, 'bold') / 2 + 0.8;
    pen.rect(left + mx * k - half, y - my * k - 1.7, 2 * half, 3.4, { fill: 1, bare: true });
    pen.text(left + mx * k, y - my * k + 0.9, part.label, { size: 7.5, align: 'centre', face: 'bold' });
  }
  const low = y + 2.2;
  pen.text(right - 22, low + 0.8, 'face grain', { size: 7.5, align: 'right' });
  pen.line(right - 20, low, right - 1, low, { width: 0.3 });
  pen.path([right - 4, low - 1, right - 1, low, right - 4, low + 1], { width: 0.3 });
}

function sheetCuts(kit: Kit): void {
  const { flow, parts, plan } = kit;
  const sheets = parts.nest?.sheets ?? [];
  if (sheets.length === 0) return;
  const wide = (flow.width - SHEET_GAP) / 2;
  const scale = (sheet: Sheet): number => Math.min(wide / sheet.length, SHEET_HIGH / sheet.width);
  const tall = (row: readonly Sheet[]): number => Math.max(...row.map((sheet) => scale(sheet) * sheet.width)) + 10;
  flow.chapter('Laser: ribs and stringer', tall(sheets.slice(0, 2)) + 12);
  flow.text(`Sheets by thickness; their face grain runs along their length, ${plan.design.frames.grain === 'either' ? 'and does not matter: parts lie either way' : 'and no part lies across it'}. Engraved labels look up on the bed: a rib's label looks to the tail, the stringer's to starboard. Lightening and limber holes let the air through every bay.`, 9.5);
  flow.space(1);
  for (let from = 0; from < sheets.length; from += 2) {
    const row = sheets.slice(from, from + 2);
    flow.need(tall(row));
    row.forEach((sheet, i) => {
      const left = flow.left + i * (wide + SHEET_GAP);
      flow.fitted(left, flow.y + 4, wide, `Sheet ${from + i + 1}: ${len(kit, sheet.length, 0)} x ${lenUnit(kit, sheet.width, 0)}, ${lenUnit(kit, sheet.thickness)} thick, ${Math.round(sheet.yield * 100)} % used`, 10.5, 'bold');
      sheetDrawing(kit, sheet, left, flow.y + 5.5, scale(sheet));
    });
    flow.space(tall(row));
  }
  for (const words of limberWords(parts)) flow.text(textOf(words, kit.stamp.unit), 8);
  const lost = parts.nest?.unplaced ?? [];
  if (lost.length > 0) flow.text(`On no sheet: ${lost.join(', ')}. Cut them from the full-size template.`, 10.5, 'bold');
}

/** Everything to cut, in the order of the shop. */
export function cuttingChapter(kit: Kit): void {
  stripCuts(kit);
  blankCuts(kit);
  boardCuts(kit);
}

/** The laser's sheets, thickness by thickness. */
export function laserChapter(kit: Kit): void {
  sheetCuts(kit);
}
