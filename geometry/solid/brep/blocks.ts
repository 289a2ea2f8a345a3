/** The blocks of the ends as solids, both sides in one, and what is let in under the skins. */
import { blockAt, type BlockPlan } from '../../frame/ends';
import type { Plan } from '../../types';
import { blockAcross, blockStretches } from '../blockMesh';
import { fittingShapes, type Faces } from '../fittingBodies';
import { fitRows, surfaceOf } from './fit';
import { borders, lineBetween, ShellBuilder, wallBetween, wayAlong, type Brep, type CurveData } from './shell';

/** Steps across half a block, a multiple of five for `innerAcross`, and across a fitting's block; the points on them. */
const STEPS = 10;
const COLUMNS = STEPS + 1;
const QUARTER = Math.PI / 2;

const first = ({ points }: CurveData): number[] => Array.from(points.subarray(0, 3));
const last = ({ points }: CurveData): number[] => Array.from(points.subarray(-3));

/** A block between the inner skins: solid or a ring, as its plan says. */
function blockBrep(plan: Plan, block: BlockPlan): Brep {
  const stretches = blockStretches(block);
  const acrossAt = blockAcross(plan, block, STEPS);
  const [breadths, lows, highs] = [0, 1, 2].map(() => new Float64Array(COLUMNS));
  const shell = new ShellBuilder();
  stretches.forEach(({ a, b, open, station }, i) => {
    const row = (t: number): Float64Array => {
      const x = station(t);
      acrossAt(x, open, breadths, lows, highs);
      const out = new Float64Array(6 * COLUMNS);
      [...lows, ...highs].forEach((z, j) => out.set([x, breadths[j % COLUMNS], z], 3 * j));
      return out;
    };
    const spline = fitRows(row, 0, 1, { step: 1 / 6, least: 1 / 96, tolerance: 1e-2 });
    const [low, high] = [surfaceOf(spline, 0, COLUMNS), surfaceOf(spline, COLUMNS, COLUMNS)];
    shell.patch(high, true, true);
    shell.patch(low, false, true);
    const [under, over] = [borders(low), borders(high)];
    shell.patch(wallBetween(under.v1, over.v1), false, true);
    if (open) shell.patch(wallBetween(under.v0, over.v0), true, true);
    for (const [at, edge, facing] of [[a, 'u0', -1], [b, 'u1', 1]] as const) {
      // Only its two ends are closed; between stretches one goes over into the next.
      if (facing === -1 ? i > 0 : i < stretches.length - 1) continue;
      const [bottom, deck] = [under[edge], over[edge]];
      const way = [wayAlong(bottom), wayAlong(lineBetween(last(bottom), last(deck))), wayAlong(deck, false)];
      if (bottom.points[1] > 0) shell.besideCentre([...way, wayAlong(lineBetween(first(deck), first(bottom)))], at, facing);
      else if (last(bottom)[1] > 0) shell.acrossEnd(way, at, facing);
    }
  });
  return shell.build(`block-${block.end}`, 'block', 'centre');
}

/** A block under a skin. */
function fittingBrep(id: string, x0: number, x1: number, y0: number, y1: number, faces: Faces): Brep {
  const shell = new ShellBuilder();
  const row = (x: number): Float64Array => {
    const out = new Float64Array(6 * COLUMNS);
    for (let j = 0; j < COLUMNS; j++) {
      const y = y0 + ((y1 - y0) * j) / STEPS;
      const { low, high } = faces(x, y);
      out.set([x, y, low], 3 * j);
      out.set([x, y, high], 3 * (COLUMNS + j));
    }
    return out;
  };
  const spline = fitRows(row, x0, x1, { step: (x1 - x0) / 2, least: (x1 - x0) / 32, tolerance: 5e-3 });
  const [low, high] = [surfaceOf(spline, 0, COLUMNS), surfaceOf(spline, COLUMNS, COLUMNS)];
  shell.patch(high, true);
  shell.patch(low, false);
  const [under, over] = [borders(low), borders(high)];
  shell.patch(wallBetween(under.v1, over.v1), false);
  shell.patch(wallBetween(under.v0, over.v0), true);
  shell.patch(wallBetween(under.u1, over.u1), true);
  shell.patch(wallBetween(under.u0, over.u0), false);
  return shell.build(id, 'fitting', 'centre');
}

/** A washer of timber round the vent's hole. */
function ventBrep(x: number, y: number, inner: number, outer: number, faces: Faces): Brep {
  const shell = new ShellBuilder();
  const row = (angle: number): Float64Array => {
    const at = (r: number) => [x + r * Math.cos(angle), y + r * Math.sin(angle)] as const;
    const corner = (r: number, face: 'low' | 'high') => [...at(r), faces(...at(r))[face]];
    return Float64Array.from([...corner(inner, 'low'), ...corner(inner, 'high'), ...corner(outer, 'high'), ...corner(outer, 'low'), ...corner(inner, 'low')]);
  };
  for (let q = 0; q < 4; q++) {
    const spline = fitRows(row, q * QUARTER, (q + 1) * QUARTER, { step: QUARTER / 4, least: QUARTER / 64, tolerance: 1e-3 });
    for (let j = 0; j < 4; j++) shell.patch(surfaceOf(spline, j, 2), false);
  }
  return shell.build('vent', 'fitting', 'centre');
}

/** The blocks' bodies, and vent and fittings where the maker places them, each to be made by itself. */
export function blockBreps(plan: Plan): { readonly id: string; readonly make: () => Brep }[] {
  const blocks = (['tail', 'nose'] as const).flatMap((end) => blockAt(plan, end) ?? []);
  return [
    ...blocks.map((block) => ({ id: `block-${block.end}`, make: () => blockBrep(plan, block) })),
    ...fittingShapes(plan).map((shape) => ({
      id: shape.id,
      make: () => ('inner' in shape ? ventBrep(shape.x, shape.y, shape.inner, shape.outer, shape.faces) : fittingBrep(shape.id, shape.x0, shape.x1, shape.y0, shape.y1, shape.faces)),
    })),
  ];
}
