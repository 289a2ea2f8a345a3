/**
 * How far the board sags as a beam, beside the same board with its rails solid: what the hollow costs in stiffness.
 * Skins and strips bear along their grain; stringers of plywood or of short grain count half (own choice), their
 * lightening holes not taken out. Ribs bear nothing lengthwise.
 */
import { speciesById } from '../design/timber';
import { frameAt, planeFrame } from '../curves/plane';
import { GAUSS5_W, GAUSS5_X } from '../curves/quadrature';
import { roundArcs } from '../rail/cover';
import { hasBox, runOf } from '../rail/query';
import { sampleReader } from '../rail/samples';
import type { Plan } from '../types';
import { sagMidway, slab, stiffnessOf, type Fibre } from '../wood/beam';
import { arcHeight, depthsAt, type Depths } from './volumes';

/** The board rests at these shares of its length and is loaded midway: own choice. */
const SPAN = [0.1, 0.9] as const;
/** What the stringer's modulus counts for. */
const FRAME_SHARE = 0.5;

/** Run at which the box face passes a station. */
function runAtStation({ rail: { samples: a } }: Plan, x: number): number {
  for (let i = 0; i + 1 < a.n; i++) if ((a.x[i] - x) * (a.x[i + 1] - x) <= 0 && a.x[i] !== a.x[i + 1]) return a.s[i] + ((a.s[i + 1] - a.s[i]) * (x - a.x[i])) / (a.x[i + 1] - a.x[i]);
  return a.s[x < a.x[0] ? 0 : a.n - 1];
}

/** EI of half the section at a station, N mm2, with hollow and with solid rails. */
function halfSection(plan: Plan, x: number): { hollow: number; solid: number } {
  const { design, hull, rail } = plan;
  const { timber, frames } = design;
  const { stripWidth, spacerWidth, spacerHeight } = design.rail;
  const { faceOffset } = runOf(plan).sizes;
  const modulus = (id: string) => speciesById(design, id).moe;
  const [strips, outer, skins, web] = [timber.rail, timber.outer, timber.skins, timber.frames].map(modulus);
  const s = runAtStation(plan, x);
  const c = sampleReader(rail.samples).at(s);
  const frame = frameAt(hull.outline, c.u, planeFrame());
  const arcs = roundArcs(hull, c.u, frame.nx, frame.ny, frame.x, frame.y, new Float64Array(14));
  const [tuck, turn] = [Math.max(0, arcs[0]), Math.max(0, arcs[12])];
  // Columns stand along the outline's normal, and are as wide in the station's plane as that is slant.
  const slant = Math.max(1e-3, -frame.ny);
  const reach = Math.max(0, frame.y) / slant;
  const inBox = faceOffset + stripWidth;
  const [common, hollow, solid]: Fibre[][] = [[], [], []];
  const put = (list: Fibre[], e: number, b: number, z0: number, z1: number) => {
    if (z1 > z0) list.push(slab(e, b, z0, z1));
  };
  const d: Depths = { deck: 0, deckIn: 0, bottomIn: 0, bottom: 0 };
  const cuts = [0, faceOffset, faceOffset + spacerWidth, inBox, tuck, turn, (inBox + reach) / 2, reach - frames.stringerThickness / 2 / slant, reach];
  const edges = [...new Set(cuts.filter((e) => e >= 0 && e <= reach))].sort((a, b) => a - b);
  for (let i = 0; i + 1 < edges.length; i++) {
    for (let k = 0; k < 5; k++) {
      const e = edges[i] + (edges[i + 1] - edges[i]) * GAUSS5_X[k];
      const b = (edges[i + 1] - edges[i]) * GAUSS5_W[k] * slant;
      depthsAt(plan, frame.x + e * frame.nx, frame.y + e * frame.ny, d);
      const top = e < turn ? Math.min(d.deck, arcHeight(arcs, 6, e)) : d.deck;
      const under = e < tuck ? Math.max(d.bottom, arcHeight(arcs, 0, e)) : d.bottom;
      put(common, skins, b, Math.max(d.deckIn, under), top);
      if (e < faceOffset) {
        put(common, outer, b, under, Math.min(d.deckIn, top));
        continue;
      }
      put(common, skins, b, under, Math.min(d.bottomIn, top));
      if (e >= inBox) {
        if ((reach - e) * slant < frames.stringerThickness / 2) put(common, web * FRAME_SHARE, b, d.bottomIn, d.deckIn);
        continue;
      }
      put(solid, strips, b, d.bottomIn, d.deckIn);
      if (!hasBox(plan, s)) {
        put(hollow, strips, b, d.bottomIn, d.deckIn);
        continue;
      }
      put(hollow, strips, b, Math.max(d.bottomIn, c.soleBottom), c.soleTop);
      if (e < faceOffset + spacerWidth) put(hollow, strips, b, c.soleTop, c.soleTop + c.rows * spacerHeight * Math.hypot(1, c.soleSlope));
      put(hollow, strips, b, c.capBottom, Math.min(c.capTop, d.deckIn));
    }
  }
  return { hollow: stiffnessOf([...common, ...hollow]).ei, solid: stiffnessOf([...common, ...solid]).ei };
}

/** Sag of the board under a load midway, hollow rails over solid ones of the same timber: 1.02 is 2 % more. */
export function sagRatio(plan: Plan): number {
  const [a, b] = SPAN.map((share) => share * plan.hull.length);
  const known = new Map<number, ReturnType<typeof halfSection>>();
  const at = (x: number) => {
    const found = known.get(x) ?? halfSection(plan, x);
    known.set(x, found);
    return found;
  };
  return sagMidway(a, b, (x) => at(x).hollow) / sagMidway(a, b, (x) => at(x).solid);
}
