/** A drawing as SVG, full size: one user unit is one millimetre, one group a layer. */
import { drawingStrokes, DRAWING_LAYERS, type Drawing, type DrawingLayer } from './drawing';
import { stampLine, type Stamp } from './stamp';

/** White border round the drawing, and the strip under it that carries the stamp, mm. */
export const SVG_BORDER = 10;
export const SVG_NOTE = 16;

/** Line colour and width of each layer: dark enough for a print in black and white. */
const INK: Readonly<Record<DrawingLayer, string>> = {
  cut: 'stroke="#000000" stroke-width="0.2"',
  score: 'stroke="#1f5fa8" stroke-width="0.15"',
  label: 'stroke="#1f5fa8" stroke-width="0.2"',
  stock: 'stroke="#777777" stroke-width="0.2" stroke-dasharray="6 3"',
  note: 'stroke="#777777" stroke-width="0.2"',
};

/** Text as XML character data or attribute value; control signs that XML forbids are left out. */
export function xml(text: string): string {
  const plain = Array.from(text).filter((letter) => (letter.codePointAt(0) ?? 0) >= 32).join('');
  return plain.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;').replace(/"/g, '&quot;');
}

/** Up to four decimals, no "-0". */
const figure = (value: number): string => String(Math.round(value * 1e4) / 1e4 + 0);

function pathData(points: ArrayLike<number>, closed: boolean, height: number): string {
  const parts: string[] = [];
  for (let i = 0; i + 1 < points.length; i += 2) {
    parts.push(`${i === 0 ? 'M' : 'L'}${figure(points[i] + SVG_BORDER)} ${figure(SVG_BORDER + height - points[i + 1])}`);
  }
  return parts.join('') + (closed ? 'Z' : '');
}

/** The whole file. Its width and height are in mm, so a printer or a laser takes it at full size. */
export function writeSvg(drawing: Drawing, stamp: Stamp): Uint8Array {
  const width = Math.max(drawing.width, 150) + 2 * SVG_BORDER;
  const height = drawing.height + 2 * SVG_BORDER + SVG_NOTE;
  const strokes = drawingStrokes(drawing);
  const line = stampLine(stamp, 'millimetres, full size');
  const groups = DRAWING_LAYERS.map((layer) => {
    const paths = strokes
      .filter((stroke) => stroke.layer === layer)
      .map((stroke) => `    <path d="${pathData(stroke.points, stroke.closed, drawing.height)}"/>`);
    const base = drawing.height + 2 * SVG_BORDER;
    const texts = layer !== 'note' ? [] : [
      `    <text x="${SVG_BORDER}" y="${figure(base + 2)}" font-family="sans-serif" font-size="5" stroke="none" fill="#000000">${xml(drawing.title)}</text>`,
      `    <text x="${SVG_BORDER}" y="${figure(base + 9)}" font-family="sans-serif" font-size="4" stroke="none" fill="#000000">${xml(line)}</text>`,
    ];
    return [`  <g id="${layer}" fill="none" ${INK[layer]}>`, ...paths, ...texts, '  </g>'].join('\n');
  });
  const text = [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" width="${figure(width)}mm" height="${figure(height)}mm" viewBox="0 0 ${figure(width)} ${figure(height)}">`,
    `  <title>${xml(`${drawing.title}: ${stamp.board}`)}</title>`,
    `  <desc>${xml(line)}</desc>`,
    ...groups,
    '</svg>',
    '',
  ].join('\n');
  return new TextEncoder().encode(text);
}
