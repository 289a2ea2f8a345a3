/**
 * What holds of every board, by fast-check over boards spread widely about the starter ones. Provable: symmetry,
 * similarity, and the box's own definitions. A failure prints its seed and the smallest design it found.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BuildError } from '../../geometry/errors';
import { checkDesign } from '../../geometry/design/read';
import type { Design } from '../../geometry/design/schema';
import { buildHull, LOFT_STEP } from '../../geometry/hull/hull';
import { planBoard } from '../../geometry/plan';
import { planRail, RUN_STEP } from '../../geometry/rail/rail';
import { SECTION_FIELDS } from '../../geometry/rail/samples';
import { meshBoard } from '../../geometry/solid/board';
import { SECTION_UNITS, type Plan } from '../../geometry/types';
import { rawDesign, scaled, soundDesign } from '../support/designs';

/** The plan, or nothing where the lines leave no room for any box: the reader cannot know that. */
function planned(design: Design, step = RUN_STEP): Plan | undefined {
  try {
    return planBoard(design, { step });
  } catch (e) {
    if (e instanceof BuildError) return undefined;
    throw e;
  }
}

/** Every number in plain data, with the path that leads to it. */
function* numbers(value: unknown, path: string): Generator<[string, number]> {
  if (typeof value === 'number') yield [path, value];
  else if (value instanceof Float64Array || value instanceof Float32Array) {
    for (let i = 0; i < value.length; i++) yield [`${path}[${i}]`, value[i]];
  } else if (typeof value === 'object' && value !== null) {
    for (const [key, inner] of Object.entries(value)) yield* numbers(inner, `${path}.${key}`);
  }
}

describe('the generator', () => {
  // A property over boards that are all alike says little: how far they spread is checked, not hoped.
  it('spreads: most designs are sound, and they reach from hand plane to barge, no row to four', () => {
    const drawn = fc.sample(rawDesign, { numRuns: 200, seed: 20 });
    const sound = drawn.filter((d) => checkDesign(d).ok);
    expect(sound.length / drawn.length).toBeGreaterThan(0.8);
    // Coarsely: how far figures spread, not the figures.
    const plans = sound.map((design) => planned(design, 8)).filter((p) => p !== undefined);
    expect(plans.length / sound.length).toBeGreaterThan(0.95);
    const spread = (f: (p: Plan) => number) => {
      const all = plans.map(f).sort((a, b) => a - b);
      return [all[Math.floor(0.05 * all.length)], all[Math.floor(0.95 * all.length)]];
    };
    const [short, long] = spread((p) => p.hull.length);
    expect(long / short).toBeGreaterThan(2);
    const [light, heavy] = spread((p) => p.hull.volume);
    expect(heavy / light).toBeGreaterThan(6);
    const [flat, steep] = spread((p) => p.rail.range.bevel.max);
    expect(steep - flat).toBeGreaterThan(0.12);
    const tops = new Set(plans.map((p) => Math.max(0, ...p.rail.rows.map((r) => r.row))));
    for (const rows of [0, 1, 2, 3, 4]) expect(tops).toContain(rows);
    const ends = new Set(plans.flatMap((p) => [p.rail.face.tail.kind, p.rail.face.nose.kind]));
    expect([...ends].sort()).toEqual(['meets', 'open', 'round']);
    const causes = new Set(plans.flatMap((p) => p.rail.rows.flatMap((r) => [r.tail.cause, r.nose.cause])));
    expect(causes).toContain('gap');
    expect(causes.size).toBeGreaterThan(1);
    expect(plans.some((p) => p.rail.range.cover.min < 0)).toBe(true);
    expect(plans.some((p) => p.rail.dropped.length > 0)).toBe(true);
  });
});

describe('every board', () => {
  it('plans to finite numbers, whatever the board', () => {
    fc.assert(
      fc.property(soundDesign, (design) => {
        const plan = planned(design);
        if (!plan) return;
        for (const [path, value] of numbers({ hull: plan.hull, rail: plan.rail, findings: plan.findings }, 'plan')) {
          if (!Number.isFinite(value)) throw new Error(`${path} is ${value}`);
        }
      }),
      { numRuns: 80, endOnFailure: true },
    );
  });

  it('stands its rows between sole and cap, and stops them where the gap is their height and the clearance', () => {
    fc.assert(
      fc.property(soundDesign, (design) => {
        const plan = planned(design);
        if (!plan) return;
        const { samples, rows } = plan.rail;
        const { spacerHeight, clearance, capThickness, soleThickness } = design.rail;
        for (let i = 0; i < samples.n; i++) {
          // Height that the rows take in the section: they lie on the sole, at its slope.
          const top = samples.soleTop[i] + samples.rows[i] * spacerHeight * Math.hypot(1, samples.soleSlope[i]);
          if (samples.rows[i] > 0 && top > samples.capBottom[i] + 1e-9) throw new Error(`rows ${top - samples.capBottom[i]} mm into the cap at ${samples.s[i]}`);
          expect(Math.abs(samples.planing[i] + samples.capLeft[i] - capThickness)).toBeLessThan(1e-9);
          expect(Math.abs(samples.solePlaning[i] + samples.soleLeft[i] - soleThickness)).toBeLessThan(1e-9);
        }
        for (const row of rows) {
          for (const stop of [row.tail, row.nose]) {
            const need = row.row * spacerHeight + clearance;
            expect(stop.gap).toBeGreaterThan(need - 1e-4);
            if (stop.cause === 'gap') expect(Math.abs(stop.gap - need)).toBeLessThan(1e-4);
          }
        }
      }),
      { numRuns: 80, endOnFailure: true },
    );
  });

  it('lays port as the mirror of starboard, body by body', () => {
    fc.assert(
      fc.property(soundDesign, (design) => {
        const plan = planned(design);
        if (!plan) return;
        const bodies = meshBoard(plan);
        for (const port of bodies.filter((b) => b.side === 'port')) {
          const starboard = bodies.find((b) => b.id === port.id.replace(/port$/, 'starboard'));
          if (!starboard) throw new Error(`${port.id} has no twin`);
          const [p, q] = [port.mesh.positions, starboard.mesh.positions];
          expect(p.length).toBe(q.length);
          for (let i = 0; i < p.length; i += 3) {
            if (p[i] !== q[i] || p[i + 1] !== -q[i + 1] || p[i + 2] !== q[i + 2]) throw new Error(`${port.id}, vertex ${i / 3}`);
            // Between samples the rib-end line is a chord: it may cross the centreline by what the chord cuts off.
            if (q[i + 1] < -0.01) throw new Error(`${starboard.id} reaches ${-q[i + 1]} mm across the centreline`);
          }
        }
        // Skins span both sides: for each vertex its mirror image.
        for (const skin of bodies.filter((b) => b.kind === 'deck-skin' || b.kind === 'bottom-skin')) {
          const { positions } = skin.mesh;
          const places = new Set<string>();
          const key = (i: number, side: number) => `${positions[i]} ${side * positions[i + 1] + 0} ${positions[i + 2].toFixed(3)}`;
          for (let i = 0; i < positions.length; i += 3) places.add(key(i, 1));
          for (let i = 0; i < positions.length; i += 3) if (!places.has(key(i, -1))) throw new Error(`${skin.id} is lopsided at vertex ${i / 3}`);
        }
      }),
      { numRuns: 12, endOnFailure: true },
    );
  });

  // Provable: the kernel is similar under scaling if its own two lengths, the steps of loft and run, scale as well.
  it('scaled by k has lengths k times, areas k^2, volumes k^3, and the same angles', () => {
    const powers = { mm: 1, mm2: 2, '1/mm': -1, ratio: 0, rad: 0, count: 0 };
    fc.assert(
      fc.property(soundDesign, fc.double({ min: 0.5, max: 2.5, noNaN: true }), (design, k) => {
        if (!planned(design)) return;
        const make = (d: Design, by: number) => {
          const hull = buildHull(d, LOFT_STEP * by);
          return { hull, rail: planRail(d, hull, RUN_STEP * by) };
        };
        const [one, big] = [make(design, 1), make(scaled(design, k), k)];
        // A length may fall on either side of a whole number of samples by rounding.
        fc.pre(big.rail.samples.n === one.rail.samples.n);
        expect(Math.abs(big.hull.volume / (one.hull.volume * k ** 3) - 1)).toBeLessThan(1e-9);
        expect(Math.abs(big.hull.planArea / (one.hull.planArea * k ** 2) - 1)).toBeLessThan(1e-9);
        expect(big.rail.rows.length).toBe(one.rail.rows.length);
        big.rail.rows.forEach((row, i) => {
          expect(Math.abs(row.tail.s / k - one.rail.rows[i].tail.s)).toBeLessThan(1e-3);
          expect(Math.abs(row.nose.s / k - one.rail.rows[i].nose.s)).toBeLessThan(1e-3);
        });
        // On either board a normal's foot is found to 1e-6 mm, and where it must be searched to 1e-5 mm: heights
        // are true to the square of that, slopes to that over the skin, and planing to a strip's width of slope.
        const close = 2e-5 + (design.rail.stripWidth * 1e-5) / design.skins.deck;
        for (const field of SECTION_FIELDS) {
          const power = powers[SECTION_UNITS[field]];
          const [a, b] = [one.rail.samples[field], big.rail.samples[field]];
          for (let i = 0; i < a.length; i++) {
            // A sample on a stop has its rows on the one board and not on the other: figures that hang on rows leap there.
            if (one.rail.samples.rows[i] !== big.rail.samples.rows[i]) continue;
            const off = Math.abs(b[i] / k ** power - a[i]);
            if (!(off < close * Math.max(1, Math.abs(a[i])))) throw new Error(`${field} at ${one.rail.samples.s[i]}: ${a[i]} and ${b[i]} / ${k ** power}`);
          }
        }
      }),
      { numRuns: 60, endOnFailure: true },
    );
  });
});
