/** The timber table against its sources, each named beside its check with how it was had. */
import { describe, expect, it } from 'vitest';
import { blankDesign } from '../../geometry/design/defaults';
import { checkDesign } from '../../geometry/design/read';
import { boardSchema, type SpeciesDesign } from '../../geometry/design/schema';
import {
  allSpecies, BUILT_IN_SPECIES, densityAt, speciesById, type BuiltInSpecies,
} from '../../geometry/design/timber';
import { BuildError } from '../../geometry/errors';

function builtIn(id: string): BuiltInSpecies {
  const found = BUILT_IN_SPECIES.find((s) => s.id === id);
  if (found === undefined) throw new Error(id);
  return found;
}

/** Pounds per square inch in MPa, and pounds per cubic foot in kg/m3: exact by definition (pound, inch, standard gravity). */
const PSI = (0.45359237 * 9.80665) / 0.0254 ** 2 / 1e6;

describe('values of the table', () => {
  it('density by moisture: SG 0.32 at 12 % is 358 kg/m3 (Wood Handbook, GTR-190, ch. 4; formula from memory)', () => {
    expect(densityAt(0.32, 12)).toBeCloseTo(358.4, 9);
    // Oven-dry there is no water to weigh: density is the specific gravity itself.
    expect(densityAt(0.5, 0)).toBe(500);
    // Water doubles the mass at 100 %.
    expect(densityAt(0.5, 100)).toBe(1000);
  });

  it('paulownia: Akyildiz & Kol, J. Environ. Biol. 31 (2010) 351-355, abstract (read)', () => {
    const wood = builtIn('paulownia-tomentosa');
    expect([wood.density.value, wood.moe.value, wood.mor.value]).toEqual([317, 4281, 43.56]);
    expect([wood.density.how, wood.moe.how, wood.mor.how]).toEqual(['read', 'read', 'read']);
    // The air-dry figure must exceed the same paper's oven-dry 294 and lie within Tang's 240 to 340 (1996, second-hand).
    expect(wood.density.value).toBeGreaterThan(294);
    expect(wood.density.value).toBeLessThan(340);
  });

  it.each([
    // USDA FPL Wood Handbook, GTR-190 (2010), tables 5-3a and 5-5a, 12 %: second-hand, or from memory where said.
    ['western-redcedar', 0.32, 51.7, 7700, 'second-hand', 'second-hand'],
    ['northern-white-cedar', 0.31, 45, 5500, 'second-hand', 'memory'],
    ['okoume', 0.33, 51, 7900, 'second-hand', 'second-hand'],
    // Wood Handbook, 1974 edition: second-hand.
    ['sitka-spruce', 0.4, 70.3, 10800, 'second-hand', 'second-hand'],
    // Wood Handbook, imported species: SG and MOR from memory.
    ['balsa', 0.16, 21.6, 3400, 'memory', 'memory'],
  ])('%s', (id, gravity, mor, moe, howGravity, howMor) => {
    const wood = builtIn(id);
    expect(wood.density.value).toBeCloseTo(1120 * gravity, 9);
    expect([wood.mor.value, wood.moe.value]).toEqual([mor, moe]);
    expect([wood.density.how, wood.mor.how]).toEqual([howGravity, howMor]);
    expect(wood.density.source).toContain(`SG ${gravity}`);
  });

  it('plywood weighs as plywood: makers\' sheets (read), 1.8 kg/m2 at 4 mm and 2.7 at 6; birch 660 to 670', () => {
    const okoume = builtIn('okoume-plywood');
    expect([4, 6].map((t) => okoume.density.value * t * 1e-3)).toEqual([1.8, 2.7].map((v) => expect.closeTo(v, 9)));
    expect(okoume.density.value / builtIn('okoume').density.value).toBeCloseTo(1.22, 2);
    expect(builtIn('birch-plywood').density.value).toBeGreaterThanOrEqual(660);
    expect(builtIn('birch-plywood').density.value).toBeLessThanOrEqual(670);
  });

  it('plywood is refused for strips, by field and with what may stand there', () => {
    const design = blankDesign();
    design.timber.rail = 'birch-plywood';
    const read = checkDesign(design);
    expect(read.ok ? [] : read.errors.map(({ field }) => field)).toEqual(['timber.rail']);
    expect(read.ok ? '' : read.errors[0].allowed).not.toContain('plywood');
    design.timber.rail = 'okoume';
    expect(checkDesign(design).ok).toBe(true);
  });

  it("metric figures agree with the sources' own inch-pound ones to their printed digits", () => {
    // Oregon State University, Table of Relative Working and Physical Properties: Douglas-fir, read: the conversion itself.
    expect(12400 * PSI).toBeCloseTo(85.5, 1);
    expect((1.95e6 * PSI) / 1000).toBeCloseTo(13.4, 1);
    expect(builtIn('sitka-spruce').mor.value).toBeCloseTo(10200 * PSI, 1);
    expect(builtIn('sitka-spruce').moe.value / 1000).toBeCloseTo(1.57e3 * PSI, 1);
    expect(builtIn('balsa').moe.value / 1000).toBeCloseTo(490 * PSI, 1);
  });

  it('every value says where it is from and how it was had', () => {
    for (const wood of BUILT_IN_SPECIES) {
      for (const value of [wood.density, wood.moe, wood.mor]) {
        expect(value.source.length).toBeGreaterThan(20);
        expect(['read', 'second-hand', 'memory']).toContain(value.how);
      }
    }
  });
});

describe('choosing a species', () => {
  const mine = { id: 'mine', name: 'Mine', density: 300, moe: 5000, mor: 40, dryLimit: 0.004, steamLimit: 0.01 };
  const withSpecies = (...species: SpeciesDesign[]) => ({ ...blankDesign(), timber: { ...blankDesign().timber, species } });

  it('built-in ones fit the ranges of the board file', () => {
    expect(boardSchema.safeParse(withSpecies(...allSpecies(blankDesign()))).success).toBe(true);
  });

  it("the design's own come first and replace built-in ones of the same id", () => {
    const balsa = { ...mine, id: 'balsa', density: 120 };
    const design = withSpecies(mine, balsa);
    expect(speciesById(design, 'mine')).toEqual(mine);
    expect(speciesById(design, 'balsa').density).toBe(120);
    expect(speciesById(blankDesign(), 'balsa').density).toBeCloseTo(179.2, 9);
    expect(allSpecies(design).map((s) => s.id).filter((id) => id === 'balsa')).toHaveLength(1);
    expect(allSpecies(design)).toHaveLength(BUILT_IN_SPECIES.length + 1);
  });

  it('an unknown id is an error that lists the known ones', () => {
    expect(() => speciesById(blankDesign(), 'toString')).toThrow(BuildError);
    expect(() => speciesById(blankDesign(), 'ebony')).toThrow(/western-redcedar/);
  });
});
