/** Lines on the ribbon: drawn over few samples, and still where the samples are. The bounds are the project's own choice. */
import { describe, expect, test } from 'vitest';
import { planBoard } from '../../geometry/plan';
import { stopsOf } from '../../geometry/rail/laid';
import { lineSamples, scaleOf } from '../../src/ribbon/scale';
import { seedDesign, seedNames } from '../geometry/boards';

describe('a line of the ribbon', () => {
  test.each(seedNames)('lies on every sample that it leaves out, between the first and the last: %s', (name) => {
    const plan = planBoard(seedDesign(name));
    const { samples, cap } = plan.rail;
    const scale = scaleOf(plan, { width: 1400, height: 232 });
    for (const y of [(i: number) => scale.z(samples.gap[i]), (i: number) => scale.z(samples.capBottom[i])]) {
      const kept = lineSamples(plan, scale, cap.s0, cap.s1, y);
      const inside = Array.from({ length: samples.n }, (_, i) => i).filter((i) => samples.s[i] >= cap.s0 && samples.s[i] <= cap.s1);
      expect([kept[0], kept[kept.length - 1]]).toEqual([inside[0], inside[inside.length - 1]]);
      expect(kept.length).toBeLessThan(inside.length / 4);
      let k = 0;
      for (const i of inside) {
        if (i > kept[k + 1]) k += 1;
        const [a, b] = [kept[k], kept[k + 1]];
        const [from, until] = [scale.x(samples.s[a]), scale.x(samples.s[b])];
        const share = (scale.x(samples.s[i]) - from) / (until - from || 1);
        expect(Math.abs(y(a) + (y(b) - y(a)) * share - y(i))).toBeLessThanOrEqual(0.05 + 1e-3);
      }
    }
  });

  test('is none where there is no cap', () => {
    const plan = planBoard(seedDesign(seedNames[0]));
    const scale = scaleOf(plan, { width: 1400, height: 232 });
    expect(lineSamples(plan, scale, 500, 500.5, () => 0)).toEqual([]);
  });
});

describe('the axis of the ribbon', () => {
  test.each(seedNames)('is the station: ribs and stops stand at their own, the rest at the box face\'s: %s', (name) => {
    const plan = planBoard(seedDesign(name));
    const { hull, rail: { samples, ribs, face, ...rail } } = plan;
    const scale = scaleOf(plan, { width: 1400, height: 232 });
    const across = (scale.at(hull.length) - scale.at(0)) / hull.length;
    const marks = [...ribs, ...stopsOf(rail)];
    // A rib's own station may lie beyond a stop that stands on its tab: then one of the two gives way, by less than both differ.
    for (const { s, x } of marks) {
      const crossed = marks.some((other) => (other.s - s) * (other.x - x) < 0);
      expect(Math.abs(scale.x(s) - scale.at(x)), `${s}`).toBeLessThan(crossed ? 0.012 * hull.length * across : 0.05);
    }
    let [before, away] = [-Infinity, 0];
    for (let i = 0; i < samples.n; i++) {
      const at = scale.x(samples.s[i]);
      expect(at).toBeGreaterThanOrEqual(before);
      before = at;
      if (Math.abs(at - scale.at(samples.x[i])) > 0.05) away += 1;
      // Pointed at and asked back, it is the same place on the axis.
      expect(Math.abs(scale.x(scale.run(at)) - at)).toBeLessThan(1e-6);
    }
    expect(away / samples.n).toBeLessThan(0.35);
    expect(scale.run(-100)).toBe(0);
    expect(scale.run(1e5)).toBe(face.length);
  });
});
