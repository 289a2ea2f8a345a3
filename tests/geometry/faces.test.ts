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
import { hollowSpan } from '../../geometry/rail/laid';
import type { Hull, Panel, Plan, RailSection } from '../../geometry/types';
import { rawDesign } from '../support/designs';
import { level } from '../support/plain';
import { seedDesign, seedNames } from './boards';

/** Least distance from a point to the panel, by trying the eight neighbours at ever shorter steps. */
function toPanel(panel: Panel, p: readonly number[]): number {
  const probe = panelProbe();
  let [x, y] = p;
  let best = Infinity;
  for (let h = 8; h > 1e-8;) {
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

describe('an inner face by the centreline of a bottom that falls outboard', () => {
  const design = structuredClone(seedDesign('child-155.board.json'));
  const { hull } = planBoard({ ...design, lines: { ...design.lines, vee: level(design.lines.outline.points[design.lines.outline.points.length - 1].x, -0.04) } });
  const thickness = design.skins.bottom;
  // There both halves send the foot across it: the ball lies on the ridge, as far as its radius carries, and on the side's own face beyond.
  it.each([0, 0.05, 0.15, 0.3, 1, 3])('lies a skin\'s thickness over it %d mm off, and port mirrors it', (y) => {
    for (const share of [0.2, 0.5, 0.8]) {
      const x = hull.length * share;
      const { z, zy } = innerAt(hull.bottom, -1, thickness, x, y, panelProbe());
      expect(Math.abs(toPanel(hull.bottom, [x, y, z]) - thickness)).toBeLessThan(1e-7);
      const port = innerAt(hull.bottom, -1, thickness, x, -y, panelProbe());
      expect(port.z).toBeCloseTo(z, 9);
      expect(y === 0 ? Math.abs(zy) : port.zy + zy).toBeCloseTo(0, 9);
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

const faceInset = ({ rail }: Design) => rail.outerLayers * rail.outerThickness + rail.shapingAllowance;

/** Points all round the hollow and its open slot in the section's plane, at most half a millimetre apart, (inset, z). */
function hollowRim(design: Design, c: RailSection): [number, number][] {
  const { rail } = design;
  const face = faceInset(design);
  const inner = face + rail.stripWidth;
  const back = c.rows > 0 ? face + rail.spacerWidth : face;
  const loop: [number, number][] = [[inner, c.soleTop], [back, c.soleTop]];
  if (c.rows > 0 && c.slot > 1e-4 * rail.spacerHeight) {
    const top = c.capBottom - c.slot * Math.hypot(1, c.soleSlope);
    loop.push([back, top], [face, top], [face, c.capBottom]);
  } else loop.push([back, c.capBottom]);
  loop.push([inner, c.capBottom]);
  return loop.flatMap((p, i) => {
    const q = loop[(i + 1) % loop.length];
    const n = Math.max(1, Math.ceil(2 * Math.hypot(q[0] - p[0], q[1] - p[1])));
    return Array.from({ length: n }, (_, k): [number, number] => [p[0] + ((q[0] - p[0]) * k) / n, p[1] + ((q[1] - p[1]) * k) / n]);
  });
}

/** Least distance in space from a point to the round, from the nearest of its section's points by ever shorter steps in u and v. */
function toRound(hull: Hull, p: readonly number[], u0: number, v0: number): number {
  const q = new Float64Array(3);
  const last = hull.round.knots[hull.round.knots.length - 1];
  let [u, v] = [u0, v0];
  let best = Infinity;
  for (let h = 1; h > 1e-9;) {
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

/** Cover by points alone: the whole rim of the hollow against the round and the skins; negative outside of them. */
function twin(plan: Plan, design: Design, c: RailSection): number {
  const { hull } = plan;
  const { origin, points } = denseRound(hull, c);
  const probe = panelProbe();
  const place = (n: number, z: number): [number, number, number] => [origin[0] + n * c.nx, origin[1] + n * c.ny, z];
  const heights = (n: number) => [hull.bottom, hull.deck].map((panel) => panelAt(panel, place(n, 0)[0], place(n, 0)[1], probe).z);
  // The finished section as a loop: bottom, round, deck, closed inboard of the box. The timber's side by the even-odd rule.
  const inner = faceInset(design) + design.rail.stripWidth + 5;
  const skin = (from: number, face: 0 | 1) => Array.from({ length: 41 }, (_, k): [number, number] => {
    const n = from + (Math.max(0, inner - from) * k) / 40;
    return [n, heights(n)[face]];
  });
  const loop = [...skin(points[0][0], 0).reverse(), ...points, ...skin(points[4000][0], 1)];
  const rim = hollowRim(design, c).map(([n, z]) => {
    let at = 0;
    let round = Infinity;
    points.forEach(([pn, pz], i) => {
      const d = (pn - n) ** 2 + (pz - z) ** 2;
      if (d < round) [round, at] = [d, i];
    });
    let inside = false;
    loop.forEach(([an, az], i) => {
      const [bn, bz] = loop[(i + 1) % loop.length];
      if (az > z !== bz > z && n < an + ((z - az) / (bz - az)) * (bn - an)) inside = !inside;
    });
    // What lies in the section's plane, or straight up and down, bounds the way in space from above.
    const rough = Math.min(Math.sqrt(round), ...heights(n).map((h) => Math.abs(h - z)));
    return { n, z, at, inside, rough: inside ? rough : -rough };
  });
  // The way in space is shorter by the taper of rail and skins: those near the least are measured so.
  const least = Math.min(...rim.map((p) => p.rough));
  return Math.min(...rim.filter((p) => p.rough < least + 0.4 + 0.1 * Math.abs(least)).map(({ n, z, at, inside }) => {
    const p = place(n, z);
    // Beside the round it is the round that was cut through; farther in, or inside, the skins count too.
    const skins = inside || n > Math.min(points[0][0], points[4000][0]) ? [toPanel(hull.deck, p), toPanel(hull.bottom, p)] : [];
    const near = Math.min(toRound(hull, p, c.u, at / 4000), ...skins);
    return inside ? near : -near;
  }));
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
/** A starter board with a boxy round and thin strips, so that skins and strips are all that covers the hollow. */
function hollowed(seed: number, concave: number, crown: number, rail: Partial<Design['rail']>, turn = 4): Design {
  const from = seedDesign(seedNames[seed]);
  const { points: ends } = from.lines.thickness;
  const length = ends[ends.length - 1].x;
  const at = (v: number) => level(length, v);
  return {
    ...from, skins: { bottom: 2, deck: 2 }, rail: { ...from.rail, soleThickness: 4, capThickness: 4, ...rail },
    lines: {
      ...from.lines, concave: { points: [{ x: 0, v: 0 }, { x: length / 2, v: concave }, { x: length, v: 0 }] }, crown: at(crown),
      fullness: at(0.9), tuck: at(4), turn: at(turn),
    },
  };
}
boards.push(
  ['a hollow bottom', hollowed(3, 0.12, 0, {})],
  ['a very hollow bottom under a wide strip', hollowed(3, 0.25, 0, { stripWidth: 30, spacerWidth: 8 })],
  ['a deck that rises outboard', hollowed(1, 0.04, -0.08, { stripWidth: 24 })],
  ['both', hollowed(3, 0.2, -0.06, {})],
  ['a deck that rises outboard through a long round', hollowed(3, 0, -0.1, { stripWidth: 24, outerLayers: 3, outerThickness: 8 }, 70)],
);

describe.each(boards)('%s: cover', (name, design) => {
  const plan = planBoard(design);

  it('is that of the hollow\'s whole rim by search over the round and the skins, to 0.01 mm, 0.02 mm on the chamfer', () => {
    let least = Infinity;
    let compared = 0;
    const { s0, s1 } = hollowSpan(plan.rail);
    for (let i = 0; i < 16; i++) {
      const s = s0 + ((s1 - s0) * (i + 0.5)) / 16;
      const c = sectionAt(plan, s);
      if (c.gap <= 0) continue;
      const slow = twin(plan, design, c);
      // Beyond the round the kernel still measures to the round; a tie's sign settles within the points' spacing.
      expect(Math.abs(c.cover - slow), `run ${s}: ${c.cover}, ${slow}`).toBeLessThan(design === bare ? 0.02 : 0.01);
      least = Math.min(least, c.cover);
      compared++;
    }
    expect(compared, name).toBeGreaterThan(12);
    if (design === bare) expect(least).toBeLessThan(0);
    if (seedNames.includes(name)) expect(least).toBeGreaterThan(0);
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
