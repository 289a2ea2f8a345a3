/**
 * Limits of timbers and the ladder of methods. Shares and least sizes are this project's own choices; the caps are glulam
 * practice (Civil Engineering Formulas, timber chapter, p. 167: t/R at most 1/100 in hardwood and southern pine, 1/125 in
 * other softwoods; read), the strap Lemoine & Koch 1971 (abstract, read), the stretch of steamed wood 1 to 2 %
 * (Wood Handbook, FPL-GTR-190, from memory). Strains are Euler-Bernoulli's: half the size over the radius (provable).
 */
import { describe, expect, it } from 'vitest';
import { blankDesign } from '../../geometry/design/defaults';
import type { Design } from '../../geometry/design/schema';
import { allSpecies, speciesById } from '../../geometry/design/timber';
import { borne, endRules, methodAt, nearestRung, roomOf } from '../../geometry/wood/ladder';
import { limitsFor, limitsOf } from '../../geometry/wood/limits';
import { planBending } from '../../geometry/parts/bending';
import { planBoard } from '../../geometry/plan';
import { planParts } from '../../geometry/planParts';
import { seedDesign } from './boards';

const rail = (changes: Partial<Design['rail']> = {}, timber = 'western-redcedar', rest: Partial<Design> = {}): Design => {
  const design = blankDesign();
  return { ...design, ...rest, rail: { ...design.rail, ...changes }, timber: { ...design.timber, rail: timber, outer: timber } };
};
const per = (limit: number | undefined) => Number(((limit ?? Number.NaN) * 100).toFixed(3));

describe('limits of a timber', () => {
  it('are 0.336, 0.504 and 1.007 % for redcedar, 0.500, 0.763 and 1.526 % for paulownia', () => {
    const of = (id: string) => limitsOf(speciesById(blankDesign(), id));
    const [cedar, paulownia] = [of('western-redcedar'), of('paulownia-tomentosa')];
    expect([cedar.cold, cedar.forced, cedar.wet].map(per)).toEqual([0.336, 0.504, 1.007]);
    expect([paulownia.cold, paulownia.forced, paulownia.wet].map(per)).toEqual([0.5, 0.763, 1.526]);
  });

  it('rise from rung to rung for every timber of the table, within the caps of glulam and of steamed wood', () => {
    for (const species of allSpecies(blankDesign())) {
      const { cold, forced = Number.NaN, wet } = limitsOf(species);
      expect(cold).toBeLessThanOrEqual(species.woodClass === 'hardwood' ? 1 / 200 : 1 / 250);
      expect(forced).toBeGreaterThan(cold);
      expect(wet).toBeGreaterThan(forced);
      expect(wet).toBeGreaterThanOrEqual(0.01);
      expect(wet).toBeLessThanOrEqual(0.02);
      // Unsteamed wood breaks at radii of 20 to 30 thicknesses (Wengert, summary, read): strain 1.7 to 2.5 %.
      expect(forced).toBeLessThan(1 / 60);
    }
  });

  it("are the maker's own where given, and forced is left out where those leave it no room", () => {
    const cedar = speciesById(blankDesign(), 'western-redcedar');
    expect(limitsOf({ ...cedar, steamLimit: 0.011 })).toEqual({ ...limitsOf(cedar), wet: 0.011 });
    expect(limitsOf({ ...cedar, dryLimit: 0.006 })).toEqual({ cold: 0.006, wet: limitsOf(cedar).wet });
    expect(limitsOf({ ...cedar, steamLimit: 0.0045 }).forced).toBeUndefined();
    expect(limitsOf({ ...cedar, woodClass: undefined, moe: 5000, mor: 50 }).cold).toBe(1 / 250);
  });
});

describe('the method at a place', () => {
  it('strains a strip 12 wide at R 57 by 10.53 %', () => {
    expect(per(12 / 2 / 57)).toBe(10.526);
    expect(methodAt(endRules(rail(), 'sole').tail, 6 / 57, 0)).toEqual({ method: 'block', n: 1 });
  });

  it('splits redcedar 12 wide in 2 for R 300 and in 3 for R 200, once the maker agrees', () => {
    const design = rail({}, 'western-redcedar', { consents: { split: true } });
    const at = (R: number, of = design) => methodAt(endRules(of, 'cap').nose, 6 / R, 0);
    expect([at(300), at(200)]).toEqual([{ method: 'split', n: 2 }, { method: 'split', n: 3 }]);
    expect(at(300, rail()).method).toBe('block');
    expect(at(300, rail({}, 'western-redcedar', { methods: { cap: { nose: 'split' } } })).method).toBe('split');
    // No strip narrower than 3 mm: 12 wide in 4 at most.
    expect([at(6 / (4 * 0.01007) + 1), at(6 / (4 * 0.01007) - 1)].map(({ method, n }) => [method, n])).toEqual([['split', 4], ['block', 1]]);
  });

  it('makes a paulownia skin 5.5 thick of 3 layers for R 65, which then bear 1.41 %', () => {
    const { tail } = endRules(rail({ outerThickness: 5.5 }, 'paulownia-tomentosa'), 'skins');
    const here = methodAt(tail, 0, 2.75 / 65);
    expect(here).toEqual({ method: 'layers', n: 3 });
    expect(Number((100 * borne(here, 0, 2.75 / 65)).toFixed(2))).toBe(1.41);
  });

  it('straps only by choice or consent, to a radius of 16 thicknesses', () => {
    const strapped = endRules(rail({}, 'western-redcedar', { consents: { strap: true } }), 'sole').tail;
    expect(methodAt(strapped, 0, 1 / 32).method).toBe('strap');
    expect(methodAt(strapped, 0, 1 / 31.9).method).toBe('block');
    expect(methodAt(endRules(rail(), 'sole').tail, 0, 1 / 40).method).toBe('block');
  });

  it('goes no further than the maker chose at that end, and no end speaks for the other', () => {
    const { cold, wet } = limitsFor(rail(), 'rail');
    const rules = endRules(rail({}, 'western-redcedar', { methods: { sole: { tail: 'cold' } } }), 'sole');
    expect(methodAt(rules.tail, cold, 0).method).toBe('cold');
    expect(methodAt(rules.tail, cold * 1.01, 0).method).toBe('block');
    expect(methodAt(rules.nose, wet, 0).method).toBe('wet');
  });

  it('has room exactly where it has a method, and adds both bends', () => {
    const { tail } = endRules(rail({}, 'western-redcedar', { consents: { split: true } }), 'sole');
    for (let i = 0; i <= 60; i++) {
      for (let j = 0; j <= 30; j++) {
        const [edge, flat] = [i * 8e-4, j * 4e-4];
        expect(roomOf(tail, edge, flat) >= 0).toBe(methodAt(tail, edge, flat).method !== 'block');
      }
    }
    expect(roomOf(tail, 0.004, 0.003)).toBeCloseTo(limitsFor(rail(), 'rail').wet - 0.004 / 4 - 0.003, 12);
  });
});

describe('what no accepted method bears is told by the method nearest to it', () => {
  const design = seedDesign('round-tail-175.board.json');

  it('split strips against what splitting leaves, not the whole strip against it', () => {
    const [whole, split] = [{}, { split: true }].map((consents) => planBoard({ ...design, consents }).rail.ends.tail);
    if (!whole?.strain || !split?.strain) throw new Error('no end');
    const { wet } = limitsFor(design, 'rail');
    // 12 mm goes into four strips of 3 mm: a quarter of the strain on edge is left, that on the flat stays.
    expect(whole.limit).toBe(wet);
    expect(split.limit).toBe(wet);
    expect(split.strain).toBeGreaterThan(whole.strain / 4);
    expect(split.strain).toBeLessThan(whole.strain / 3);
    expect(split.strain).toBeGreaterThan(wet);
    // A strap takes more than any split leaves of this bend: then it is the strap's own limit.
    const strapped = planBoard({ ...design, consents: { strap: true } }).rail.ends.tail;
    expect(strapped?.limit).toBe(1 / 32);
    // The whole strip's, of the strip that fails first then.
    expect(strapped?.strain).toBeGreaterThan(whole.strain * 0.99);
  });

  it('and the nearest is the one that lacks least', () => {
    const { tail } = endRules({ ...design, consents: { split: true } }, 'cap');
    const near = nearestRung(tail, 0.08, 0.002);
    expect([near.method, near.n, near.strain]).toEqual(['split', 4, 0.022]);
    expect(near.limit - near.strain).toBeCloseTo(roomOf(tail, 0.08, 0.002), 12);
  });
});

describe('a stretch shorter than the strip is thick', () => {
  // 0.8 mm beside the nose's centreline lie 0.7 % over what layers bear: over one thickness of skin the mean is under it.
  it('is bent by what its mean over one thickness wants; a thicker skin wants a block all the same', () => {
    const board = seedDesign('round-tail-175.board.json');
    const atNose = (outerThickness: number) => planBending(planBoard({ ...board, rail: { ...board.rail, outerThickness } }))
      .filter(({ strip }) => strip.kind === 'outer-skin').map((bent) => ({ bent, zone: bent.zones[bent.zones.length - 1] }));
    const skins = atNose(board.rail.outerThickness);
    expect(skins.map(({ zone }) => zone.method)).toEqual(['layers', 'layers']);
    const over = skins.filter(({ bent, zone }) => bent.strain[bent.strain.length - 1] / zone.n > bent.limits.wet);
    expect(over.length).toBeGreaterThan(0);
    for (const { zone, bent } of over) expect(zone.borne).toBeLessThanOrEqual(bent.limits.wet);
    expect(atNose(10).some(({ zone }) => zone.method === 'block')).toBe(true);
  });
});

describe('a split strip and a layered skin', () => {
  const design = seedDesign('round-tail-175.board.json');

  it('are told piece by piece: into how many, and over what length from the end', async () => {
    const { joints, blanks, bending } = await planParts(planBoard({ ...design, consents: { split: true } }));
    const split = (joints?.pieces ?? []).filter(({ partings }) => partings?.some(({ method }) => method === 'split'));
    const wanted = bending.filter(({ zones }) => zones.some(({ method }) => method === 'split')).length;
    expect(wanted).toBeGreaterThan(0);
    expect(split.length).toBeGreaterThanOrEqual(2 * wanted);
    for (const piece of split) {
      for (const { n, from, length } of piece.partings ?? []) {
        expect(n).toBeGreaterThan(1);
        // From one end of the piece or the other: a cut within it could not be glued.
        expect(Math.min(from, Math.abs(piece.length - from - length))).toBeLessThan(0.5);
      }
    }
    const layered = blanks.flatMap(({ pieces }) => pieces).filter(({ partings }) => partings);
    expect(layered.length).toBeGreaterThan(0);
    for (const { partings = [] } of layered) expect(partings.every(({ method }) => method === 'layers')).toBe(true);
  });

  it('bear no more than the wet limit all over, whatever is asked of them', () => {
    const borneOf = (consents: Design['consents']) => planBending(planBoard({ ...design, consents }))
      .flatMap(({ zones, limits }) => zones.filter(({ method }) => method === 'split' || method === 'layers').map(({ borne: e }) => e / limits.wet));
    for (const consents of [{}, { split: true }, { split: true, strap: true }]) {
      expect(Math.max(...borneOf(consents))).toBeLessThanOrEqual(1 + 1e-6);
      expect(Math.max(...borneOf(consents))).toBeGreaterThan(0.5);
    }
  });
});
