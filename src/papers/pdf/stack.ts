/** The rail box as a stack along the board: sole, rows, cap, heights enlarged, hatched where heat or a block brings the bend. */
import { isHeated } from '../../../geometry/parts/stripWords';
import type { BendZone, Parts } from '../../../geometry/parts/types';
import { nearestSample } from '../../../geometry/rail/samples';
import type { Plan, RowStretch } from '../../../geometry/types';
import type { Pen } from './pen';

/** Slanting lines over a closed shape, for what is steamed; crossed where it is too tight to bend. */
function hatch(pen: Pen, shape: readonly number[], cross: boolean): void {
  const xs = shape.filter((_, i) => i % 2 === 0);
  const ys = shape.filter((_, i) => i % 2 === 1);
  const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const h = y1 - y0;
  pen.inside(shape, () => {
    for (let a = x0 - h; a < x1; a += 1.3) {
      pen.line(a, y1, a + h, y0, { width: 0.14 });
      if (cross) pen.line(a, y0, a + h, y1, { width: 0.14 });
    }
  });
}

const rectangle = (x: number, y: number, w: number, h: number): number[] => [x, y, x + w, y, x + w, y + h, x, y + h];

/** Whether a stretch is drawn hatched: what a hand's force does is not. */
const isShaped = (zone: BendZone): boolean => isHeated(zone) || zone.method === 'block';

/** Where a stack is drawn: across by the place along the rail, up from the sole's top, so many times enlarged. */
interface StackLook {
  readonly across: (s: number) => number;
  readonly soleTop: number;
  readonly up: number;
  /** Letters a row, given its lower left corner's height on the page and its height. */
  readonly name?: (row: RowStretch, y: number, high: number) => void;
}

/** Draws it, joints as diamonds: black on starboard, white on port. */
export function drawStack(pen: Pen, plan: Plan, parts: Parts, { across: px, soleTop, up, name }: StackLook): void {
  const { rail, design } = plan;
  const { samples } = rail;
  const r = design.rail;
  const zones = (kind: string, order: number, y: number, h: number): void => {
    for (const { strip, zones: list } of parts.bending) {
      if (strip.kind !== kind || strip.order !== order) continue;
      for (const zone of list) if (isShaped(zone)) hatch(pen, rectangle(px(zone.s0), y, px(zone.s1) - px(zone.s0), h), zone.method === 'block');
    }
  };
  pen.rect(px(rail.sole.s0), soleTop, px(rail.sole.s1) - px(rail.sole.s0), r.soleThickness * up, { fill: 0.78, width: 0.25 });
  zones('sole', 0, soleTop, r.soleThickness * up);
  /** The cap between two runs, as one loop. */
  const capLoop = (s0: number, s1: number): number[] => {
    const low: number[] = [];
    const high: [number, number][] = [];
    const from = Math.ceil(Math.max(s0, rail.cap.s0) / samples.step);
    const to = Math.min(samples.n - 1, Math.floor(Math.min(s1, rail.cap.s1) / samples.step));
    for (let i = from; i <= to; i = i < to ? Math.min(to, i + 8) : i + 1) {
      const y = soleTop - Math.max(0, samples.gap[i]) * up;
      low.push(px(samples.s[i]), y);
      high.unshift([px(samples.s[i]), y - r.capThickness * up]);
    }
    return [...low, ...high.flat()];
  };
  pen.path(capLoop(rail.cap.s0, rail.cap.s1), { fill: 0.78, width: 0.25 });
  for (const row of rail.rows) {
    const y = soleTop - row.row * r.spacerHeight * up;
    pen.rect(px(row.tail.s), y, px(row.nose.s) - px(row.tail.s), r.spacerHeight * up, { fill: 0.93, width: 0.25 });
    zones('row', row.row, y, r.spacerHeight * up);
    name?.(row, y, r.spacerHeight * up);
  }
  for (const { strip, zones: list } of parts.bending) {
    if (strip.kind !== 'cap') continue;
    for (const zone of list) if (isShaped(zone) && zone.s1 - zone.s0 > 20) hatch(pen, capLoop(zone.s0, zone.s1), zone.method === 'block');
  }
  for (const joint of parts.joints?.joints ?? []) {
    const row = joint.strip.kind === 'row' ? joint.strip.order - 0.5 : 0;
    const i = nearestSample(samples, joint.s);
    const y = joint.strip.kind === 'sole' ? soleTop + (r.soleThickness * up) / 2
      : joint.strip.kind === 'cap' ? soleTop - (Math.max(0, samples.gap[i]) + r.capThickness / 2) * up
      : soleTop - row * r.spacerHeight * up;
    const x = px(joint.s);
    const d = 1.7;
    pen.path([x, y - d, x + d, y, x, y + d, x - d, y], { fill: joint.side === 'starboard' ? 0 : 1, width: 0.3 });
  }
}
