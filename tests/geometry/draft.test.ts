/**
 * The plan under a dragging hand, sampled wider, held to the plan of its release: no figure that it shows may move by
 * more than 0.05 mm or 0.02 degrees, and no body by 0.05 mm. Comparison of the kernel with itself at two steps.
 */
import { describe, expect, it } from 'vitest';
import type { Design } from '../../geometry/design/schema';
import { DRAFT_STEP, planBoard } from '../../geometry/plan';
import { sectionAt } from '../../geometry/rail/query';
import { stopsOf } from '../../geometry/rail/laid';
import { sampleReader } from '../../geometry/rail/samples';
import { meshStarboard } from '../../geometry/solid/board';
import type { Mesh, Plan } from '../../geometry/types';
import { seedDesign, seedNames, starterDesigns } from './boards';

const DEG = Math.PI / 180;
/** What the drag may be off by. */
const MM = 0.05;
const BEVEL = 0.02 * DEG;

const boards: readonly (readonly [string, Design])[] = [
  ...seedNames.map((name) => [name, seedDesign(name)] as const),
  ...starterDesigns(),
];

/** A board while each of its curves is dragged: the point nearest to the middle of it, and of one curve an end's neighbour. */
function drags(design: Design): (readonly [string, Design])[] {
  const moved = (change: (copy: Design) => void): Design => {
    const copy = structuredClone(design);
    change(copy);
    return copy;
  };
  const middle = <P>(points: readonly P[]): P => points[points.length >> 1];
  return [
    ['outline', moved(({ lines }) => { middle(lines.outline.points).y -= 2.7; })],
    ['outline at the tail', moved(({ lines }) => { lines.outline.points[1].y += 1.3; })],
    ['rocker', moved(({ lines }) => { middle(lines.rocker.points).v += 1.7; })],
    ['thickness', moved(({ lines }) => { middle(lines.thickness.points).v += 1.9; })],
    ['crown', moved(({ lines }) => { middle(lines.crown.points).v *= 1.13; })],
    ['fullness', moved(({ lines }) => { middle(lines.fullness.points).v *= 0.93; })],
  ];
}

const less = (a: readonly number[], b: readonly number[]) => a.map((v, i) => v - b[i]);
const dot = (a: readonly number[], b: readonly number[]) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** Distance from a point to a segment. */
function toSegment(p: readonly number[], a: readonly number[], b: readonly number[]): number {
  const [u, v] = [less(b, a), less(p, a)];
  const t = Math.min(1, Math.max(0, dot(u, v) / (dot(u, u) || 1)));
  return Math.hypot(...v.map((w, i) => w - t * u[i]));
}

/** Distance from a point to a triangle: to its plane where the foot lies within, else to its edges (provable). */
function toTriangle(p: readonly number[], a: readonly number[], b: readonly number[], c: readonly number[]): number {
  const [u, v, w] = [less(b, a), less(c, a), less(p, a)];
  const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
  const nn = dot(n, n);
  const cross = (e: readonly number[], f: readonly number[]) => dot([e[1] * f[2] - e[2] * f[1], e[2] * f[0] - e[0] * f[2], e[0] * f[1] - e[1] * f[0]], n) / nn;
  const [beta, gamma] = [cross(w, v), cross(u, w)];
  if (nn > 0 && beta >= 0 && gamma >= 0 && beta + gamma <= 1) return Math.abs(dot(w, n)) / Math.sqrt(nn);
  return Math.min(toSegment(p, a, b), toSegment(p, b, c), toSegment(p, c, a));
}

/** Distance from a point to a mesh, or Infinity where it is beyond MM. */
function toMesh(at: readonly number[], { positions: p, indices }: Mesh): number {
  const beyond = (d: number, a: number, b: number, c: number) =>
    at[d] < Math.min(p[a + d], p[b + d], p[c + d]) - MM || at[d] > Math.max(p[a + d], p[b + d], p[c + d]) + MM;
  const corner = (i: number) => [p[i], p[i + 1], p[i + 2]];
  let least = Infinity;
  for (let t = 0; t < indices.length; t += 3) {
    const [a, b, c] = [3 * indices[t], 3 * indices[t + 1], 3 * indices[t + 2]];
    if (!beyond(0, a, b, c) && !beyond(1, a, b, c) && !beyond(2, a, b, c)) least = Math.min(least, toTriangle(at, corner(a), corner(b), corner(c)));
  }
  return least;
}

/** Greatest distance of a draft's body from the settled one: of corners here and there, and of the middles of edges from them. */
function strays(draft: Mesh, settled: Mesh): number {
  const { positions: p, indices } = draft;
  let worst = 0;
  const every = 3 * Math.ceil(indices.length / 3 / 40);
  for (let t = 0; t < indices.length; t += every) {
    const [a, b] = [indices[t], indices[t + 1]].map((i) => [p[3 * i], p[3 * i + 1], p[3 * i + 2]]);
    for (const at of [a, a.map((v, d) => (v + b[d]) / 2)]) worst = Math.max(worst, toMesh(at, settled));
  }
  return worst;
}

/** The figures that a screen tells of a section or draws along the run, and what they may be off by. */
const FIGURES = {
  bevel: BEVEL, stationBevel: BEVEL, soleBevel: BEVEL, planing: MM, solePlaning: MM, capLeft: MM, gap: MM, depth: MM, x: MM, y: MM, soleTop: MM, capTop: MM,
} as const;

describe.each(boards)('%s', (_, design) => {
  it.each(drags(design))('%s: dragged as it is when released', (_drag, moved) => {
    const settled = planBoard(moved);
    const draft = planBoard(moved, { step: DRAFT_STEP });
    expect(draft.rail.samples.n).toBeLessThan(0.6 * settled.rail.samples.n);
    expect(Math.abs(draft.hull.volume / settled.hull.volume - 1)).toBeLessThan(1e-12);

    // Stops: as many, for the same reasons, in the same places.
    const stops = ({ rail }: Plan) => stopsOf(rail).map(({ row, end, cause }) => `${row} ${end} ${cause}`);
    expect(stops(draft)).toEqual(stops(settled));
    stopsOf(draft.rail).forEach((stop, i) => {
      const own = stopsOf(settled.rail)[i];
      // A bend is measured over the samples' spacing: where one stops a row, or ends the strips, it is by less than shows.
      const most = stop.cause === 'gap' || stop.cause === 'end' ? 1e-4 : MM;
      for (const edge of ['upper', 'lower'] as const) {
        expect(Math.abs(stop[edge].s - own[edge].s), `${stop.row} ${stop.end} ${stop.cause}`).toBeLessThan(most);
        expect(Math.abs(stop[edge].x - own[edge].x)).toBeLessThan(most);
      }
    });
    for (const end of ['tail', 'nose'] as const) {
      const [a, b] = [draft.rail.ends[end], settled.rail.ends[end]];
      expect(a?.cause).toBe(b?.cause);
      if (a && b) for (const place of ['s', 'x', 'rowsTo'] as const) expect(Math.abs(a[place] - b[place])).toBeLessThan(MM);
    }
    expect(draft.findings.map(({ code, level }) => `${code} ${level}`)).toEqual(settled.findings.map(({ code, level }) => `${code} ${level}`));

    // Figures told at a place, as the card has them, and read off the samples, as ribbon and labels have them.
    const { s0, s1 } = settled.rail.cap;
    const read = sampleReader(draft.rail.samples);
    for (let i = 1; i < 60; i++) {
      const s = s0 + ((s1 - s0) * i) / 60;
      const [own, told, drawn] = [sectionAt(settled, s), sectionAt(draft, s), read.at(s)];
      expect(told.rows).toBe(own.rows);
      expect(Math.abs(told.cover - own.cover)).toBeLessThan(MM);
      for (const [figure, most] of Object.entries(FIGURES) as [keyof typeof FIGURES, number][]) {
        if (!(Math.abs(told[figure] - own[figure]) < most && Math.abs(drawn[figure] - own[figure]) < most)) throw new Error(`${figure} at ${s}: ${own[figure]}, told ${told[figure]}, drawn ${drawn[figure]}`);
      }
    }
    for (const [figure, most] of [['bevel', BEVEL], ['planing', MM], ['gap', MM], ['cover', MM]] as const) {
      for (const side of ['min', 'max'] as const) expect(Math.abs(draft.rail.range[figure][side] - settled.rail.range[figure][side]), `${side} ${figure}`).toBeLessThan(most);
    }
  });

  it.each(drags(design).filter(([name]) => name === 'outline' || name === 'thickness'))('%s: bodies lie where those of the release will', (_drag, moved) => {
    const own = new Map(meshStarboard(planBoard(moved)).map((body) => [body.id, body.mesh]));
    const bodies = meshStarboard(planBoard(moved, { step: DRAFT_STEP }));
    expect(bodies.map(({ id }) => id)).toEqual([...own.keys()]);
    for (const { id, mesh } of bodies) {
      const twin = own.get(id);
      const off = twin ? strays(mesh, twin) : Infinity;
      if (!(off < MM)) throw new Error(`${id}: ${off} mm off`);
    }
  });
});
