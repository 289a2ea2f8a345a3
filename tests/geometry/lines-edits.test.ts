/** Changes of single points and ends: what they leave alone, and what they refuse. Provable from the curves' own rules. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { valueAt } from '../../geometry/curves/graph';
import { blankDesign } from '../../geometry/design/defaults';
import { readDesign } from '../../geometry/design/read';
import type { Design } from '../../geometry/design/schema';
import { writeDesign } from '../../geometry/design/write';
import { footGrid, footOn } from '../../geometry/shape/project';
import { splineOf } from '../../geometry/shape/line';
import { bezierSpans } from '../../geometry/curves/bezier';
import { stationAxis, stationTicks } from '../../src/ui/stationAxis';
import { chartOf, NO_ZOOM, zoomAbout } from '../../src/rooms/lines/chart';
import { addPoint, type Edit, endShape, movePoint, presentAngle, removePoint, setCorner, setEndAngle, setEndShape } from '../../src/rooms/lines/edits';
import { errorLines } from '../support/said';

const read = readDesign(readFileSync(new URL('../boards/round-tail-175.board.json', import.meta.url), 'utf8'));
if (!read.ok) throw new Error('the seed does not read');
const board: Design = read.design;

function good(edit: Edit): Design {
  if (!edit.ok) throw new Error(errorLines(edit.errors));
  return edit.design;
}

describe('points', () => {
  it('a point added to a length curve leaves the curve exactly as it was', () => {
    // The old spline is C2 on the new knots and meets the same end conditions, and interpolation is unique
    // (de Boor, A Practical Guide to Splines, ch. IV; from memory).
    const before = splineOf(board.lines.rocker);
    for (const x of [12.3, 600, 1100.25, 1700]) {
      const { edit, index } = addPoint(board, 'rocker', x, 999);
      const after = good(edit);
      expect(after.lines.rocker.points[index].x).toBe(x);
      const now = splineOf(after.lines.rocker);
      // Points are kept to a millionth of a millimetre.
      for (let s = 0; s <= 1750; s += 25) expect(Math.abs(valueAt(now, s) - valueAt(before, s))).toBeLessThan(5e-6);
    }
  });

  it('a point added to the outline lies on it, square to the place asked for, and hardly moves it', () => {
    const before = splineOf(board.lines.outline);
    const { edit, index } = addPoint(board, 'outline', 700, 300);
    const after = good(edit);
    const { x, y } = after.lines.outline.points[index];
    const grid = footGrid(before);
    expect(footOn(before, grid, x, y).distance).toBeLessThan(1e-5);
    // Chord lengths are a hair nearer to the arc with one more point: the curve may move by hundredths, no more.
    const now = bezierSpans(splineOf(after.lines.outline));
    for (let i = 0; i < now.length; i += 8) expect(footOn(before, grid, now[i], now[i + 1]).distance).toBeLessThan(0.05);
  });

  it('taking out what was added gives the same file, byte for byte', () => {
    const { edit, index } = addPoint(board, 'crown', 500, 0);
    expect(writeDesign(good(removePoint(good(edit), 'crown', index)))).toBe(writeDesign(board));
    const cornered = good(setCorner(board, 'outline', 4, true));
    expect(cornered.lines.outline.points[4].corner).toBe(true);
    expect(writeDesign(good(setCorner(cornered, 'outline', 4, false)))).toBe(writeDesign(board));
  });

  it('lines that are not touched stay the same objects', () => {
    const after = good(movePoint(board, 'outline', 3, 470, 240));
    expect(after.lines.rocker).toBe(board.lines.rocker);
    expect(after.lines.outline.points[4]).toBe(board.lines.outline.points[4]);
    expect(board.lines.outline.points[3]).toEqual({ x: 460, y: 235.8 });
  });

  it('the nose moved along the board takes the last point of every line with it', () => {
    const after = good(movePoint(board, 'outline', 8, 1800, 0));
    const { outline, ...along } = after.lines;
    for (const line of [outline, ...Object.values(along)]) expect(line.points[line.points.length - 1].x).toBe(1800);
    expect(after.lines.rocker.points.slice(0, -1)).toEqual(board.lines.rocker.points.slice(0, -1));
  });

  it('what no board can be is refused with field, value and range; nothing is brought into range', () => {
    const fields = (edit: Edit) => (edit.ok ? [] : edit.errors.map((e) => e.field));
    expect(fields(movePoint(board, 'outline', 3, 470, -1))).toContain('lines.outline.points[3].y');
    expect(fields(movePoint(board, 'outline', 3, 100, 240))).toContain('lines.outline.points[3].x');
    expect(fields(movePoint(board, 'rocker', 2, 735, 601))).toContain('lines.rocker.points[2].v');
    expect(fields(removePoint(board, 'rocker', 0))).toEqual(['lines.rocker.points[0]']);
    expect(fields(setEndAngle(board, 'outline', 'nose', 91))).toEqual(['lines.outline.noseAngleDeg']);
    expect(fields(movePoint(board, 'outline', 3, Number.NaN, 240))).toContain('lines.outline.points[3].x');
  });
});

describe('ends', () => {
  it('shapes go round and come back', () => {
    expect(endShape(board.lines.outline, 'tail')).toBe('round');
    const square = good(setEndShape(board, 'tail', 'square'));
    expect(endShape(square.lines.outline, 'tail')).toBe('square');
    const pointed = good(setEndShape(square, 'tail', 'pointed'));
    expect(endShape(pointed.lines.outline, 'tail')).toBe('pointed');
    expect(writeDesign(good(setEndShape(pointed, 'tail', 'round')))).toBe(writeDesign(board));
  });

  it('the angle a curve has is the angle that was set, at either end of either kind', () => {
    const blank = blankDesign();
    for (const end of ['tail', 'nose'] as const) {
      expect(presentAngle(good(setEndAngle(blank, 'outline', end, 22.5)).lines.outline, end)).toBeCloseTo(22.5, 9);
      expect(presentAngle(good(setEndAngle(blank, 'rocker', end, 4)).lines.rocker, end)).toBeCloseTo(4, 9);
    }
    const free = good(setEndAngle(blank, 'outline', 'nose', undefined));
    expect('noseAngleDeg' in free.lines.outline).toBe(false);
  });
});

describe('chart', () => {
  it('draws an outline at equal scale, and zooms about the pointer', () => {
    const extent = { length: 1800, low: -10, high: 280 };
    const size = { width: 1000, height: 260 };
    const chart = chartOf(extent, size, 'equal', NO_ZOOM, 14);
    expect(chart.kx).toBe(chart.kv);
    const [x, v] = [chart.station(321), chart.value(123)];
    const zoomed = chartOf(extent, size, 'equal', zoomAbout(zoomAbout(NO_ZOOM, 3, 321, 123), 1.7, 321, 123), 14);
    expect(zoomed.x(x)).toBeCloseTo(321, 9);
    expect(zoomed.y(v)).toBeCloseTo(123, 9);
    expect(zoomed.kx / chart.kx).toBeCloseTo(5.1, 12);
  });

  it('puts every sheet on one axis of stations, and counts them from the nearer end', () => {
    const size = { width: 1000, height: 140 };
    const axis = stationAxis(size.width, 1750);
    for (const how of ['equal', 'exaggerated', 'free'] as const) {
      const chart = chartOf({ length: 1750, low: 0, high: how === 'free' ? 0.2 : 60 }, size, how, NO_ZOOM, 14);
      for (const x of [0, 460, 1750]) expect(chart.x(x)).toBe(axis.x(x));
    }
    expect(axis.station(axis.x(460))).toBeCloseTo(460, 9);
    for (const [length, unit, step] of [[1750, 'mm', 100], [1800, 'mm', 100], [1740.4, 'mm', 100], [1750, 'in16', 152.4]] as const) {
      const ticks = stationTicks(length, axis.scale, unit);
      for (const { x, from } of ticks) {
        expect(Math.min(x, length - x)).toBeCloseTo(from, 9);
        expect(from / step).toBeCloseTo(Math.round(from / step), 9);
      }
      const gaps = ticks.slice(1).map(({ x }, i) => (x - ticks[i].x) * axis.scale);
      expect(Math.min(...gaps)).toBeGreaterThanOrEqual(46);
      expect([ticks[0].x, ticks[ticks.length - 1].x]).toEqual([0, length]);
    }
  });
});
