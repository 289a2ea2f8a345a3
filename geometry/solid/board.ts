/** Every body of a board as a mesh, from a plan. Both sides. */
import { evalSpline, breaks, type Spline } from '../curves/bspline';
import { landedEdge } from '../frame/ends';
import { panelAt, panelProbe } from '../hull/panel';
import { roundAcross, roundPoint } from '../hull/station';
import type { Body, Mesh, PartKind, Plan } from '../types';
import type { BoxRings } from '../rail/rings';
import { skinSpan } from '../rail/laid';
import { sampleReader } from '../rail/samples';
import { evenFacets, stageFacets, type Facets } from './facets';
import { fittingBodies } from './fittingBodies';
import { frameBodies } from './frameBodies';
import { onEachSide } from './sides';
import { skinAcross } from './skin';
import { placeRing, sawnRing, sweptParts, type SweptPart } from './swept';
import { hanging, MeshBuilder, mirrored, sweep, type PlateMemo, type Point3 } from './mesh';

/** Rows of the skins beyond a landing, times the detail. */
const LANDED_ROWS = 24;
const ROUND_DETAIL = 20;

/** Sweep a part's ring, from sections read between the samples. */
function sweepRun(plan: Plan, facets: Facets, rings: BoxRings, part: SweptPart): Mesh {
  const { s0, s1, ring, steps = [] } = part;
  const read = sampleReader(plan.rail.samples);
  const stations = facets.rings(s0, s1);
  // A ring on either side of a corner of the lines, which no chord may cut.
  for (const e of [...steps, ...plan.rail.kinks.sole.map(({ s }) => s), ...plan.rail.kinks.cap.map(({ s }) => s)]) if (e > s0 && e < s1) stations.push(e - 1e-6, e + 1e-6);
  stations.sort((a, b) => a - b);
  const n = stations.length;
  // The cap is shaded by its bevel.
  const withBevel = part.kind === 'cap';
  const bevels: number[] = [];
  let positions = new Float32Array(0);
  let k = 0;
  for (let i = 0; i < n; i++) {
    const c = read.at(stations[i]);
    const shape = ring(c, stations[i]);
    if (i === 0) [k, positions] = [shape.length, new Float32Array(3 * n * shape.length)];
    placeRing(shape, c, positions, 3 * k * i);
    if (withBevel) bevels.push(c.bevel);
  }
  for (const i of [0, n - 1]) {
    const sawn = sawnRing(plan, rings, read.at, part, stations[i]);
    if (sawn) positions.set(sawn, 3 * k * i);
  }
  return sweep({ k, positions, run: stations, ...(withBevel ? { bevel: bevels } : {}) });
}

/** Plan points of one line of the round (control point index) at grid rows, tail to nose. */
function roundLine(round: Spline, index: number, us: readonly number[]): [number, number][] {
  const basis = new Float64Array(12);
  const row = new Float64Array(round.dim * 3);
  return us.map((u) => {
    evalSpline(round, u, row, basis);
    return [row[index * 3], Math.max(0, row[index * 3 + 1])];
  });
}

/**
 * A skin as a closed slab over the plan region between the centreline and an edge curve, both halves in one
 * mesh, or starboard's alone: outside on the panel, inside on its true offset.
 */
function skinSlab(plan: Plan, columns: number, half: boolean, face: 1 | -1, edge: readonly (readonly [number, number])[]): Mesh {
  const { outside, inside } = skinAcross(plan, face, columns);
  const heights = new Float64Array(columns + 1);
  const rows = edge.length;
  const middle = half ? 0 : columns;
  const across = middle + columns + 1;
  const positions = new Float32Array(6 * rows * across);
  const put = (i: number, [x, y]: readonly [number, number]) => {
    for (let j = 0, at = 3 * i * across; j < across; j++, at += 3) {
      positions[at] = x;
      positions[at + 1] = ((j - middle) / columns) * y;
      // Heights of the starboard half serve both.
      positions[at + 2] = heights[Math.abs(j - middle)];
    }
  };
  edge.forEach((at, i) => {
    outside(at[0], at[1], heights);
    put(i, at);
    inside(at[0], at[1], heights);
    put(rows + i, at);
  });
  return { positions, indices: slabHanging(rows, across, half, face) };
}

/** How a skin's slab hangs together: grids of the outside and the inside, and the rim between them. */
const slabHanging = (rows: number, across: number, half: boolean, face: 1 | -1) => hanging(`slab ${rows} ${across} ${half} ${face}`, (mesh) => {
  const inside = rows * across;
  const quad = (up: boolean, a: number, b: number, c: number, d: number) => (up ? mesh.quad(a, b, c, d) : mesh.quad(d, c, b, a));
  for (const from of [0, inside]) {
    for (let i = 0; i + 1 < rows; i++) {
      for (let j = 0; j + 1 < across; j++) {
        const a = from + i * across + j;
        quad((from === 0) === (face === 1), a, a + across, a + across + 1, a + 1);
      }
    }
  }
  for (let i = 0; i + 1 < rows; i++) {
    const [port, starboard] = [i * across, i * across + across - 1];
    quad(face === 1, starboard, starboard + across, starboard + across + inside, starboard + inside);
    if (!half) quad(face === 1, port + across, port, port + inside, port + across + inside);
  }
  const last = (rows - 1) * across;
  for (let j = 0; j + 1 < across; j++) {
    quad(face === 1, j, j + 1, j + 1 + inside, j + inside);
    quad(face === 1, last + j + 1, last + j, last + j + inside, last + j + 1 + inside);
  }
});

/** The finished rail round, one side, as a surface (open toward the skins it meets) with its normals. */
function roundSurface(plan: Plan, us: readonly number[]): Mesh {
  const across = ROUND_DETAIL + 1;
  const positions = new Float32Array(3 * us.length * across);
  us.forEach((u, i) => roundAcross(plan.hull, u, ROUND_DETAIL, positions, 3 * i * across));
  const indices = hanging(`round ${us.length}`, (mesh) => {
    for (let i = 0; i + 1 < us.length; i++) {
      for (let j = 0; j < ROUND_DETAIL; j++) {
        const a = i * across + j;
        mesh.quad(a, a + 1, a + across + 1, a + across);
      }
    }
  });
  return { positions, indices, normals: gridNormals(positions, us.length, across) };
}

/** Unit normals at the points of a grid, from the points beside: a row's run inboard to outboard and over, rows tail to nose. */
function gridNormals(p: Float32Array, rows: number, across: number): Float32Array<ArrayBuffer> {
  const out = new Float32Array(p.length);
  for (let i = 0; i < rows; i++) {
    for (let j = 0; j < across; j++) {
      const at = 3 * (i * across + j);
      const [a, b] = [3 * (i * across + Math.max(0, j - 1)), 3 * (i * across + Math.min(across - 1, j + 1))];
      const [c, d] = [3 * (Math.max(0, i - 1) * across + j), 3 * (Math.min(rows - 1, i + 1) * across + j)];
      const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
      const [vx, vy, vz] = [p[d] - p[c], p[d + 1] - p[c + 1], p[d + 2] - p[c + 2]];
      const [x, y, z] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
      const l = Math.sqrt(x * x + y * y + z * z) || 1;
      out[at] = x / l;
      out[at + 1] = y / l;
      out[at + 2] = z / l;
    }
  }
  return out;
}

/** The bottom skin's edge at grid rows, tail to nose: the box face, and from where the outer skins butt on a block the outline. */
function bottomEdge(plan: Plan, facets: Facets): [number, number][] {
  const { at } = sampleReader(plan.rail.samples);
  const { tail, nose } = plan.rail.ends;
  const { s0, s1 } = skinSpan(plan.rail);
  const beyond = (end: 'tail' | 'nose', s: number | undefined) => (s === undefined ? [] : landedEdge(plan, end, s, LANDED_ROWS * facets.detail));
  const [before, after] = [beyond('tail', tail?.skinsTo).reverse(), beyond('nose', nose?.skinsTo)];
  const first = before.length > 0 ? 1 : 0;
  const along = facets.rows(s0, s1, before.length - first + after.length - (after.length > 0 ? 1 : 0)).map((s): [number, number] => {
    const { x, y } = at(s);
    return [x, Math.max(0, y)];
  });
  return [...before, ...along.slice(first, after.length > 0 ? -1 : undefined), ...after];
}

/**
 * All bodies of the board. Strips, rows, hollow and outer skins come once a side; skins, ribs and stringer
 * span both. Ids are stable from plan to plan. `detail` as of `evenFacets`.
 */
export const meshBoard = (plan: Plan, detail = 1): Body[] =>
  bodiesOf(plan, evenFacets(plan, detail), false).flatMap(onEachSide).map((body) => (body.side === 'port' ? { ...body, mesh: mirrored(body.mesh) } : body));

/** The same bodies with the stage's facets, without those of port, and of skins and blocks without port's half: a stage draws starboard's twice. `kept` as of `plate`. */
export const meshStarboard = (plan: Plan, kept?: PlateMemo): Body[] => bodiesOf(plan, stageFacets(plan), true, kept);

function bodiesOf(plan: Plan, facets: Facets, half: boolean, kept?: PlateMemo): Body[] {
  const { hull } = plan;
  const bodies: Body[] = [];
  const skin = (kind: 'bottom-skin' | 'deck-skin', mesh: Mesh) => bodies.push({ id: kind, kind, side: 'centre', ...(half ? { half } : {}), order: 0, mesh });
  const sides = (id: string, kind: PartKind, order: number, mesh: Mesh) => bodies.push({ id: `${id}-starboard`, kind, side: 'starboard', order, mesh });
  const { us } = facets;
  const slab = (face: 1 | -1, edge: readonly [number, number][]) => skinSlab(plan, facets.columns(face, edge), half, face, edge);
  skin('bottom-skin', slab(-1, bottomEdge(plan, facets)));
  skin('deck-skin', slab(1, roundLine(hull.round, 6, us)));
  sides('round', 'round', 0, roundSurface(plan, us));

  bodies.push(...frameBodies(plan, facets, half, kept), ...fittingBodies(plan, facets.detail));

  const { rings, parts } = sweptParts(plan);
  for (const part of parts) sides(part.name, part.kind, part.order, sweepRun(plan, facets, rings, part));
  return bodies;
}

/**
 * The finished hull as one closed mesh, both halves: deck, rounds, bottom and square ends. `detail` is the
 * number of steps along the length, and a tenth of it across each half panel: the volume by any mesh kernel
 * approaches `hull.volume` with its square.
 */
export function hullMesh(plan: Pick<Plan, 'hull'>, detail = 160): Mesh {
  const { hull } = plan;
  const spans = breaks(hull.outline.knots);
  const end = spans[spans.length - 1];
  const mesh = new MeshBuilder();
  const probe = panelProbe();
  const p = new Float64Array(3);
  const columns = Math.max(4, Math.round(detail / 10));
  const rings: number[][] = [];
  for (let i = 0; i <= detail; i++) {
    const t = i / detail;
    const u = end * (0.5 * t + 0.25 * (1 - Math.cos(Math.PI * t)));
    const half: Point3[] = [];
    roundPoint(hull, u, 0, p);
    const [tx, ty] = [p[0], Math.max(0, p[1])];
    for (let j = 0; j < columns; j++) half.push([tx, (ty * j) / columns, panelAt(hull.bottom, tx, (ty * j) / columns, probe).z]);
    for (let j = 0; j <= 2 * columns; j++) {
      roundPoint(hull, u, j / (2 * columns), p);
      half.push([p[0], Math.max(0, p[1]), p[2]]);
    }
    roundPoint(hull, u, 1, p);
    const [dx, dy] = [p[0], Math.max(0, p[1])];
    for (let j = columns - 1; j >= 0; j--) half.push([dx, (dy * j) / columns, panelAt(hull.deck, dx, (dy * j) / columns, probe).z]);
    const ring = half.map(([x, y, z]) => mesh.vertex(x, y, z));
    for (let j = half.length - 2; j >= 1; j--) ring.push(mesh.vertex(half[j][0], -half[j][1], half[j][2]));
    rings.push(ring);
  }
  const k = rings[0].length;
  for (let i = 0; i < detail; i++) {
    for (let j = 0; j < k; j++) mesh.quad(rings[i][j], rings[i][(j + 1) % k], rings[i + 1][(j + 1) % k], rings[i + 1][j]);
  }
  // End faces: a fan of quads between the two halves; on a pointed or round end they have no area.
  for (const [ring, last] of [[rings[0], false], [rings[detail], true]] as const) {
    for (let j = 0; j < k / 2; j++) {
      const [a, b, c, d] = [ring[j], ring[j + 1], ring[(k - j - 1) % k], ring[(k - j) % k]];
      if (last) mesh.quad(a, b, c, d);
      else mesh.quad(d, c, b, a);
    }
  }
  return mesh.build();
}
