/**
 * Whether any two parts of a board's assembly take the same room, by booleans of manifold-3d: the hollow is no part, the
 * rail round is a surface, and a half-lap that is cut to be pressed together is told apart.
 */
import type { ManifoldToplevel } from 'manifold-3d';
import { planFittings } from '../../geometry/frame/fittings';
import { meshBoard } from '../../geometry/solid/board';
import type { Body, Plan } from '../../geometry/types';
import { manifoldOf } from './kernels';

/** Parts may reach into each other by this much on the mean over what they share, mm: facets of curves stray by less. */
const OVERLAP = 0.05;
/** Less is rounding of positions held in 24 bits, mm3. */
const ROUNDING = 1;

/** Two parts that share room: how much, mm3, over which area, mm2, and where along the board. */
export interface Overlap {
  readonly parts: readonly [string, string];
  readonly volume: number;
  readonly area: number;
  readonly x: number;
}

/** Whether two bodies are held together by a fit the maker asked to be tight: ribs and stringer in their notches. */
const pressed = (a: Body, b: Body, { design }: Plan): boolean =>
  design.frames.notchFit < 0 && [a, b].map(({ kind }) => kind).sort().join(' ') === 'rib stringer';

/** How many times finer facets are where parts seem to overlap: what is left of facets is then a ninth. */
const FINER = 3;

/**
 * Every two parts that share more than OVERLAP mm times their contact area, which is half the surface of the room they
 * share. Port mirrors starboard: it is tried against starboard and not against itself. Two that seem to are meshed finer
 * and tried again, for chords of their own facets may cross. A vent or fitting of which the plan tells that it stands in the
 * way is left out. Bodies that are given are tried as they are, and only those that `about` knows by id against all.
 */
export function overlapsOf(module: ManifoldToplevel, plan: Plan, bodies?: readonly Body[], about?: RegExp): Overlap[] {
  if (bodies) return overlapsIn(module, plan, bodies, about);
  const told = planFittings(plan).findings.flatMap(({ code, place }) => (IN_WAY.has(code) && place ? [place.x] : []));
  const found = overlapsIn(module, plan, meshBoard(plan).filter((body) => body.kind !== 'fitting' || !told.some((x) => Math.abs(middleOf(body) - x) < 0.01)));
  if (found.length === 0) return found;
  const pairs = new Set(found.map(({ parts }) => parts.join(' ')));
  const named = new Set(found.flatMap(({ parts }) => parts));
  return overlapsIn(module, plan, meshBoard(plan, FINER).filter(({ id }) => named.has(id))).filter(({ parts }) => pairs.has(parts.join(' ')));
}

const IN_WAY: ReadonlySet<string> = new Set(['vent-in-way', 'fitting-in-way', 'fitting-overlap']);

/** Station of a body's middle, mm. */
function middleOf({ mesh }: Body): number {
  const x = mesh.positions.filter((_, i) => i % 3 === 0);
  return (x.reduce((least, v) => Math.min(least, v), Infinity) + x.reduce((most, v) => Math.max(most, v), -Infinity)) / 2;
}

function overlapsIn(module: ManifoldToplevel, plan: Plan, bodies: readonly Body[], about = /^/): Overlap[] {
  const parts = bodies.filter(({ kind }) => kind !== 'hollow' && kind !== 'round').map((body) => {
    const solid = manifoldOf(module, body.mesh);
    return { body, solid, box: solid.boundingBox() };
  });
  const found: Overlap[] = [];
  parts.forEach((a, i) => parts.slice(i + 1).forEach((b) => {
    if (!about.test(a.body.id) && !about.test(b.body.id)) return;
    const sides = [a.body.side, b.body.side];
    if (sides.includes('port') && !sides.includes('starboard')) return;
    if ([0, 1, 2].some((k) => a.box.min[k] > b.box.max[k] || b.box.min[k] > a.box.max[k]) || pressed(a.body, b.body, plan)) return;
    const shared = a.solid.intersect(b.solid);
    const [volume, area] = [shared.volume(), shared.surfaceArea() / 2];
    if (volume > ROUNDING && volume > OVERLAP * area) found.push({ parts: [a.body.id, b.body.id], volume, area, x: shared.boundingBox().min[0] });
    shared.delete();
  }));
  for (const { solid } of parts) solid.delete();
  return found;
}

/** An overlap in words, for a test's message. */
export const overlapText = ({ parts, volume, area, x }: Overlap): string =>
  `${parts.join(' in ')}: ${volume.toFixed(1)} mm3 over ${area.toFixed(0)} mm2, ${(volume / area).toFixed(3)} mm deep, from ${x.toFixed(0)} on`;
