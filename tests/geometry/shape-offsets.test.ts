/**
 * Tables of offsets: reading, least-squares fitting and the way back. Fitting is held against SciPy 1.17.1
 * (scipy.interpolate.make_lsq_spline, figures computed once), verb's global interpolation (The NURBS Book's A9.1) and
 * the orthogonality that makes a least-squares answer; evaluation of the fitted curve against openNURBS (rhino3dm).
 */
import fc from 'fast-check';
import { createRequire } from 'node:module';
import { describe, expect, it } from 'vitest';
import { controlCount, cubicBasis, evalSpline, findSpan } from '../../geometry/curves/bspline';
import { graphSpline, valueAt } from '../../geometry/curves/graph';
import { chordParameters } from '../../geometry/curves/interpolate';
import { buildOutline } from '../../geometry/curves/outline';
import { checkDesign } from '../../geometry/design/read';
import { planBoard } from '../../geometry/plan';
import { parseLength } from '../../geometry/shape/lengths';
import { clampedKnots, leastSquares, missOf, spreadKnots, type FitData } from '../../geometry/shape/leastSquares';
import { offsetsCsv, offsetsOf, offsetStations, type OffsetTable } from '../../geometry/shape/offsets';
import { fitOffsets, withOffsets } from '../../geometry/shape/offsetsFit';
import { parseOffsets, type OffsetsReadOptions } from '../../geometry/shape/offsetsRead';
import { footGrid, footOn } from '../../geometry/shape/project';
import { loadRhino } from '../support/kernels';
import { seedDesign, seedNames } from './boards';
import { errorLines, mmError } from '../support/said';

const require = createRequire(import.meta.url);

const read = (text: string, options?: OffsetsReadOptions) => {
  const result = parseOffsets(text, options);
  if (!result.ok) throw new Error(result.errors.map(mmError).map((e) => `${e.row} ${e.column} ${e.value}: ${e.message}`).join('\n'));
  return result;
};
const refused = (text: string, options?: OffsetsReadOptions) => {
  const result = parseOffsets(text, options);
  if (result.ok) throw new Error('read without a word');
  return result.errors.map(mmError);
};

describe('lengths as people write them', () => {
  it.each([
    ['12.5', 'mm', false, 12.5], ['12,5', 'mm', true, 12.5], ['1,250.5', 'mm', false, 1250.5], ['1.250,5', 'mm', true, 1250.5],
    ['1 3/16', 'inch', false, 30.1625], ['3/4', 'inch', false, 19.05], ['1-3/16', 'inch', false, 30.1625], ['1\u00bd', 'inch', false, 38.1],
    ['6\' 2"', 'inch', false, 1879.6], ['6\' 2 1/2"', 'mm', false, 1892.3], ['6\u2032', 'mm', false, 1828.8], ['5 ft 11 in', 'mm', false, 1803.4],
    ['12"', 'mm', false, 304.8], ['32 mm', 'inch', false, 32], ['3.2cm', 'mm', false, 32], ['1.8 m', 'mm', false, 1800],
    ['-4', 'mm', false, -4], ['\u22124,5', 'mm', true, -4.5], ['.5', 'inch', false, 12.7], ['+7', 'mm', false, 7],
  ] as const)('%s in %s', (text, unit, comma, want) => {
    expect(parseLength(text, { unit, comma })).toBeCloseTo(want, 9);
  });

  it.each(['', 'x', '1/0', '3 4/', '1e3', '12,5', '1.2.3', '12,34,5', '5 parsecs', 'Infinity', 'NaN', '1 3/16 mm', '--3', '1,25'])('refuses %j', (text) => {
    expect(parseLength(text, { unit: 'mm', comma: false })).toBeUndefined();
  });
});

describe('reading a table', () => {
  const rows = [[0, 120, 30, 24], [450, 220, 4, 48], [900, 240, 0, 60], [1350, 190, 12, 50], [1800, 0, 60, 20]];

  it('takes tabs, commas, semicolons and blanks, with and without a header, to the same table', () => {
    const want = rows.map(([x, halfBreadth, rocker, thickness]) => ({ x, halfBreadth, rocker, thickness }));
    for (const text of [
      rows.map((r) => r.join('\t')).join('\n'),
      `Station,Half-breadth,Rocker,Thickness\r\n${rows.map((r) => r.join(',')).join('\r\n')}\r\n`,
      `\ufeffx;half breadth (mm);bottom;thick\n${rows.map((r) => r.map((v) => `${v},0`).join(';')).join('\n')}`,
      `\n\n${rows.map((r) => r.join('   ')).join('\n\n')}\n`,
      rows.map((r) => r.join(' ')).join('\r'),
      `thickness,station,width,rocker\n${rows.map(([x, y, r, t]) => [t, x, 2 * y, r].join(',')).join('\n')}`,
      `"station","half-breadth","rocker","thickness"\n${rows.map((r) => r.map((v) => `"${v},00"`).join(',')).join('\n')}`,
    ]) {
      const { table } = read(text);
      expect(table.length).toBe(1800);
      expect(table.rows.map(({ x, halfBreadth, rocker, thickness }) => ({ x, halfBreadth, rocker, thickness }))).toEqual(want);
    }
  });

  it('reads inches with fractions, by their look or by the header, and says so', () => {
    const { table, notes, reading } = read('station\thalf-breadth\trocker\n0\t0\t1 3/16\n36\t11 1/4"\t0\n72 1/2\t0\t4');
    expect(table.length).toBeCloseTo(1841.5, 9);
    expect(table.rows[1].halfBreadth).toBeCloseTo(285.75, 9);
    expect(reading.unit).toBe('inch');
    expect(notes.join(' ')).toMatch(/read in inches/);
    expect(read('station (in),rocker (mm)\n0,30\n70.5,60').table.rows[1]).toMatchObject({ x: 70.5 * 25.4, rocker: 60 });
  });

  it('turns stations measured from the nose about, and puts rows in order', () => {
    const { table, reading } = read('distance from nose,thickness\n1800,24\n0,20\n900,60');
    expect(reading.from).toBe('nose');
    expect(table.rows.map((r) => [r.x, r.thickness, r.line])).toEqual([[0, 24, 2], [900, 60, 4], [1800, 20, 3]]);
    expect(read('station,thickness\n1800,24\n0,20', { from: 'nose' }).table.rows[0].thickness).toBe(24);
  });

  it('leaves out columns it does not know and cells that were not measured, and says so', () => {
    const { table, notes } = read('station,remark,half-breadth,rocker\n0,tail,120,30\n900,wide,240,\n1800,,0,60');
    expect(table.rows[1]).toEqual({ line: 3, x: 900, halfBreadth: 240 });
    expect(notes).toContain('Left out: remark.');
  });

  it('names row, column, value and what is allowed', () => {
    const head = 'station,half-breadth,rocker\n';
    expect(refused(`${head}0,120,30\n900,24o,0\n1800,0,60`)[0]).toMatchObject({ row: 3, column: 'half-breadth', value: '24o', message: 'is not a length' });
    expect(refused(`${head}0,120,30\n900,2400,0\n1800,0,60`)[0]).toMatchObject({ row: 3, value: '2400 mm', allowed: '0 to 1000 mm' });
    expect(refused('station (in),half-breadth\n0,5\n36,50\n70,0')[0]).toMatchObject({ value: '50, that is 1270 mm', allowed: '0 to 1000 mm' });
    expect(refused(`${head}0,120,30\n900,240,\n900,241,0\n1800,0,60`)[0]).toMatchObject({ row: 4, column: 'station', message: 'is in row 3 too' });
    expect(refused(`${head}50,120,30\n1800,0,60`)[0]).toMatchObject({ row: 2, column: 'station', message: 'the tail itself, station 0, is missing' });
    expect(refused(`${head}0,120,30\n,240,0\n1800,0,60`)[0]).toMatchObject({ row: 3, column: 'station', message: 'the station is missing' });
    expect(refused(`${head}0,120,\n1800,0,60`)[0]).toMatchObject({ row: 2, column: 'rocker', message: expect.stringContaining('at the tail') });
    expect(refused(`${head}0,120,30\n900,0,0\n1800,0,60`)[0]).toMatchObject({ row: 3, message: expect.stringContaining('centreline') });
    expect(refused('0,5\n72,0')[0]).toMatchObject({ column: 'station', message: expect.stringContaining('choose the unit') });
    expect(refused('place,beer\n0,5\n72,0')[0].message).toMatch(/no column has a name/);
    expect(refused('station,rocker,bottom\n0,5,5\n720,0,0')[0].message).toMatch(/says the same/);
    expect(refused('rocker,thickness\n0,5\n720,20')[0].message).toMatch(/stations are missing/);
    expect(refused('')[0].message).toBe('the table is empty');
  });

  it('takes the person\'s word for unit and columns', () => {
    const { table } = read('0,5,2\n36,11,0\n72,0,4', { unit: 'inch', columns: ['station', 'halfBreadth', 'ignore'] });
    expect(table.rows[1]).toEqual({ line: 2, x: 36 * 25.4, halfBreadth: 11 * 25.4 });
  });

  it('says what the columns of a foreign table are called and hold, and reads it by what they are said to mean', () => {
    for (const by of [';', '\t', '  ']) {
      const text = [['Abstand', 'halbe_Breite', 'Höhe', 'Nr'], ['0', '0', '30,5', '1'], ['300', '180,25', '10', '2'], ['900', '0', '0', '3']].map((r) => r.join(by)).join('\n');
      const result = parseOffsets(text);
      if (result.ok) throw new Error('read without a word');
      expect(result.errors.map(mmError)).toMatchObject([{ row: 1, message: expect.stringContaining('choose what each one means') }]);
      expect(result.reading).toMatchObject({ titles: ['Abstand', 'halbe_Breite', 'Höhe', 'Nr'], first: ['0', '0', '30,5', '1'], columns: ['ignore', 'ignore', 'ignore', 'ignore'] });
      // On the way there, what is still missing is said, and what was chosen stays.
      const half = parseOffsets(text, { columns: ['ignore', 'halfBreadth', 'ignore', 'ignore'] });
      expect(half).toMatchObject({ ok: false, errors: [{ message: 'the stations are missing' }], reading: { columns: ['ignore', 'halfBreadth', 'ignore', 'ignore'] } });
      const columns = ['station', 'halfBreadth', 'rocker', 'ignore'] as const;
      expect(read(text, { columns }).table.rows[1]).toEqual({ line: 3, x: 300, halfBreadth: 180.25, rocker: 10 });
      // A fault is told by the table's own name for the column.
      expect(refused(text.replace('180,25', 'breit'), { columns })[0]).toMatchObject({ row: 3, column: 'halbe_Breite', value: 'breit' });
    }
    // One name that is known among foreign ones: the rest is asked for, not guessed.
    const some = parseOffsets('x;Breite\n0;10\n900;0');
    expect(some).toMatchObject({ ok: false, reading: { columns: ['station', 'ignore'] } });
    // What was chosen for four columns says nothing of two.
    expect(read('0;10\n900;0', { columns: ['ignore', 'station', 'rocker', 'ignore'] }).reading.columns).toEqual(['station', 'halfBreadth']);
    // Nor do commas between columns, said of a table before, of one that semicolons cut.
    expect(read('0;10,5\n900;0', { commas: 'between' }).table.rows[0].halfBreadth).toBe(10.5);
    // A table too short for a board can be said to be in inches.
    expect(parseOffsets('0,5\n72,0')).toMatchObject({ ok: false, reading: { unit: 'mm' } });
  });

  /** What the question says of a row: each way by name, with its cells. */
  const asked = (text: string) => {
    const result = parseOffsets(text);
    if (result.ok || !result.question) throw new Error('not asked');
    expect(result.errors).toHaveLength(1);
    return { row: result.question.row, ...Object.fromEntries(result.question.ways.map(({ commas, cells }) => [commas, cells.join(' | ')])) };
  };

  it('takes commas as decimal marks where a blank parts the numbers', () => {
    for (const text of ['0 0 30,5\n300 180,5 10\n900 200 0,5', 'station half-breadth rocker\n0 0 30,5\n300 180,5 10\n900 200 0,5', 'station,half-breadth,rocker\n0  0  30,5\n300  180,5  10\n900  200  0,5']) {
      const { table, reading, notes } = read(text);
      expect(reading).toMatchObject({ commas: 'decimal', separator: 'blanks' });
      expect(notes).toContain('Commas were read as decimal marks.');
      expect(table.rows.map(({ x, halfBreadth, rocker }) => [x, halfBreadth, rocker])).toEqual([[0, 0, 30.5], [300, 180.5, 10], [900, 200, 0.5]]);
    }
    // The same with a comma before each blank, but no decimals, reads alike either way.
    expect(read('0, 0, 30\n300, 180, 10\n900, 200, 0').reading).toMatchObject({ commas: 'between', separator: 'commas' });
  });

  it('asks where commas may be decimal marks or stand between columns or thousands, and takes the answer', () => {
    const columns = '0, 0, 30\n300, 180,5\n900, 200,0';
    expect(asked(columns)).toEqual({ row: 2, decimal: '300 | 180.5', between: '300 | 180 | 5' });
    expect(read(columns, { commas: 'between' }).table.rows[1]).toMatchObject({ x: 300, halfBreadth: 180, rocker: 5 });
    const two = '0, 0,5\n300, 180,5\n900, 200,0';
    expect(read(two, { commas: 'decimal' }).table.rows[1]).toEqual({ line: 2, x: 300, halfBreadth: 180.5 });
    for (const mark of ['\t', ';']) {
      const thousands = [['0', '1,200'], ['1,250', '1,450'], ['1,800', '1,300']].map((r) => r.join(mark)).join('\n');
      expect(asked(`station${mark}half-breadth\n${thousands}`)).toEqual({ row: 2, decimal: '0 | 1.200', thousands: '0 | 1200' });
      const mm = (commas: 'decimal' | 'thousands') => parseOffsets(`station (in)${mark}half-breadth (mm)\n${thousands}`, { commas });
      expect(mm('decimal')).toMatchObject({ ok: false, errors: [{ column: 'station (in)' }] });
      expect(read(`station (m)${mark}half-breadth (m)\n${thousands.replaceAll(`${mark}1,`, `${mark}0,`)}`).reading.commas).toBe('decimal');
    }
    // Something else in the table says which: two groups, a decimal point, fewer digits, a first 0.
    expect(read('0\t120.5\n1,800\t0').table.length).toBe(1800);
    expect(read('0\t12,5\n900,125\t0').table.length).toBe(900.125);
    expect(read('0\t0,125\n900,125\t0').table.length).toBe(900.125);
  });

  it('refuses a row with a cell too many: its commas were decimal marks', () => {
    expect(refused('station,half-breadth\n0,0\n300,180,5\n900,200')[0]).toMatchObject({ row: 3, column: 'C', value: '5', message: expect.stringContaining('one cell too many') });
    expect(refused('0,0\n300,180,5\n900,200')[0]).toMatchObject({ row: 2, column: 'C' });
    expect(refused('0 0\n300 180 5\n900 200')[0]).toMatchObject({ row: 2, column: 'C' });
    expect(read('0,0\n300,180,,\n900,200').table.rows[1]).toMatchObject({ x: 300, halfBreadth: 180 });
    // Columns past those that have a meaning are left out, and named.
    expect(read('0,0,30,24,7\n900,0,30,24,7').notes).toContain('Left out: E.');
  });

  it('never joins two numbers over a blank', () => {
    expect(refused('0\t0\n1 800\t0')[0]).toMatchObject({ row: 2, column: 'station', value: '1 800', message: 'is not a length' });
    expect(read('0\t0\n1\u00a0800,5\t0').table.length).toBe(1800.5);
  });

  it('reads 10 000 rows, refuses 30 000, counts what it does not list, and keeps hostile text on one line', () => {
    const line = (i: number) => `${(i * 0.2).toFixed(1)},${(100 + i * 0.01).toFixed(2)}`;
    const text = `station,half-breadth\n${Array.from({ length: 10_000 }, (_, i) => line(i)).join('\n')}`;
    expect(read(text).table.rows).toHaveLength(10_000);
    expect(refused(Array.from({ length: 30_000 }, (_, i) => line(i)).join('\n'))[0].allowed).toBe('at most 20000 rows');
    const bad = parseOffsets(`station,rocker\n${Array.from({ length: 500 }, (_, i) => `${i * 4},\u202ex\u0000${i}`).join('\n')}`);
    expect(bad).toMatchObject({ ok: false, more: 480 });
    if (!bad.ok) for (const e of bad.errors) expect(e.value).toMatch(/^[^\p{Cc}\u202a-\u202e]*$/u);
  });

  it('never throws, whatever is pasted', () => {
    const cell = fc.oneof(fc.string({ maxLength: 12 }), fc.double().map(String), fc.constantFrom('station', 'rocker', '1 3/16', '"', '1,5', '', '0', '900'));
    fc.assert(
      fc.property(fc.array(fc.array(cell, { maxLength: 5 }), { maxLength: 12 }), fc.constantFrom('\t', ',', ';', '  ', ' '), (grid, by) => {
        const result = parseOffsets(grid.map((r) => r.join(by)).join('\n'));
        if (result.ok) for (const r of result.table.rows) expect(Number.isFinite(r.x)).toBe(true);
        else expect(result.errors.length).toBeGreaterThan(0);
      }),
      { seed: 5, numRuns: 500 },
    );
  });
});

/** Fourteen rows of a made-up rocker. */
const X = [0, 60, 150, 260, 400, 520, 660, 800, 950, 1080, 1220, 1350, 1440, 1500];
const V = [30, 24.1, 17.2, 10.9, 5.8, 2.7, 1.0, 0.4, 2.9, 7.7, 16.2, 28.5, 39.0, 47];
const DATA: FitData = { t: Float64Array.from(X), dim: 1, rows: Float64Array.from(V) };

describe('least squares', () => {
  it('gives the control points of the reference', () => {
    const spline = leastSquares(DATA, clampedKnots(0, 1500, [420, 1000]));
    const want = [30.00000000000001, 14.813386594522187, 1.6097669047580392, -4.33186458663974, 22.872858263820856, 47.00000000000001];
    // The reference holds the ends by weights of 1e7, so agrees to about the square root of rounding.
    want.forEach((p, i) => expect(spline.points[i]).toBeCloseTo(p, 6));
    expect(missOf(DATA, spline).greatest).toBeCloseTo(0.33879262361293616, 6);
  });

  it('leaves a remainder square to every inner basis function: the normal equations (The NURBS Book, eq. 9.65)', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: -50, max: 50, noNaN: true }), { minLength: 30, maxLength: 30 }), fc.integer({ min: 0, max: 12 }), (v, count) => {
        const t = Float64Array.from(v, (_, i) => i * 50 + (i % 3) * 7);
        const knots = clampedKnots(t[0], t[29], spreadKnots(t, count));
        const spline = leastSquares({ t, dim: 1, rows: Float64Array.from(v) }, knots);
        const n = controlCount(knots);
        const dot = new Float64Array(n);
        const basis = new Float64Array(12);
        for (let k = 1; k < 29; k++) {
          const span = findSpan(knots, t[k]);
          cubicBasis(knots, span, t[k], basis);
          const rest = v[k] - valueAt(spline, t[k]);
          for (let a = 0; a < 4; a++) dot[span - 3 + a] += basis[a] * rest;
        }
        for (let i = 1; i < n - 1; i++) expect(Math.abs(dot[i])).toBeLessThan(1e-9);
        expect(valueAt(spline, t[0])).toBeCloseTo(v[0], 12);
        expect(valueAt(spline, t[29])).toBeCloseTo(v[29], 12);
      }),
      { seed: 3, numRuns: 60 },
    );
  });

  it('gives a cubic back exactly', () => {
    const cubic = (x: number) => 3 - x / 50 + (x * x) / 9000 - (x * x * x) / 2e7;
    const spline = leastSquares({ ...DATA, rows: Float64Array.from(X, cubic) }, clampedKnots(0, 1500, [500, 700]));
    for (let x = 0; x <= 1500; x += 50) expect(valueAt(spline, x)).toBeCloseTo(cubic(x), 9);
  });

  it('with as many control points as rows interpolates, as verb\'s global interpolation does on its own knots', () => {
    const verb = require('verb-nurbs-web') as {
      geom: { NurbsCurve: { byPoints(points: number[][], degree: number): { knots(): number[]; controlPoints(): number[][] } } };
    };
    const points = [[0, 100], [180, 170], [420, 215], [760, 232], [1090, 210], [1380, 140], [1560, 62], [1700, 0]];
    const curve = verb.geom.NurbsCurve.byPoints(points, 3);
    const knots = Float64Array.from(curve.knots());
    const flat = Float64Array.from(points.flat());
    const chords = chordParameters(flat, 2);
    const t = chords.map((c) => c / chords[chords.length - 1]);
    const spline = leastSquares({ t, dim: 2, rows: flat }, knots);
    curve.controlPoints().forEach((p, i) => {
      expect(spline.points[2 * i]).toBeCloseTo(p[0], 6);
      expect(spline.points[2 * i + 1]).toBeCloseTo(p[1], 6);
    });
  });
});

describe('fitting a table', () => {
  const table: OffsetTable = { length: 1500, rows: X.map((x, i) => ({ x, line: i + 1, rocker: V[i] })) };

  it('meets the tolerance, with ever fewer points as it widens, and states the greatest miss truly', async () => {
    const rhino = await loadRhino();
    let before = Infinity;
    for (const tolerance of [0.05, 0.2, 0.5, 2, 10]) {
      const fit = fitOffsets(table, { tolerance });
      const { rocker } = fit.lines;
      const miss = fit.misses.rocker;
      if (!rocker || !miss) throw new Error('no rocker');
      expect(fit.met).toBe(true);
      expect(miss.greatest).toBeLessThanOrEqual(tolerance);
      expect(rocker.points.length).toBeLessThanOrEqual(before);
      before = rocker.points.length;
      // The design curve, built as any board's is and evaluated by openNURBS, misses by what was said.
      const spline = graphSpline(rocker);
      const n = controlCount(spline.knots);
      const curve = rhino.NurbsCurve.create(false, 3, Array.from({ length: n }, (_, i) => [0, spline.points[i], 0]));
      [...spline.knots].slice(1, -1).forEach((k, i) => curve.knots().set(i, k));
      const worst = Math.max(...X.map((x, i) => Math.abs(curve.pointAt(x)[1] - V[i])));
      expect(worst).toBeCloseTo(miss.greatest, 8);
      expect(Math.abs(valueAt(spline, miss.x) - V[miss.line - 1])).toBeCloseTo(miss.greatest, 8);
    }
    expect(before).toBe(2);
  });

  it('threads a batten through two or three rows', () => {
    const fit = fitOffsets({ length: 900, rows: [{ x: 0, line: 1, thickness: 20 }, { x: 400, line: 2, thickness: 60 }, { x: 900, line: 3, thickness: 20 }] });
    expect(fit.lines.thickness?.points.map((p) => p.v)).toEqual([20, 60, 20]);
    expect(fit.misses.thickness?.greatest).toBe(0);
  });

  it('says so when jitter keeps it from the tolerance, and gives the closest', () => {
    const rows = Array.from({ length: 400 }, (_, i) => ({ x: i * 4, line: i + 1, rocker: 20 + (i % 2) }));
    const fit = fitOffsets({ length: 1596, rows }, { tolerance: 0.1 });
    expect(fit.met).toBe(false);
    expect(fit.misses.rocker?.greatest).toBeGreaterThan(0.1);
    expect(fit.misses.rocker?.greatest).toBeLessThan(1);
  });

  it('refuses a tolerance of nothing, and an outline that cannot be', () => {
    expect(() => fitOffsets(table, { tolerance: 0 })).toThrow(/tolerance: 0 given; more than 0/);
  });

  it('holds an end direction the maker knows', () => {
    const plan = planBoard(seedDesign('round-tail-175.board.json'), { step: 8 });
    const fit = fitOffsets(offsetsOf(plan, offsetStations(plan.hull.length, 100)), { tolerance: 0.5, ends: { tailAngleDeg: 90, noseAngleDeg: 90 } });
    expect([fit.lines.outline?.tailAngleDeg, fit.lines.outline?.noseAngleDeg]).toEqual([90, 90]);
    expect(fit.met).toBe(true);
  });
});

describe('out and back', () => {
  it.each(seedNames)('%s comes back from its own table within the tolerance, in mm and in inches', (name) => {
    const design = seedDesign(name);
    const plan = planBoard(design, { step: 8 });
    const stations = offsetStations(plan.hull.length, 50);
    for (const [unit, separator, from] of [['mm', ',', 'tail'], ['inch', ';', 'nose'], ['mm', '\t', 'nose']] as const) {
      const tolerance = 0.2;
      const { table } = read(offsetsCsv(offsetsOf(plan, stations), { unit, separator, from }));
      const fit = fitOffsets(table, { tolerance });
      expect(fit.met).toBe(true);
      const back = withOffsets(design, fit);
      if (!back.ok) throw new Error(errorLines(back.errors));
      const { lines } = back.design;
      const outline = buildOutline(lines.outline);
      const grid = footGrid(outline);
      const rocker = graphSpline(lines.rocker);
      const thickness = graphSpline(lines.thickness);
      // Against the board itself, not the rounded table: half a digit of rounding is allowed for.
      const most = tolerance + 0.002;
      for (const row of offsetsOf(plan, stations).rows) {
        expect(footOn(outline, grid, row.x, row.halfBreadth ?? NaN).distance).toBeLessThan(most);
        expect(Math.abs(valueAt(rocker, row.x) - (row.rocker ?? NaN))).toBeLessThan(most);
        expect(Math.abs(valueAt(thickness, row.x) - (row.thickness ?? NaN))).toBeLessThan(most);
      }
      expect(Math.abs(planBoard(back.design, { step: 8 }).hull.volume / plan.hull.volume - 1)).toBeLessThan(1e-3);
      expect(lines.outline.points.length).toBeLessThan(stations.length / 2);
    }
  });

  it('stretches what the table does not measure to the table\'s length', () => {
    const design = seedDesign('child-155.board.json');
    const fit = fitOffsets(read('station,rocker\n0,30\n500,4\n1000,2\n1500,30\n2000,90').table);
    const back = withOffsets(design, fit);
    if (!back.ok) throw new Error(errorLines(back.errors));
    expect(checkDesign(back.design).ok).toBe(true);
    expect(back.design.lines.outline.points.at(-1)).toEqual({ x: 2000, y: 0 });
    expect(Math.max(...back.design.lines.thickness.points.map((p) => p.v))).toBe(Math.max(...design.lines.thickness.points.map((p) => p.v)));
  });

  it('finds a foot as brute force does', () => {
    const outline = buildOutline(seedDesign('round-tail-175.board.json').lines.outline);
    const grid = footGrid(outline);
    const last = outline.knots[outline.knots.length - 1];
    const row = new Float64Array(6);
    fc.assert(
      fc.property(fc.double({ min: -20, max: 1770, noNaN: true }), fc.double({ min: 0, max: 300, noNaN: true }), (x, y) => {
        const foot = footOn(outline, grid, x, y);
        let least = Infinity;
        for (let i = 0; i <= 4000; i++) {
          evalSpline(outline, (last * i) / 4000, row, new Float64Array(12));
          least = Math.min(least, Math.hypot(row[0] - x, row[1] - y));
        }
        expect(foot.distance).toBeLessThanOrEqual(least + 1e-9);
        expect(Math.abs(foot.signed)).toBe(foot.distance);
      }),
      { seed: 9, numRuns: 80 },
    );
  });
});
