/** For the saw and the shop: stock lengths with their pieces drawn on them, skin blanks, frame sheets, the shopping list. */
import { stripName } from '../../../../geometry/parts/bending';
import { cutStockLengths, proofOf, shopTable, stockName } from '../../listTables';
import { textOf } from '../../../say/said';
import { cellText, columnAt } from '../../tables';
import { shapeStrokes } from '../../drawing';
import { tickBox, type PrintColumn } from '../flow';
import type { Pen } from '../pen';
import { len, lenUnit, signOf, type Kit } from './kit';

const box = (pen: Pen, _: number, x: number, y: number, w: number, h: number): void => tickBox(pen, x + w / 2, y + h / 2, 4.2);
const TICK: PrintColumn = { title: [''], width: 8, draw: box };

/** Each stock length as it is cut, to one scale, with numbered pieces. */
function stockDrawings(kit: Kit): void {
  const { flow, parts } = kit;
  const stockLengths = cutStockLengths(parts);
  const longest = Math.max(...stockLengths.map(({ stock }) => stock.length));
  const name = 30;
  const k = (flow.width - name) / longest;
  for (const { stock, number, pieces } of stockLengths) {
    flow.need(13);
    const { pen } = flow;
    const top = flow.y + 1;
    flow.fitted(flow.left, top + 4.4, name - 2, `Stock length ${number}`, 12, 'bold');
    pen.text(flow.left, top + 8.4, `${stockName(stock)} ${len(kit, stock.thickness)} x ${len(kit, stock.length, 0)}`, { size: 8.5 });
    const left = flow.left + name;
    pen.rect(left, top, stock.length * k, 9.4, { width: 0.2, fill: 1 });
    if (stock.waste > 0) {
      const from = left + (stock.length - stock.waste) * k;
      pen.within(from, top, stock.waste * k, 9.4, () => {
        for (let a = -9.4; a < stock.waste * k; a += 2) pen.line(from + a, top + 9.4, from + a + 9.4, top, { width: 0.1, grey: 0.5 });
      });
      if (stock.waste * k > 14) pen.text(left + stock.length * k - 1, top + 5.8, `${len(kit, stock.waste, 0)} left`, { size: 8, align: 'right' });
    }
    let at = left;
    const spare = pieces.reduce((sum, { piece }) => sum + piece.length, 0);
    // What kerfs take is shown as the small space between the pieces.
    const kerf = pieces.length > 0 ? Math.max(0, stock.length - stock.waste - spare) / pieces.length : 0;
    for (const { piece, number: n } of pieces) {
      const wide = piece.length * k;
      pen.rect(at, top, wide, 9.4, { fill: piece.side === 'starboard' ? 0.93 : 1, width: 0.35 });
      flow.fitted(at + 1, top + 4.2, wide - 2, `${n}  ${stripName(piece.strip)} ${piece.side === 'starboard' ? 'stbd' : 'port'}`, 9, 'regular', 'centre');
      flow.fitted(at + 1, top + 8.2, wide - 2, len(kit, piece.length), 11, 'bold', 'centre');
      at += wide + kerf * k;
    }
    flow.space(11.6);
  }
}

function stripCuts(kit: Kit): void {
  const { flow, parts } = kit;
  flow.page('Cut list: strips and spacers');
  if (!parts.joints) {
    flow.text('There is no cutting plan: see the findings.', 12, 'bold');
    return;
  }
  flow.text(`${textOf(proofOf(parts), kit.stamp.unit)} Lengths are along the strip's own middle, scarfs counted in; cut a hair over and trim to fit. Shaded: starboard.`, 10);
  flow.space(2);
  stockDrawings(kit);
  flow.space(3);
  flow.heading('Pieces', 30);
  const pieces = cutStockLengths(parts).flatMap(({ number, pieces: list }) => list.map((one) => ({ ...one, stock: number })));
  const sign = signOf(kit);
  flow.table([
    TICK, { title: ['piece'], width: 16, align: 'centre', face: 'bold' }, { title: ['strip'], width: 44, align: 'left' },
    { title: ['side'], width: 24, align: 'left' }, { title: ['cut to', sign], width: 26, face: 'bold', size: 13 },
    { title: ['along rail', 'from tail'], width: 24 }, { title: ['along rail', 'to'], width: 24 }, { title: ['stock', 'length no.'], width: flow.width - 166, align: 'centre' },
  ], pieces.map(({ piece, number, stock }) => [
    '', String(number), stripName(piece.strip), piece.side, len(kit, piece.length), len(kit, piece.s0, 0), len(kit, piece.s1, 0), String(stock),
  ]), { rowHeight: 6.6, size: 11 });
}

/** A shape's cut lines, scaled into place; y up from the bottom left corner at (x, y). */
function smallShape(pen: Pen, points: ArrayLike<number>, x: number, y: number, k: number, fill?: number): void {
  pen.path(Float64Array.from(points, (v, i) => (i % 2 === 0 ? x + v * k : y - v * k)), { closed: true, width: 0.2, ...(fill === undefined ? {} : { fill }) });
}

function blankCuts(kit: Kit): void {
  const { flow, parts, plan } = kit;
  if (parts.blanks.length === 0) return;
  flow.page('Cut list: skin blanks');
  const over = plan.design.rail.blankOversize;
  flow.text(`Cut each piece to its full-size template. The template has ${lenUnit(kit, over)} of oversize beyond the rocker and deck lines; trim after gluing. Arrow: grain.`, 10);
  flow.space(2);
  const pieces = parts.blanks.flatMap((blank) => blank.pieces.map((piece) => ({ blank, piece })));
  const longest = Math.max(...pieces.map(({ piece }) => piece.boxLength));
  const k = Math.min((flow.width - 62) / longest, 0.4);
  for (const { blank, piece } of pieces) {
    const high = Math.max(15, piece.boxWidth * k + 3);
    flow.need(high);
    const { pen } = flow;
    const top = flow.y;
    tickBox(pen, flow.left + 2.5, top + 4.5, 4.4);
    pen.text(flow.left + 7, top + 5.6, `Layer ${blank.layer}, piece ${piece.index + 1}`, { size: 12, face: 'bold' });
    pen.text(flow.left + 7, top + 10.2, `${len(kit, piece.boxLength, 0)} x ${lenUnit(kit, piece.boxWidth, 0)}, cut ${piece.count}`, { size: 10.5 });
    const board = piece.board === undefined ? undefined : plan.design.timber.boards[piece.board];
    const source = board ? `board ${len(kit, board.length, 0)} x ${lenUnit(kit, board.width, 0)}` : 'no board is wide enough';
    pen.text(flow.left + 7, top + 14, `${source}${piece.joint ? `; ${piece.joint.kind} to the next` : ''}`, { size: 8.5, grey: 0.15 });
    const [x, y] = [flow.left + 62, top + 1 + piece.boxWidth * k];
    pen.rect(x, y - piece.boxWidth * k, piece.boxLength * k, piece.boxWidth * k, { width: 0.15, grey: 0.55, dash: [1.5, 1] });
    smallShape(pen, piece.shape.outline, x, y, k, 0.94);
    for (const stroke of shapeStrokes(piece.shape)) {
      if (stroke.layer === 'score') pen.path(Float64Array.from(stroke.points, (v, i) => (i % 2 === 0 ? x + v * k : y - v * k)), { width: 0.12, grey: 0.3 });
    }
    flow.space(high + 1.5);
  }
}

/** Stock boards with the skin blanks as they are cut from them. */
function boardCuts(kit: Kit): void {
  const { flow, parts } = kit;
  const boards = parts.boards?.boards ?? [];
  if (boards.length === 0) return;
  flow.heading('Skin blanks on the boards', 40);
  const k = Math.min(...boards.map((board) => flow.width / board.length));
  boards.forEach((board, n) => {
    flow.need(board.width * k + 8);
    const { pen } = flow;
    pen.text(flow.left, flow.y + 4, `Board ${n + 1}: ${len(kit, board.length, 0)} x ${lenUnit(kit, board.width, 0)}, ${Math.round(board.yield * 100)} % used`, { size: 10.5, face: 'bold' });
    const y = flow.y + 5.5 + board.width * k;
    pen.rect(flow.left, flow.y + 5.5, board.length * k, board.width * k, { width: 0.3 });
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
    flow.space(2.5);
  });
}

function sheetCuts(kit: Kit): void {
  const { flow, parts } = kit;
  const sheets = parts.nest?.sheets ?? [];
  if (sheets.length === 0) return;
  const tall = (sheet: { readonly length: number; readonly width: number }): number => Math.min(flow.width / sheet.length, 100 / sheet.width) * sheet.width + 9;
  flow.heading('Frames on the laser\'s sheets', tall(sheets[0]));
  sheets.forEach((sheet, n) => {
    const k = Math.min(flow.width / sheet.length, 100 / sheet.width);
    flow.need(tall(sheet));
    const { pen } = flow;
    pen.text(flow.left, flow.y + 4, `Sheet ${n + 1}: ${len(kit, sheet.length, 0)} x ${lenUnit(kit, sheet.width, 0)}, ${lenUnit(kit, sheet.thickness)} thick, ${Math.round(sheet.yield * 100)} % used`, { size: 10.5, face: 'bold' });
    const y = flow.y + 6 + sheet.width * k;
    pen.rect(flow.left, flow.y + 6, sheet.length * k, sheet.width * k, { width: 0.3 });
    for (const placed of sheet.parts) {
      const part = parts.frames.find(({ id }) => id === placed.id);
      if (!part) continue;
      const [c, s] = [Math.cos(placed.turn), Math.sin(placed.turn)];
      const turn = (points: ArrayLike<number>): Float64Array =>
        Float64Array.from({ length: points.length }, (_, i) => (i % 2 === 0
          ? points[i] * c - points[i + 1] * s + placed.x : points[i - 1] * s + points[i] * c + placed.y));
      const outline = turn(part.shape.outline);
      smallShape(pen, outline, flow.left, y, k, 0.92);
      for (const hole of part.shape.holes) smallShape(pen, turn(hole), flow.left, y, k, 1);
      let [mx, my] = [0, 0];
      for (let i = 0; i < outline.length; i += 2) {
        mx += (2 * outline[i]) / outline.length;
        my += (2 * outline[i + 1]) / outline.length;
      }
      const half = pen.measure(part.label, 7.5, 'bold') / 2 + 0.8;
      pen.rect(flow.left + mx * k - half, y - my * k - 1.7, 2 * half, 3.4, { fill: 1, bare: true });
      pen.text(flow.left + mx * k, y - my * k + 0.9, part.label, { size: 7.5, align: 'centre', face: 'bold' });
    }
    flow.y = y;
    flow.space(3);
  });
  const lost = parts.nest?.unplaced ?? [];
  if (lost.length > 0) flow.text(`Too large for the sheet: ${lost.join(', ')}. Cut them from the full-size template.`, 10.5, 'bold');
}

function shopping(kit: Kit): void {
  const { flow, plan, parts } = kit;
  const table = shopTable(plan, parts);
  flow.page('Shopping list');
  if (table.rows.length === 0) {
    flow.text('Nothing could be counted: see the findings.', 12, 'bold');
    return;
  }
  const picked = ['item', 'needed', 'on hand', 'to buy', 'price each', 'cost'].map((id) => columnAt(table, id));
  const cost = columnAt(table, 'cost');
  flow.table([
    TICK, { title: ['what'], width: flow.width - 85, align: 'left' }, { title: ['needed'], width: 15, align: 'centre' }, { title: ['on hand'], width: 15, align: 'centre' },
    { title: ['to buy'], width: 15, align: 'centre', face: 'bold', size: 14 }, { title: ['each', plan.design.timber.currency], width: 15 }, { title: ['cost', plan.design.timber.currency], width: 17, face: 'bold' },
  ], table.rows.map((row) => ['', ...picked.map((k) => cellText(row[k], table.columns[k], kit.stamp.unit))]), { rowHeight: 8.6, size: 11 });
  const sum = table.rows.reduce((total, row) => total + (Number(row[cost])), 0);
  flow.text(`To pay: ${sum.toFixed(2)} ${plan.design.timber.currency}. Glue, varnish, vent, fin box and fittings are not in this list. If you have not steamed before, buy a spare strip of each kind.`, 12, 'bold');
}

/** Everything to cut and to buy. */
export function cuttingChapter(kit: Kit): void {
  stripCuts(kit);
  blankCuts(kit);
  boardCuts(kit);
  sheetCuts(kit);
  shopping(kit);
}
