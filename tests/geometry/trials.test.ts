/**
 * Trial bends and the limits a batch has after them. Strain is half the size over the radius of the middle line
 * (Euler-Bernoulli, provable); three quarters of a strain that broke is an own choice. All by hand.
 */
import { describe, expect, it } from 'vitest';
import { blankDesign } from '../../geometry/design/defaults';
import { checkDesign, readDesign } from '../../geometry/design/read';
import type { Design, TrialBend } from '../../geometry/design/schema';
import { speciesById } from '../../geometry/design/timber';
import { writeDesign } from '../../geometry/design/write';
import { planBending } from '../../geometry/parts/bending';
import { planBoard } from '../../geometry/plan';
import { endRules, methodAt } from '../../geometry/wood/ladder';
import { limitsFor, limitsOf } from '../../geometry/wood/limits';
import { trialBounds, trialStrain, withoutTrials, withTrials } from '../../geometry/wood/trials';
import { seedDesign } from './boards';

const edge = (radius: number, heat: TrialBend['heat'] = 'cold', held = true): TrialBend => ({ of: 'rail', width: 12, thickness: 6, bent: 'edge', radius, heat, held });
const paulownia = speciesById(blankDesign(), 'paulownia-tomentosa');
/** Cold 0.500, forced 0.763, wet 1.526 %. */
const own = limitsOf(paulownia);

describe('the strain of a trial', () => {
  it('is half the size it was bent over by its radius', () => {
    expect(trialStrain(edge(1000))).toBe(0.006);
    expect(trialStrain({ ...edge(1000), bent: 'flat' })).toBe(0.003);
    expect(trialStrain({ width: 140, thickness: 5, bent: 'flat', radius: 250 })).toBe(0.01);
  });
});

describe('what trials say of a heat', () => {
  it.each<[string, TrialBend[], object, object]>([
    ['nothing', [], {}, {}],
    ['the tightest that held', [edge(1500), edge(1000), edge(2000)], { held: 0.006 }, { held: 0.006 }],
    ['cold held holds wet; wet held says nothing of cold', [edge(500, 'wet')], {}, { held: 0.012 }],
    ['cold broke allows three quarters', [edge(1000, 'cold', false)], { most: 0.0045 }, {}],
    ['wet broke would have broken cold', [edge(1000, 'wet', false)], { most: 0.0045 }, { most: 0.0045 }],
    ['what held right below a break is allowed', [edge(1000), edge(960, 'cold', false)], { held: 0.006, most: 0.006 }, { held: 0.006 }],
    ['one that held tighter than another broke is not heard', [edge(600), edge(1000, 'cold', false), edge(2000)], { held: 0.003, most: 0.0045 }, { held: 0.01 }],
  ])('%s', (_, trials, cold, wet) => {
    expect(trialBounds(trials, 'cold')).toEqual(near(cold));
    expect(trialBounds(trials, 'wet')).toEqual(near(wet));
  });
});

const near = (of: object) => Object.fromEntries(Object.entries(of).map(([key, value]) => [key, expect.closeTo(value as number, 12)]));

describe('the limits of a batch', () => {
  it('are raised by what held and lowered by what broke, and say which', () => {
    expect(limitsOf(paulownia, [edge(2000)])).toEqual(own);
    expect(limitsOf(paulownia, [edge(1000)])).toEqual({ ...own, cold: 0.006, byTrial: ['cold'] });
    // Over the forced limit cold: nothing is left between cold and wet.
    expect(limitsOf(paulownia, [edge(600)])).toEqual({ cold: 0.01, wet: own.wet, byTrial: ['cold'] });
    expect(limitsOf(paulownia, [edge(300, 'wet')])).toEqual({ ...own, wet: 0.02, byTrial: ['wet'] });
    const broke = limitsOf(paulownia, [edge(1000, 'cold', false)]);
    expect(broke).toEqual({ cold: expect.closeTo(0.0045, 12), wet: own.wet, byTrial: ['cold'] });
    expect(limitsOf(paulownia, [edge(500, 'wet', false)])).toEqual({ cold: own.cold, forced: expect.closeTo(0.00763, 5), wet: expect.closeTo(0.009, 12), byTrial: ['wet'] });
  });

  it("stand over a species' own figures, by the part or by the timber", () => {
    const design = blankDesign();
    const with2 = (trials: TrialBend[], species: Design['timber']['species'] = []) =>
      withTrials({ ...design, timber: { ...design.timber, rail: 'western-redcedar', outer: 'paulownia-tomentosa', species } }, trials);
    const flat = { ...edge(250), bent: 'flat' as const };
    expect(limitsFor(with2([{ ...flat, of: 'outer' }]), 'outer').cold).toBe(0.012);
    expect(limitsFor(with2([{ ...flat, of: 'outer' }]), 'rail')).toEqual(limitsFor(with2([]), 'rail'));
    expect(limitsFor(with2([{ ...flat, of: 'western-redcedar' }]), 'rail').cold).toBe(0.012);
    const cedar = { ...speciesById(design, 'western-redcedar'), dryLimit: 0.004, steamLimit: 0.011 };
    expect(limitsFor(with2([edge(1000)], [cedar]), 'rail')).toMatchObject({ cold: 0.006, wet: 0.011 });
    expect(limitsFor(with2([edge(2000, 'cold', false)], [cedar]), 'rail')).toMatchObject({ cold: expect.closeTo(0.00225, 12), wet: 0.011 });
  });

  it('are what the ladder goes by', () => {
    const design = { ...blankDesign(), timber: { ...blankDesign().timber, rail: 'paulownia-tomentosa' } };
    const at = (trials: TrialBend[]) => methodAt(endRules(withTrials(design, trials), 'cap').nose, 0.0055, 0).method;
    expect([at([]), at([edge(1000)]), at([edge(1100, 'cold', false)])]).toEqual(['forced', 'cold', 'wet']);
  });
});

describe('a board planned by its trials', () => {
  const design = seedDesign('child-155.board.json');
  const trials = [edge(600)];
  const planned = withTrials(design, trials);

  it('bends cold where it was forced, and every strip says whose limit it is', () => {
    const methods = (of: Design) => new Set(planBending(planBoard(of)).filter((b) => b.strip.kind === 'sole').flatMap((b) => b.zones.map((z) => z.method)));
    expect(methods(design)).toContain('forced');
    expect(methods(planned)).not.toContain('forced');
    expect(planBending(planBoard(planned)).find((b) => b.strip.kind === 'sole')?.limits.byTrial).toEqual(['cold']);
  });

  it('is the same object for the same trials, and the board itself without', () => {
    expect(withTrials(design, trials)).toBe(planned);
    expect(withTrials(design, [])).toBe(design);
    expect(withTrials(design, [...trials])).not.toBe(planned);
    expect(withoutTrials(planned)).toEqual(design);
    expect(withoutTrials(design)).toBe(design);
  });

  it('is written without them, passes its check with them, and no file may hold them', () => {
    expect(writeDesign(planned)).toBe(writeDesign(design));
    const checked = checkDesign(planned);
    expect(checked.ok && checked.design).toEqual(planned);
    const read = readDesign(JSON.stringify(planned));
    expect(read.ok ? [] : read.errors.map(({ field }) => field)).toEqual(['trials']);
  });
});
