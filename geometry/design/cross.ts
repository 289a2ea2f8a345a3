/** Checks between fields: each field alone lets through a board that the others make impossible. */
import { breaks, evalSpline, type Spline } from '../curves/bspline';
import { graphSpline, valueAt } from '../curves/graph';
import { buildOutline, widestPoint } from '../curves/outline';
import { graphRange } from '../curves/range';
import { BuildError, type FieldError } from '../errors';
import { mm, range, said, size, type Said } from '../said';
import { fieldRange, fieldUnit } from './fields';
import type { Design, LengthCurveDesign, LengthCurveName } from './schema';
import { BUILT_IN_SPECIES } from './timber';

/** Least board length, mm, and least distance between neighbouring points of a curve, mm: own choices. */
const LEAST_LENGTH = 300;
export const LEAST_POINT_STEP = 1;
/** How far a length curve's end may miss the board's end, mm: rounding of the file, no more. */
const END_TOLERANCE = 0.001;
/** Samples per outline span when looking for a crossing. */
const SAMPLES = 24;

const error = (field: string, value: Said, allowed: Said, message: Said): FieldError => ({ field, value, allowed, message });
const moreThan = (figure: Said): Said => said('more than {figure}', { figure });

/** The value a spline may not leave between its points, for curves where leaving it makes no section. */
const KEPT_WITHIN: readonly LengthCurveName[] = ['apex', 'fullness', 'tuck', 'turn'];

function rising(field: string, points: readonly { x: number }[]): FieldError[] {
  for (let i = 1; i < points.length; i++) {
    if (points[i].x - points[i - 1].x < LEAST_POINT_STEP) {
      return [error(`${field}.points[${i}].x`, size(points[i].x), said('{x} or more', { x: size(points[i - 1].x + LEAST_POINT_STEP) }),
        said('must lie at least {step} beyond the point before it', { step: size(LEAST_POINT_STEP) }))];
    }
  }
  return [];
}

function outlineErrors(design: Design): FieldError[] {
  const { points } = design.lines.outline;
  const field = 'lines.outline';
  const found = rising(field, points);
  const last = points.length - 1;
  if (points[0].x !== 0) found.push(error(`${field}.points[0].x`, size(points[0].x), size(0), 'the outline starts at the tail, x = 0'));
  if (points[last].x < LEAST_LENGTH) {
    found.push(error(`${field}.points[${last}].x`, size(points[last].x), range(LEAST_LENGTH, 6000), 'the outline ends at the nose: the board would be too short'));
  }
  for (let i = 1; i < last; i++) {
    if (!(points[i].y > 0)) {
      found.push(error(`${field}.points[${i}].y`, size(points[i].y), moreThan(size(0)), 'only the tail and the nose may lie on the centreline'));
    }
  }
  return found;
}

function spanErrors(name: LengthCurveName, curve: LengthCurveDesign, length: number): FieldError[] {
  const { points } = curve;
  const field = `lines.${name}`;
  const last = points.length - 1;
  const found = rising(field, points);
  if (Math.abs(points[0].x) > END_TOLERANCE) {
    found.push(error(`${field}.points[0].x`, size(points[0].x), size(0), 'the curve must start at the tail'));
  }
  if (Math.abs(points[last].x - length) > END_TOLERANCE) {
    found.push(error(`${field}.points[${last}].x`, size(points[last].x), size(length), 'the curve must end at the nose, where the outline ends'));
  }
  return found;
}

/** Errors of the curves between their points: the spline may swing where the points do not. */
function swingErrors(design: Design, splines: Record<LengthCurveName, Spline>): FieldError[] {
  const found: FieldError[] = [];
  const { bottom, deck } = design.skins;
  const thin = graphRange(splines.thickness);
  if (!(thin.min > bottom + deck)) {
    found.push(error('lines.thickness', said('{thickness} at {x}', { thickness: mm(thin.min, 2), x: mm(thin.xMin) }),
      said('more than {skins} (bottom and deck skin)', { skins: size(bottom + deck) }), 'the board is no thicker than its skins there'));
  }
  for (const name of KEPT_WITHIN) {
    const path = ['lines', name, 'points', 0, 'v'];
    const allowed = fieldRange(path);
    if (allowed === undefined) continue;
    const { min, xMin, max, xMax } = graphRange(splines[name]);
    const [v, x] = min < allowed.min ? [min, xMin] : [max, xMax];
    if (v < allowed.min - 1e-9 || v > allowed.max + 1e-9) {
      const of = fieldUnit(path);
      found.push(error(`lines.${name}`, said('{v} at {x}', { v: { of, value: v, decimals: of === 'mm' ? 2 : 3 }, x: mm(x) }), range(allowed.min, allowed.max, of),
        'the curve swings out of its range between its points; add a point or ease its ends'));
    }
  }
  return found;
}

/** The least depth from bottom to deck anywhere in plan, finished outside, and the place. */
function leastDepth(outline: Spline, splines: Record<LengthCurveName, Spline>): { depth: number; x: number; y: number } {
  const basis = new Float64Array(12);
  const out = new Float64Array(6);
  let least = { depth: Infinity, x: 0, y: 0 };
  const spans = breaks(outline.knots);
  for (let k = 0; k + 1 < spans.length; k++) {
    for (let i = 0; i <= SAMPLES; i++) {
      evalSpline(outline, spans[k] + ((spans[k + 1] - spans[k]) * i) / SAMPLES, out, basis);
      const [x, y] = out;
      const thickness = valueAt(splines.thickness, x);
      const crown = valueAt(splines.crown, x) * y;
      const vee = valueAt(splines.vee, x) * y;
      const concave = valueAt(splines.concave, x) * y;
      for (let j = 1; j <= 8; j++) {
        // The sections' own rule: deck falls by crown v^2, bottom rises by vee v and sinks by concave (3 v^2 - 2 v^3).
        const v = j / 8;
        const depth = thickness - crown * v * v - vee * v + concave * v * v * (3 - 2 * v);
        if (depth < least.depth) least = { depth, x, y: v * y };
      }
    }
  }
  return least;
}

function frameErrors(design: Design, length: number): FieldError[] {
  const found: FieldError[] = [];
  const { ribs, ribThickness, notchFit } = design.frames;
  const half = ribThickness / 2;
  // The stringer's notches are wider than the ribs by their fit, and must leave wood between them.
  const apart = ribThickness + Math.max(0, notchFit);
  for (let i = 0; i < ribs.length; i++) {
    const field = `frames.ribs[${i}]`;
    if (ribs[i] - half <= 0 || ribs[i] + half >= length) {
      found.push(error(field, size(ribs[i]), said('more than {least} and less than {most}', { least: size(half), most: size(length - half) }), 'the rib is outside the board'));
    }
    if (i > 0 && ribs[i] - ribs[i - 1] <= apart) {
      found.push(error(field, size(ribs[i]), moreThan(size(ribs[i - 1] + apart)),
        ribs[i] <= ribs[i - 1] ? 'ribs must be listed from tail to nose' : 'the rib, or its notch, cuts into the one before it'));
    }
  }
  return found;
}

/** Vent and fittings stand on the board; whether they clear its frames and its rail, the plan finds. */
function placeErrors({ vent, fittings = [] }: Design, length: number): FieldError[] {
  const off = (field: string, x: number) => (x > length
    ? [error(field, size(x), range(0, length), 'lies beyond the nose')] : []);
  return [...(vent ? off('vent.x', vent.x) : []), ...fittings.flatMap(({ x }, i) => off(`fittings[${i}].x`, x))];
}

function railErrors(design: Design, halfBreadth: number): FieldError[] {
  const found: FieldError[] = [];
  const { rail, frames, timber } = design;
  const outer = rail.outerLayers * rail.outerThickness + rail.shapingAllowance;
  const room = halfBreadth - outer - frames.stringerThickness / 2;
  if (!(rail.stripWidth < room)) {
    found.push(error('rail.stripWidth', size(rail.stripWidth),
      room > 0 ? said('less than {room} (half-breadth {breadth} less the outer skins and half the stringer)', { room: mm(room), breadth: mm(halfBreadth) })
      : 'no width at all on so narrow a board',
      'the strip is wider than the board has room for'));
  }
  if (!(rail.spacerWidth < rail.stripWidth)) {
    found.push(error('rail.spacerWidth', size(rail.spacerWidth), said('less than {strip} (the strip\'s width)', { strip: size(rail.stripWidth) }),
      'a spacer as wide as the strip leaves no hollow'));
  }
  for (const kind of ['strips', 'spacers'] as const) {
    const longest = Math.max(...timber[kind].map((s) => s.length));
    if (rail.leastPiece > longest) {
      found.push(error('rail.leastPiece', size(rail.leastPiece), said('at most {longest} (the longest of timber.{kind})', { longest: size(longest), kind }),
        'the least piece is longer than any on hand'));
    }
  }
  return found;
}

function timberErrors(design: Design): FieldError[] {
  const found: FieldError[] = [];
  const { timber } = design;
  const own = timber.species.map((s) => s.id);
  const sheets = BUILT_IN_SPECIES.filter(({ id, sheet }) => sheet && !own.includes(id)).map(({ id }) => id);
  const known = [...new Set([...own, ...BUILT_IN_SPECIES.map((s) => s.id)])];
  for (const part of ['rail', 'outer', 'skins', 'frames'] as const) {
    if (!known.includes(timber[part])) {
      found.push(error(`timber.${part}`, `"${timber[part]}"`, known.join(', '), 'no timber of this name is in the table or in the file'));
    }
  }
  for (const part of ['rail', 'outer'] as const) {
    if (sheets.includes(timber[part])) {
      found.push(error(`timber.${part}`, `"${timber[part]}"`, known.filter((id) => !sheets.includes(id)).join(', '), 'strips are ripped from boards, and plywood comes in sheets'));
    }
  }
  timber.species.forEach((species, i) => {
    if (own.indexOf(species.id) !== i) {
      found.push(error(`timber.species[${i}].id`, `"${species.id}"`, 'each id once', 'two batches of timber have the same id'));
    }
    if (species.steamLimit !== undefined && species.dryLimit !== undefined && species.steamLimit < species.dryLimit) {
      found.push(error(`timber.species[${i}].steamLimit`, species.steamLimit, said('{dry} (its dry limit) or more', { dry: species.dryLimit }),
        'steam never lowers what a strip can take'));
    }
  });
  return found;
}

/** Everything wrong between the fields of a design whose fields are each valid. Empty when all is well. */
export function crossErrors(design: Design): FieldError[] {
  const { lines } = design;
  const { points } = lines.outline;
  const length = points[points.length - 1].x;
  const { outline: _, ...curves } = lines;
  const names = Object.keys(curves) as LengthCurveName[];
  const shape = [...outlineErrors(design), ...names.flatMap((name) => spanErrors(name, lines[name], length))];
  const rest = [...frameErrors(design, length), ...timberErrors(design), ...placeErrors(design, length)];
  // The points' own widest, until the curve through them can be trusted.
  let widest = Math.max(...points.map((p) => p.y));
  if (shape.length > 0) return [...shape, ...rest, ...railErrors(design, widest)];
  const splines = Object.fromEntries(names.map((name) => [name, graphSpline(lines[name])])) as Record<LengthCurveName, Spline>;
  shape.push(...swingErrors(design, splines));
  try {
    const outline = buildOutline(lines.outline);
    widest = widestPoint(outline).halfBreadth;
    const least = leastDepth(outline, splines);
    if (shape.length === 0 && !(least.depth > 0)) {
      shape.push(error('lines.thickness', said('{depth} at {x}, {y} off the centreline', { depth: mm(least.depth, 2), x: mm(least.x), y: mm(least.y) }), moreThan(size(0)),
        'bottom and deck cross: raise the thickness, or lower the crown or the vee'));
    }
  } catch (e) {
    if (!(e instanceof BuildError)) throw e;
    shape.push(e.fault);
  }
  return [...shape, ...rest, ...railErrors(design, widest)];
}
