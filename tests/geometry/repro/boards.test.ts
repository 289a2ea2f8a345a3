/**
 * Boards on which a fuzz run once broke a rule; each now keeps them all. What was wrong:
 * 2-944, 2-1933: sections near a tip hollower than the skin is thick, where the inner face had several feet and
 * the walk chose; 2-1352: a crease in the rocker, over which the inner deck jumped instead of staying whole;
 * 2-1552: a stop that no drawn board has had no band; 2-64, 2-1482: boards whose strips touch everywhere; 7-1536: a
 * row that ends at a corner of the box line, where the gap jumps, was said to stop by its gap; 8-2219, 8-2248: stops on the wrong side of a
 * crease and of a corner, by a hair, where the row does not fit; 40-652: rows that end with the one below, which cannot
 * bend farther, were said to stop by their gap; 77-1: a row that ends in mid-board, where another method begins, likewise.
 * 1-179, 2-176, 2-186: at a square end that leans, rows, sole and cap were carried on into the cap and the skins (no two parts in one room: overlaps.test.ts);
 * 2-110: a stringer went on through a waist narrower than itself; 2-111: a tab reached into a block's tongue, which stands square to the rail;
 * 2-173: a fitting's facets stayed as coarse as the stage's (likewise); 911-6: the cap failed where there is no sole under it, and the sole ended there, before it began.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readDesign } from '../../../geometry/design/read';
import { innerAt, panelAt, panelProbe } from '../../../geometry/hull/panel';
import { planBoard } from '../../../geometry/plan';
import { planTolerance } from '../../../geometry/trust/tolerance';
import { faultsOf, strangeNumbers } from '../../fuzz/invariants';

const folder = new URL('./boards/', import.meta.url);
const names = readdirSync(folder).sort();

function design(name: string) {
  const read = readDesign(readFileSync(new URL(name, folder), 'utf8'));
  if (!read.ok) throw new Error(`${name}: ${read.errors[0].field} ${read.errors[0].message}`);
  return read.design;
}

describe.each(names)('%s', (name) => {
  const plan = planBoard(design(name));

  it('keeps every rule of a plan', () => {
    expect(faultsOf(plan)).toEqual([]);
  });

  it('has bands without holes', async () => {
    const bands = await planTolerance(plan, { method: 'trials', places: 25, runs: 6 });
    expect(strangeNumbers(bands)).toEqual([]);
  });
});

/** Least distance from a point to a panel over a fine grid of plan places about it. */
function apart(panel: Parameters<typeof panelAt>[0], p: readonly number[], reach: number): number {
  const probe = panelProbe();
  let least = Infinity;
  for (let i = -100; i <= 100; i++) {
    for (let j = -100; j <= 100; j++) {
      const [x, y] = [p[0] + (reach * i) / 100, p[1] + (reach * j) / 100];
      least = Math.min(least, Math.hypot(x - p[0], y - p[1], panelAt(panel, x, y, probe).z - p[2]));
    }
  }
  return least;
}

describe('the inner face where its foot is searched', () => {
  it.each([
    ['a crease in the rocker', 'random-2-1352.board.json', 'deck', [228, 229.5, 230.684, 230.906, 231.2, 232], 13.4],
    ['a hollow tip', 'random-2-1933.board.json', 'bottom', [12, 13.72, 16, 20], 0],
    ['a hollower tip', 'random-2-944.board.json', 'bottom', [10, 13.247, 18, 30], 0.5],
  ] as const)('%s: lies a skin from the surface, no nearer, and is the same from anywhere', (_, name, side, xs, y) => {
    const own = design(name);
    const { hull } = planBoard(own);
    const face = side === 'deck' ? 1 : -1;
    const thickness = own.skins[side];
    for (const x of xs) {
      const inner = innerAt(hull[side], face, thickness, x, y, panelProbe());
      const { z } = inner;
      const d = apart(hull[side], [x, y, z], 1.2 * thickness);
      // The grid's own spacing lets the least distance read long by a hair, never short.
      expect(d).toBeGreaterThan(thickness - 1e-4);
      expect(d).toBeLessThan(thickness + 0.01 * thickness);
      for (const [shiftX, shiftY] of [[thickness, 0], [-thickness, 0], [0, thickness], [0, -thickness]]) {
        expect(innerAt(hull[side], face, thickness, x, y, { ...panelProbe(), shiftX, shiftY }).z).toBeCloseTo(z, 6);
      }
    }
  });
});
