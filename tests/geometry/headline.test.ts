/** The sentence over the stage is true of every board: its figures against the plan's own rows, ends and samples. */
import { describe, expect, it } from 'vitest';
import { readDesign } from '../../geometry/design/read';
import { planBoard } from '../../geometry/plan';
import { sectionAt } from '../../geometry/rail/query';
import { headline } from '../../src/say/words';
import { seedNames, seedText, starterTexts } from './boards';

const boards = [...seedNames.map((name) => [name, seedText(name)] as const), ...starterTexts];

describe.each(boards)('the headline of %s', (_, text) => {
  const read = readDesign(text);
  if (!read.ok) throw new Error('does not read');
  const plan = planBoard(read.design);
  const said = headline(plan, 'mm');

  it('tells its rows, where the first stops and what is beyond', () => {
    const { rows, ends } = plan.rail;
    const [, count, tail, nose, beyond] = /^(\w+) rows?; row 1 stops (\d+) mm from the tail and (\d+) mm from the nose(, a block beyond [a-z ]+)?\. /.exec(said) ?? [];
    expect(['', 'One', 'Two', 'Three', 'Four', 'Five', 'Six', 'Seven', 'Eight'].indexOf(count)).toBe(Math.max(...rows.map(({ row }) => row)));
    const first = rows.filter(({ row }) => row === 1);
    expect(tail).toBe(Math.min(...first.map((row) => row.tail.x)).toFixed(0));
    expect(nose).toBe((plan.hull.length - Math.max(...first.map((row) => row.nose.x))).toFixed(0));
    expect(beyond).toBe({ '': undefined, tail: ', a block beyond at the tail', nose: ', a block beyond at the nose', 'tail nose': ', a block beyond each' }[Object.keys(ends).filter((end) => ends[end as 'tail']).join(' ')]);
    // Where no block is told, the strips close the end: the cap reaches the end of the run.
    if (!ends.tail) expect(plan.rail.cap.s0).toBeCloseTo(0, 6);
    if (!ends.nose) expect(plan.rail.cap.s1).toBeCloseTo(plan.rail.face.length, 6);
  });

  it('tells what is planed off the cap, and how low it is where the deck rises', () => {
    const { cap, samples: { s, planing } } = plan.rail;
    const own = [...[...planing].filter((_value, i) => s[i] > cap.s0 && s[i] < cap.s1), ...[cap.s0, cap.s1].map((at) => sectionAt(plan, at).planing)];
    const [least, most] = [Math.min(...own), Math.max(...own)];
    const [, from, to] = /Plane (up|[\d.]+) to ([\d.]+) mm off the cap/.exec(said) ?? [];
    expect(Number(to)).toBeCloseTo(most, 1);
    if (from === 'up') expect(least).toBeLessThan(0.06);
    else expect(Number(from)).toBeCloseTo(least, 1);
    const low = /outer edge is up to ([\d.]+) mm low/.exec(said)?.[1];
    if (low === undefined) expect(least).toBeGreaterThan(-0.06);
    else expect(Number(low)).toBeCloseTo(-least, 1);
  });
});
