/** What a step of the work needs beside hands: clamps and how to set them, glue and its open time, how a bend springs. */
import { isHeated } from './stripWords';
import { mm, said, size, type Said } from '../said';
import type { Plan } from '../types';
import { BEARS_ACROSS, GLUE_PRESSURE, keptAcross, layersKeep } from '../wood/bent';
import { mixFor, spreadOf } from './glue';
import type { StripBending, StripLie } from './types';

/** Clamps along an open edge are about this far apart, and each presses on a pad about as long, mm: the project's own choice. */
export const CLAMP_STEP = 120;

/** What a rib end bears of a strip before it dents, N. */
export const ribEndBears = ({ design }: Plan, thickness: number): number => design.frames.ribThickness * thickness * BEARS_ACROSS;

/** Clamps of a strip on the ribs, counted for each side: glue pressure over a pad is more than a rib end bears. */
export function clampsOnRibs(plan: Plan, lies: readonly StripLie[], count: number, thickness: number): Said[] {
  const width = plan.design.rail.stripWidth;
  const pull = Math.max(0, ...lies.flatMap(({ supports, ends }) => [...supports.filter(({ rib }) => rib !== undefined), ...ends.map(({ close }) => ({ force: close }))].map(({ force }) => Math.abs(force))));
  return [
    said('{count} clamps on each side, each through a pad about {pad} long.', { count, pad: size(CLAMP_STEP) }),
    said('Pull the strip to the rib ends by hand ({pull} at most) and clamp beside the rib, never on its end: glue pressure over a pad is {force}, and a rib end bears about {bears}.', {
      pull: force(pull), force: force(GLUE_PRESSURE * CLAMP_STEP * width), bears: force(ribEndBears(plan, thickness)),
    }),
  ];
}

/** Clamps of anything else, counted. */
export const clampCount = (count: number, each: boolean): Said =>
  said('{count} {what}, each through a pad.', { count, what: count === 1 ? 'clamp or weight' : `clamps or weights${each ? ' on each side' : ''}` });

/** A force, N. */
const force = (value: number): Said => ({ of: 'N', value, decimals: 0 });

/** How much glue a surface of `area` mm2 takes, and how long there is to close and to hold it. */
export function glueWords({ design }: Plan, area: number, each: boolean): Said[] {
  const { spread, placeholder } = spreadOf(design);
  const { adhesive } = design;
  return [
    said('Glue for {area}{side}: mix {mix} at {spread}{source}.', {
      area: { of: 'mm2', value: area }, side: each ? ' on each side' : '', mix: { of: 'g', value: mixFor(design, area), decimals: 0 },
      spread: { of: 'g/m2', value: spread }, source: placeholder ? ', a placeholder until the glue\'s data sheet is entered' : '',
    }),
    ...(adhesive ? [said('{name}: closed within {open}, held for {clamp}.', {
      name: adhesive.name === '' ? 'The glue' : adhesive.name, open: { of: 'min', value: adhesive.openMinutes }, clamp: { of: 'min', value: adhesive.clampMinutes },
    })] : []),
  ];
}

/** How a strip that is bent wet springs, once for all strips of a step; nothing where all bend dry. */
export function springWords(strips: readonly StripBending[]): Said[] {
  if (!strips.some(({ zones }) => zones.some(isHeated))) return [];
  const kept = (runOut: number): Said => ({ of: 'share', value: keptAcross(runOut), decimals: 0 });
  // Split or layered, a strip is glued up to its curve: the least radius among such stretches, and the form it wants.
  const glued = strips.flatMap(({ zones }) => zones.filter(({ n }) => n > 1)).sort((a, b) => a.radius - b.radius).at(0);
  return [
    ...(glued ? [said('Glued up off the board, {n} parts keep {share} of their form\'s curve: for the least radius of {radius} shape the form to {form}.', {
      n: glued.n, share: { of: 'share', value: layersKeep(glued.n), decimals: 0 }, radius: mm(glued.radius, 0), form: mm(glued.radius * layersKeep(glued.n), 0),
    })] : []),
    'Heat gives back 15 to 20 % of a bend (as makers tell, no source): form it that much tighter, or let it dry clamped on the ribs.',
    said('Pick the straightest grain for it: running out 1:20 it keeps {straight} of its strength, 1:10 {slanting}.', { straight: kept(20), slanting: kept(10) }),
  ];
}

/** Sole and cap do not lie on the drawn line by themselves: the most that one stands off it, and what to draw. */
export function lineWords(lies: readonly StripLie[]): Said[] {
  const worst = Math.max(0, ...lies.flatMap(({ bays }) => bays.map(({ standOff }) => Math.abs(standOff))));
  return worst < 0.05 ? [] : [said('Draw its line on the skin first: pulled to the rib ends alone it lies up to {off} off it.', { off: mm(worst) })];
}
