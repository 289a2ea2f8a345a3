/**
 * Reading a drawing from SVG (SVG 2, W3C Candidate Recommendation 2018): paths, basic shapes, groups, copies and
 * transforms. fast-xml-parser reads the XML and svg-pathdata the path data, arcs with their centres.
 */
import { XMLParser, XMLValidator } from 'fast-xml-parser';
import { SVGPathData, SVGPathDataTransformer } from 'svg-pathdata';
import { firstBeyond } from '../curves/chords';
import { arc, bezier, type Rational } from '../curves/rational';
import { said } from '../said';
import { DRAWING_LIMIT, fail, LeftOut, mappedCurve, MOST_PIECES, PIXEL, placeOf, readDrawing, type DrawingRead, type DrawnCurve } from './drawing';

/** x' = a x + c y + e, y' = b x + d y + f. */
type Affine = readonly [number, number, number, number, number, number];

/** An element as the XML reader gives it, in the order of the file. */
interface Element {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly inner: readonly Element[];
  readonly line: number;
}

/** User units of a length's unit (CSS Values 4, section 6.2). */
const PIXELS: Readonly<Record<string, number>> = { '': 1, px: 1, mm: 96 / 25.4, cm: 96 / 2.54, q: 96 / 101.6, in: 96, pt: 96 / 72, pc: 16 };
const DEEPEST = 200;
/** Farthest place from the origin, in the drawing's unit. */
const FARTHEST = 1e9;
const STILL: Affine = [1, 0, 0, 1, 0, 0];

const HOLDERS = ['g', 'a', 'svg', 'switch'];
/** Holds what is drawn only where something else asks for it, or is no drawing at all. */
const SILENT = ['defs', 'symbol', 'clipPath', 'mask', 'marker', 'pattern', 'title', 'desc', 'metadata', 'style', 'script', 'namedview', 'linearGradient', 'radialGradient', 'filter', '#text', '#comment'];

/** Begins, a line to, an arc to, closes ... by the path library's numbers. */
const { MOVE_TO, CLOSE_PATH, LINE_TO, CURVE_TO, QUAD_TO, ARC } = SVGPathData;

const NUMBER = String.raw`[-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?`;

const times = ([a, b, c, d, e, f]: Affine, [p, q, r, s, t, u]: Affine): Affine =>
  [a * p + c * q, b * p + d * q, a * r + c * s, b * r + d * s, a * t + c * u + e, b * t + d * u + f];

const nameOf = ({ name, line, attributes }: Element): string => placeOf(`line ${line}`, attributes.id ? `${name} “${attributes.id}”` : name);

/** A transform list (CSS Transforms 1, section 8): leftmost outermost. */
function transformOf(element: Element): Affine {
  const text = element.attributes.transform ?? '';
  let map = STILL;
  const rest = text.replace(/([a-zA-Z]+)\s*\(([^)]*)\)[\s,]*/g, (whole, kind: string, list: string) => {
    const v = (list.match(new RegExp(NUMBER, 'gi')) ?? []).map(Number);
    const clean = list.replace(new RegExp(NUMBER, 'gi'), '').replace(/[\s,]/g, '') === '';
    const turn = ((v[0] ?? 0) * Math.PI) / 180;
    const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
    const ways: Readonly<Record<string, () => Affine | undefined>> = {
      matrix: () => (v.length === 6 ? v as unknown as Affine : undefined),
      translate: () => (v.length === 1 || v.length === 2 ? [1, 0, 0, 1, v[0], v[1] ?? 0] : undefined),
      scale: () => (v.length === 1 || v.length === 2 ? [v[0], 0, 0, v[1] ?? v[0], 0, 0] : undefined),
      rotate: () => (v.length === 1 ? [cos, sin, -sin, cos, 0, 0] : v.length === 3 ? times(times([1, 0, 0, 1, v[1], v[2]], [cos, sin, -sin, cos, 0, 0]), [1, 0, 0, 1, -v[1], -v[2]]) : undefined),
      skewX: () => (v.length === 1 ? [1, 0, Math.tan(turn), 1, 0, 0] : undefined),
      skewY: () => (v.length === 1 ? [1, Math.tan(turn), 0, 1, 0, 0] : undefined),
    };
    const next = clean && Object.hasOwn(ways, kind) ? ways[kind]() : undefined;
    if (!next || next.some((n) => !Number.isFinite(n))) fail(nameOf(element), whole, 'matrix, translate, scale, rotate, skewX or skewY with their numbers', 'its transform cannot be read');
    map = times(map, next);
    return '';
  });
  if (rest.trim() !== '' && rest.trim() !== 'none') fail(nameOf(element), rest, 'matrix, translate, scale, rotate, skewX or skewY with their numbers', 'its transform cannot be read');
  return map;
}

const LENGTH = new RegExp(`^(${NUMBER})\\s*([a-z]*)$`, 'i');

/** A length attribute in user units. */
function lengthOf(element: Element, key: string, without?: number): number {
  const text = element.attributes[key]?.trim();
  if (text === undefined || text === '') return without ?? fail(nameOf(element), 'nothing', 'a length', said('{key} is missing', { key }));
  const parts = LENGTH.exec(text);
  const unit = parts?.[2].toLowerCase() ?? '?';
  const value = Object.hasOwn(PIXELS, unit) ? Number(parts?.[1]) * PIXELS[unit] : Number.NaN;
  if (!Number.isFinite(value) || Math.abs(value) > FARTHEST) fail(nameOf(element), text, 'a number, with px, mm, cm, Q, in, pt or pc or none of them', said('{key} is not a length that can be read', { key }));
  return value;
}

/** A basic shape as the path that SVG 2, chapter 10, says it is. */
function dataOf(element: Element): string {
  const at = (key: string, without?: number) => lengthOf(element, key, without);
  const radius = (key: string): number | undefined => (element.attributes[key] === undefined || element.attributes[key] === 'auto' ? undefined : at(key));
  const round = (cx: number, cy: number, rx: number, ry: number) =>
    (rx > 0 && ry > 0 ? `M${cx + rx} ${cy}A${rx} ${ry} 0 0 1 ${cx - rx} ${cy}A${rx} ${ry} 0 0 1 ${cx + rx} ${cy}Z` : '');
  switch (element.name) {
    case 'path':
      return element.attributes.d ?? '';
    case 'line':
      return `M${at('x1', 0)} ${at('y1', 0)}L${at('x2', 0)} ${at('y2', 0)}`;
    case 'circle':
      return round(at('cx', 0), at('cy', 0), at('r', 0), at('r', 0));
    case 'ellipse':
      return round(at('cx', 0), at('cy', 0), radius('rx') ?? radius('ry') ?? 0, radius('ry') ?? radius('rx') ?? 0);
    case 'rect': {
      const [x, y, w, h] = [at('x', 0), at('y', 0), at('width', 0), at('height', 0)];
      if (!(w > 0 && h > 0)) return '';
      const rx = Math.min(w / 2, radius('rx') ?? radius('ry') ?? 0);
      const ry = Math.min(h / 2, radius('ry') ?? radius('rx') ?? 0);
      if (!(rx > 0 && ry > 0)) return `M${x} ${y}H${x + w}V${y + h}H${x}Z`;
      const bend = (tx: number, ty: number) => `A${rx} ${ry} 0 0 1 ${tx} ${ty}`;
      return `M${x + rx} ${y}H${x + w - rx}${bend(x + w, y + ry)}V${y + h - ry}${bend(x + w - rx, y + h)}H${x + rx}${bend(x, y + h - ry)}V${y + ry}${bend(x + rx, y)}Z`;
    }
    default: {
      const text = element.attributes.points?.trim() ?? '';
      return text === '' ? '' : `M${text}${element.name === 'polygon' ? 'Z' : ''}`;
    }
  }
}

/** Path data as curves, one a subpath. */
function subpaths(element: Element): Pick<DrawnCurve, 'pieces' | 'closed'>[] {
  const data = dataOf(element);
  if (data.trim() === '' || data.trim() === 'none') return [];
  let commands: SVGPathData['commands'];
  try {
    const path = new SVGPathData(data);
    commands = path.toAbs().normalizeHVZ(false, true, true).transform(SVGPathDataTransformer.NORMALIZE_ST()).transform(SVGPathDataTransformer.ANNOTATE_ARCS()).commands;
  } catch (error) {
    return fail(nameOf(element), error instanceof Error ? error.message : String(error), 'path data as in SVG 2, chapter 9', 'its path cannot be read');
  }
  if (commands[0]?.type !== MOVE_TO) fail(nameOf(element), data, 'path data that begins with M or m', 'its path begins nowhere');
  const out: { pieces: Rational[]; closed: boolean }[] = [];
  let [x, y, x0, y0] = [0, 0, 0, 0];
  let now: Rational[] = [];
  const end = (closed: boolean) => {
    if (now.length > 0) out.push({ pieces: now, closed });
    now = [];
  };
  const straight = (tx: number, ty: number) => {
    if (tx !== x || ty !== y) now.push(bezier(x, y, tx, ty));
  };
  for (const command of commands) {
    switch (command.type) {
      case MOVE_TO:
        end(false);
        [x0, y0] = [command.x, command.y];
        break;
      case CLOSE_PATH:
        straight(x0, y0);
        end(true);
        [x, y] = [x0, y0];
        continue;
      case LINE_TO:
        straight(command.x, command.y);
        break;
      case QUAD_TO:
        now.push(bezier(x, y, command.x1, command.y1, command.x, command.y));
        break;
      case CURVE_TO:
        now.push(bezier(x, y, command.x1, command.y1, command.x2, command.y2, command.x, command.y));
        break;
      case ARC: {
        const { rX, rY, cX = 0, cY = 0, phi1 = 0, phi2 = 0, xRot } = command;
        // Without a radius an arc is a straight line, and from a place to itself none (SVG 2, section 9.5.1).
        if (!(rX > 0 && rY > 0)) straight(command.x, command.y);
        else if (command.x !== x || command.y !== y) {
          const turn = (xRot * Math.PI) / 180;
          const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
          now.push(arc({ x: cX, y: cY }, { x: rX * cos, y: rX * sin }, { x: -rY * sin, y: rY * cos }, (phi1 * Math.PI) / 180, (phi2 * Math.PI) / 180));
        }
        break;
      }
      default:
        fail(nameOf(element), data, 'path data as in SVG 2, chapter 9', 'its path cannot be read');
    }
    [x, y] = [command.x, command.y];
  }
  end(false);
  if (out.some(({ pieces }) => pieces.some(({ points }) => points.some((n) => !(Math.abs(n) <= FARTHEST))))) {
    fail(nameOf(element), 'a place out of all bounds', said('{far} units from the origin at most', { far: FARTHEST }), 'its path leaves any drawing');
  }
  return out;
}

/** What a view box does to what is inside it (SVG 2, section 8.2): user units to those outside, and the scale along and across. */
function viewOf(element: Element, width: number | undefined, height: number | undefined): { readonly map: Affine; readonly scale?: number } {
  const box = element.attributes.viewBox?.trim();
  if (box === undefined || box === '') return { map: STILL };
  const v = box.split(/[\s,]+/).map(Number);
  if (v.length !== 4 || v.some((n) => !Number.isFinite(n)) || !(v[2] > 0 && v[3] > 0)) fail(nameOf(element), box, 'four numbers, the last two more than 0', 'its viewBox cannot be read');
  const [kx, ky] = [(width ?? height ?? 0) / v[2], (height ?? width ?? 0) / v[3]];
  const [sx, sy] = [width === undefined ? ky : kx, height === undefined ? kx : ky];
  if (!(sx > 0 && sy > 0)) return { map: STILL };
  const fit = element.attributes.preserveAspectRatio?.trim() ?? '';
  const even = fit.includes('slice') ? Math.max(sx, sy) : Math.min(sx, sy);
  const [px, py] = fit.startsWith('none') ? [sx, sy] : [even, even];
  return { map: [px, 0, 0, py, -v[0] * px, -v[1] * py], scale: even };
}

function elementsOf(text: string): Element[] {
  const checked = XMLValidator.validate(text);
  if (checked !== true) {
    const { line, col, msg } = checked.err;
    fail(placeOf(`line ${line}`, 'XML'), said('column {col}: {msg}', { col: col ?? 1, msg }), 'an SVG file', 'this is not whole XML');
  }
  const breaks: number[] = [];
  for (let i = text.indexOf('\n'); i >= 0; i = text.indexOf('\n', i + 1)) breaks.push(i);
  const lineAt = (index: number) => firstBeyond(breaks, index - 1) + 1;
  const parser = new XMLParser({
    preserveOrder: true, ignoreAttributes: false, attributeNamePrefix: '', removeNSPrefix: true, captureMetaData: true,
    parseAttributeValue: false, parseTagValue: false, maxNestedTags: DEEPEST,
  });
  const meta = XMLParser.getMetaDataSymbol() as unknown as symbol;
  const from = (nodes: readonly Record<string | symbol, unknown>[]): Element[] => nodes.map((node) => {
    const name = Object.keys(node).find((key) => key !== ':@') ?? '#text';
    const inner = node[name];
    const { startIndex = 0 } = (node[meta] ?? {}) as { startIndex?: number };
    return {
      name, attributes: (node[':@'] ?? {}) as Record<string, string>, line: lineAt(startIndex),
      inner: Array.isArray(inner) ? from(inner as Record<string | symbol, unknown>[]) : [],
    };
  });
  try {
    return from(parser.parse(text) as Record<string | symbol, unknown>[]);
  } catch (error) {
    return fail('', error instanceof Error ? error.message : String(error), 'an SVG file', 'this is XML that cannot be read');
  }
}

const styleOf = ({ attributes }: Element, key: string): string | undefined =>
  new RegExp(`(?:^|;)\\s*${key}\\s*:\\s*([^;]+)`).exec(attributes.style ?? '')?.[1].trim() ?? attributes[key];

/** Reads a drawing from the text of an SVG file. Errors name line, element and id; what is no curve is left out and told. y goes up in what is read. */
export const readSvg = (text: string): DrawingRead => readDrawing(() => {
  if (text.length > DRAWING_LIMIT) fail('', `${Math.round(text.length / 1e6)} million characters`, `at most ${DRAWING_LIMIT / 1e6} million`, 'is far too long for a drawing of a board');
  const root = elementsOf(text.replace(/^\ufeff/, '')).find(({ name }) => name === 'svg');
  if (!root) fail('', 'no svg element', 'an SVG file', 'this is not an SVG file');
  const left = new LeftOut();
  const curves: DrawnCurve[] = [];
  const byId = new Map<string, Element>();
  const index = (element: Element): void => {
    if (element.attributes.id && !byId.has(element.attributes.id)) byId.set(element.attributes.id, element);
    element.inner.forEach(index);
  };
  index(root);
  let count = 0;
  const more = (element: Element, by: number): void => {
    count += by;
    if (count > MOST_PIECES) fail(nameOf(element), said('more than {most} pieces of curves', { most: MOST_PIECES }), said('{most} at most', { most: MOST_PIECES }), 'far too many for a drawing of a board');
  };
  const take = (element: Element, map: Affine, layer: string, within: readonly Element[]): void => {
    const { name, attributes } = element;
    if (SILENT.includes(name) || name.startsWith('?')) return;
    if (styleOf(element, 'display') === 'none') {
      left.add(`${name} that is not shown`);
      return;
    }
    more(element, 1);
    const here = times(map, transformOf(element));
    if (HOLDERS.includes(name)) {
      const inside = name === 'svg' && element !== root ? times(times(here, [1, 0, 0, 1, lengthOf(element, 'x', 0), lengthOf(element, 'y', 0)]), nested(element)) : here;
      const on = name === 'g' ? (attributes.label ?? attributes.id ?? layer) : layer;
      for (const each of element.inner) take(each, inside, on, within);
    } else if (name === 'use') copy(element, here, layer, within);
    else if (['path', 'line', 'circle', 'ellipse', 'rect', 'polyline', 'polygon'].includes(name)) {
      for (const { pieces, closed } of subpaths(element)) {
        more(element, pieces.length);
        curves.push(mappedCurve({ name: attributes.id ? `${name} “${attributes.id}”` : name, place: `line ${element.line}`, layer, pieces, closed }, here));
      }
    } else left.add(name);
  };
  const nested = (element: Element): Affine =>
    viewOf(element, element.attributes.width === undefined ? undefined : lengthOf(element, 'width'), element.attributes.height === undefined ? undefined : lengthOf(element, 'height')).map;
  const copy = (element: Element, here: Affine, layer: string, within: readonly Element[]): void => {
    const href = element.attributes.href ?? '';
    const of = href.startsWith('#') ? byId.get(href.slice(1)) : undefined;
    if (!of) fail(nameOf(element), href === '' ? 'nothing' : href, 'the id of an element of this file, after a #', 'there is nothing of this name to copy');
    if (within.includes(of)) fail(nameOf(element), href, 'an element that does not hold its own copy', 'the copy holds itself');
    const moved = times(here, [1, 0, 0, 1, lengthOf(element, 'x', 0), lengthOf(element, 'y', 0)]);
    take(of.name === 'symbol' ? { ...of, name: 'g' } : of, moved, layer, [...within, of]);
  };
  // Millimetres are known where the page's size is given in a unit of length.
  const real = (key: 'width' | 'height') => /(mm|cm|q|in|pt|pc)$/i.test(root.attributes[key]?.trim() ?? '');
  const side = (key: 'width' | 'height') => (/^[^%]+$/.test(root.attributes[key] ?? '%') ? lengthOf(root, key) : undefined);
  const { map, scale } = viewOf(root, side('width'), side('height'));
  const known = real('width') || real('height');
  // Told in the drawing's own units, so that two known places are measured in what its program shows.
  const own: Affine = scale === undefined ? STILL : [map[0] / scale, 0, 0, map[3] / scale, 0, 0];
  take(root, times([1, 0, 0, -1, 0, 0], own), '', []);
  return { curves, unit: known ? PIXEL * (scale ?? 1) : undefined, left };
});
