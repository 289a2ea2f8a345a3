/**
 * Found by fuzz, seed 1, boards 36, 52, 58, 118: over a vee the inner bottom has a keel, and rounding in y on the
 * centreline, or the walk that led there, chose which side's slope the gap was measured with.
 */
import { expect, it } from 'vitest';
import { blankDesign } from '../../../geometry/design/defaults';
import { innerAt, panelAt, panelProbe } from '../../../geometry/hull/panel';
import { planBoard } from '../../../geometry/plan';
import { sectionAt } from '../../../geometry/rail/query';
import { level } from '../../support/plain';

const base = blankDesign();
const plan = planBoard({
  ...base,
  lines: {
    ...base.lines, vee: level(1800, 0.08),
    outline: { points: [{ x: 0, y: 0 }, { x: 300, y: 160 }, { x: 850, y: 260 }, { x: 1350, y: 188 }, { x: 1800, y: 0 }], tailAngleDeg: 40, noseAngleDeg: 30 },
  },
});

it('the gap where the boxes meet is that of a fresh look, on starboard\'s side of the keel', () => {
  expect(plan.rail.meets.tail).toBeDefined();
  for (const row of plan.rail.rows) {
    for (const stop of [row.tail, row.nose]) expect(sectionAt(plan, stop.s).gap).toBeCloseTo(stop.gap, 6);
  }
});

it('the inner bottom on the keel hangs neither on rounding nor on where the probe was before', () => {
  const at = (y: number, shiftY: number) => innerAt(plan.hull.bottom, -1, 6, 900, y, { ...panelProbe(), shiftY });
  const want = at(0, 0);
  expect(want.zy).toBeGreaterThan(0.05);
  for (const y of [1e-12, -1e-12, -3.6e-15]) for (const shift of [0, 8, -8]) {
    const got = at(y, shift);
    expect([got.z, got.zx, got.zy].map((v) => Math.round(v * 1e8))).toEqual([want.z, want.zx, want.zy].map((v) => Math.round(v * 1e8)));
  }
  // Provable: a plane risen by its normal's thickness stands thickness / cos over the keel's own height.
  const keel = panelAt(plan.hull.bottom, 900, 0, panelProbe());
  expect(want.z - keel.z).toBeCloseTo(6 * Math.hypot(1, want.zx, want.zy), 4);
});

it('port answers for its own side', () => {
  for (const y of [0.1, 0.4, 30, 200]) {
    const [p, q] = [innerAt(plan.hull.bottom, -1, 6, 900, y, panelProbe()), innerAt(plan.hull.bottom, -1, 6, 900, -y, panelProbe())];
    expect([q.z, q.zx, -q.zy]).toEqual([p.z, p.zx, p.zy]);
  }
});
