/** Every body of a board as a mesh, from a plan. Both sides. */
import { evalSpline, breaks, type Spline } from '../curves/bspline';
import { blockAt, landedEdge } from '../frame/ends';
import { heightsAcross, innerAcross, panelAt, panelProbe } from '../hull/panel';
import { roundPoint } from '../hull/station';
import { runOf } from '../rail/query';
import type { Body, Mesh, PartKind, Plan, RailSection } from '../types';
import { boxRings, type BoxRings, type SectionRing } from '../rail/rings';
import { hollowSpan, skinSpan } from '../rail/railEnds';
import { rowsAt, stopsOf } from '../rail/rows';
import { sampleReader } from '../rail/samples';
import { boxSizes, gapFor } from '../rail/sizes';
import { fittingBodies } from './fittingBodies';
import { frameBodies } from './frameBodies';
import { MeshBuilder, mirrored, sweep, type Point3, type Ring } from './mesh';

/** Rings along each swept strip; the same for every board, so that a viewer can update buffers in place. All counts are times the detail. */
const SWEEP_RINGS = 192;
/** Rows and columns of the skins' and round's grids. */
const SKIN_ROWS = 128;
const SKIN_COLUMNS = 20;
/** Rows of those beyond a landing. */
const LANDED_ROWS = 24;
const ROUND_DETAIL = 20;
/** What ends this near the end of the run, or of the board, ends with it, mm. */
const END_HAIR = 1e-6;

/**
 * Runs of a sweep's rings: half of them even, the others the closer the tighter the rail bends, so that chords stray from
 * it alike everywhere (as the spacing's square times the curvature).
 */
function spread(plan: Plan, s0: number, s1: number, rings: number): number[] {
  const { kappa, step, n } = plan.rail.samples;
  const count = Math.max(1, Math.ceil((s1 - s0) / step));
  const sums = new Float64Array(count + 1);
  for (let i = 0; i < count; i++) {
    const at = Math.min(n - 1, Math.round((s0 + ((i + 0.5) * (s1 - s0)) / count) / step));
    sums[i + 1] = sums[i] + Math.sqrt(Math.abs(kappa[at]));
  }
  const whole = sums[count];
  for (let i = 0; i <= count; i++) sums[i] = i / count + (whole > 0 ? sums[i] / whole : i / count);
  let k = 0;
  return Array.from({ length: rings }, (_, i) => {
    if (i === rings - 1) return s1;
    const want = (2 * i) / (rings - 1);
    while (k + 1 < count && sums[k + 1] < want) k++;
    return s0 + ((s1 - s0) * (k + (want - sums[k]) / (sums[k + 1] - sums[k]))) / count;
  });
}

interface Swept {
  readonly bevel?: boolean;
  /** Runs that get rings of their own. */
  readonly stations?: readonly number[];
  /** Gap that the part needs, mm: where the gap closes below that on the way to a square end's plane, its end stays square to the rail. */
  readonly gap?: number;
  /** Whether the part lies outside the box, over the bottom skin's edge. */
  readonly outer?: boolean;
}

/** Sweep a ring of the box along [s0, s1], from sections read between the samples. */
function sweepRun(
  plan: Plan, detail: number, rings: BoxRings, s0: number, s1: number, ring: (c: RailSection, s: number) => SectionRing, { bevel: withBevel = false, stations: extra = [], gap: need, outer }: Swept = {},
): Mesh {
  const read = sampleReader(plan.rail.samples);
  const stations = spread(plan, s0, s1, SWEEP_RINGS * detail);
  // A ring on either side of a corner of the lines, which no chord may cut.
  for (const e of [...extra, ...plan.rail.kinks.sole.map(({ s }) => s), ...plan.rail.kinks.cap.map(({ s }) => s)]) if (e > s0 && e < s1) stations.push(e - 1e-6, e + 1e-6);
  stations.sort((a, b) => a - b);
  const at = (s: number): Ring & { corners: Point3[] } => {
    const c = read.at(s);
    const { ribX, ribY, nx, ny, bevel } = c;
    // Where the two sides' boxes meet each is cut off on the centreline.
    return { run: s, bevel, corners: ring(c, s).map(([o, z]): Point3 => [ribX - o * nx, Math.max(0, ribY - o * ny), z]) };
  };
  const swept = stations.map(at);
  // At a square end all is sawn off in the plane of the board's end, whichever way the rail leans.
  const { hull, rail: { face: { tail, nose, length } } } = plan;
  const saw = (end: typeof swept[number], way: 1 | -1, x: number) => {
    const beside = at(end.run + way);
    const shares = end.corners.map(([px], i) => (x - px) / (beside.corners[i][0] - px));
    const closing = read.at(end.run + way).gap;
    const c = read.at(end.run);
    if (need !== undefined && c.gap + Math.min(0, ...shares) * (closing - c.gap) < need) return;
    const across = ring(c, end.run);
    end.corners = end.corners.map((p, i): Point3 => {
      const [q, t] = [beside.corners[i], shares[i]];
      const [y, z] = [Math.max(0, p[1] + t * (q[1] - p[1])), p[2] + t * (q[2] - p[2])];
      if (t >= 0) return [x, y, z];
      // Carried on straight past its last section it is planed to the skins that it comes to there.
      const inside = (face: 1 | -1) => rings.inside(c, face, across[i][0], [x, y]);
      return [x, y, Math.min(inside(1), outer ? z : Math.max(inside(-1), z))];
    });
  };
  if (tail.kind === 'open' && tail.x < END_HAIR && s0 < END_HAIR) saw(swept[0], 1, 0);
  if (nose.kind === 'open' && nose.x > hull.length - END_HAIR && s1 > length - END_HAIR) saw(swept[swept.length - 1], -1, hull.length);
  return sweep(swept, withBevel);
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

/** Outline parameters for grid rows: evenly in u, thickened toward both ends. */
function gridParameters(plan: Plan, rows: number): number[] {
  const spans = breaks(plan.hull.outline.knots);
  const end = spans[spans.length - 1];
  return Array.from({ length: rows + 1 }, (_, i) => {
    const t = i / rows;
    return end * (0.5 * t + 0.25 * (1 - Math.cos(Math.PI * t)));
  });
}

/**
 * A skin as a closed slab over the plan region between the centreline and an edge curve, both halves in one
 * mesh: outside on the panel, inside on its true offset.
 */
function skinSlab(plan: Plan, columns: number, face: 1 | -1, edge: readonly [number, number][]): Mesh {
  const { hull, design } = plan;
  const panel = face === 1 ? hull.deck : hull.bottom;
  const thickness = face === 1 ? design.skins.deck : design.skins.bottom;
  const probe = panelProbe();
  const mesh = new MeshBuilder();
  const across = 2 * columns;
  const heights = new Float64Array(columns + 1);
  // Where the board is thinner than its skins the bottom reaches to the deck's outside, and the deck is trimmed to the bottom.
  const trim = { out: panelProbe(), in: panelProbe(), outside: new Float64Array(columns + 1), bottom: new Float64Array(columns + 1) };
  const insideAcross = (x: number, y: number) => {
    innerAcross(panel, face, thickness, x, 0, y, columns, probe, heights);
    heightsAcross(hull.deck, x, 0, y, columns, trim.out, trim.outside);
    if (face === -1) {
      for (let j = 0; j <= columns; j++) heights[j] = Math.min(heights[j], trim.outside[j]);
      return;
    }
    innerAcross(hull.bottom, -1, design.skins.bottom, x, 0, y, columns, trim.in, trim.bottom);
    for (let j = 0; j <= columns; j++) heights[j] = Math.max(heights[j], Math.min(trim.outside[j], trim.bottom[j]));
  };
  const grid = (inside: boolean): number[][] =>
    edge.map(([x, y]) => {
      // Heights of the starboard half serve both.
      if (inside) insideAcross(x, y);
      else heightsAcross(panel, x, 0, y, columns, probe, heights);
      const row: number[] = [];
      for (let j = -columns; j <= columns; j++) row.push(mesh.vertex(x, (j / columns) * y, heights[Math.abs(j)], x));
      return row;
    });
  const outside = grid(false);
  const inside = grid(true);
  const layer = (g: number[][], up: boolean) => {
    for (let i = 0; i + 1 < g.length; i++) {
      for (let j = 0; j < across; j++) {
        if (up) mesh.quad(g[i][j], g[i + 1][j], g[i + 1][j + 1], g[i][j + 1]);
        else mesh.quad(g[i][j], g[i][j + 1], g[i + 1][j + 1], g[i + 1][j]);
      }
    }
  };
  layer(outside, face === 1);
  layer(inside, face === -1);
  const rim = (a: number, b: number, c: number, d: number) => (face === 1 ? mesh.quad(a, b, c, d) : mesh.quad(d, c, b, a));
  const last = edge.length - 1;
  for (let i = 0; i < last; i++) {
    rim(outside[i][across], outside[i + 1][across], inside[i + 1][across], inside[i][across]);
    rim(outside[i + 1][0], outside[i][0], inside[i][0], inside[i + 1][0]);
  }
  for (let j = 0; j < across; j++) {
    rim(outside[0][j], outside[0][j + 1], inside[0][j + 1], inside[0][j]);
    rim(outside[last][j + 1], outside[last][j], inside[last][j], inside[last][j + 1]);
  }
  return mesh.build();
}

/** The finished rail round, one side, as a surface (open toward the skins it meets). */
function roundSurface(plan: Plan, us: readonly number[]): Mesh {
  const mesh = new MeshBuilder();
  const p = new Float64Array(3);
  const rows = us.map((u) => {
    const row: number[] = [];
    for (let j = 0; j <= ROUND_DETAIL; j++) {
      roundPoint(plan.hull, u, j / ROUND_DETAIL, p);
      row.push(mesh.vertex(p[0], Math.max(0, p[1]), p[2], p[0]));
    }
    return row;
  });
  for (let i = 0; i + 1 < rows.length; i++) {
    for (let j = 0; j < ROUND_DETAIL; j++) mesh.quad(rows[i][j], rows[i][j + 1], rows[i + 1][j + 1], rows[i + 1][j]);
  }
  return mesh.build();
}

/** The bottom skin's edge at grid rows, tail to nose: the box face, and from where the outer skins butt on a block the outline. */
function bottomEdge(plan: Plan, detail: number): [number, number][] {
  const { at } = sampleReader(plan.rail.samples);
  const { tail, nose } = plan.rail.ends;
  const { s0, s1 } = skinSpan(plan.rail);
  const beyond = (end: 'tail' | 'nose', s: number | undefined) => (s === undefined ? [] : landedEdge(plan, end, s, LANDED_ROWS * detail));
  const [before, after] = [beyond('tail', tail?.skinsTo).reverse(), beyond('nose', nose?.skinsTo)];
  // As many rows for every board: the landings' are taken from the box face's.
  const first = before.length > 0 ? 1 : 0;
  const rows = SKIN_ROWS * detail + first - before.length - after.length + (after.length > 0 ? 1 : 0);
  const along = Array.from({ length: rows + 1 }, (_, i): [number, number] => {
    const { x, y } = at(s0 + ((s1 - s0) * i) / rows);
    return [x, Math.max(0, y)];
  });
  return [...before, ...along.slice(first, after.length > 0 ? -1 : undefined), ...after];
}

/**
 * All bodies of the board. Strips, rows, hollow and outer skins come once a side; skins, ribs and stringer
 * span both. Ids are stable from plan to plan. `detail` is how many times finer facets are than those of the stage, a
 * whole number: chords stray from curves by less than its square.
 */
export function meshBoard(plan: Plan, detail = 1): Body[] {
  const { design, hull, rail } = plan;
  const bodies: Body[] = [];
  const centre = (id: string, kind: PartKind, order: number, mesh: Mesh) => bodies.push({ id, kind, side: 'centre', order, mesh });
  const sides = (id: string, kind: PartKind, order: number, mesh: Mesh) => {
    bodies.push({ id: `${id}-starboard`, kind, side: 'starboard', order, mesh });
    bodies.push({ id: `${id}-port`, kind, side: 'port', order, mesh: mirrored(mesh) });
  };
  const us = gridParameters(plan, SKIN_ROWS * detail);
  centre('bottom-skin', 'bottom-skin', 0, skinSlab(plan, SKIN_COLUMNS * detail, -1, bottomEdge(plan, detail)));
  centre('deck-skin', 'deck-skin', 0, skinSlab(plan, SKIN_COLUMNS * detail, 1, roundLine(hull.round, 6, us)));
  sides('round', 'round', 0, roundSurface(plan, us));

  bodies.push(...frameBodies(plan, detail), ...fittingBodies(plan, detail));

  const rings = boxRings(runOf(plan), design.rail.outerThickness);
  sides('sole', 'sole', 0, sweepRun(plan, detail, rings, rail.sole.s0, rail.sole.s1, rings.sole));
  if (rail.cap.s1 > rail.cap.s0) {
    sides('cap', 'cap', 0, sweepRun(plan, detail, rings, rail.cap.s0, rail.cap.s1, rings.cap, { bevel: true }));
    const stops = stopsOf(rail).map(({ s }) => s);
    const span = hollowSpan(rail);
    if (span.s1 > span.s0) sides('hollow', 'hollow', 0, sweepRun(plan, detail, rings, span.s0, span.s1, (c, s) => rings.hollow(c, rowsAt(rail.rows, s)), { stations: stops }));
  }
  for (const [i, end] of (['tail', 'nose'] as const).entries()) {
    for (const { kind, s0, s1 } of blockAt(plan, end)?.beside ?? []) {
      sides(`block-${end}-${kind}`, 'block', i, sweepRun(plan, detail, rings, s0, s1, rings[kind]));
    }
  }
  const count = new Map<number, number>();
  for (const { row, tail, nose } of rail.rows) {
    const nth = (count.get(row) ?? 0) + 1;
    count.set(row, nth);
    sides(`row-${row}-${nth}`, 'row', row, sweepRun(plan, detail, rings, tail.s, nose.s, (c) => rings.row(c, row), { gap: gapFor(boxSizes(design), row) }));
  }
  const covered = skinSpan(rail);
  for (let layer = 1; layer <= design.rail.outerLayers; layer++) {
    sides(`outer-skin-${layer}`, 'outer-skin', layer, sweepRun(plan, detail, rings, covered.s0, covered.s1, (c) => rings.outerSkin(c, layer), { outer: true }));
  }
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
    const ring = half.map((c) => mesh.vertex(...c));
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
