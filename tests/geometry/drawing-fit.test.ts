/**
 * A drawing's curves fitted as a board's lines. The boards of the tests are written as drawings, by our own SVG and DXF writers
 * and by @tarikjabiri/dxf, and come back within the tolerance; what is told of the farthest place is held against a brute-force search.
 */
import { DxfWriter, point3d, Units } from '@tarikjabiri/dxf';
import { describe, expect, it } from 'vitest';
import { bezierSpans } from '../../geometry/curves/bezier';
import { breaks, evalSpline, type Spline } from '../../geometry/curves/bspline';
import { graphSpline, valueAt } from '../../geometry/curves/graph';
import { buildOutline } from '../../geometry/curves/outline';
import type { Design } from '../../geometry/design/schema';
import { buildHull } from '../../geometry/hull/hull';
import { stationOutline } from '../../geometry/hull/station';
import type { DrawnPlan, DrawingRead } from '../../geometry/shape/drawing';
import { readDxf } from '../../geometry/shape/drawingDxf';
import { fitDrawing, type DrawnRole } from '../../geometry/shape/drawingFit';
import type { DrawingLie } from '../../geometry/shape/drawingLines';
import { readSvg } from '../../geometry/shape/drawingSvg';
import { footGrid, footOn } from '../../geometry/shape/project';
import { sketchOf, stacked, type Stroke } from '../../src/papers/drawing';
import { writeDxf } from '../../src/papers/dxf';
import { PLAIN_SHOP } from '../../src/papers/shop';
import { writeSvg } from '../../src/papers/svg';
import { mmError, mmText } from '../support/said';
import { seedDesign } from './boards';

const BOARD = 'round-tail-175.board.json';
const SQUARE = 'child-155.board.json';
const TOLERANCE = 0.25;

const read = (result: DrawingRead): DrawnPlan => {
  if (!result.ok) throw new Error(JSON.stringify(result.errors.map(mmError)));
  return result.drawing;
};
const svg = (inner: string) => read(readSvg(`<svg width="3000mm" viewBox="0 0 3000 3000">${inner}</svg>`));

type Say = readonly (readonly [number, DrawnRole])[];
const fit = (design: Design, drawing: DrawnPlan, say: Say, lie: Partial<DrawingLie> = {}, tolerance = TOLERANCE) =>
  fitDrawing(design, say.map(([i, role]) => ({ curve: drawing.curves[i], role })), { mm: 1, noseHigh: true, ...lie }, tolerance);
const fitted = (...given: Parameters<typeof fit>) => {
  const result = fit(...given);
  if (!result.ok) throw new Error(JSON.stringify(result.errors.map(mmError)));
  return result;
};
const refused = (...given: Parameters<typeof fit>) => {
  const result = fit(...given);
  if (result.ok) throw new Error('fitted without a word');
  return mmError(result.errors[0]);
};

/** A spline's places, eight to a span and more at its ends. */
function places(spline: Spline): [number, number][] {
  const spans = breaks(spline.knots);
  const row = new Float64Array(3 * spline.dim);
  const out: [number, number][] = [];
  for (let k = 0; k + 1 < spans.length; k++) {
    const n = k === 0 || k + 2 === spans.length ? 200 : 40;
    for (let i = k === 0 ? 0 : 1; i <= n; i++) {
      evalSpline(spline, spans[k] + ((spans[k + 1] - spans[k]) * i) / n, row, new Float64Array(12));
      out.push(spline.dim === 1 ? [spans[k] + ((spans[k + 1] - spans[k]) * i) / n, row[0]] : [row[0], row[1]]);
    }
  }
  return out;
}

/** A spline in plan as path data; the map puts a place on the page. */
function data(spline: Spline, map: (x: number, y: number) => readonly [number, number]): string {
  const spans = bezierSpans(spline);
  const at = (i: number) => map(spans[2 * i], spans[2 * i + 1]).join(' ');
  return `M${at(0)}${Array.from({ length: spans.length / 8 }, (_, k) => `C${at(4 * k + 1)} ${at(4 * k + 2)} ${at(4 * k + 3)}`).join('')}`;
}

/** Greatest way of one outline's places from another. */
function apart(a: Design, b: Design): number {
  const to = buildOutline(b.lines.outline);
  const grid = footGrid(to);
  return places(buildOutline(a.lines.outline)).reduce((most, [x, y]) => Math.max(most, footOn(to, grid, x, y).distance), 0);
}

/** The lines of a board as strokes, as our papers have them: a whole outline, its bottom and its deck. */
function strokesOf({ lines }: Design): Stroke[] {
  const half = places(buildOutline(lines.outline));
  const rocker = places(graphSpline(lines.rocker));
  const deck = rocker.map(([x, v]) => [x, v + valueAt(graphSpline(lines.thickness), x)] as const);
  const whole = [...half, ...half.toReversed().map(([x, y]) => [x, -y] as const).slice(half[half.length - 1][1] === 0 ? 1 : 0, half[0][1] === 0 ? -1 : undefined)];
  const stroke = (points: readonly (readonly [number, number])[], up: number, closed: boolean): Stroke => ({ layer: 'cut', closed, points: points.flatMap(([x, y]) => [x, y + up]) });
  return [stroke(whole, 1000, true), stroke(rocker, 0, false), stroke(deck, 0, false)];
}

describe('a board drawn and read back', () => {
  const STAMP = { board: 'a board', revision: 'A', unit: 'mm', date: '2026-01-01' } as const;
  it.each([[BOARD, writeSvg, readSvg], [SQUARE, writeDxf, readDxf]] as const)('%s by our own papers: outline, bottom and deck within the tolerance', (name, write, take) => {
    const design = seedDesign(name);
    const sketch = sketchOf('lines', 'Lines', strokesOf(design));
    const drawing = read(take(new TextDecoder().decode(write(stacked('lines', 'Lines', [sketch], 5000), STAMP, PLAIN_SHOP))));
    expect(drawing.unit).toBeCloseTo(1, 9);
    const { length } = drawing.curves.filter(({ layer }) => layer === 'cut');
    expect(length).toBe(3);
    const result = fitted(seedDesign(BOARD), drawing, [[0, 'outline'], [1, 'bottom'], [2, 'deck']], { mm: drawing.unit });
    expect(result.met).toBe(true);
    expect(Object.keys(result.misses).sort()).toEqual(['halfBreadth', 'rocker', 'thickness']);
    for (const miss of Object.values(result.misses)) expect(miss.greatest).toBeLessThanOrEqual(TOLERANCE);
    // The papers' arcs lie 0.02 mm off at most.
    expect(apart(design, result.design)).toBeLessThan(TOLERANCE + 0.021);
    const [was, is] = [design.lines, result.design.lines];
    const low = places(graphSpline(was.rocker)).reduce((least, [, v]) => Math.min(least, v), Infinity);
    for (let x = 0; x <= was.outline.points[was.outline.points.length - 1].x; x += 25) {
      expect(Math.abs(valueAt(graphSpline(is.rocker), x) + low - valueAt(graphSpline(was.rocker), x))).toBeLessThan(TOLERANCE + 0.025);
      expect(Math.abs(valueAt(graphSpline(is.thickness), x) - valueAt(graphSpline(was.thickness), x))).toBeLessThan(TOLERANCE + 0.05);
    }
  });

  it('as an exact spline of another program, half, in inches, nose left', () => {
    const design = seedDesign(BOARD);
    const { knots, points } = buildOutline(design.lines.outline);
    const writer = new DxfWriter();
    writer.setUnits(Units.Inches);
    writer.addSpline({ degreeCurve: 3, knots: [...knots], controlPoints: Array.from({ length: points.length / 2 }, (_, i) => point3d(-points[2 * i] / 25.4 + 300, points[2 * i + 1] / 25.4 + 40)) });
    const drawing = read(readDxf(writer.stringify()));
    const result = fitted(seedDesign(SQUARE), drawing, [[0, 'outline']], { mm: drawing.unit, noseHigh: false }, 0.05);
    expect(result.met).toBe(true);
    expect(apart(design, result.design)).toBeLessThan(0.051);
    expect(result.notes.map(mmText)).toEqual(['Half an outline: the other half mirrors it.', 'The tail is round.', 'The nose is round.']);
    expect(design.lines.outline).toMatchObject({ tailAngleDeg: 90, noseAngleDeg: 90 });
    // What is not drawn is stretched to the length, and the rest of the board stays.
    expect(result.design.lines.rocker.points.at(-1)?.x).toBe(result.design.lines.outline.points.at(-1)?.x);
    expect(result.design.rail).toEqual(seedDesign(SQUARE).rail);
  });
});

describe('which way a drawing lies', () => {
  const outlineOf = (design: Design) => buildOutline(design.lines.outline);
  const reach = (design: Design) => design.lines.outline.points[design.lines.outline.points.length - 1].x;

  it('half or whole, closed along the centreline or not, up the page or along it, either end first: the same board', () => {
    const design = seedDesign(BOARD);
    const spline = outlineOf(design);
    const L = reach(design);
    const ways: readonly (readonly [string, Partial<DrawingLie>, string])[] = [
      [data(spline, (x, y) => [x + 20, 500 - y]), {}, 'Half an outline: the other half mirrors it.'],
      [data(spline, (x, y) => [x + 20, 500 + y]), {}, 'Half an outline: the other half mirrors it.'],
      [`${data(spline, (x, y) => [x + 20, 500 - y])}Z`, {}, 'Half an outline, closed along the centreline: the other half mirrors it.'],
      [`${data(spline, (x, y) => [x + 20, 500 + y])}Z`, {}, 'Half an outline, closed along the centreline: the other half mirrors it.'],
      [data(spline, (x, y) => [500 + y, 2000 - x]), {}, 'Half an outline: the other half mirrors it.'],
      [data(spline, (x, y) => [500 - y, x]), { noseHigh: false }, 'Half an outline: the other half mirrors it.'],
      [data(spline, (x, y) => [L - x, 500 + y]), { noseHigh: false }, 'Half an outline: the other half mirrors it.'],
    ];
    for (const [d, lie, note] of ways) {
      const result = fitted(design, svg(`<path d="${d}"/>`), [[0, 'outline']], lie);
      expect(mmText(result.notes[0])).toBe(note);
      expect(result.met).toBe(true);
      expect(apart(design, result.design)).toBeLessThan(TOLERANCE + 0.01);
    }
    // Two halves of two paths that touch are one whole outline.
    const whole = svg(`<path d="${data(spline, (x, y) => [x, 500 - y])}"/><path d="${data(spline, (x, y) => [x, 500 + y])}"/>`);
    expect(whole.curves).toHaveLength(1);
    const result = fitted(design, whole, [[0, 'outline']]);
    expect(mmText(result.notes[0])).toMatch(/^A whole outline, its halves alike within 0\.0\d mm\.$/);
    expect(apart(design, result.design)).toBeLessThan(TOLERANCE + 0.01);
  });

  it('tells a square tail by its width, halves that differ, and a tail that is cut in', () => {
    const design = seedDesign(SQUARE);
    const half = places(outlineOf(design));
    const ring = (port: (x: number, y: number) => number, between = '') => `M${half.map(([x, y]) => `${x} ${1000 - y}`).join('L')}L${half.toReversed().map(([x, y]) => `${x} ${1000 + port(x, y)}`).join('L')}${between}Z`;
    const take = (d: string) => fitted(design, svg(`<path d="${d}"/>`), [[0, 'outline']]);
    const plain = take(ring((_, y) => y));
    const width = 2 * design.lines.outline.points[0].y;
    // Pointed at the angle it was drawn with, to a degree.
    const angle = Number(/^The nose comes to a point, (\d+)° to the centreline\.$/.exec(plain.notes.map(mmText).at(-1) ?? '')?.[1]);
    expect(Math.abs(angle - (design.lines.outline.noseAngleDeg ?? Number.NaN))).toBeLessThan(1.5);
    expect(plain.notes.map(mmText)).toContain(`The tail ends square, ${width.toFixed(1)} mm wide.`);
    expect(plain.notes.map(mmText).join()).not.toContain('cut in');
    expect(apart(design, plain.design)).toBeLessThan(TOLERANCE + 0.01);
    // Port wider by 3 mm at the middle.
    const L = reach(design);
    const uneven = take(ring((x, y) => y + 3 * Math.sin((Math.PI * x) / L)));
    const said = mmText(uneven.notes[0]);
    expect(said).toMatch(/^A whole outline whose halves differ by up to [\d.]+ mm, at \d+ mm from the tail/);
    // Half of it is the middle line's: each half is measured from between the two.
    expect(Number(/up to ([\d.]+)/.exec(said)?.[1])).toBeGreaterThan(2.5);
    const cut = take(ring((_, y) => y, 'L60 1000'));
    expect(cut.notes.map(mmText)).toContain('What is cut in between the tips of the tail, 60.0 mm deep, is left out: a board here ends square.');
    expect(apart(design, cut.design)).toBeLessThan(TOLERANCE + 0.01);
  });

  it('ends square where it is cut off, however narrow; what bulges out between the corners by less than points are apart is left out, and told', () => {
    const design = seedDesign(SQUARE);
    const up = (v: number) => 1000 - v;
    for (const wide of [0.5, 2, 8]) {
      const side = `0 ${up(wide)}C300 ${up(260)} 1300 ${up(330)} 1800 1000`;
      const back = `C1300 1330 300 1260 0 ${1000 + wide}`;
      for (const d of [`M${side}${back}Z`, `M0 1000L${side}`, `M0 1000L${side}Z`, `M${side}`]) {
        const result = fitted(design, svg(`<path d="${d}"/>`), [[0, 'outline']]);
        expect(result.notes.map(mmText)).toContain(`The tail ends square, ${(2 * wide).toFixed(1)} mm wide.`);
        expect(result.notes.map(mmText).join()).not.toMatch(/cut in|corner/);
        expect(result.met).toBe(true);
        expect(result.design.lines.outline.points[0]).toEqual({ x: 0, y: expect.closeTo(wide, 9) });
      }
    }
    const bulged = (by: number) => fitted(design, svg(`<path d="M${by} ${up(60)}C300 ${up(260)} 1300 ${up(330)} 1800 1000C1300 1330 300 1260 ${by} 1060Q${-by} 1000 ${by} ${up(60)}Z"/>`), [[0, 'outline']]);
    const slight = bulged(1);
    expect(slight.met).toBe(true);
    expect(slight.notes.map(mmText)).toEqual(expect.arrayContaining(['What stands out between the corners of the tail, 1.0 mm deep, is left out: a board here ends square.', 'The tail ends square, 120.0 mm wide.']));
    expect(reach(slight.design)).toBeCloseTo(1799, 6);
    expect(bulged(12).notes.map(mmText)).toEqual(expect.arrayContaining([expect.stringMatching(/^It has a corner at 12 mm from the tail/), 'The tail is round.']));
  });

  it('has a corner where the drawing has one, between curves or chords, and none where it only bends', () => {
    const design = seedDesign(SQUARE);
    const own: Design = { ...design, lines: { ...design.lines, outline: { tailAngleDeg: 8, noseAngleDeg: 35, points: [{ x: 0, y: 130 }, { x: 260, y: 178, corner: true }, { x: 300, y: 196, corner: true }, { x: 800, y: 255 }, { x: 1400, y: 190 }, { x: 1700, y: 0 }] } } };
    const spline = outlineOf(own);
    const map = (x: number, y: number) => [x + 20, 500 - y] as const;
    const chords = `M${places(spline).map(([x, y]) => map(x, y).join(' ')).join('L')}`;
    for (const d of [data(spline, map), chords]) {
      const result = fitted(design, svg(`<path d="${d}"/>`), [[0, 'outline']]);
      const { points } = result.design.lines.outline;
      expect(result.met).toBe(true);
      expect(points.filter(({ corner }) => corner).map(({ x, y }) => [x, y])).toEqual([[expect.closeTo(260, 6), expect.closeTo(178, 6)], [expect.closeTo(300, 6), expect.closeTo(196, 6)]]);
      expect(apart(own, result.design)).toBeLessThan(TOLERANCE + 0.01);
      expect(points.length).toBeLessThan(16);
      const told = result.notes.map(mmText).filter((note) => note.startsWith('It has a corner'));
      expect(told).toEqual([expect.stringMatching(/^It has a corner at 260 mm from the tail, of \d+°\.$/), expect.stringMatching(/^It has a corner at 300 mm from the tail, of \d+°\.$/)]);
    }
    // An ellipse has none, in few chords, nor with a jitter of 0.2 mm a millimetre apart, everywhere (Weyl's sequence) or at a few places.
    const ellipse = (n: number, jitter: (i: number) => number = () => 0) => `M${Array.from({ length: n + 1 }, (_, i) => `${900 - 900 * Math.cos((Math.PI * i) / n)} ${1000 - 250 * Math.sin((Math.PI * i) / n) - (i % n === 0 ? 0 : jitter(i))}`).join('L')}`;
    for (const d of [ellipse(60), ellipse(40), ellipse(1800, (i) => 0.4 * ((i * Math.SQRT2) % 1) - 0.2), ellipse(1800, (i) => (i % 400 === 200 ? 0.2 : 0))]) {
      const result = fitted(design, svg(`<path d="${d}"/>`), [[0, 'outline']]);
      expect(result.design.lines.outline.points.some(({ corner }) => corner)).toBe(false);
      expect(result.notes.map(mmText)).toEqual(expect.arrayContaining(['The tail is round.', 'The nose is round.']));
    }
  });

  it('takes bottom and deck out of one closed side view, and either way up of one drawn up the page', () => {
    const design = seedDesign(SQUARE);
    const [rocker, thickness] = [graphSpline(design.lines.rocker), graphSpline(design.lines.thickness)];
    const xs = places(rocker).map(([x]) => x);
    const bottom = xs.map((x) => [x, valueAt(rocker, x)] as const);
    const deck = xs.map((x) => [x, valueAt(rocker, x) + valueAt(thickness, x)] as const);
    const path = (points: readonly (readonly [number, number])[], map: (x: number, z: number) => readonly [number, number]) => `M${points.map(([x, z]) => map(x, z).join(' ')).join('L')}`;
    const along = (x: number, z: number) => [x + 10, 700 - z] as const;
    const up = (x: number, z: number) => [300 + z, 2000 - x] as const;
    const over = (x: number, z: number) => [300 - z, 2000 - x] as const;
    const ring = svg(`<path d="${path([...bottom, ...deck.toReversed()], along)}Z"/>`);
    const lines = [
      fitted(design, ring, [[0, 'profile']]),
      ...[up, over].map((map) => fitted(design, svg(`<path d="${path(bottom, map)}"/><path d="${path(deck, map)}"/>`), [[0, 'bottom'], [1, 'deck']])),
    ];
    const floor = Math.min(...bottom.map(([, z]) => z));
    for (const result of lines) {
      expect(Object.keys(result.misses)).toEqual(['rocker', 'thickness']);
      for (const x of [0, 300, 700, 1100, 1500]) {
        expect(Math.abs(valueAt(graphSpline(result.design.lines.rocker), x) - (valueAt(rocker, x) - floor))).toBeLessThan(TOLERANCE + 0.02);
        expect(Math.abs(valueAt(graphSpline(result.design.lines.thickness), x) - valueAt(thickness, x))).toBeLessThan(TOLERANCE + 0.02);
      }
    }
  });
});

describe('sections', () => {
  /** The finished hull cut at a station, as half a section on the page. */
  const cutOf = (design: Design, x: number, side: 1 | -1 = 1) => {
    const flat = stationOutline(buildHull(design), x, 40);
    return Array.from({ length: flat.length / 2 }, (_, i) => [1000 + side * flat[2 * i], 500 - flat[2 * i + 1]] as const);
  };
  const pathOf = (points: readonly (readonly [number, number])[]) => `M${points.map((p) => p.join(' ')).join('L')}`;
  const say = (drawing: DrawnPlan, stations: readonly number[], design: Design, tolerance = TOLERANCE) =>
    fitDrawing(design, stations.map((station, i) => ({ curve: drawing.curves[i], role: 'section' as const, station })), { mm: 1, noseHigh: true }, tolerance);
  const FIGURES = ['crown', 'concave', 'vee', 'apex', 'fullness', 'tuck', 'turn'] as const;
  /** Greatest way between the hulls' sections at a station, by their places. */
  const between = (a: Design, b: Design, x: number) => {
    const [one, other] = [a, b].map((design) => cutOf(design, x));
    return Math.max(...one.map(([y, z]) => Math.min(...other.slice(1).map(([v, w], i) => {
      const [u, t] = other[i];
      const [dv, dw] = [v - u, w - t];
      const k = Math.min(1, Math.max(0, ((y - u) * dv + (z - t) * dw) / (dv * dv + dw * dw || 1)));
      return Math.hypot(y - u - k * dv, z - t - k * dw);
    }))));
  };

  it('half or whole, of either side, give back the hull they were cut from', () => {
    const own = seedDesign(BOARD);
    const drawn: Design = { ...own, lines: { ...own.lines, vee: { points: [{ x: 0, v: 0.05 }, { x: 1750, v: 0.02 }] } } };
    // The same outline and side view with quite another section all along.
    const plain: Design = {
      ...drawn,
      lines: { ...drawn.lines, ...Object.fromEntries(FIGURES.map((name) => [name, { points: [0, 1750].map((x) => ({ x, v: { crown: 0.02, concave: 0, vee: 0, apex: 0.5, fullness: 0.4, tuck: 10, turn: 20 }[name] })) }])) },
    };
    const [at, second] = [875, 500];
    expect(between(drawn, plain, at)).toBeGreaterThan(2);
    const [right, left] = [cutOf(drawn, at), cutOf(drawn, at, -1)];
    const other = cutOf(drawn, second).map(([y, z]) => [y, z + 400] as const);
    for (const first of [pathOf(right), pathOf(left), `${pathOf([...right, ...left.toReversed()])}Z`]) {
      const result = say(svg(`<path d="${first}"/><path d="${pathOf(other)}"/>`), [at, second], plain);
      if (!result.ok) throw new Error(JSON.stringify(result.errors.map(mmError)));
      expect(result.met).toBe(true);
      expect(result.sections.map(({ x }) => x)).toEqual([at, second]);
      for (const x of [at, second]) {
        // The figures themselves come back, near enough to be the same ones: drawn square to the centreline, where the hull's round stands square to its outline.
        for (const [name, near] of [['crown', 0.005], ['vee', 0.01], ['concave', 0.01], ['apex', 0.03], ['fullness', 0.08], ['tuck', 1], ['turn', 1]] as const) {
          const point = result.design.lines[name].points.find((one) => one.x === x);
          expect(Math.abs((point?.v ?? Number.NaN) - valueAt(graphSpline(drawn.lines[name]), x)), name).toBeLessThan(near);
        }
        expect(between(drawn, result.design, x)).toBeLessThan(TOLERANCE);
      }
      // Beyond them the change fades: at the ends the board is as it was.
      for (const name of FIGURES) expect([result.design.lines[name].points[0], result.design.lines[name].points.at(-1)]).toEqual([plain.lines[name].points[0], plain.lines[name].points.at(-1)]);
      expect(result.design.lines.outline).toEqual(plain.lines.outline);
    }
  });

  it('tells a section of another size, the farthest place of one that no board has, and what is none', () => {
    const design = seedDesign(BOARD);
    const wide = cutOf(design, 875).map(([y, z]) => [1000 + (y - 1000) * 1.1, z] as const);
    const told = say(svg(`<path d="${pathOf(wide)}"/>`), [875], design);
    if (!told.ok) throw new Error('refused');
    expect(told.notes.map(mmText)).toEqual([expect.stringMatching(/^The section at 875 mm is [\d.]+ mm wider than the board there: its shape is taken, not its size\.$/)]);
    // A step in the deck, 8 mm high, 100 mm off the centreline.
    const stepped = 'M1000 500H1230V450H1100V442H1000';
    const step = say(svg(`<path d="${stepped}"/>`), [875], design);
    if (!step.ok) throw new Error(JSON.stringify(step.errors.map(mmError)));
    expect(step.met).toBe(false);
    expect(step.sections[0].greatest).toBeGreaterThan(2);
    expect(step.sections[0].thickness).toBeCloseTo(58, 9);
    const { at } = step.sections[0];
    expect(Math.min(Math.hypot(at.x - 1100, at.y + 442), Math.hypot(at.x - 1230, at.y + 450), Math.hypot(at.x - 1230, at.y + 500))).toBeLessThan(15);
    const fault = (d: string, station: number) => {
      const result = say(svg(`<path id="cut" d="${d}"/>`), [station], design);
      if (result.ok) throw new Error('fitted without a word');
      return mmError(result.errors[0]);
    };
    expect(fault(stepped, 5000)).toMatchObject({ field: 'line 1, path “cut”', value: '5000 mm', message: 'the section\'s station is not on the board' });
    expect(fault('M1000 500H1230V450', 875)).toMatchObject({ message: 'this cannot be a section', value: expect.stringContaining('apart across') });
    const both = say(svg(`<path d="${stepped}"/><path d="${stepped.replaceAll('1000', '2000').replaceAll('1230', '2230').replaceAll('1100', '2100')}"/>`), [875, 875], design);
    expect(both.ok ? '' : mmError(both.errors[0]).message).toBe('another section is at this station');
  });
});

describe('what does not fit', () => {
  it('tells the farthest place, and where in the drawing it is', () => {
    const design = seedDesign(BOARD);
    // A step of 4 mm over 2 mm: no smooth line follows it.
    const step = (x: number) => 40 + ((x - 800) / 60) ** 2 + (x > 900 ? Math.min(4, 2 * (x - 900)) : 0);
    const drawn = Array.from({ length: 1701 }, (_, i) => [i, step(i)] as const);
    const drawing = svg(`<path d="M${drawn.map(([x, z]) => `${x + 50} ${900 - z}`).join('L')}"/>`);
    const result = fitted(design, drawing, [[0, 'bottom']], {}, 0.01);
    const { rocker } = result.misses;
    if (!rocker) throw new Error('no rocker');
    expect(result.met).toBe(false);
    const curve = graphSpline(result.design.lines.rocker);
    const floor = Math.min(...drawn.map(([, z]) => z));
    const worst = drawn.reduce((most, [x, z]) => (Math.abs(valueAt(curve, x) - z + floor) > Math.abs(valueAt(curve, most[0]) - most[1] + floor) ? [x, z] as const : most));
    expect(rocker.at).toEqual({ x: expect.closeTo(worst[0] + 50, 6), y: expect.closeTo(worst[1] - 900, 6) });
    expect(rocker.greatest).toBeCloseTo(Math.abs(valueAt(curve, worst[0]) - worst[1] + floor), 6);
    expect(rocker.x).toBeCloseTo(worst[0], 6);
  });

  it('names the curve and what is wrong, and the board stays', () => {
    const design = seedDesign(BOARD);
    const line = (id: string, d: string) => `<path id="${id}" d="${d}"/>`;
    const drawing = svg([
      line('plan', 'M0 300C300 -100 1500 -100 1700 300'), line('low', 'M0 700C500 760 1300 760 1700 640'), line('high', 'M0 680C500 690 1300 690 1700 620'),
      line('short', 'M0 705C500 760 1000 760 1500 640'), line('far', 'M2000 680C2500 690 3300 690 3700 620'), line('hook', 'M0 800L900 850L700 900L1700 800'), line('dot', 'M0 0L10 0'),
    ].join('\n'));
    expect(refused(design, drawing, [])).toMatchObject({ value: 'nothing' });
    expect(refused(design, drawing, [[0, 'outline'], [1, 'outline']])).toMatchObject({ field: 'line 2, path “low”', message: 'is also line 1 of the file' });
    expect(refused(design, drawing, [[2, 'deck']])).toMatchObject({ field: 'line 3, path “high”', message: expect.stringContaining('which curve is the bottom') });
    expect(refused(design, drawing, [[2, 'bottom'], [1, 'deck']])).toMatchObject({ field: 'line 2, path “low”', message: expect.stringContaining('the deck lies under the bottom') });
    expect(refused(design, drawing, [[0, 'outline'], [3, 'bottom']])).toMatchObject({ field: 'line 4, path “short”', value: '1500 mm', allowed: '1700.0 mm, as long as the outline' });
    expect(refused(design, drawing, [[1, 'bottom'], [4, 'deck']])).toMatchObject({ field: 'line 5, path “far”', message: expect.stringContaining('not drawn over each other') });
    expect(refused(design, drawing, [[5, 'bottom']])).toMatchObject({ field: 'line 6, path “hook”', value: expect.stringMatching(/^turns back at/) });
    expect(refused(design, drawing, [[0, 'outline']], { mm: 25.4 })).toMatchObject({ value: '43180 mm', allowed: '300 to 6000 mm', message: expect.stringContaining('choose another unit') });
    expect(refused(design, drawing, [[6, 'outline']])).toMatchObject({ field: 'line 7, path “dot”', value: 'a straight line' });
    // A line of the board file that would be no board is told as that: thinner than its skins.
    const thin = svg(`${line('a', 'M0 700C500 760 1300 760 1700 640')}${line('b', 'M0 695C500 755 1300 755 1700 635')}`);
    expect(refused(design, thin, [[0, 'bottom'], [1, 'deck']])).toMatchObject({ field: 'lines.thickness' });
  });
});
