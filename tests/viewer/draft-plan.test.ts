/** A draft's plan on its way to the page: as good there as it was. The project's own rules, and comparison of the kernel with itself. */
import { describe, expect, test } from 'vitest';
import { DRAFT_STEP, planBoard } from '../../geometry/plan';
import { heldRun, sectionAt } from '../../geometry/rail/query';
import { SECTION_FIELDS } from '../../geometry/rail/samples';
import { SECTION_UNITS } from '../../geometry/types';
import { leanPlan, wholePlan } from '../../src/work/draftPlan';
import { seedDesign } from '../geometry/boards';

const DEG = Math.PI / 180;
/** What a figure may differ by on the page: far less than the 0.05 mm and 0.02 degrees that a draft may be off by. */
const MOST = { mm: 2e-3, mm2: 0.2, rad: 1e-4 * DEG, ratio: 1e-6, count: 1e-9, '1/mm': 1e-9 } as const;

describe.each(['round-tail-175.board.json', 'paddle-305.board.json'])('%s', (name) => {
  const plan = planBoard(seedDesign(name), { step: DRAFT_STEP });
  const lean = structuredClone(leanPlan(plan));

  test('comes whole: what painters read as it was sent, all else worked out where it is asked for', () => {
    const whole = wholePlan(lean);
    const { samples, ...rail } = whole.rail;
    const { samples: own, ...ownRail } = plan.rail;
    expect({ ...whole, rail }).toEqual({ ...plan, rail: ownRail });
    expect(Object.keys(samples).toSorted()).toEqual(Object.keys(own).toSorted());
    // Beyond the box's ends, where there is none, figures run away.
    const { s0, s1 } = plan.rail.cap;
    for (const field of SECTION_FIELDS) {
      const [theirs, ours] = [samples[field], own[field]];
      expect(theirs.length).toBe(own.n);
      expect(samples[field]).toBe(theirs);
      for (let i = 0; i < own.n; i++) {
        if (own.s[i] < s0 || own.s[i] > s1) continue;
        // A row that stops on the very sample is there or not by rounding.
        if (field === 'rows' || field === 'slot' || field === 'hollowArea' || field === 'cover' || field === 'boxCover') continue;
        if (!(Math.abs(theirs[i] - ours[i]) <= MOST[SECTION_UNITS[field]])) throw new Error(`${field} at ${own.s[i]}: ${theirs[i]}, was ${ours[i]}`);
      }
    }
    const s = (s0 + s1) / 2;
    // An evaluator's first guesses move an answer by 1e-12.
    const [theirs, ours] = [sectionAt(whole, s), sectionAt(plan, s)];
    for (const field of SECTION_FIELDS) expect(Math.abs(theirs[field] - ours[field]), field).toBeLessThan(1e-9);
    // The section under the cursor comes with the draft: the page must ask for the same place.
    expect(heldRun(whole, Number.NaN)).toBe(heldRun(wholePlan(structuredClone(lean)), Number.NaN));
    expect(Math.abs(heldRun(whole, Number.NaN) - heldRun(plan, Number.NaN))).toBeLessThan(0.02);
  });

  test('is small: no field of the samples that painters do not read', () => {
    const bytes = (value: unknown): number => ArrayBuffer.isView(value) ? value.byteLength : value !== null && typeof value === 'object' ? Object.values(value).reduce((sum: number, each) => sum + bytes(each), 0) : 8;
    expect(bytes(lean.rail.samples)).toBeLessThan(42 * plan.rail.samples.n);
    expect(bytes(lean)).toBeLessThan(0.45 * bytes(plan));
  });
});
