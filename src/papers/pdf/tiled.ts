/**
 * Full-size templates as PDF: a drawing cut into pages that overlap, with register marks in the overlaps, a
 * map of the pages, and a 100 mm check bar on every page; or one sheet off a roll.
 */
import { drawingStrokes, moved, type Drawing, type Sketch, sketchOf, stacked, type Stroke } from '../drawing';
import { sheetSize, type PaperSize } from '../sizes';
import type { Stamp } from '../stamp';
import { finishDocument, newDocument, Pen } from './pen';
import { BAR_HEIGHT, checkBar, MARGIN, pageHead, pageNumber } from './sheets';

/** Pages share this much of the drawing with their neighbours, mm. */
export const OVERLAP = 12;

/** Paper left round the drawing, so that a line on its edge is drawn whole, mm. */
const EDGE = 1;

/** Widest roll that plotters commonly take (24 in), less its margins, mm. */
const ROLL = 610 - 2 * MARGIN;
/** Longest page a PDF reader must show: 14400 points (ISO 32000-1, annex C), less margins, mm. */
const LONGEST = 5080 - 2 * MARGIN;

const HEAD = 9;
const FOOT = BAR_HEIGHT + 2;

/** Where each page's window lies on the drawing; x and y are its lower left corner. */
interface Tile {
  readonly column: number;
  readonly row: number;
  readonly x: number;
  readonly y: number;
}

interface Tiling {
  readonly drawing: Drawing;
  readonly strokes: readonly Stroke[];
  readonly window: readonly [number, number];
  readonly columns: number;
  readonly rows: number;
  readonly tiles: readonly Tile[];
}

/** Windows along one direction: as many as cover `length` with their overlaps. */
const windows = (length: number, window: number): number => Math.max(1, Math.ceil((length - OVERLAP - 1e-6) / (window - OVERLAP)));

/** Page name: columns by letter from the left, rows by number from the top. */
const tileName = ({ column, row }: Pick<Tile, 'column' | 'row'>): string =>
  `${column >= 26 ? String.fromCharCode(64 + Math.floor(column / 26)) : ''}${String.fromCharCode(65 + (column % 26))}${row + 1}`;

/** True where a stroke comes into a rectangle, by its pieces' own bounds: at worst one page too many. */
function enters(stroke: Stroke, x: number, y: number, w: number, h: number): boolean {
  const { points } = stroke;
  const n = points.length / 2;
  for (let i = 0; i < (stroke.closed ? n : n - 1); i++) {
    const j = (i + 1) % n;
    const [ax, ay, bx, by] = [points[2 * i], points[2 * i + 1], points[2 * j], points[2 * j + 1]];
    if (Math.max(ax, bx) >= x && Math.min(ax, bx) <= x + w && Math.max(ay, by) >= y && Math.min(ay, by) <= y + h) return true;
  }
  return false;
}

function tiling(drawing: Drawing, window: readonly [number, number]): Tiling {
  const strokes = drawingStrokes(drawing);
  const [w, h] = window;
  const columns = windows(drawing.width + 2 * EDGE, w);
  const rows = windows(drawing.height + 2 * EDGE, h);
  const tiles: Tile[] = [];
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const x = column * (w - OVERLAP) - EDGE;
      const y = drawing.height + EDGE - row * (h - OVERLAP) - h;
      if (strokes.some((stroke) => enters(stroke, x, y, w, h))) tiles.push({ column, row, x, y });
    }
  }
  return { drawing, strokes, window, columns, rows, tiles };
}

/** A sketch turned a quarter, to lie along the page. */
const turned = (sketch: Sketch): Sketch => sketchOf(sketch.id, sketch.title, moved(sketch.strokes, 0, 0, Math.PI / 2));

/** The arrangement with the fewest pages: sheets upright or lying, parts lying or standing. */
function bestTiling(id: string, title: string, sketches: readonly Sketch[], sheet: readonly [number, number]): Tiling {
  const [short, long] = sheet;
  const options = [[short, long], [long, short]].flatMap(([w, h]) => {
    const window = [w - 2 * MARGIN, h - 2 * MARGIN - HEAD - FOOT] as const;
    return [sketches, sketches.map(turned)].map((list) => {
      const widest = Math.max(window[0], ...list.map((sketch) => sketch.width));
      return tiling(stacked(id, title, list, widest, window[1] - OVERLAP), window);
    });
  });
  return options.reduce((best, other) => (other.tiles.length < best.tiles.length ? other : best));
}

const LAYER_STYLE = {
  cut: { width: 0.3 },
  score: { width: 0.18, grey: 0.25 },
  label: { width: 0.22, grey: 0.1 },
  stock: { width: 0.2, grey: 0.5, dash: [4, 2] },
  note: { width: 0.2, grey: 0.4 },
} as const;

/** Register mark: cross and circle, with its own number so that it can only meet its like. */
function registerMark(pen: Pen, x: number, y: number, name: string): void {
  pen.line(x - 5, y, x + 5, y, { width: 0.15 });
  pen.line(x, y - 5, x, y + 5, { width: 0.15 });
  pen.circle(x, y, 2.2, { width: 0.15 });
  pen.text(x + 2.6, y - 1, name, { size: 6 });
}

/** Least size of a page's name on a map, points. */
const LEAST_NAME = 3.5;
/** A line on a small map, no two points nearer than this on it, mm. */
const MAP_STEP = 0.3;

/** A closed line scaled down to (left + x k, base - y k), without the points that would fall together. */
function mapped(points: Stroke['points'], left: number, base: number, k: number): number[] {
  const out = [left + points[0] * k, base - points[1] * k];
  for (let i = 2; i < points.length; i += 2) {
    const [x, y] = [left + points[i] * k, base - points[i + 1] * k];
    if (Math.abs(x - out[out.length - 2]) + Math.abs(y - out[out.length - 1]) >= MAP_STEP) out.push(x, y);
  }
  return out;
}

/**
 * The pages as they lie, top left corner at (x, y), within the given size; `here` is shaded. Where pages are too many for
 * their names only `here` is drawn among the parts: each page of many has a map, which must not grow with their number.
 */
function pageMap(pen: Pen, x: number, y: number, w: number, h: number, t: Tiling, here?: Tile): void {
  const [tw, th] = t.window;
  const whole = [(t.columns - 1) * (tw - OVERLAP) + tw, (t.rows - 1) * (th - OVERLAP) + th];
  const k = Math.min(w / whole[0], h / whole[1]);
  const left = (column: number): number => x + column * (tw - OVERLAP) * k;
  const top = (row: number): number => y + row * (th - OVERLAP) * k;
  const room = (th - OVERLAP) * k * 1.1;
  const shown = here && room < LEAST_NAME ? [here] : t.tiles;
  for (const tile of shown) {
    const shade = tile === here ? { fill: 0.8 } : {};
    pen.rect(left(tile.column), top(tile.row), (tw - OVERLAP) * k, (th - OVERLAP) * k, { width: 0.15, grey: 0.4, ...shade });
  }
  const base = y + (t.drawing.height + EDGE) * k;
  for (const { layer, points, closed } of t.strokes) {
    if (layer !== 'cut') continue;
    pen.path(mapped(points, x + EDGE * k, base, k), { width: 0.12, closed });
  }
  const size = Math.min(14, Math.max(LEAST_NAME, room));
  for (const tile of shown) {
    const middle = [left(tile.column) + ((tw - OVERLAP) * k) / 2, top(tile.row) + ((th - OVERLAP) * k) / 2];
    pen.text(middle[0], middle[1] + size * 0.13, tileName(tile), { size, align: 'centre', face: 'bold', grey: tile === here ? 0 : 0.35 });
  }
}

/** One page of a drawing. Window top left on the page at (MARGIN, MARGIN + HEAD). */
function tilePage(pen: Pen, t: Tiling, tile: Tile, stamp: Stamp): void {
  const [w, h] = t.window;
  const many = t.tiles.length > 1;
  pageHead(pen, MARGIN - 1, many ? `${t.drawing.title} ${tileName(tile)}` : t.drawing.title, stamp, 'full size, mm');
  const [left, top] = [MARGIN, MARGIN + HEAD];
  const px = (x: number): number => left + x - tile.x;
  const py = (y: number): number => top + h - (y - tile.y);
  pen.within(left, top, w, h, () => {
    for (const stroke of t.strokes) {
      if (!enters(stroke, tile.x, tile.y, w, h)) continue;
      const points = Float64Array.from(stroke.points, (v, i) => (i % 2 === 0 ? px(v) : py(v)));
      pen.path(points, { ...LAYER_STYLE[stroke.layer], closed: stroke.closed });
    }
  });
  if (!many) return;
  const has = (column: number, row: number): Tile | undefined => t.tiles.find((o) => o.column === column && o.row === row);
  const neighbours = [
    { tile: has(tile.column - 1, tile.row), x: left + OVERLAP / 2, y: top + h / 2, turn: Math.PI / 2, at: 'left' },
    { tile: has(tile.column + 1, tile.row), x: left + w - OVERLAP / 2, y: top + h / 2, turn: Math.PI / 2, at: 'right' },
    { tile: has(tile.column, tile.row - 1), x: left + w / 2, y: top + OVERLAP / 2, turn: 0, at: 'top' },
    { tile: has(tile.column, tile.row + 1), x: left + w / 2, y: top + h - OVERLAP / 2, turn: 0, at: 'bottom' },
  ] as const;
  const edge = { width: 0.15, grey: 0.45, dash: [2, 1.5] };
  for (const next of neighbours) {
    if (!next.tile) continue;
    if (next.at === 'left') pen.line(left + OVERLAP, top, left + OVERLAP, top + h, edge);
    if (next.at === 'right') pen.line(left + w - OVERLAP, top, left + w - OVERLAP, top + h, edge);
    if (next.at === 'top') pen.line(left, top + OVERLAP, left + w, top + OVERLAP, edge);
    if (next.at === 'bottom') pen.line(left, top + h - OVERLAP, left + w, top + h - OVERLAP, edge);
    pen.text(next.x, next.y + (next.turn === 0 ? 1 : 12), `joins ${tileName(next.tile)}`, { size: 7, align: 'centre', grey: 0.3, turn: next.turn });
  }
  for (let i = 0; i <= 1; i++) {
    for (let j = 0; j <= 1; j++) {
      // Marks stand at the middle of the overlaps, so that two to four pages carry the same one.
      const column = tile.column + i;
      const row = tile.row + j;
      const shared = [[-1, -1], [0, -1], [-1, 0], [0, 0]].filter(([dc, dr]) => has(column + dc, row + dr)).length > 1;
      if (!shared) continue;
      registerMark(pen, left + (i === 0 ? OVERLAP / 2 : w - OVERLAP / 2), top + (j === 0 ? OVERLAP / 2 : h - OVERLAP / 2), `${column}.${row}`);
    }
  }
}

function footPlace(pen: Pen): number {
  return pen.height - MARGIN - BAR_HEIGHT;
}

const HOW = [
  'Print every page at 100 % ("actual size"), never "fit to page". Measure the bar at the foot of each page before you cut wood: 100 mm.',
  'Pages are named by column (letter) and row (number). Each overlaps its neighbours; trim one of two along the dashed line, lay it on the other so that crosses with the same number meet, and tape.',
  'Then measure across a joint once more: a part is as long as its label or the cut list says. Heavy line: cut. Thin line: mark or score. Keep the line on the waste side until the part fits.',
];

/** First page of a drawing that needs several: how to print and join, and the map. */
function mapPage(pen: Pen, t: Tiling, stamp: Stamp): void {
  pageHead(pen, MARGIN - 1, `${t.drawing.title}: how the pages fit together`, stamp, 'full size, mm');
  let y = MARGIN + HEAD + 8;
  for (const text of HOW) y = pen.paragraph(MARGIN, y, pen.width - 2 * MARGIN, text, { size: 11 }) + 2;
  const room = footPlace(pen) - 6 - y;
  pageMap(pen, MARGIN, y + 4, pen.width - 2 * MARGIN, room, t);
}

/**
 * Sketches as a full-size PDF on the given paper. On a roll, one page; else as few pages as the upright, lying,
 * turned and straight arrangements give, pages without a line left out.
 */
export async function writeTiledPdf(id: string, title: string, sketches: readonly Sketch[], paper: PaperSize, stamp: Stamp): Promise<Uint8Array> {
  const { pdf, fonts } = await newDocument(title, stamp);
  const inked = sketches.filter((sketch) => sketch.strokes.length > 0);
  const t = paper === 'roll' ? rollTiling(id, title, inked) : bestTiling(id, title, inked, sheetSize(paper));
  const size = [t.window[0] + 2 * MARGIN, t.window[1] + 2 * MARGIN + HEAD + FOOT] as const;
  const many = t.tiles.length > 1;
  const total = t.tiles.length + (many ? 1 : 0);
  const page = (n: number, draw: (pen: Pen) => void): void => {
    const pen = new Pen(pdf, fonts, ...size);
    draw(pen);
    checkBar(pen, MARGIN, footPlace(pen));
    pageNumber(pen, n, total);
  };
  if (many) page(1, (pen) => mapPage(pen, t, stamp));
  t.tiles.forEach((tile, i) => page(i + (many ? 2 : 1), (pen) => {
    tilePage(pen, t, tile, stamp);
    const left = MARGIN + 112;
    if (many) pageMap(pen, left, footPlace(pen), pen.width - left - MARGIN - 22, BAR_HEIGHT - 1, t, tile);
  }));
  return finishDocument(pdf);
}

/** One sheet off the roll, as short as its width allows; in pieces only past what a PDF page can be. */
function rollTiling(id: string, title: string, sketches: readonly Sketch[]): Tiling {
  const lying = sketches.map((sketch) => (sketch.height > sketch.width ? turned(sketch) : sketch));
  let limit = Math.max(200, ...lying.map((sketch) => sketch.width));
  let drawing = stacked(id, title, lying, limit);
  while (drawing.height > ROLL - HEAD - FOOT && limit < LONGEST) {
    limit = Math.min(LONGEST, limit * 1.15);
    drawing = stacked(id, title, lying, limit);
  }
  return tiling(drawing, [Math.min(LONGEST, Math.max(200, drawing.width + 2 * EDGE)), Math.max(60, drawing.height + 2 * EDGE)]);
}
