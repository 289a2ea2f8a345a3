/** Glue by step of the work: surfaces, what to mix, and what stays in the board. */
import type { Design } from '../design/schema';
import { blockAt, stringerEnds } from '../frame/ends';
import { skinSpan } from '../rail/laid';
import { nearestSample } from '../rail/samples';
import type { Plan } from '../types';
import type { SkinPlankPlan, StripBending } from './types';

/** Spread of glue where the maker has not entered his own, g/m2: a placeholder, not a figure of any glue. */
const PLACEHOLDER_SPREAD = 200;
/** Mixed for each gram spread: pots and rollers keep the rest. Own choice. */
const POT = 1.2;
/** Density of cured glue, kg/mm3 (epoxy, 1.15 kg/l; from memory). */
const CURED = 1.15e-6;
/** A slot as low as this above the clearance is closed by glue, mm: own choice. */
const CLOSED_SLOT = 0.3;

/** Glued surfaces, mm2, one face of each joint. */
export interface GlueAreas {
  /** Of one side. */
  readonly sole: number;
  readonly cap: number;
  readonly rows: number;
  /** Of the whole board. */
  readonly frames: number;
  readonly blocks: number;
  readonly outerSkins: number;
  readonly deck: number;
}

/** Spread of the glue (g/m2), and whether it is the placeholder. */
export const spreadOf = ({ adhesive }: Design): { spread: number; placeholder: boolean } =>
  (adhesive ? { spread: adhesive.spread, placeholder: false } : { spread: PLACEHOLDER_SPREAD, placeholder: true });

/** Glue to mix for a surface of `area` mm2, g. */
export const mixFor = (design: Design, area: number): number => area * 1e-6 * spreadOf(design).spread * POT;

/** What stays of it in the board, kg: the glue line's own volume. */
export const glueLeft = ({ rail }: Design, area: number): number => area * rail.glueLine * CURED;

/** Surface between planks of a glued-up skin: every joint, as long as the shorter of its planks, by the thickness, mm2; 0 where it is a panel. */
export function plankJoints(skins: SkinPlankPlan | undefined, panel?: 'deck' | 'bottom'): number {
  return (skins?.panels ?? []).filter((one) => panel === undefined || one.panel === panel).reduce((sum, { pieces, strakes, thickness }) => {
    const long = Array.from({ length: strakes }, (_, k) => pieces.reduce((all, { strake, length }) => (strake === k + 1 ? all + length : all), 0));
    return sum + thickness * long.slice(1).reduce((all, length, k) => all + Math.min(length, long[k]), 0);
  }, 0);
}

/** All glued surfaces, both sides, mm2. */
export const allGlued = (a: GlueAreas): number => 2 * (a.sole + a.cap + a.rows) + a.frames + a.blocks + a.outerSkins + a.deck;

/** Glued surfaces of a plan. */
export function glueAreas(plan: Plan, bending: readonly StripBending[]): GlueAreas {
  const { design, rail } = plan;
  const { samples } = rail;
  const { stripWidth, soleThickness, capThickness, spacerWidth, clearance, outerLayers, outerThickness, shapingAllowance } = design.rail;
  const { ribThickness, stringerThickness } = design.frames;
  const lengthOf = (kind: StripBending['strip']['kind']) => bending.filter(({ strip }) => strip.kind === kind).reduce((sum, { along }) => sum + along[along.length - 1], 0);
  const tabs = rail.ribs.filter((rib) => rib.hasTab).length;
  /** Integral along the run of a figure of the samples. */
  const overRun = (f: (i: number) => number): number => {
    let sum = 0;
    for (let i = 0; i < samples.n; i++) sum += f(i) * samples.step * (i === 0 || i === samples.n - 1 ? 0.5 : 1);
    return sum;
  };
  // A rib glues to the sole's inner edge below its tab and to the cap's above.
  const ribEnds = (thickness: number) => tabs * ribThickness * thickness;
  // The highest row glues to the cap where next to nothing is left above it.
  const toCap = overRun((i) => (samples.rows[i] > 0 && samples.slot[i] <= clearance + CLOSED_SLOT ? spacerWidth : 0));
  const stringer = stringerEnds(plan);
  const edges = rail.ribs.reduce((sum, rib) => sum + 2 * rib.ribY * ribThickness, 0) + Math.max(0, stringer.x1 - stringer.x0) * stringerThickness;
  /** Both sides of a plan given by half-breadths at stations. */
  const planArea = (half: ArrayLike<number>) => {
    let sum = 0;
    for (let i = 2; i < half.length; i += 2) sum += (half[i] - half[i - 2]) * (half[i + 1] + half[i - 1]);
    return sum;
  };
  const covered = skinSpan(rail);
  const skinHeight = (i: number) => Math.max(0, samples.deckFace[i] - samples.bottomFace[i] + design.skins.bottom);
  const ends = (['tail', 'nose'] as const).flatMap((end) => blockAt(plan, end) ?? []);
  const blocks = ends.reduce((sum, { body, hole = [] }) => sum + planArea(body) - planArea(hole), 0);
  // Sole and cap lie in rebates over the tongues, one face each.
  const tongues = ends.reduce((sum, { beside }) => sum + beside.reduce((all, { kind, s0, s1 }) => (kind === 'tongue' ? all + s1 - s0 : all), 0), 0) * stripWidth;
  return {
    sole: lengthOf('sole') * stripWidth + ribEnds(soleThickness) + tongues,
    cap: tabs * ribThickness * (stripWidth - spacerWidth) + ribEnds(capThickness) + tongues,
    rows: lengthOf('row') * spacerWidth + toCap,
    frames: edges,
    blocks,
    outerSkins: 2 * (outerLayers * overRun((i) => (samples.s[i] < covered.s0 || samples.s[i] > covered.s1 ? 0 : skinHeight(i)))
      // Their butts on a block's landing, both sides.
      + outerLayers * outerThickness * ends.reduce((sum, { landing }) => sum + (landing ? skinHeight(nearestSample(samples, landing.s)) : 0), 0)),
    deck: edges + blocks + 2 * (lengthOf('cap') * stripWidth + (covered.s1 - covered.s0) * (outerLayers * outerThickness + shapingAllowance)),
  };
}
