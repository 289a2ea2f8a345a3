/** Inner faces and cover against slow twins that know only points of the finished surface. Provable: definitions. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { evalSpline } from '../../geometry/curves/bspline';
import { checkDesign } from '../../geometry/design/read';
import type { Design } from '../../geometry/design/schema';
import { innerAt, panelAt, panelProbe } from '../../geometry/hull/panel';
import { roundPoint } from '../../geometry/hull/station';
import { planBoard } from '../../geometry/plan';
import { sectionAt } from '../../geometry/rail/query';
import type { Hull, Panel, Plan, RailSection } from '../../geometry/types';
import { rawDesign } from '../support/designs';
import { seedDesign, seedNames } from './boards';

/** Least distance from a point to the panel, by trying the eight neighbours at ever shorter steps. */
function toPanel(panel: Panel, p: readonly number[]): number {
  const probe = panelProbe();
  let [x, y] = p;
  let best = Infinity;
  for (let h = 8; h > 1e-8; ) {
    let moved = false;
    for (const [dx, dy] of [[0, 0], [1, 0], [-1, 0], [0, 1], [0, -1], [1, 1], [-1, 1], [1, -1], [-1, -1]]) {
      const [qx, qy] = [x + dx * h, y + dy * h];
      const d = Math.hypot(qx - p[0], qy - p[1], panelAt(panel, qx, qy, probe).z - p[2]);
      if (d < best - 1e-15) {
        best = d;
        [x, y] = [qx, qy];
        moved = dx !== 0 || dy !== 0;
        if (moved) break;
      }
    }
    if (!moved) h /= 2;
  }
  return best;
}

describe.each(seedNames)('%s: inner faces', (name) => {
  const design = seedDesign(name);
  const plan = planBoard(design);

  it('lie a skin\'s thickness from the finished surface, and no nearer, at 60 places', () => {
    const { hull, rail } = plan;
    const probe = panelProbe();
    let places = 0;
    for (let i = 0; i < 30; i++) {
      const s = rail.sole.s0 + ((rail.sole.s1 - rail.sole.s0) * (i + 0.5)) / 30;
      const { ribX, ribY } = sectionAt(plan, s);
      for (const share of [1, 0.4]) {
        const y = ribY * share;
        for (const [panel, face, thickness] of [[hull.deck, 1, design.skins.deck], [hull.bottom, -1, design.skins.bottom]] as const) {
          const { z } = innerAt(panel, face, thickness, ribX, y, probe);
          expect(Math.abs(toPanel(panel, [ribX, y, z]) - thickness)).toBeLessThan(1e-7);
          // On the right side of it.
          expect(Math.sign(panelAt(panel, ribX, y, panelProbe()).z - z)).toBe(face);
          places++;
        }
      }
    }
    expect(places).toBe(120);
  });

  it('are the same from a probe that remembers and from a new one, near and far', () => {
    const { hull } = plan;
    const kept = panelProbe();
    for (let i = 0; i < 200; i++) {
      const x = hull.length * (0.03 + 0.94 * ((i * 0.6180339887) % 1));
      const y = 60 * ((i * 0.7548776662) % 1) * (i % 2 === 0 ? 1 : -1);
      const a = innerAt(hull.deck, 1, 4, x, y, kept);
      const b = innerAt(hull.deck, 1, 4, x, y, panelProbe());
      expect(Math.abs(a.z - b.z)).toBeLessThan(1e-9);
      expect(Math.abs(a.zx - b.zx) + Math.abs(a.zy - b.zy)).toBeLessThan(1e-7);
      // Port mirrors starboard.
      const m = innerAt(hull.deck, 1, 4, x, -y, panelProbe());
      expect(Math.abs(m.z - b.z)).toBeLessThan(1e-9);
      expect(Math.abs(m.zy + b.zy)).toBeLessThan(1e-7);
    }
  });
});

/** The round's section square to the rail as points (inset from the outline, z), evenly in its parameter. */
function denseRound(hull: Hull, c: RailSection, steps = 4000): { origin: [number, number]; points: [number, number][] } {
  const xy = new Float64Array(6);
  const p = new Float64Array(3);
  evalSpline(hull.outline, c.u, xy, new Float64Array(12));
  const points = Array.from({ length: steps + 1 }, (_, k): [number, number] => {
    roundPoint(hull, c.u, k / steps, p);
    return [(p[0] - xy[0]) * c.nx + (p[1] - xy[1]) * c.ny, p[2]];
  });
  return { origin: [xy[0], xy[1]], points };
}

/** Corners of the hollow and of its open slot in the section's plane, (inset, z). */
function hollowCorners({ rail }: Design, c: RailSection): [number, number][] {
  const face = rail.outerLayers * rail.outerThickness + rail.shapingAllowance;
  const back = c.rows > 0 ? face + rail.spacerWidth : face;
  const corners: [number, number][] = [[back, c.soleTop], [back, c.capBottom]];
  if (c.rows > 0 && c.slot > 1e-4 * rail.spacerHeight) {
    corners.push([face, c.capBottom], [face, c.capBottom - c.slot * Math.hypot(1, c.soleSlope)]);
  }
  return corners;
}

/** Least distance in space from a point to the round, from the nearest of its section's points by ever shorter steps in u and v. */
function toRound(hull: Hull, p: readonly number[], u0: number, v0: number): number {
  const q = new Float64Array(3);
  const last = hull.round.knots[hull.round.knots.length - 1];
  let [u, v] = [u0, v0];
  let best = Infinity;
  for (let h = 1; h > 1e-9; ) {
    let moved = false;
    for (const [du, dv] of [[0, 0], [1, 0], [-1, 0], [0, 1], [0, -1], [1, 1], [-1, 1], [1, -1], [-1, -1]]) {
      const [tu, tv] = [Math.min(last, Math.max(0, u + du * h * 4)), Math.min(1, Math.max(0, v + dv * h * 0.02))];
      roundPoint(hull, tu, tv, q);
      const d = Math.hypot(q[0] - p[0], q[1] - p[1], q[2] - p[2]);
      if (d < best - 1e-15) {
        best = d;
        [u, v] = [tu, tv];
        moved = du !== 0 || dv !== 0;
        if (moved) break;
      }
    }
    if (!moved) h /= 2;
  }
  return best;
}

/** Cover of one corner by points alone: negative beyond the round. */
function twin(plan: Plan, c: RailSection, [n, z]: readonly [number, number]): number {
  const { hull } = plan;
  const { origin, points } = denseRound(hull, c);
  const away = points.map(([pn, pz]) => Math.hypot(pn - n, pz - z));
  const place = [origin[0] + n * c.nx, origin[1] + n * c.ny, z];
  const near = toRound(hull, place, c.u, away.indexOf(Math.min(...away)) / 4000);
  // Even-odd rule: the timber's side is inside the loop of the round closed far inboard.
  const loop: [number, number][] = [...points, [1e4, points[4000][1]], [1e4, points[0][1]]];
  let inside = false;
  loop.forEach(([an, az], i) => {
    const [bn, bz] = loop[(i + 1) % loop.length];
    if (az > z !== bz > z && n < an + ((z - az) / (bz - az)) * (bn - an)) inside = !inside;
  });
  const skins = Math.min(toPanel(hull.deck, place), toPanel(hull.bottom, place));
  return inside ? Math.min(near, skins) : -near;
}

const boards: [string, Design][] = seedNames.map((name) => [name, seedDesign(name)]);
// A rail shaped to a chamfer with next to no outer skin: the hollow breaks through.
const bare = structuredClone(seedDesign(seedNames[0]));
bare.rail.outerLayers = 1;
bare.rail.outerThickness = 1;
const { points } = bare.lines.fullness;
bare.lines.fullness = { points: points.map((p) => ({ ...p, v: 0 })) };
bare.lines.turn = { points: points.map((p) => ({ x: p.x, v: 25 })) };
bare.lines.tuck = { points: points.map((p) => ({ x: p.x, v: 25 })) };
boards.push(['a chamfered board with a millimetre of outer skin', bare]);

describe.each(boards)('%s: cover', (_, design) => {
  const plan = planBoard(design);

  it('is that of its corners by search over the round and the skins, to 0.01 mm, 0.02 mm on the chamfer', () => {
    let least = Infinity;
    let compared = 0;
    for (let i = 0; i < 40; i++) {
      const s = plan.rail.cap.s0 + ((plan.rail.cap.s1 - plan.rail.cap.s0) * (i + 0.5)) / 40;
      const c = sectionAt(plan, s);
      if (c.gap <= 0) continue;
      const slow = Math.min(...hollowCorners(design, c).map((corner) => twin(plan, c, corner)));
      // Beyond the round the kernel still measures to the round; a tie's sign settles within the points' spacing.
      expect(Math.abs(c.cover - slow), `run ${s}`).toBeLessThan(design === bare ? 0.02 : 0.01);
      least = Math.min(least, c.cover);
      compared++;
    }
    expect(compared).toBeGreaterThan(30);
    if (design === bare) expect(least).toBeLessThan(0);
    else expect(least).toBeGreaterThan(0);
  });
});

/** Signed distance from a point to the straight line through two, positive to the left of the way from a to b. */
const offLine = (a: readonly number[], b: readonly number[], p: readonly number[]): number =>
  ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) / Math.hypot(b[0] - a[0], b[1] - a[1]);

// Provable: a round of no fullness is two straight chamfers meeting at the apex, so a corner's distance to it is that
// to a line; in space the taper of the rail shortens it a little. Drawn boards reach corners far outside, beside the
// apex and near the ends, where arcs run without speed; next to no fullness gives rounding a sign to err by.
it('cover outside a chamfer is the distance to it, on boards drawn by chance', () => {
  let outside = 0;
  for (const drawn of fc.sample(rawDesign, { numRuns: 150, seed: 3 })) {
    const { lines } = drawn;
    const design = { ...drawn, lines: { ...lines, fullness: { points: lines.fullness.points.map((p) => ({ ...p, v: 2e-17 * p.v })) } } };
    if (!checkDesign(design).ok) continue;
    const plan = planBoard(design);
    const face = design.rail.outerLayers * design.rail.outerThickness + design.rail.shapingAllowance;
    for (let i = 1; i < 60; i++) {
      const c = sectionAt(plan, (plan.rail.face.length * i) / 60);
      if (c.boxCover > -0.5) continue;
      const { points: round } = denseRound(plan.hull, c, 2);
      const off = (z: number) => Math.min(offLine(round[1], round[0], [face, z]), offLine(round[2], round[1], [face, z]));
      const want = Math.min(off(Math.min(c.capTop, c.deckFace)), off(Math.max(c.soleBottom, c.bottomFace)));
      expect(c.boxCover / want, `${design.name}, run ${c.s}`).toBeGreaterThan(0.9);
      expect(c.boxCover / want, `${design.name}, run ${c.s}`).toBeLessThan(1.001);
      outside++;
    }
  }
  expect(outside).toBeGreaterThan(200);
});
