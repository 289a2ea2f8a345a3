/** The hollow board as a beam beside the solid one: a box of level lines in closed form, and what must hold of every board. */
import { describe, expect, it } from 'vitest';
import { blankDesign } from '../../geometry/design/defaults';
import type { Design } from '../../geometry/design/schema';
import { speciesById } from '../../geometry/design/timber';
import { sagRatio } from '../../geometry/parts/stiffness';
import { planBoard } from '../../geometry/plan';
import { seedDesign, seedNames } from './boards';

const [LENGTH, HALF, DEPTH] = [1800, 200, 60];

/** A board as wide and as deep from end to end, its edges nearly square. */
function plank(change: (design: Design) => void = () => {}): Design {
  const design = structuredClone(blankDesign());
  const level = (v: number) => ({ points: [{ x: 0, v }, { x: LENGTH, v }] });
  design.lines = {
    ...design.lines,
    outline: { points: [0, 600, 1200, LENGTH].map((x) => ({ x, y: HALF })) },
    rocker: level(0), thickness: level(DEPTH), crown: level(0), concave: level(0), vee: level(0), tuck: level(0.5), turn: level(0.5), fullness: level(0.98),
  };
  change(design);
  return design;
}

describe('a plank of level lines', () => {
  it('sags as its section says: transformed section, Euler-Bernoulli (provable)', () => {
    const design = plank();
    const plan = planBoard(design);
    const { rail, skins, frames, timber } = design;
    const E = (id: string) => speciesById(design, id).moe;
    const mid = plan.rail.samples.n >> 1;
    const a = plan.rail.samples;
    const rows = a.rows[mid];
    expect(rows).toBeGreaterThan(0);
    const face = HALF - rail.outerLayers * rail.outerThickness;
    const inside = [skins.bottom, DEPTH - skins.deck] as const;
    // Half the section: deck to the outline, bottom to the box face, outer skins under the deck, half the stringer, the box.
    const common: [number, number, number, number][] = [
      [E(timber.skins), HALF, inside[1], DEPTH], [E(timber.skins), face, 0, inside[0]], [E(timber.outer), HALF - face, 0, inside[1]],
      [E(timber.frames) / 2, frames.stringerThickness / 2, ...inside],
    ];
    const solid: [number, number, number, number][] = [[E(timber.rail), rail.stripWidth, ...inside]];
    const hollow: [number, number, number, number][] = [
      [E(timber.rail), rail.stripWidth, a.soleBottom[mid], a.soleTop[mid]], [E(timber.rail), rail.stripWidth, a.capBottom[mid], a.capTop[mid]],
      [E(timber.rail), rail.spacerWidth, a.soleTop[mid], a.soleTop[mid] + rows * rail.spacerHeight],
    ];
    const ei = (parts: typeof common) => {
      const weight = parts.reduce((sum, [e, b, z0, z1]) => sum + e * b * (z1 - z0), 0);
      const zbar = parts.reduce((sum, [e, b, z0, z1]) => sum + (e * b * (z1 * z1 - z0 * z0)) / 2, 0) / weight;
      return parts.reduce((sum, [e, b, z0, z1]) => sum + (e * b * ((z1 - zbar) ** 3 - (z0 - zbar) ** 3)) / 3, 0);
    };
    const want = ei([...common, ...solid]) / ei([...common, ...hollow]);
    expect(want).toBeGreaterThan(1.002);
    // The rounds of half a millimetre are what is left.
    expect((sagRatio(plan) - 1) / (want - 1)).toBeCloseTo(1, 2);
  });

  it('sags little more as its spacers fill the box', () => {
    const narrow = sagRatio(planBoard(plank((d) => { d.rail.spacerWidth = 3; })));
    const wide = sagRatio(planBoard(plank((d) => { d.rail.spacerWidth = 11.5; })));
    expect(wide).toBeLessThan(narrow);
    expect(wide).toBeGreaterThan(1);
  });
});

it.each(seedNames)('%s: the hollow costs some percent at most (own measurement, 2026-11-26)', (name) => {
  const ratio = sagRatio(planBoard(seedDesign(name)));
  expect(ratio).toBeGreaterThan(1.003);
  expect(ratio).toBeLessThan(1.03);
});
