/** The starter boards: each can be built as it is listed, none is a practice value or a board of the tests, and between them they show every kind of end and bottom. */
import { describe, expect, it } from 'vitest';
import { readDesign } from '../../geometry/design/read';
import type { Design } from '../../geometry/design/schema';
import { writeDesign } from '../../geometry/design/write';
import { planBoard } from '../../geometry/plan';
import { planParts } from '../../geometry/planParts';
import { allFindings } from '../../geometry/rail/decisions';
import { logText } from '../../geometry/said';
import { combOf } from '../../geometry/shape/comb';
import { starters } from '../../src/rooms/boards/starters';
import { firstBoard } from '../../src/state/starters';
import { seedDesign, seedNames, starterTexts } from './boards';

const boards = starterTexts.map(([name, text]): [string, Design, string] => {
  const read = readDesign(text);
  if (!read.ok || read.notes.length > 0) throw new Error(`${name} does not read without a word`);
  return [name, read.design, text];
});
const lengthOf = ({ lines: { outline: { points } } }: Design) => points[points.length - 1].x;
const most = (curve: { points: readonly { v: number }[] }) => Math.max(...curve.points.map(({ v }) => v));

describe.each(boards)('%s', (_, design, text) => {
  it('can be built as listed: no decision is open, in plan and parts', async () => {
    const plan = planBoard(design);
    const open = allFindings(plan, await planParts(plan)).filter(({ level }) => level !== 'note');
    expect(open.map(({ title, place }) => `${logText(title)} @${place?.x}`)).toEqual([]);
  });

  it('is written as the program writes it, and says that it is invented', () => {
    expect(writeDesign(design)).toBe(text);
    // The page takes its text as it stands, without a check.
    expect(JSON.stringify(JSON.parse(text))).toBe(JSON.stringify(design));
    expect(design.note).toMatch(/^Demo board of our own/);
    expect(design.note).toMatch(/prices are made up\.$/);
  });

  // Common practice, no source: strips 12 x 6, square spacers 6 x 6, so a tab step of 6; outer skins of boards 140 to 150 wide.
  it('has no size of common practice', () => {
    const { stripWidth, soleThickness, capThickness, spacerWidth, spacerHeight } = design.rail;
    expect(stripWidth).not.toBe(12);
    for (const size of [soleThickness, capThickness, spacerWidth, spacerHeight, stripWidth - spacerWidth]) expect(size).not.toBe(6);
    const { boards: wide, planks = [], skinPlanks = [] } = design.timber;
    for (const { width } of [...wide, ...planks, ...skinPlanks]) expect(width < 140 || width > 150).toBe(true);
  });

  it('has fair lines: outline, rocker and thickness bend one way', () => {
    for (const line of ['outline', 'rocker', 'thickness'] as const) expect([line, combOf(design.lines[line]).inflections.map(({ x }) => x)]).toEqual([line, []]);
  });
});

describe('the starter boards together', () => {
  it('are none of the tests\' boards, in length, strips, stock or name', () => {
    const figures = (d: Design) => ({
      name: d.name, length: lengthOf(d), strip: [d.rail.stripWidth, d.rail.soleThickness, d.rail.capThickness], spacer: [d.rail.spacerWidth, d.rail.spacerHeight],
      strips: d.timber.strips.map(({ length, price }) => [length, price]), boards: d.timber.boards.map(({ length, width }) => [length, width]), ribs: d.frames.ribs,
    });
    const others = seedNames.map((name) => figures(seedDesign(name)));
    boards.forEach(([, design], i) => {
      const own = figures(design);
      for (const other of [...others, ...boards.slice(0, i).map(([, d]) => figures(d))]) {
        for (const key of Object.keys(own) as (keyof typeof own)[]) expect([key, own[key]]).not.toEqual([key, other[key]]);
      }
    });
  });

  it('have between them a pointed and a rounded nose, a square and a round tail with its block, concave and vee', () => {
    const ends = boards.map(([, { lines: { outline: { points, tailAngleDeg, noseAngleDeg } } }]) => [
      points[0].y > 0 ? 'square tail' : tailAngleDeg === 90 ? 'round tail' : 'pointed tail',
      points[points.length - 1].y > 0 ? 'square nose' : noseAngleDeg === 90 ? 'round nose' : 'pointed nose',
    ]);
    expect(new Set(ends.flat())).toEqual(new Set(['square tail', 'round tail', 'pointed nose', 'round nose']));
    boards.forEach(([, design], i) => {
      // Every round end has the block that the maker chose.
      expect(design.ends?.tail !== undefined).toBe(ends[i][0] === 'round tail');
      expect(design.ends?.nose !== undefined).toBe(ends[i][1] === 'round nose');
    });
    expect(boards.some(([, { lines }]) => most(lines.concave) > 0.01)).toBe(true);
    expect(boards.some(([, { lines }]) => most(lines.vee) > 0.01)).toBe(true);
  });

  it('begin with the simplest: square tail, pointed nose, strips bent cold', () => {
    const first = firstBoard();
    expect(first.name).toBe(starters[0].name);
    expect(first.lines.outline.points[0].y).toBeGreaterThan(0);
    expect(first.ends).toBeUndefined();
    const { samples } = planBoard(first).rail;
    const limit = 0.005;
    for (const kappa of samples.kappa) expect((kappa * first.rail.stripWidth) / 2).toBeLessThan(limit);
  });
});
