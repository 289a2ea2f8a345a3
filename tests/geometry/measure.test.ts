/** Measuring on the board against sums over the samples and against sections asked for. Closed forms and brute force; no outside source. */
import { describe, expect, test } from 'vitest';
import { cornersAt, measured, namedPlaces, placeAtRun, placeOnSurface } from '../../geometry/rail/measure';
import { sectionAt } from '../../geometry/rail/query';
import { planBoard } from '../../geometry/plan';
import { seedDesign } from './boards';

describe('measuring', () => {
  test('along the rail is the box face walked in small steps, along the middle the stations, straight the chord', () => {
    const plan = planBoard(seedDesign('round-tail-175.board.json'));
    const { ribs } = plan.rail;
    const [a, b] = [placeAtRun(plan, ribs[1].s), placeAtRun(plan, ribs[4].s)];
    const { straight, middle, along } = measured(a, b);
    let walked = 0;
    let at = sectionAt(plan, ribs[1].s);
    for (let i = 1; i <= 2000; i++) {
      const next = sectionAt(plan, ribs[1].s + ((ribs[4].s - ribs[1].s) * i) / 2000);
      walked += Math.hypot(next.x - at.x, next.y - at.y);
      at = next;
    }
    expect(along).toBeCloseTo(walked, 3);
    expect(middle).toBeCloseTo(ribs[4].x - ribs[1].x, 9);
    const [p, q] = [sectionAt(plan, ribs[1].s), sectionAt(plan, ribs[4].s)];
    expect(straight).toBeCloseTo(Math.sqrt((p.x - q.x) ** 2 + (p.y - q.y) ** 2 + (p.capTop - q.capTop) ** 2), 6);
    expect(straight).toBeLessThan(along ?? 0);
  });

  test('finds the corners of the box and its strips where the board was picked, on either side', () => {
    const plan = planBoard(seedDesign('round-tail-175.board.json'));
    const { stripWidth, spacerHeight, spacerWidth } = plan.design.rail;
    const s = (plan.rail.ribs[3].s + plan.rail.ribs[4].s) / 2;
    const { x, y, nx, ny, tx, ty, capTop, soleTop, soleBottom, rows, ribX, ribY } = sectionAt(plan, s);
    // Picked 4 mm in from the box face and a little off the samples of the run.
    const picked = (side: 1 | -1) => cornersAt(plan, [x + 4 * nx + 0.4 * tx, side * (y + 4 * ny + 0.4 * ty), capTop]);
    const [starboard, port] = [picked(1), picked(-1)];
    const of = (name: string, n?: number) => starboard.filter((place) => JSON.stringify(place.name) === JSON.stringify(n === undefined ? name : { say: name, with: { n } }));
    const edges = of('edge of the cap');
    expect(edges).toHaveLength(4);
    // Its arrises: the inner upper one on the rib-end line, the outer ones on the box face, a strip's width apart in plan.
    const inner = edges.filter(({ at }) => Math.hypot(at[0] - ribX, at[1] - ribY) < 1);
    expect(inner.map(({ at }) => at[2]).sort((a, b) => b - a)[0]).toBeCloseTo(capTop, 1);
    const outer = edges.filter((edge) => !inner.includes(edge));
    for (const { at } of outer) expect(Math.hypot(at[0] - inner[0].at[0], at[1] - inner[0].at[1])).toBeCloseTo(stripWidth, 6);
    for (const place of starboard) expect(Math.abs((place.s ?? 0) - s - 0.4)).toBeLessThan(0.05);
    expect(of('edge of the sole').map(({ at }) => at[2]).sort((a, b) => a - b)).toEqual([soleBottom, soleBottom, soleTop, soleTop].map((v) => expect.closeTo(v, 1)));
    for (let row = 1; row <= rows; row++) {
      const own = of('edge of row {n}', row);
      expect(own).toHaveLength(4);
      const heights = own.map(({ at }) => at[2]);
      const tall = Math.hypot(1, sectionAt(plan, s).soleSlope);
      expect(Math.max(...heights) - Math.min(...heights)).toBeCloseTo(spacerHeight * tall, 3);
      expect(Math.max(...own.map(({ at }) => Math.hypot(at[0] - own[0].at[0], at[1] - own[0].at[1])))).toBeCloseTo(spacerWidth, 6);
    }
    expect(port.map(({ at, side }) => [at[0], -at[1], at[2], side])).toEqual(starboard.map(({ at }) => [...at.map((v) => expect.closeTo(v, 9)), 'port']));
    expect(starboard.every(({ at }) => at[1] > 0)).toBe(true);
  });

  test('is not along the rail from side to side, nor off the rail; across the board it is the width', () => {
    const plan = planBoard(seedDesign('round-tail-175.board.json'));
    const name = { say: 'rib {n}', with: { n: 4 } };
    const [here, there] = namedPlaces(plan).filter((place) => JSON.stringify(place.name) === JSON.stringify(name));
    expect([here.side, there.side]).toEqual(['starboard', 'port']);
    expect(measured(here, there)).toEqual({ straight: 2 * here.at[1], middle: 0 });
    const middle = placeOnSurface(plan, [here.at[0], 0, 20]);
    expect(middle.s).toBeUndefined();
    expect(measured(here, middle).along).toBeUndefined();
    const onRail = placeOnSurface(plan, [here.at[0], -here.at[1], 20]);
    expect([onRail.side, Math.abs((onRail.s ?? 0) - (here.s ?? 0)) < 2]).toEqual(['port', true]);
  });
});
