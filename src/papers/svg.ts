/** A drawing as SVG, full size: one user unit is one millimetre, one group a layer. */
import { strokeBends } from './arcs';
import { drawingStrokes, tidy, type Drawing, type DrawingLayer, type Stroke } from './drawing';
import { curveWords, sentLayers, SHOP_COLOURS, type Shop } from './shop';
import { stampLine, type Stamp } from './stamp';

/** White border round the drawing, and the strip under it that carries the stamp, mm. */
export const SVG_BORDER = 10;
export const SVG_NOTE = 16;

/** A letter of a note takes about so much of its line, mm. */
const LETTER = 2.1;
/** Height of each further line of words under the drawing, mm. */
const LINE = 7;

/** Line width of each layer, mm: fine, as a machine follows it. */
const WIDTH: Readonly<Record<DrawingLayer, number>> = { cut: 0.2, score: 0.15, label: 0.2, stock: 0.2, note: 0.2 };

/** Text as XML character data or attribute value; control signs that XML forbids are left out. */
export function xml(text: string): string {
  const plain = Array.from(text).filter((letter) => (letter.codePointAt(0) ?? 0) >= 32).join('');
  return plain.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;').replace(/"/g, '&quot;');
}

const figure = (value: number): string => String(tidy(value));

/** A stroke as path data, y down from the drawing's top; a bend is an arc of a circle (SVG 2, 9.3.8). */
function pathData(stroke: Stroke, height: number, { curves, within }: Shop): string {
  const { layer, points, closed } = stroke;
  const at = (x: number, y: number) => `${figure(x + SVG_BORDER)} ${figure(SVG_BORDER + height - y)}`;
  if (curves === 'lines' || layer === 'label') {
    return Array.from({ length: points.length >> 1 }, (_, i) => `${i === 0 ? 'M' : 'L'}${at(points[2 * i], points[2 * i + 1])}`).join('') + (closed ? 'Z' : '');
  }
  const bends = strokeBends(stroke, within);
  const ways = bends.flatMap(({ x, y, bulge }, i) => {
    const to = bends[i + 1] ?? (closed ? bends[0] : undefined);
    if (!to || (bulge === 0 && i === bends.length - 1)) return [];
    if (bulge === 0) return [`L${at(to.x, to.y)}`];
    const radius = figure((Math.hypot(to.x - x, to.y - y) * (1 + bulge * bulge)) / (4 * Math.abs(bulge)));
    // None turns farther than a half circle; y down, an arc to the left goes against the clock.
    return [`A${radius} ${radius} 0 0 ${bulge > 0 ? 0 : 1} ${at(to.x, to.y)}`];
  });
  return bends.length === 0 ? '' : `M${at(bends[0].x, bends[0].y)}${ways.join('')}${closed ? 'Z' : ''}`;
}

/** The whole file. Its width and height are in mm, so a printer or a laser takes it at full size. */
export function writeSvg(drawing: Drawing, stamp: Stamp, shop: Shop): Uint8Array {
  const strokes = drawingStrokes(drawing);
  const sent = sentLayers(shop);
  const line = stampLine(stamp, `millimetres, full size, ${curveWords(shop)}`);
  const base = drawing.height + 2 * SVG_BORDER;
  const notes = [line, ...(drawing.notes ?? [])];
  const width = Math.max(drawing.width, 150, ...[drawing.title, ...notes].map((words) => words.length * LETTER)) + 2 * SVG_BORDER;
  const height = base + SVG_NOTE + (sent.includes('note') ? LINE * (notes.length - 1) : 0);
  const text = (words: string, x: number, y: number, size: number) =>
    `    <text x="${figure(x)}" y="${figure(y)}" font-family="sans-serif" font-size="${size}" stroke="none" fill="${SHOP_COLOURS[shop.layers.note.colour].rgb}">${xml(words)}</text>`;
  const words = () => [
    text(drawing.title, SVG_BORDER, base + 2, 5),
    ...notes.map((note, i) => text(note, SVG_BORDER, base + 9 + LINE * i, 4)),
  ];
  const groups = sent.map((layer) => {
    const { name, colour } = shop.layers[layer];
    const paths = strokes.filter((stroke) => stroke.layer === layer).map((stroke) => `    <path d="${pathData(stroke, drawing.height, shop)}"/>`);
    const dash = layer === 'stock' ? ' stroke-dasharray="6 3"' : '';
    return [`  <g id="${xml(name.replace(/ /g, '_'))}" fill="none" stroke="${SHOP_COLOURS[colour].rgb}" stroke-width="${WIDTH[layer]}"${dash}>`, ...paths, ...(layer === 'note' ? words() : []), '  </g>'].join('\n');
  });
  return new TextEncoder().encode([
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" width="${figure(width)}mm" height="${figure(height)}mm" viewBox="0 0 ${figure(width)} ${figure(height)}">`,
    `  <title>${xml(`${drawing.title}: ${stamp.board}`)}</title>`,
    `  <desc>${xml(line)}</desc>`,
    ...groups,
    '</svg>',
    '',
  ].join('\n'));
}
