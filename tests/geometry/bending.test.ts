/** How strips bend: against the helix, the circle, a tilted ring in closed form, and Euler-Bernoulli's beam. */
import { describe, expect, it } from 'vitest';
import { planParts } from '../../geometry/planParts';
import { speciesById } from '../../geometry/design/timber';
import type { Method } from '../../geometry/design/methods';
import type { Design } from '../../geometry/design/schema';
import { limitsFor } from '../../geometry/wood/limits';
import { alongAt, bendingFindings, planBending, WRAP_MARGIN } from '../../geometry/parts/bending';
import { isHeated } from '../../geometry/parts/stripWords';
import { bendsAt } from '../../geometry/parts/bendsAt';
import type { StripBending, StripId } from '../../geometry/parts/types';
import { planBoard } from '../../geometry/plan';
import { stripRates } from '../../geometry/rail/strain';
import { seedDesign, seedNames } from './boards';
import { DISC_RADIUS, discDesign } from './disc';

const find = (all: readonly StripBending[], kind: StripId['kind'], order = 0): StripBending => {
  const found = all.find((b) => b.strip.kind === kind && b.strip.order === order);
  if (!found) throw new Error(`no ${kind} ${order}`);
  return found;
};
const worst = (values: Float64Array, want: number): number => Math.max(...Array.from(values, (v) => Math.abs(v - want)));
const faceInset = (d: Design) => d.rail.outerLayers * d.rail.outerThickness + d.rail.shapingAllowance;

describe('rates of turn', () => {
  it.each([[100, 30], [250, -80], [40, 40]])('a helix of radius %d and rise %d a radian', (r, a) => {
    // Helix (r cos t, r sin t, a t): curvature r/(r^2+a^2), torsion a/(r^2+a^2) (Atractor, "curvature and torsion"; read).
    const inset = 6;
    const face = r + inset;
    const rates = stripRates({ inset }, { kappa: 1 / face, kappa1: 0, z: 0, z1: a / face, z2: 0 });
    expect(rates.edge).toBeCloseTo(r / (r * r + a * a), 12);
    expect(rates.flat).toBeCloseTo(0, 12);
    expect(rates.twist).toBeCloseTo(a / (r * r + a * a), 12);
    expect(rates.speed * face).toBeCloseTo(Math.hypot(r, a), 9);
  });

  it('an arc in profile over a straight plan line is all flatwise', () => {
    // z = sqrt(R^2 - s^2): curvature 1/R everywhere (circle; provable).
    const R = 500;
    for (const s of [-200, 0, 120, 300]) {
      const z = Math.sqrt(R * R - s * s);
      const rates = stripRates({ inset: 6 }, { kappa: 0, kappa1: 0, z, z1: -s / z, z2: -(R * R) / z ** 3 });
      expect(rates.flat).toBeCloseTo(-1 / R, 12);
      expect(rates.edge).toBeCloseTo(0, 12);
      expect(rates.twist).toBeCloseTo(0, 12);
    }
  });

  it('an outer skin bends as its cylinder alone, and its blank curves as its edge is cut', () => {
    const face = 300;
    const inset = -2.5;
    const R = face - inset;
    const rates = stripRates({ skin: true, inset }, { kappa: 1 / face, kappa1: 0, z: 0, z1: 0.1, z2: 1e-4 });
    const m = (0.1 * face) / R;
    const m1 = 1e-4 * (face / R) ** 2;
    expect(rates.edge).toBe(0);
    expect(rates.flat).toBeCloseTo(1 / R, 12);
    expect(rates.blank).toBeCloseTo(m1 / (1 + m * m) ** 1.5, 12);
  });
});

describe('a round board', () => {
  const design = discDesign();
  const plan = planBoard(design);
  const bending = planBending(plan);
  const face = DISC_RADIUS - faceInset(design);

  it('bends sole, rows and cap to their own circles, on edge only', () => {
    for (const b of bending.filter((x) => x.strip.kind !== 'outer-skin')) {
      const r = face - b.width / 2;
      // The outline is a spline through 81 points of the circle: its curvature is good to about 1e-4 of itself.
      expect(worst(b.planCurvature, 1 / r) * r).toBeLessThan(2e-3);
      expect(worst(b.profileCurvature, 0)).toBeLessThan(1e-6);
      expect(worst(b.twist, 0)).toBeLessThan(1e-6);
      // Euler-Bernoulli: outer-fibre strain is half the width over the radius of the middle (provable).
      expect(worst(b.strain, b.width / (2 * r)) * r).toBeLessThan(2e-3 * b.width);
    }
  });

  it('strains an outer skin by t/2 over the radius of its middle', () => {
    for (let layer = 1; layer <= design.rail.outerLayers; layer++) {
      const b = find(bending, 'outer-skin', layer);
      const t = design.rail.outerThickness;
      const inner = face + (layer - 1) * t;
      expect(worst(b.strain, t / 2 / (inner + t / 2))).toBeLessThan(2e-3 * t / inner);
      // Half a circle a side: length pi R.
      expect(b.along[b.along.length - 1]).toBeCloseTo(Math.PI * (inner + t / 2), 2);
    }
  });

  it('is one zone, whose state follows the limits', () => {
    const { cold, forced = cold, wet } = limitsFor(design, 'rail');
    const sole = find(bending, 'sole');
    const strain = sole.width / 2 / (face - sole.width / 2);
    const method = strain > wet ? 'block' : strain > forced ? 'wet' : strain > cold ? 'forced' : 'cold';
    expect(sole.zones.map((z) => z.method)).toEqual([method]);
    expect(sole.zones[0].radius).toBeCloseTo(face - sole.width / 2, 0);
  });
});

describe('a tilted round board', () => {
  it('has the space curvature of its tilted ring', () => {
    const tilt = 0.15;
    const design = discDesign(tilt);
    const bending = planBending(planBoard(design));
    const sole = find(bending, 'sole');
    const face = DISC_RADIUS - faceInset(design);
    const r = face - design.rail.stripWidth / 2;
    const rib = face - design.rail.stripWidth;
    // The strip is level across and lies on the bottom at the rib-end line: (-r cos t, r sin t, -rho cos t tan(tilt)).
    const rise = rib * Math.tan(tilt);
    let off = 0;
    for (let i = 0; i < sole.s.length; i++) {
      const t = sole.s[i] / face;
      if (t < 0.2 || t > Math.PI - 0.2) continue;
      const d = [r * Math.sin(t), r * Math.cos(t), rise * Math.sin(t)];
      const dd = [r * Math.cos(t), -r * Math.sin(t), rise * Math.cos(t)];
      const cross = [d[1] * dd[2] - d[2] * dd[1], d[2] * dd[0] - d[0] * dd[2], d[0] * dd[1] - d[1] * dd[0]];
      const want = Math.hypot(...cross) / Math.hypot(...d) ** 3;
      off = Math.max(off, Math.abs(Math.hypot(sole.planCurvature[i], sole.profileCurvature[i]) / want - 1));
    }
    // Skin, glue and half thickness are measured along the slope: third-order small against the radius.
    expect(off).toBeLessThan(5e-3);
  });
});

describe.each(seedNames)('%s', (name) => {
  const design = seedDesign(name);
  const plan = planBoard(design);
  const bending = planBending(plan);

  it('tells the same when the run is sampled finer', () => {
    const fine = planBending(planBoard(design, { step: 1 }));
    for (const b of bending) {
      const f = fine.find((x) => x.strip.kind === b.strip.kind && x.strip.order === b.strip.order && x.strip.stretch === b.strip.stretch);
      expect(f).toBeDefined();
      if (!f) continue;
      expect(Math.abs(f.along[f.along.length - 1] - b.along[b.along.length - 1])).toBeLessThan(0.02);
      expect(f.zones.map((z) => [z.method, z.n])).toEqual(b.zones.map((z) => [z.method, z.n]));
      f.zones.forEach((z, i) => {
        expect(Math.abs(z.s0 - b.zones[i].s0)).toBeLessThan(0.5);
        expect(Math.abs(z.s1 - b.zones[i].s1)).toBeLessThan(0.5);
        expect(Math.abs(z.strain / b.zones[i].strain - 1)).toBeLessThan(0.02);
      });
    }
  });

  it('covers each strip with zones whose ends sit on a limit', () => {
    for (const b of bending) {
      expect(b.zones[0].s0).toBe(b.s[0]);
      expect(b.zones[b.zones.length - 1].s1).toBe(b.s[b.s.length - 1]);
      const { cold, forced = cold, wet } = b.limits;
      const limit: Partial<Record<Method, number>> = { cold, forced, wet, split: wet, layers: wet, block: Infinity };
      // What the rung before does not take; a wet zone may hold a short cold stretch, but no whole zone goes into the heat for nothing.
      const over: Partial<Record<Method, number>> = { cold: -1, forced: cold, wet: forced, split: wet, layers: wet, block: wet };
      b.zones.forEach((z, i) => {
        if (i > 0) expect(z.s0).toBe(b.zones[i - 1].s1);
        expect(z.borne).toBeLessThanOrEqual((limit[z.method] ?? Number.NaN) * (1 + 1e-4));
        expect(z.strain).toBeGreaterThan((over[z.method] ?? Number.NaN) * (1 - 1e-9));
        expect(z.borne).toBeLessThanOrEqual(z.strain * (1 + 1e-12));
        const own = alongAt(b, z.s1) - alongAt(b, z.s0);
        expect(z.wrap).toBeGreaterThanOrEqual(own - 1e-9);
        expect(z.wrap).toBeLessThanOrEqual(own + (isHeated(z) ? 2 * WRAP_MARGIN : 0) + 1e-9);
      });
      const all = [b.along, b.planCurvature, b.profileCurvature, b.twist, b.edgewise, b.flatwise, b.strain];
      for (const values of all) expect(values.every((v) => Number.isFinite(v))).toBe(true);
    }
  });
});

describe('the bend at one place', () => {
  const design = discDesign();
  const disc = planBending(planBoard(design));
  const inset = faceInset(design) + design.rail.stripWidth / 2;

  it('has the disc\'s own radius in the sole, half a strip in, and tells every strip that stands there', () => {
    const middle = disc[0].s[Math.floor(disc[0].s.length / 2)] + 0.37;
    const here = bendsAt(disc, middle);
    expect(here.length).toBe(disc.filter((b) => b.s[0] <= middle && middle <= b.s[b.s.length - 1]).length);
    for (const { strip, radius } of here) {
      if (strip.kind === 'sole') expect(radius / (DISC_RADIUS - inset)).toBeCloseTo(1, 2);
    }
    expect(here.some(({ strip }) => strip.kind === 'sole')).toBe(true);
  });

  it.each(seedNames)('agrees at its nodes with the bending it is read from: %s', (name) => {
    const bending = planBending(planBoard(seedDesign(name)));
    for (const b of bending) {
      for (let i = 0; i < b.s.length; i += 37) {
        const here = bendsAt([b], b.s[i]);
        expect(here.length).toBe(1);
        expect(here[0].strain).toBeCloseTo(b.strain[i], 12);
        const zones = b.zones.filter((z) => b.s[i] >= z.s0 && b.s[i] <= z.s1).map((z) => z.method);
        expect(zones).toContain(here[0].method);
        if (here[0].method === 'cold') expect(here[0].strain).toBeLessThanOrEqual(b.limits.cold * (1 + 1e-9));
        if (b.strain[i] > b.limits.wet * (1 + 1e-9)) expect(['block', 'layers']).toContain(here[0].method);
      }
      expect(bendsAt([b], b.s[0] - 1)).toEqual([]);
      expect(bendsAt([b], b.s[b.s.length - 1] + 1)).toEqual([]);
    }
  });
});

describe('what no accepted method bends', () => {
  const design = seedDesign('round-tail-175.board.json');
  const only: Design = { ...design, methods: { skins: { tail: 'wet', nose: 'wet' } } };
  const plan = planBoard(only);
  const bending = planBending(plan);

  it('is found once for a kind of strip and an end, with its place, strain and limit', () => {
    const findings = bendingFindings(plan, bending).filter(({ code }) => code === 'will-not-bend');
    expect(findings.filter(({ strip }) => strip?.kind === 'outer-skin').map(({ level }) => level)).toEqual(['check', 'check']);
    for (const f of findings) expect(f.figure ?? 0).toBeGreaterThan(f.limit ?? Infinity);
  });

  it('is told by the parts alone: no finding of the rail says it again', async () => {
    const parts = await planParts(plan);
    const codes = new Set(plan.findings.map(({ code }) => code));
    expect(parts.findings.filter(({ code }) => code === 'will-not-bend').length).toBeGreaterThan(0);
    expect(parts.findings.filter(({ code }) => codes.has(code))).toEqual([]);
  });

  it('would go at the thickness the advice names, and no thicker', () => {
    const skin = find(bending, 'outer-skin', 1);
    const advised = skin.advice?.thickness;
    expect(advised).toBeDefined();
    if (advised === undefined) return;
    const peak = (t: number) => Math.max(...Array.from(skin.planCurvature, (k) => (Math.abs(k) * t) / 2));
    expect(peak(advised)).toBeLessThanOrEqual(skin.limits.wet * (1 + 1e-12));
    expect(peak(advised * 1.001)).toBeGreaterThan(skin.limits.wet);
  });

  it('is layered where the maker leaves it to the plan: least layers that bear it, from the end inward, the same number all over', () => {
    const layered = find(planBending(planBoard(design)), 'outer-skin', 1);
    const zone = layered.zones[0];
    expect(zone.method).toBe('layers');
    expect(zone.s0).toBe(layered.s[0]);
    expect(zone.strain / zone.n).toBeLessThanOrEqual(zone.borne * (1 + 1e-12));
    expect(zone.borne).toBeLessThanOrEqual(layered.limits.wet);
    expect(zone.strain / (zone.n - 1)).toBeGreaterThan(layered.limits.wet);
  });

  it('depends on the species: a wood that gives takes all', () => {
    const soft = structuredClone(only);
    soft.timber.species = [{ ...speciesById(design, design.timber.rail), dryLimit: 0.05, steamLimit: 0.2 }];
    soft.timber.rail = soft.timber.species[0].id;
    soft.timber.outer = soft.timber.rail;
    expect(planBending(planBoard(soft)).flatMap((b) => b.zones.map((z) => z.method))).not.toContain('block');
  });
});
