/** Lines on the ribbon: drawn over few samples, and still where the samples are. The bounds are the project's own choice. */
import { describe, expect, test } from 'vitest';
import { planBoard } from '../../geometry/plan';
import { lineSamples, scaleOf } from '../../src/ribbon/scale';
import { seedDesign, seedNames } from '../geometry/boards';

describe('a line of the ribbon', () => {
  test.each(seedNames)('lies on every sample that it leaves out, between the first and the last: %s', (name) => {
    const plan = planBoard(seedDesign(name));
    const { samples, cap } = plan.rail;
    const scale = scaleOf(plan, { width: 1400, height: 232 });
    for (const y of [(i: number) => scale.z(samples.gap[i]), (i: number) => scale.bevel(samples.bevel[i])]) {
      const kept = lineSamples(plan, scale, cap.s0, cap.s1, y);
      const inside = Array.from({ length: samples.n }, (_, i) => i).filter((i) => samples.s[i] >= cap.s0 && samples.s[i] <= cap.s1);
      expect([kept[0], kept[kept.length - 1]]).toEqual([inside[0], inside[inside.length - 1]]);
      expect(kept.length).toBeLessThan(inside.length / 4);
      let k = 0;
      for (const i of inside) {
        if (i > kept[k + 1]) k += 1;
        const [a, b] = [kept[k], kept[k + 1]];
        const share = (samples.s[i] - samples.s[a]) / (samples.s[b] - samples.s[a]);
        expect(Math.abs(y(a) + (y(b) - y(a)) * share - y(i))).toBeLessThanOrEqual(0.05 + 1e-9);
      }
    }
  });

  test('is none where there is no cap', () => {
    const plan = planBoard(seedDesign(seedNames[0]));
    const scale = scaleOf(plan, { width: 1400, height: 232 });
    expect(lineSamples(plan, scale, 500, 500.5, () => 0)).toEqual([]);
  });
});
