/** What the laser is given: face grain that is never crossed where it tells, and the laser list against the frames. */
import { describe, expect, it } from 'vitest';
import { boundsOf, turned } from '../../geometry/curves/polygon';
import { planFrames } from '../../geometry/frame/frames';
import { limbersOf } from '../../geometry/frame/holes';
import { planBoard } from '../../geometry/plan';
import { laserTable } from '../../src/papers/laserTable';
import { columnAt } from '../../src/papers/tables';
import { mmText } from '../support/said';
import { seedDesign, seedNames } from './boards';

describe('the face grain', () => {
  const nested = (grain: 'along' | 'either' | undefined, length: number, width: number) => {
    const design = seedDesign('child-155.board.json');
    Object.assign(design.frames, { grain, sheet: { length, width, price: 5 } });
    return planFrames(planBoard(design));
  };
  const turns = ({ nest }: ReturnType<typeof planFrames>) => (nest?.sheets ?? []).flatMap(({ parts }) => parts.map(({ turn }) => Math.abs(turn)));

  it('is never crossed where it tells, and may be where it does not: a sheet so short takes ribs across alone', () => {
    const along = nested(undefined, 420, 1250);
    expect(Math.max(...turns(along))).toBeLessThan(Math.PI / 4 + 1e-9);
    const across = along.findings.filter(({ code }) => code === 'sheet-grain');
    expect(across.length).toBeGreaterThan(0);
    for (const { figure = 0, limit = 0 } of across) expect(figure).toBeGreaterThan(limit);
    expect(along.nest?.unplaced).toHaveLength(across.length);
    const either = nested('either', 420, 1250);
    for (const { parts } of either.nest?.sheets ?? []) {
      for (const { id, x, y, turn } of parts) {
        const shape = either.frames.find((part) => part.id === id)?.shape.outline ?? [];
        const box = boundsOf(turned(shape, turn, x, y));
        expect(Math.min(box.x0, box.y0, 420 - box.x1, 1250 - box.y1)).toBeGreaterThan(0);
      }
    }
    expect(either.nest?.unplaced).toEqual([]);
    expect(turns(either).filter((turn) => turn > Math.PI / 4).length).toBeGreaterThanOrEqual(across.length);
    expect(either.findings.some(({ code }) => code === 'sheet-grain')).toBe(false);
  });
});

describe('the laser list', () => {
  it.each(seedNames)('%s: every part once, by sheets of one thickness, its holes told as lightening and limber', (name) => {
    const plan = planBoard(seedDesign(name));
    const { frames, nest } = planFrames(plan);
    const table = laserTable(plan, { bending: [], lies: [], blanks: [], frames, nest, steps: [], findings: [] });
    const [sheet, thickness, part, turn, lightening, limber, diameter, at] = ['sheet', 'thickness', 'part', 'turn', 'lightening', 'limber', 'diameter', 'limber at'].map((id) => columnAt(table, id));
    expect(table.rows.map((row) => row[part]).sort()).toEqual(frames.map(({ label }) => label).sort());
    for (const row of table.rows) {
      const own = frames.find(({ label }) => label === row[part]);
      expect(Number(row[lightening]) + Number(row[limber])).toBe(own?.shape.holes.length);
      expect(row[thickness]).toBe(nest?.sheets[Number(row[sheet]) - 1].thickness);
      expect(Math.abs(Number(row[turn]))).toBeLessThan(Math.PI / 4);
      if (Number(row[limber]) === 0) continue;
      // 3 to 8 mm, and as many places as holes.
      expect(Number(row[diameter])).toBeGreaterThanOrEqual(3 - 1e-9);
      expect(Number(row[diameter])).toBeLessThanOrEqual(8 + 1e-9);
      expect(mmText(row[at] ?? '').split(', ')).toHaveLength(Number(row[limber]));
    }
    const order = table.rows.map((row) => Number(row[thickness]));
    expect(order.filter((each, i) => i === 0 || each !== order[i - 1])).toHaveLength(new Set(order).size);
  });

  it('knows a limber hole where there is one: the lowest plates of these boards have room for no other', () => {
    const round = seedNames.flatMap((name) => planFrames(planBoard(seedDesign(name))).frames.flatMap(({ shape }) => limbersOf(shape.holes)));
    expect(round.length).toBeGreaterThan(0);
  });
});
