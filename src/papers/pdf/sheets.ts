/** What every page carries: whose it is, page n of m, the check bar. */
import { stampLine, type Stamp } from '../stamp';
import type { Pen } from './pen';

/** White border that any printer leaves, mm. */
export const MARGIN = 9;

/** Height of the check bar with its caption, mm. */
export const BAR_HEIGHT = 11;

/** Length of the check bar, mm: the same on every paper. */
const BAR_LENGTH = 100;

/**
 * The check bar, top left corner at (x, y): exactly 100 mm of paper, in 10 mm blocks alternating in two rows, both
 * ends black. `scale` is the page's own enlargement, which the bar does not follow.
 */
export function checkBar(pen: Pen, x: number, y: number): void {
  const block = BAR_LENGTH / 10 / pen.scale;
  for (let i = 0; i < 10; i++) pen.rect(x + i * block, y + (i % 2) * 1.6, block, 1.6, { fill: 0, bare: true });
  for (const i of [0, 5, 10]) pen.text(x + i * block, y + 6.4, `${i * 10}${i === 10 ? ' mm' : ''}`, { size: 7, align: i === 0 ? 'left' : i === 10 ? 'right' : 'centre' });
  pen.text(x, y + 10, 'Measure this bar: 100 mm, or 4 in less 1/16. If not, print again at 100 %.', { size: 7 });
}

/** Head of a page: board large, the rest beside it, a rule under both. Returns the height used, from `y`. */
export function pageHead(pen: Pen, y: number, title: string, stamp: Stamp, unit?: string): number {
  const right = pen.width - MARGIN;
  pen.text(MARGIN, y + 4.6, title, { size: 13, face: 'bold' });
  const line = stampLine(stamp, unit);
  const room = right - MARGIN - pen.measure(title, 13, 'bold') - 6;
  const size = Math.max(5, Math.min(8.5, (8.5 * room) / pen.measure(line, 8.5)));
  pen.text(right, y + 4.6, line, { size, align: 'right' });
  pen.line(MARGIN, y + 7, right, y + 7, { width: 0.5 });
  return 9;
}

/** Page n of m, bottom right. */
export function pageNumber(pen: Pen, n: number, m: number): void {
  pen.text(pen.width - MARGIN, pen.height - MARGIN + 1.5, `page ${n} of ${m}`, { size: 9, face: 'bold', align: 'right' });
}
