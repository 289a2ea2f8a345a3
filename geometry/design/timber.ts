/** The built-in timber table. Every value says where it comes from and how it was had; how far each bends follows from them (geometry/wood). */
import { BuildError } from '../errors';
import type { Design, SpeciesDesign } from './schema';

/** How a value was had: read in the source itself, in a quotation of it, recalled, or chosen here. */
export type How = 'read' | 'second-hand' | 'memory' | 'own choice';

/** A value with its source. */
interface Sourced {
  readonly value: number;
  readonly source: string;
  readonly how: How;
}

/** A built-in species: density kg/m3 at 12 % moisture (air-dry), stiffness and strength MPa, strains as ratios. */
export interface BuiltInSpecies {
  readonly id: string;
  readonly name: string;
  readonly density: Sourced;
  readonly moe: Sourced;
  readonly mor: Sourced;
  readonly woodClass: 'softwood' | 'hardwood';
  /** Comes in sheets: for frames and skins, never for strips. */
  readonly sheet?: true;
  readonly note?: string;
}

/** The moisture content, %, at which the table's values are stated and used. */
const TABLE_MOISTURE = 12;

/**
 * Density in kg/m3 at a moisture content (%), from a specific gravity stated as oven-dry mass over volume at
 * that moisture: 1000 SG (1 + M / 100) (Wood Handbook, FPL-GTR-190, 2010, ch. 4; definition second-hand,
 * formula from memory).
 */
export const densityAt = (specificGravity: number, moisture: number): number =>
  1000 * specificGravity * (1 + moisture / 100);

const GTR190 = 'USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010)';
const PAULOWNIA = 'Akyildiz & Kol, J. Environmental Biology 31 (2010) 351-355, abstract';

function gravity(value: number, source: string, how: How): Sourced {
  return {
    value: densityAt(value, TABLE_MOISTURE),
    source: `1000 SG (1 + M/100) with SG ${value} at M = ${TABLE_MOISTURE} %: ${source}`,
    how,
  };
}

function entry(
  id: string,
  name: string,
  density: Sourced,
  moe: Sourced,
  mor: Sourced,
  woodClass: BuiltInSpecies['woodClass'],
  note?: string,
): BuiltInSpecies {
  return { id, name, density, moe, mor, woodClass, note };
}

/** Wood glued up in sheets: for frames, not for strips. */
const plywood = (...of: Parameters<typeof entry>): BuiltInSpecies => ({ ...entry(...of), sheet: true });

const sourced = (value: number, source: string, how: How): Sourced => ({ value, source, how });

/** The built-in species, in the order a list shows them. */
export const BUILT_IN_SPECIES: readonly BuiltInSpecies[] = [
  entry(
    'paulownia-tomentosa', 'Paulownia (P. tomentosa)',
    sourced(317, `air-dry density; ${PAULOWNIA}`, 'read'),
    sourced(4281, PAULOWNIA, 'read'),
    sourced(43.56, PAULOWNIA, 'read'),
    'hardwood',
    'Clear wood. Structural sizes of young trees are far weaker: MOR 19.2 MPa, MOE 4170 MPa at 15 %.',
  ),
  entry(
    'western-redcedar', 'Western redcedar',
    gravity(0.32, `${GTR190}, table 5-3a`, 'second-hand'),
    sourced(7700, `${GTR190}, table 5-3a, 12 %`, 'second-hand'),
    sourced(51.7, `${GTR190}, table 5-3a, 12 %`, 'second-hand'),
    'softwood',
    'Rated poor for steam bending (species reference, read): bend a trial piece first. The dust can cause asthma (IARC Monographs 62 and 100C): extract it and wear a mask.',
  ),
  entry(
    'northern-white-cedar', 'Northern white-cedar',
    gravity(0.31, `${GTR190}, table 5-3a`, 'second-hand'),
    sourced(5500, `${GTR190}, table 5-3a, 12 %`, 'memory'),
    sourced(45, `${GTR190}, table 5-3a, 12 %`, 'memory'),
    'softwood',
  ),
  entry(
    'sitka-spruce', 'Sitka spruce',
    gravity(0.4, 'Wood Handbook, 1974 edition', 'second-hand'),
    sourced(10800, 'Wood Handbook, 1974 edition, 12 % (1.57 million psi)', 'second-hand'),
    sourced(70.3, 'Wood Handbook, 1974 edition, 12 % (10 200 psi)', 'second-hand'),
    'softwood',
    'Later editions print lower metric figures (from memory).',
  ),
  entry(
    'okoume', 'Okoume',
    gravity(0.33, `${GTR190}, table 5-5a`, 'second-hand'),
    sourced(7900, `${GTR190}, table 5-5a, 12 %`, 'second-hand'),
    sourced(51, `${GTR190}, table 5-5a, 12 %`, 'second-hand'),
    'hardwood',
    'Solid wood along the grain; plywood of it bends and weighs otherwise.',
  ),
  entry(
    'balsa', 'Balsa',
    gravity(0.16, 'Wood Handbook, imported species', 'memory'),
    sourced(3400, 'Wood Handbook, imported species, 12 % (490 thousand psi)', 'second-hand'),
    sourced(21.6, 'Wood Handbook, imported species, 12 %', 'memory'),
    'hardwood',
    'Varies widely from stick to stick, and editions differ: weigh your own and enter it.',
  ),
  plywood(
    'okoume-plywood', 'Okoume plywood',
    sourced(450, 'a maker\'s sheet: 1.8 kg/m2 at four millimetres', 'read'),
    sourced(5000, 'marine plywood, along the face', 'memory'),
    sourced(40, 'marine plywood, along the face', 'memory'),
    'hardwood',
    'About a fifth heavier than the solid wood: glue and outer plies weigh. Weigh a sheet and enter it.',
  ),
  plywood(
    'birch-plywood', 'Birch plywood',
    sourced(665, 'makers\' sheets: 660 to 670', 'read'),
    sourced(9500, 'birch plywood, mean of along and across', 'memory'),
    sourced(60, 'birch plywood, mean of along and across', 'memory'),
    'hardwood',
  ),
];

/** A built-in species as plain numbers, in the board file's own shape. */
const plain = (wood: BuiltInSpecies): SpeciesDesign => ({
  id: wood.id,
  name: wood.name,
  density: wood.density.value,
  moe: wood.moe.value,
  mor: wood.mor.value,
  woodClass: wood.woodClass,
  ...(wood.note === undefined ? {} : { note: wood.note }),
});

/** Every species a design can name: its own first, then the built-in ones it does not replace. */
export function allSpecies(design: Design): SpeciesDesign[] {
  const own = design.timber.species;
  const ids = new Set(own.map((s) => s.id));
  return [...own, ...BUILT_IN_SPECIES.filter((s) => !ids.has(s.id)).map(plain)];
}

/**
 * The species of an id: the design's own batch, else the built-in one. Density kg/m3, MPa, strains as ratios.
 * Throws a BuildError where neither has it (a checked board file always names one that exists).
 */
export function speciesById(design: Design, id: string): SpeciesDesign {
  const found = allSpecies(design).find((s) => s.id === id);
  if (found !== undefined) return found;
  const known = allSpecies(design).map((s) => s.id).join(', ');
  throw new BuildError({ field: 'timber', value: id, allowed: known, message: 'no timber of this name is in the table or in the board file' });
}
