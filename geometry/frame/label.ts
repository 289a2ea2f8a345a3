/** Labels scored on frame parts: where they go and how high they may be. Papers draw the letters. */
import vectorText from '@jscad/modeling/src/text/vectorText.js';
import type { FlatShape } from './types';

export type Mark = FlatShape['marks'][number];

/** Height of capitals where there is room, and the least that a laser still scores legibly, mm; own choice. */
const LABEL_HEIGHT = 4;
const LEAST_LABEL = 1.5;
/** Line spacing as times the height of capitals. */
const LEADING = 1.5;

/** Width of single-stroke letters over the height of their capitals (the stroke font's stand at 1.5 times its nominal size). */
function widthRatio(text: string): number {
  let most = 0;
  for (const line of vectorText({ height: 1 / 1.5 }, text)) for (const [x] of line) most = Math.max(most, x);
  return most;
}

/**
 * Lines of text centred in a box (x0, y0)-(x1, y1), first line on top, as label marks whose points are the
 * baseline's ends; all of one height, LABEL_HEIGHT or as much as fits. Empty where even LEAST_LABEL does not.
 */
export function labelIn(lines: readonly string[], x0: number, y0: number, x1: number, y1: number): Mark[] {
  const ratios = lines.map(widthRatio);
  const tall = (lines.length - 1) * LEADING + 1;
  const height = Math.min(LABEL_HEIGHT, (y1 - y0) / tall, ...ratios.map((r) => (x1 - x0) / r));
  if (!(height >= LEAST_LABEL)) return [];
  const top = (y0 + y1) / 2 + (tall * height) / 2;
  return lines.map((text, i): Mark => {
    const half = (ratios[i] * height) / 2;
    const base = top - height - i * LEADING * height;
    return { kind: 'label', points: Float64Array.from([(x0 + x1) / 2 - half, base, (x0 + x1) / 2 + half, base]), text, height };
  });
}

/** An arrow from (x0, y0) to (x1, y1) as one open line: shaft, then the head's two barbs a fifth as long. */
export function arrowMark(x0: number, y0: number, x1: number, y1: number): Mark {
  const [dx, dy] = [(x1 - x0) / 5, (y1 - y0) / 5];
  return {
    kind: 'arrow',
    points: Float64Array.from([x0, y0, x1, y1, x1 - dx - dy / 2, y1 - dy + dx / 2, x1, y1, x1 - dx + dy / 2, y1 - dy - dx / 2]),
  };
}
