/**
 * Drawings read: rational curves against the textbook, verb and openNURBS; SVG against the specification's own figures (in a
 * browser also against Chromium, tests/browser/lines-drawing.test.ts); DXF written by @tarikjabiri/dxf and by hand against
 * the package `dxf`, a reader and interpolator of its own.
 */
import { DxfWriter, LWPolylineFlags, point2d, point3d, Units } from '@tarikjabiri/dxf';
import fc from 'fast-check';
import { createRequire } from 'node:module';
import { describe, expect, it } from 'vitest';
import { arc, bezier, endsOf, mapped, rationalAt, backward, sampled, type At, type Rational } from '../../geometry/curves/rational';
import { boxOf, type DrawnPlan, type DrawingRead, type DrawnCurve } from '../../geometry/shape/drawing';
import { readDxf } from '../../geometry/shape/drawingDxf';
import { placesOf } from '../../geometry/shape/drawingLines';
import { readSvg } from '../../geometry/shape/drawingSvg';
import { isBinaryDxf } from '../../geometry/shape/drawingTags';
import { loadVerb } from '../support/kernels';
import { mmError, mmText } from '../support/said';

const require = createRequire(import.meta.url);

const read = (result: DrawingRead): DrawnPlan => {
  if (!result.ok) throw new Error(JSON.stringify(result.errors.map(mmError)));
  return result.drawing;
};
const refused = (result: DrawingRead) => {
  if (result.ok) throw new Error('read without a word');
  return mmError(result.errors[0]);
};
const svg = (inner: string, head = 'width="100mm" viewBox="0 0 100 100"') => readSvg(`<svg xmlns="http://www.w3.org/2000/svg" ${head}>\n${inner}\n</svg>`);
const dxf = (entities: string, more = '') => readDxf(`${more}0\nSECTION\n2\nENTITIES\n${entities.trim().replace(/ *\| */g, '\n')}\n0\nENDSEC\n0\nEOF\n`);
const curvesOf = (result: DrawingRead) => read(result).curves;

/** Length of a curve by its chords. */
const lengthOf = (curve: DrawnCurve): number => {
  const places = placesOf(curve, 1e-6, Infinity);
  return places.slice(1).reduce((sum, p, i) => sum + Math.hypot(p.x - places[i].x, p.y - places[i].y), 0);
};
const wayTo = (walks: readonly (readonly At[])[], x: number, y: number): number => {
  let least = Infinity;
  for (const places of walks) {
    for (let i = 0; i + 1 < places.length; i++) {
      const [p, q] = [places[i], places[i + 1]];
      const [dx, dy] = [q.x - p.x, q.y - p.y];
      const t = Math.min(1, Math.max(0, ((x - p.x) * dx + (y - p.y) * dy) / (dx * dx + dy * dy || 1)));
      least = Math.min(least, Math.hypot(x - p.x - t * dx, y - p.y - t * dy));
    }
  }
  return least;
};

describe('rational curves', () => {
  it('give the textbook\'s points', () => {
    // The NURBS Book, 2nd ed. 1997, example 4.1 (from memory, recomputed).
    const curve: Rational = { degree: 2, knots: [0, 0, 0, 1, 2, 3, 3, 3], points: [0, 0, 1, 1, 3, 2, 4, 1, 5, -1], weights: [1, 4, 1, 1, 1] };
    const p = rationalAt(curve, 1);
    expect([p.x, p.y]).toEqual([expect.closeTo(7 / 5, 14), expect.closeTo(6 / 5, 14)]);
    expect(endsOf(curve)).toEqual([{ x: 0, y: 0 }, { x: 5, y: -1 }]);
    // Example 7.1 (from memory): the quarter circle by weights 1, 1, 2, its middle parameter at (3/5, 4/5); and by 1, cos 45 degrees, 1, its middle at 45 degrees.
    for (const [weights, x, y] of [[[1, 1, 2], 0.6, 0.8], [[1, Math.SQRT1_2, 1], Math.SQRT1_2, Math.SQRT1_2]] as const) {
      const quarter: Rational = { degree: 2, knots: [0, 0, 0, 1, 1, 1], points: [1, 0, 1, 1, 0, 1], weights };
      expect(rationalAt(quarter, 0.5)).toEqual({ x: expect.closeTo(x, 15), y: expect.closeTo(y, 15) });
      for (let u = 0; u <= 1; u += 1 / 64) {
        const { x: px, y: py } = rationalAt(quarter, u);
        expect(Math.hypot(px, py)).toBeCloseTo(1, 15);
      }
    }
  });

  it('are those of verb, whatever their degree, knots and weights', () => {
    const verb = loadVerb() as unknown as { geom: { NurbsCurve: { byKnotsControlPointsWeights(...of: unknown[]): { point(u: number): number[] } } } };
    const figure = fc.double({ min: -100, max: 100, noNaN: true });
    fc.assert(fc.property(
      fc.integer({ min: 1, max: 5 }), fc.array(fc.tuple(figure, figure, fc.double({ min: 0.1, max: 9, noNaN: true }), fc.integer({ min: 0, max: 3 })), { minLength: 6, maxLength: 12 }),
      (degree, rows) => {
        let at = 0;
        const inner = rows.slice(degree + 1).map(([, , , step]) => (at += step));
        // No knot so often that the curve breaks: verb has no such curves.
        if (inner.some((knot, i) => inner.filter((other) => other === knot).length > degree || (i === 0 && knot === 0)) || inner.includes(0)) return;
        const knots = [...new Array<number>(degree + 1).fill(0), ...inner, ...new Array<number>(degree + 1).fill(at + 1)];
        const curve: Rational = { degree, knots, points: rows.flatMap(([x, y]) => [x, y]), weights: rows.map(([, , w]) => w) };
        const theirs = verb.geom.NurbsCurve.byKnotsControlPointsWeights(degree, knots, rows.map(([x, y]) => [x, y, 0]), [...curve.weights]);
        const back = backward(curve);
        for (let k = 0; k <= 16; k++) {
          const u = ((at + 1) * k) / 16;
          const [p, q, want] = [rationalAt(curve, u), rationalAt(back, at + 1 - u), theirs.point(u)];
          expect(Math.hypot(p.x - want[0], p.y - want[1])).toBeLessThan(1e-9);
          expect(Math.hypot(q.x - p.x, q.y - p.y)).toBeLessThan(1e-9);
        }
      },
    ), { seed: 11, numRuns: 120 });
  });

  it('make arcs of any turn exactly, keep them under any map, and sample them within what is asked', () => {
    for (const [from, to] of [[0, 2 * Math.PI], [1, -2], [0.3, 0.4], [-3, 3]] as const) {
      const one = arc({ x: 3, y: -2 }, { x: 5, y: 0 }, { x: 0, y: 2 }, from, to);
      const flat: number[] = [];
      sampled(one, 1e-4, Infinity, flat);
      for (let i = 0; i < flat.length; i += 2) expect(((flat[i] - 3) / 5) ** 2 + ((flat[i + 1] + 2) / 2) ** 2).toBeCloseTo(1, 13);
      const [a, b] = endsOf(mapped(one, [0, 1, -2, 0, 7, 8]));
      for (const [p, t] of [[a, from], [b, to]] as const) expect(p).toEqual({ x: expect.closeTo(-2 * (2 * Math.sin(t) - 2) + 7, 12), y: expect.closeTo(3 + 5 * Math.cos(t) + 8, 12) });
    }
    // Chords of a circle of radius 100 within 0.01: sag r (1 - cos(half angle)), so no fewer than 2 pi / 2 acos(1 - s / r).
    const flat: number[] = [];
    sampled(arc({ x: 0, y: 0 }, { x: 100, y: 0 }, { x: 0, y: 100 }, 0, 2 * Math.PI), 0.01, Infinity, flat);
    const chords = flat.length / 2 - 1;
    for (let i = 0; i + 3 < flat.length; i += 2) expect(100 - Math.hypot(flat[i] + flat[i + 2], flat[i + 1] + flat[i + 3]) / 2).toBeLessThanOrEqual(0.01 + 1e-12);
    expect(chords).toBeGreaterThanOrEqual(Math.ceil(Math.PI / Math.acos(1 - 1e-4)));
    expect(chords).toBeLessThan(1000);
  });
});

describe('SVG', () => {
  it('arcs by all their flags: the figures of SVG 2, section 9.5.1 (from memory)', () => {
    // Three quarters of a circle of radius 150 and its two radii; a quarter and its own.
    expect(lengthOf(curvesOf(svg('<path d="M300,200 h-150 a150,150 0 1,0 150,-150 z"/>'))[0])).toBeCloseTo(300 + 1.5 * Math.PI * 150, 3);
    expect(lengthOf(curvesOf(svg('<path d="M275,175 v-150 a150,150 0 0,0 -150,150 z"/>'))[0])).toBeCloseTo(300 + 0.5 * Math.PI * 150, 3);
    // The four ways from one place to another: each lies on an ellipse of semi-axes 100 and 50 about one of two centres, and is the small or the large part of it.
    const lengths = [[0, 0], [0, 1], [1, 0], [1, 1]].map(([large, sweep]) => {
      const [one] = curvesOf(svg(`<path d="M125,75 a100,50 0 ${large},${sweep} 100,50"/>`));
      const [start, end] = [endsOf(one.pieces[0])[0], endsOf(one.pieces[0])[1]];
      expect([start.x, start.y, end.x, end.y]).toEqual([125, -75, 225, -125].map((v) => expect.closeTo(v, 10)));
      // Centres (225, 75) and (125, 125): the ellipses through both places.
      const centre = large === sweep ? { x: 225, y: -75 } : { x: 125, y: -125 };
      for (const p of placesOf(one, 1e-2, Infinity)) expect(((p.x - centre.x) / 100) ** 2 + ((p.y - centre.y) / 50) ** 2).toBeCloseTo(1, 12);
      return lengthOf(one);
    });
    // A quarter and three quarters of the perimeter, 9.68844822 times 50 (shared check values: 8 E(m = 3/4)).
    const perimeter = 50 * 9.68844822;
    lengths.forEach((length, i) => expect(length).toBeCloseTo(perimeter * (i < 2 ? 0.25 : 0.75), 3));
    // Radii too small are drawn out until the arc reaches (section 9.5.1): a half circle; without one it is straight.
    expect(lengthOf(curvesOf(svg('<path d="M0 0A1 1 0 0 0 20 0"/>'))[0])).toBeCloseTo(10 * Math.PI, 4);
    expect(lengthOf(curvesOf(svg('<path d="M0 0A0 9 0 0 0 20 0"/>'))[0])).toBe(20);
    // Flags without anything between them.
    expect(lengthOf(curvesOf(svg('<path d="M0 0a10 10 0 0120 0"/>'))[0])).toBeCloseTo(10 * Math.PI, 4);
  });

  it('shapes, groups, copies and transforms where the specification puts them, y up', () => {
    const centre = (result: DrawingRead, at = 0) => {
      const { low, high } = boxOf([curvesOf(result)[at]]);
      return [(low.x + high.x) / 2, (low.y + high.y) / 2, high.x - low.x, high.y - low.y].map((v) => Math.round(v * 1e9) / 1e9 + 0);
    };
    expect(centre(svg('<circle cx="10" cy="20" r="5"/>'))).toEqual([10, -20, 10, 10]);
    expect(centre(svg('<ellipse cx="10" rx="5"/>'))).toEqual([10, 0, 10, 10]);
    expect(centre(svg('<rect x="1" y="2" width="30" height="10" rx="3"/>'))).toEqual([16, -7, 30, 10]);
    expect(lengthOf(curvesOf(svg('<rect width="30" height="10" rx="3"/>'))[0])).toBeCloseTo(2 * (24 + 4) + 6 * Math.PI, 4);
    expect(centre(svg('<polygon points="0,0 10,0 10,4"/>'))).toEqual([5, -2, 10, 4]);
    expect(curvesOf(svg('<polyline points="0,0 10,0 10,4"/>'))[0].closed).toBe(false);
    // Leftmost outermost: moved, then turned about where it came to.
    expect(centre(svg('<g transform="translate(10 0) rotate(90)"><line x2="8" y2="0"/></g>'))).toEqual([10, -4, 0, 8]);
    expect(centre(svg('<line transform="rotate(90, 4 0)" x2="8"/>'))).toEqual([4, 0, 0, 8]);
    expect(centre(svg('<line transform="skewX(45) scale(2, 3)" x2="0" y2="4"/>'))).toEqual([6, -6, 12, 12]);
    expect(centre(svg('<line transform="matrix(0 1 -1 0 5 6)" x2="8"/>'))).toEqual([5, -10, 0, 8]);
    expect(centre(svg('<defs><g id="a"><line x2="8"/></g></defs><use href="#a" x="1" y="2" transform="scale(2)"/>'))).toEqual([10, -4, 16, 0]);
    expect(centre(svg('<svg x="10" y="20" width="50" height="50" viewBox="0 0 10 10"><line x2="2"/></svg>'))).toEqual([15, -20, 10, 0]);
    // Every subpath a curve of its own; Q and T, S, H and V.
    const several = curvesOf(svg('<path id="p" d="M0 0Q5 5 10 0T20 0M0 30H10V40zM50 50c0 5 5 5 5 0s5 -5 5 0"/>'));
    expect(several.map(({ name, pieces, closed }) => [name, pieces.length, closed])).toEqual([['path “p”', 2, false], ['path “p”', 3, true], ['path “p”', 2, false]]);
    const middle = rationalAt(several[0].pieces[1], 0.5);
    expect([middle.x, middle.y]).toEqual([15, 2.5]);
    expect(curvesOf(svg('<g id="plan"><g label="Outline"><line x2="3"/></g></g>'))[0].layer).toBe('Outline');
  });

  it('has a unit where the page is given in one', () => {
    const unit = (head: string) => read(svg('<line x2="5"/>', head)).unit;
    expect(unit('width="210mm" height="297mm" viewBox="0 0 210 297"')).toBeCloseTo(1, 12);
    expect(unit('width="21cm" viewBox="0 0 2100 2970"')).toBeCloseTo(0.1, 12);
    expect(unit('width="8in" height="4in"')).toBeCloseTo(25.4 / 96, 12);
    // Fitted whole into a page of another shape, the narrower side decides (preserveAspectRatio, section 8.8).
    expect(unit('width="100mm" height="50mm" viewBox="0 0 100 100"')).toBeCloseTo(0.5, 12);
    for (const head of ['', 'viewBox="0 0 9 9"', 'width="500" height="300"', 'width="100%" viewBox="0 0 9 9"']) expect(unit(head)).toBeUndefined();
  });

  it('tells what it leaves out, and names line and element where it cannot read', () => {
    const { notes } = read(svg('<text>a</text><image/><text/><line x2="1"/><g style="fill:none; display: none"><line x2="9"/></g>'));
    expect(notes.map(mmText)).toEqual(['Left out: 2 text.', 'Left out: 1 image.', 'Left out: 1 g that is not shown.']);
    expect(refused(svg('<g>\n<path id="rail" d="M0 0L5 x"/></g>'))).toMatchObject({ field: 'line 3, path “rail”', message: 'its path cannot be read' });
    expect(refused(svg('<path d="M0 0A1 1 0 2 0 3 3"/>'))).toMatchObject({ field: 'line 2, path', value: expect.stringContaining('flag') });
    expect(refused(svg('<circle r="5%"/>'))).toMatchObject({ field: 'line 2, circle', value: '5%', message: 'r is not a length that can be read' });
    expect(refused(svg('<line transform="spin(3)" x2="1"/>'))).toMatchObject({ value: 'spin(3)' });
    expect(refused(svg('<line transform="rotate(3" x2="1"/>'))).toMatchObject({ value: 'rotate(3' });
    expect(refused(svg('<use href="#none"/>'))).toMatchObject({ field: 'line 2, use', value: '#none' });
    expect(refused(svg('<g id="a"><use href="#a"/></g>')).message).toBe('the copy holds itself');
    expect(refused(svg('<path d="M0 0L1e300 5"/>')).message).toBe('its path leaves any drawing');
    expect(refused(svg('<line x2="1"/>', 'viewBox="0 0 0 9"')).message).toBe('its viewBox cannot be read');
    expect(refused(readSvg('<svg>\n<g></svg>'))).toMatchObject({ field: 'line 2, XML' });
    expect(refused(readSvg('<html><path d="M0 0L1 1"/></html>')).message).toBe('this is not an SVG file');
    expect(refused(svg('')).message).toMatch(/nothing in this drawing/);
    // Ten entities of ten each, eight deep, are a file of a few lines and a page of a hundred million letters.
    const bomb = `<!DOCTYPE svg [<!ENTITY a0 "x">${Array.from({ length: 8 }, (_, i) => `<!ENTITY a${i + 1} "${`&a${i};`.repeat(10)}">`).join('')}]><svg><path id="&a8;" d="M0 0L1 1"/></svg>`;
    const defused = readSvg(bomb);
    if (defused.ok) expect(defused.drawing.curves[0].name.length).toBeLessThan(200);
    const doubling = Array.from({ length: 40 }, (_, i) => `<g id="b${i + 1}"><use href="#b${i}"/><use href="#b${i}"/></g>`).join('');
    expect(refused(svg(`<defs><line id="b0" x2="1"/>${doubling}</defs><use href="#b40"/>`)).message).toMatch(/far too many/);
  });
});

/** A DXF file with lines, bulges, arcs, ellipses, a rational spline and a block, in inches. */
const everyCurve = (): string => {
  const writer = new DxfWriter();
  writer.setUnits(Units.Inches);
  writer.addLayer('plan', 5, 'Continuous');
  const on = { layerName: 'plan' };
  writer.addLine(point3d(0, 0), point3d(30, 10), on);
  writer.addArc(point3d(50, 50), 20, 300, 60, on);
  writer.addCircle(point3d(-40, 10), 7, on);
  writer.addEllipse(point3d(100, 0), point3d(30, 10), 0.4, 0.5, 4, on);
  writer.addLWPolyline([
    { point: point2d(0, 100), bulge: 0.5 }, { point: point2d(40, 100), bulge: -1.4 }, { point: point2d(60, 120) }, { point: point2d(0, 140), bulge: 0.2 },
  ], { ...on, flags: LWPolylineFlags.Closed });
  writer.addSpline({
    degreeCurve: 3, controlPoints: [[0, 200], [20, 260], [60, 180], [90, 240], [130, 200]].map(([x, y]) => point3d(x, y)), knots: [0, 0, 0, 0, 0.4, 1, 1, 1, 1], weights: [1, 2, 0.5, 3, 1],
  }, on);
  const block = writer.addBlock('half');
  block.addArc(point3d(5, 0), 10, 0, 180);
  block.addLine(point3d(0, 0), point3d(8, 3));
  writer.addInsert('half', point3d(200, 30), { rotationAngle: 30, scaleFactor: { x: 2, y: 2, z: 1 } });
  return writer.stringify();
};

describe('DXF', () => {
  it('lies where another reader draws it: lines, bulges, arcs, ellipses, rational splines, blocks', () => {
    const text = everyCurve();
    const { curves, unit, notes } = read(readDxf(text));
    expect(unit).toBe(25.4);
    expect(notes).toEqual([]);
    expect(curves.map(({ name, layer, closed }) => `${name} ${layer} ${closed ? 'closed' : 'open'}`).sort()).toEqual([
      'ARC 0 open', 'ARC plan open', 'CIRCLE plan closed', 'ELLIPSE plan open', 'LINE 0 open', 'LINE plan open', 'LWPOLYLINE plan closed', 'SPLINE plan open',
    ]);
    const other = require('dxf') as { Helper: new (text: string) => { toPolylines(): { polylines: { vertices: number[][] }[] } } };
    const { polylines } = new other.Helper(text).toPolylines();
    expect(polylines).toHaveLength(8);
    let count = 0;
    const walks = curves.map((curve) => placesOf(curve, 1e-5, Infinity));
    for (const { vertices } of polylines) {
      for (const [x, y] of vertices) {
        count++;
        // Our chords sag by 1e-5 at most.
        expect(wayTo(walks, x, y)).toBeLessThan(1.1e-5);
      }
    }
    expect(count).toBeGreaterThan(200);
  });

  it('takes the weights of a spline, what is mirrored, rows of copies and old polylines as the reference has them', () => {
    // A quarter circle by weights 1, cos 45 degrees, 1.
    const [quarter] = curvesOf(dxf('0|SPLINE|8|a|70|4|71|2|72|6|73|3|40|0|40|0|40|0|40|1|40|1|40|1|41|1|41|0.7071067811865476|41|1|10|5|20|0|10|5|20|5|10|0|20|5'));
    for (const { x, y } of placesOf(quarter, 1e-4, Infinity)) expect(Math.hypot(x, y)).toBeCloseTo(5, 12);
    // Seen from below: x mirrored, and the ellipse the other way about.
    const [arcBelow] = curvesOf(dxf('0|ARC|10|10|20|0|40|5|50|0|51|90|210|0|220|0|230|-1'));
    expect(endsOf(arcBelow.pieces[0]).map((p: At) => [Math.round(p.x), Math.round(p.y)])).toEqual([[-15, 0], [-10, 5]]);
    const [ellipseBelow] = curvesOf(dxf('0|ELLIPSE|10|0|20|0|11|4|21|0|40|0.5|41|0|42|1.5707963267948966|230|-1'));
    expect(endsOf(ellipseBelow.pieces[0])[1]).toEqual({ x: expect.closeTo(0, 12), y: expect.closeTo(-2, 12) });
    const block = '0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\nb\n10\n1\n20\n1\n0\nLINE\n8\n0\n10\n1\n20\n1\n11\n2\n21\n1\n0\nENDBLK\n0\nENDSEC\n';
    const copies = curvesOf(dxf('0|INSERT|8|row|2|b|10|100|20|50|41|2|50|90|70|2|44|10', block));
    expect(copies.map(({ layer, pieces }) => [layer, ...pieces[0].points.map((v) => Math.round(v * 1e9) / 1e9)])).toEqual([['row', 100, 50, 100, 52], ['row', 100, 60, 100, 62]]);
    const [old] = curvesOf(dxf('0|POLYLINE|8|q|70|1|0|VERTEX|10|0|20|0|42|1|0|VERTEX|10|10|20|0|0|VERTEX|10|5|20|5|70|16|0|SEQEND'));
    expect(lengthOf(old)).toBeCloseTo(5 * Math.PI + 10, 4);
    expect(old).toMatchObject({ name: 'POLYLINE', closed: true, layer: 'q', place: 'line 6' });
  });

  it('joins what touches end to end on one layer, whichever way it runs, but not where three meet', () => {
    const line = (x: number, y: number, u: number, v: number, layer = 'a') => `0|LINE|8|${layer}|10|${x}|20|${y}|11|${u}|21|${v}`;
    const [ring, ...rest] = curvesOf(dxf([line(0, 0, 10, 0), line(10, 10, 10, 0.00002), '0|ARC|8|a|10|5|20|10|40|5|50|0|51|180', line(0, 10, 0, 0)].join('|')));
    expect(rest).toEqual([]);
    expect(ring).toMatchObject({ closed: true, name: 'LINE' });
    expect(lengthOf(ring)).toBeCloseTo(30 + 5 * Math.PI, 3);
    expect(curvesOf(dxf([line(0, 0, 10, 0), line(10, 0, 20, 5), line(10, 0, 20, -5)].join('|')))).toHaveLength(3);
    expect(curvesOf(dxf([line(0, 0, 10, 0), line(10, 0, 20, 5, 'b')].join('|')))).toHaveLength(2);
    const [chain] = curvesOf(dxf([line(20, 5, 10, 0), line(0, 0, 10, 0), line(20, 5, 30, 5)].join('|')));
    expect(chain.closed).toBe(false);
    expect(placesOf(chain, 1, 100).map(({ x }) => x)).toEqual(expect.arrayContaining([0, 10, 20, 30]));
    expect(lengthOf(chain)).toBeCloseTo(20 + 2 * Math.hypot(10, 5) - Math.hypot(10, 5), 9);
  });

  it('tells what it leaves out, and names line, entity and layer where it cannot read', () => {
    const { notes } = read(dxf('0|TEXT|1|hi|0|LINE|10|0|20|0|11|1|21|0|0|HATCH|0|TEXT|0|LINE|67|1|10|0|20|0|11|1|21|1|0|ARC|210|1|220|0|230|0'));
    expect(notes.map(mmText)).toEqual(['Left out: 2 TEXT.', 'Left out: 1 HATCH.', 'Left out: 1 LINE on a paper sheet.', 'Left out: 1 ARC that does not lie in the plane of the drawing.']);
    expect(refused(dxf('0|ARC|8|plan|10|0|20|0|40|x|50|0|51|9'))).toMatchObject({ field: 'line 6, ARC on layer “plan”, line 14', value: 'x', message: 'group 40 is not a number it can be' });
    expect(refused(dxf('0|CIRCLE|10|0|20|0|40|-3'))).toMatchObject({ field: 'line 6, CIRCLE on layer “0”', value: '−3', allowed: 'more than 0' });
    expect(refused(dxf('0|LINE|10|0|20|0|11|5')).message).toBe('group 21 is missing');
    const spline = (more: string) => refused(dxf(`0|SPLINE|8|s|71|2|40|0|40|0|40|0|40|1|40|1|40|1|10|0|20|0|10|1|20|1|${more}`));
    expect(spline('39|0')).toMatchObject({ value: '2 control points', allowed: '3 or more' });
    expect(spline('10|2|20|0|40|0').message).toMatch(/so many knots go with 3 control points of degree 2/);
    expect(spline('10|2|20|0|41|1|41|0|41|1')).toMatchObject({ field: 'line 6, SPLINE on layer “s”', value: 'weight 2: 0' });
    expect(spline('10|2|20|0|41|1').value).toBe('1 weights');
    const through = (more: string) => refused(dxf(`0|SPLINE|8|s|71|3|${more}`));
    expect(through('11|0|21|0|11|0|21|0')).toMatchObject({ field: 'line 6, SPLINE on layer “s”', value: '1 fit points', allowed: '2 or more, not in one place' });
    expect(through('70|1|11|0|21|0|11|5|21|0|11|0|21|0')).toMatchObject({ value: '2 fit points', allowed: '3 or more, not in one place' });
    expect(through('11|0|21|0|11|5')).toMatchObject({ value: '2 x and 1 y', message: 'its fit points are not whole' });
    expect(refused(dxf('0|INSERT|2|none|10|0|20|0')).message).toBe('no block of this name is in the file');
    const nested = '0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\nb\n0\nINSERT\n2\nb\n0\nENDBLK\n0\nENDSEC\n';
    expect(refused(dxf('0|INSERT|2|b', nested)).message).toBe('the block holds itself');
    expect(refused(dxf('0|INSERT|2|b|70|9000|71|9000', nested)).message).toBe('far too many copies of one block');
    expect(refused(readDxf('0\nSECTION\nx\nENTITIES\n'))).toMatchObject({ field: 'line 3, group code', value: 'x' });
    expect(refused(readDxf('0\nSECTION\n2\nHEADER\n0\nEOF\n')).message).toMatch(/not a DXF file/);
    expect(refused(readDxf('AC\u0000\u0001')).value).toBe('a file of another kind');
    expect(read(readDxf('0\nSECTION\n2\nENTITIES\n0\nLINE\n10\n0\n20\n0\n11\n5\n21\n0\n')).notes.map(mmText)).toEqual([expect.stringContaining('no end mark')]);
    const units = (code: number) => read(dxf('0|LINE|10|0|20|0|11|5|21|0', `0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n${code}\n0\nENDSEC\n`)).unit;
    // DXF reference, $INSUNITS (read): 1 inches, 2 feet, 4 millimetres, 5 centimetres, 6 metres, 0 none.
    expect([1, 2, 4, 5, 6, 0].map(units)).toEqual([25.4, 304.8, 1, 10, 1000, undefined]);
  });

  it('goes through a spline\'s fit points where it has no control points, as SciPy 1.17 does through the same', () => {
    const fit = [[0, 0], [30, 40], [90, 50], [120, 10], [200, -30]].flatMap(([x, y]) => ['11', x, '21', y]).join('|');
    const at = (more: string) => {
      const [{ pieces: [piece], closed }] = curvesOf(dxf(`0|SPLINE|8|s|71|3|${more}${fit}`));
      return { closed, places: [25, 80, 137.5, 210].map((u) => rationalAt(piece, piece.knots[piece.degree] + u)) };
    };
    const near = (rows: readonly (readonly [number, number])[]) => rows.map(([x, y]) => ({ x: expect.closeTo(x, 9), y: expect.closeTo(y, 9) }));
    // scipy.interpolate.CubicSpline at these ways along the chords: natural; clamped to (0, 1) and (0.6, -0.8); to the first alone; periodic.
    expect(at('')).toEqual({ closed: false, places: near([[12.650065003998778, 21.56833534000422], [59.94023281418098, 53.274784787256685], [107.05861563040884, 30.68278403190806], [159.51712482134963, -17.864568183367467]]) });
    expect(at('12|0|22|7|13|3|23|-4|')).toEqual({ closed: false, places: near([[8.786219340540907, 22.463761680851878], [61.48790807329003, 53.23421859181018], [106.0754579720348, 29.868668886760215], [165.75582075159696, -10.315411586210343]]) });
    expect(at('12|0|22|1|13|0|23|0|')).toEqual({ closed: false, places: near([[8.820647015389197, 22.507037011323263], [61.262351101404285, 52.950695160689534], [106.77787491371782, 30.751601742784498], [159.71207418335536, -17.912355939230547]]) });
    const round = near([[8.819098137332045, 20.584582121461207], [61.67679582819825, 53.596709468060105], [105.42197101059598, 30.66870374106815], [171.41633799359303, -18.315533033179616]]);
    expect(at('70|1|')).toEqual({ closed: true, places: round });
    // The same where the first point is there again as the last.
    expect(at('70|1|11|200|21|-30|').closed).toBe(true);
    const [again] = curvesOf(dxf(`0|SPLINE|8|s|70|11|71|3|${fit}|11|0|21|0`));
    expect([25, 80, 137.5, 210].map((u) => rationalAt(again.pieces[0], again.pieces[0].knots[3] + u))).toEqual(round);
    const [start, end] = endsOf(again.pieces[0]);
    expect(Math.hypot(end.x - start.x, end.y - start.y)).toBeLessThan(1e-9);
  });

  describe('of the binary kind', () => {
    /** A text file's tags as the DXF reference has a binary one: a code of two bytes, or before R13 of one, and its value by the code. */
    const binary = (text: string, wide: boolean): { readonly bytes: Buffer; readonly starts: readonly number[] } => {
      const lines = text.trim().split(/\r?\n/);
      const out: Buffer[] = [Buffer.from('AutoCAD Binary DXF\r\n\u001a\0', 'latin1')];
      const starts: number[] = [];
      let size = out[0].length;
      const put = (part: Buffer) => {
        out.push(part);
        size += part.length;
      };
      const number = (bytes: number, write: (into: Buffer) => void) => {
        const part = Buffer.alloc(bytes);
        write(part);
        put(part);
      };
      for (let i = 0; i < lines.length; i += 2) {
        const [code, value] = [Number(lines[i]), lines[i + 1].trim()];
        starts.push(size);
        if (wide) number(2, (b) => b.writeInt16LE(code));
        else if (code < 255) put(Buffer.of(code));
        else number(3, (b) => (b.writeUInt8(255), b.writeInt16LE(code, 1)));
        const of = (...ranges: readonly (readonly [number, number])[]) => ranges.some(([from, to]) => code >= from && code <= to);
        if (of([10, 59], [110, 149], [210, 239], [460, 469], [1010, 1059])) number(8, (b) => b.writeDoubleLE(Number(value)));
        else if (of([60, 79], [170, 179], [270, 289], [370, 389], [400, 409], [1060, 1070])) number(2, (b) => b.writeInt16LE(Number(value)));
        else if (of([90, 99], [420, 429], [440, 459], [1071, 1071])) number(4, (b) => b.writeInt32LE(Number(value)));
        else if (of([160, 169])) number(8, (b) => b.writeBigInt64LE(BigInt(value)));
        else if (of([290, 299])) put(Buffer.of(Number(value)));
        else if (of([310, 319])) put(Buffer.concat([Buffer.of(value.length / 2), Buffer.from(value, 'hex')]));
        else put(Buffer.from(`${value}\0`));
      }
      return { bytes: Buffer.concat(out), starts };
    };
    const plain = (curves: readonly DrawnCurve[]) => curves.map((curve) => ({ ...curve, place: '' }));
    const more = '0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n1\n0\nENDSEC\n';

    it('holds the same curves, with codes of two bytes and of one', () => {
      const text = everyCurve().replaceAll('\nplan\n', '\nPlän\n').replace('0\nENDSEC\n0\nEOF', '0\nIMAGE\n310\n00ff0a\n160\n-5\n1071\n-7\n0\nENDSEC\n0\nEOF');
      const want = read(readDxf(text));
      for (const wide of [true, false]) {
        const { bytes } = binary(text, wide);
        expect(isBinaryDxf(bytes)).toBe(true);
        const got = read(readDxf(new Uint8Array(bytes)));
        expect(plain(got.curves)).toEqual(plain(want.curves));
        expect(got.curves.some(({ layer }) => layer === 'Plän')).toBe(true);
        expect({ unit: got.unit, notes: got.notes }).toEqual({ unit: want.unit, notes: want.notes });
      }
      expect(isBinaryDxf(Buffer.from(text))).toBe(false);
    });

    it('names the entity that breaks off or is wrong, with its byte', () => {
      const text = `${more}0\nSECTION\n2\nENTITIES\n0\nLINE\n10\n0\n20\n0\n11\n5\n21\n0\n0\nARC\n8\nplan\n10\n0\n20\n0\n40\n-3\n50\n0\n51\n9\n0\nENDSEC\n0\nEOF\n`;
      const { bytes, starts } = binary(text, true);
      const tag = (code: number, value: string) => starts[text.split('\n').findIndex((line, i, lines) => i % 2 === 0 && line === String(code) && lines[i + 1] === value) / 2];
      const arc = tag(0, 'ARC') + 2;
      const whole = (given: Buffer) => readDxf(new Uint8Array(given));
      expect(refused(whole(bytes))).toMatchObject({ field: `byte ${arc}, ARC on layer “plan”`, value: '−3' });
      // In its radius, and in its layer's name; where an entity is whole but the file goes no further, it is as of text.
      const radius = tag(40, '-3');
      expect(refused(whole(bytes.subarray(0, radius + 5)))).toMatchObject({ field: `byte ${arc}, ARC on layer “plan”`, value: `breaks off at byte ${radius + 5}`, allowed: `${radius + 10} bytes or more`, message: 'the file is cut short in this entity' });
      expect(refused(whole(bytes.subarray(0, tag(8, 'plan') + 4)))).toMatchObject({ field: `byte ${arc}, ARC` });
      expect(read(whole(bytes.subarray(0, arc - 2))).notes.map(mmText)).toEqual([expect.stringContaining('no end mark')]);
      const damaged = Buffer.from(bytes);
      damaged.writeInt16LE(85, radius);
      expect(refused(whole(damaged))).toMatchObject({ field: `byte ${arc}, ARC on layer “plan”`, value: `group 85 at byte ${radius + 2}` });
      expect(refused(whole(bytes.subarray(0, 22))).message).toMatch(/not a DXF file/);
      // Cut anywhere, or with any byte changed: a drawing or a named error.
      for (let i = 22; i < bytes.length; i++) {
        expect(() => whole(bytes.subarray(0, i))).not.toThrow();
        const other = Buffer.from(bytes);
        other[i] ^= 0xff;
        expect(() => whole(other)).not.toThrow();
      }
    });
  });

  it('never throws, whatever the file', () => {
    const word = fc.oneof(fc.constantFrom('0', '10', '20', '40', '42', '70', '71', 'LINE', 'SPLINE', 'INSERT', 'BLOCK', 'LWPOLYLINE', 'POLYLINE', 'VERTEX', 'ELLIPSE', '2', 'b', '1e308', '-1', 'SECTION', 'ENTITIES'), fc.string({ maxLength: 6 }));
    fc.assert(fc.property(fc.array(word, { maxLength: 60 }), (words) => {
      for (const result of [readDxf(words.join('\n')), dxf(words.join('|')), readSvg(`<svg>${words.map((w) => `<path d="${w.replace(/[<&"]/g, '')}"/>`).join('')}</svg>`)]) {
        if (result.ok) for (const { pieces } of result.drawing.curves) for (const { points } of pieces) expect(points.every(Number.isFinite)).toBe(true);
        else expect(result.errors).not.toHaveLength(0);
      }
    }), { seed: 8, numRuns: 400 });
    fc.assert(fc.property(fc.string({ maxLength: 80 }), (text) => void readSvg(text)), { seed: 9, numRuns: 400 });
  });
});

// Used where a curve is one straight line: kept here so that a degree-1 curve is held too.
it('a straight line is two places however fine it is sampled', () => {
  const flat: number[] = [];
  sampled(bezier(0, 0, 9, 3), 1e-9, 1e-3, flat);
  expect(flat).toEqual([0, 0, 9, 3]);
});
