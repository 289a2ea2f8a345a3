/**
 * The board file: what is sound comes through unchanged to the byte; everything else is refused by field,
 * value and range. JSON's own rules are RFC 8259; the rest is the project's own format.
 */
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { graphSpline, valueAt } from '../../geometry/curves/graph';
import { graphRange } from '../../geometry/curves/range';
import { blankDesign } from '../../geometry/design/defaults';
import { allowedAt, fieldRange } from '../../geometry/design/fields';
import { checkDesign, readDesign, type ReadResult } from '../../geometry/design/read';
import { BOARD_VERSION, type Design } from '../../geometry/design/schema';
import { FILE_LIMIT } from '../../geometry/design/text';
import { writeDesign } from '../../geometry/design/write';
import { BuildError, fieldErrorLine } from '../../geometry/errors';
import { planBoard } from '../../geometry/plan';
import { mmError, mmText } from '../support/said';
import { seedDesign, seedNames, seedText, withField } from './boards';

const CHILD = 'child-155.board.json';
const ROUND = 'round-tail-175.board.json';
const text = seedText(CHILD);
const child = () => seedDesign(CHILD);

function errorsOf(read: ReadResult) {
  if (read.ok) throw new Error('the file was taken as sound');
  // Every error of every kind says all it must, in a line one can read.
  expect(read.errors.filter((e) => e.value === '' || e.allowed === '' || e.message === '')).toEqual([]);
  expect(Math.max(...read.errors.map((e) => mmText(fieldErrorLine(e)).length))).toBeLessThan(700);
  return read.errors.map(mmError);
}

/** The one error of a child's board with a field replaced. */
function only(path: (string | number)[], value: unknown) {
  const errors = errorsOf(checkDesign(withField(child(), path, value)));
  expect(errors).toHaveLength(1);
  return errors[0];
}

describe('a sound board file', () => {
  it.each(seedNames)('%s reads, and is written again to the byte', (name) => {
    const read = readDesign(seedText(name));
    expect(read).toMatchObject({ ok: true, notes: [] });
    expect(writeDesign(seedDesign(name))).toBe(seedText(name));
  });

  it('shows what starter boards must show between them', () => {
    const boards = seedNames.map(seedDesign);
    const lengths = boards.map((b) => b.lines.outline.points.at(-1)?.x).sort();
    expect(lengths).toEqual([1550, 1750, 2750, 3050]);
    const { length } = boards.filter((b) => b.lines.outline.noseAngleDeg === 90);
    expect(length).toBeGreaterThan(0);
    expect(length).toBeLessThan(boards.length);
    expect(boards.some((b) => b.lines.outline.points[0].y > 0)).toBe(true);
    expect(boards.some((b) => b.lines.outline.points[0].y === 0 && b.lines.outline.tailAngleDeg === 90)).toBe(true);
    expect(boards.some((b) => b.lines.concave.points.some((p) => p.v > 0.01))).toBe(true);
    expect(boards.some((b) => b.lines.vee.points.some((p) => p.v > 0.01))).toBe(true);
  });

  it.each(seedNames)('%s plans: no stop, fair lines, rows clear of both ends', (name) => {
    const plan = planBoard(seedDesign(name));
    expect(plan.findings.filter((f) => f.level === 'cannot')).toEqual([]);
    expect(plan.hull.fairness.inflections).toEqual({ outline: [], rocker: [], thickness: [] });
    expect(plan.rail.rows.length).toBeGreaterThan(1);
    const [lowest] = plan.rail.rows;
    expect(lowest.tail.x).toBeGreaterThan(50);
    expect(lowest.nose.x).toBeLessThan(plan.hull.length - 50);
    // Blocks at both ends take what no strip bends round.
    expect(lowest.length).toBeGreaterThan(0.75 * plan.hull.length);
  });

  it('does not depend on the order of fields, and keeps no field it was not given', () => {
    const design = child();
    const turned = Object.fromEntries(Object.entries(design).reverse());
    const read = checkDesign(turned);
    expect(read.ok && writeDesign(read.design)).toBe(text);
    expect('note' in blankDesign()).toBe(false);
    expect(writeDesign(blankDesign())).not.toContain('note');
  });

  it('has a blank board that plans', () => {
    const read = checkDesign(blankDesign());
    expect(read.ok).toBe(true);
    expect(planBoard(blankDesign()).findings.filter((f) => f.level === 'cannot')).toEqual([]);
  });

  it('leaves a byte order mark out and says so', () => {
    expect(readDesign(`\ufeff${text}`)).toMatchObject({ ok: true, notes: [expect.stringContaining('byte order mark')] });
  });

  it('says when a timber of the file replaces a built-in one', () => {
    const own = { id: 'balsa', name: 'Our balsa', density: 150, moe: 3000, mor: 18, dryLimit: 0.003, steamLimit: 0.01 };
    expect(checkDesign(withField(child(), ['timber', 'species'], [own]))).toMatchObject({ ok: true, notes: [expect.stringContaining('balsa')] });
  });
});

describe('a file that is no board file', () => {
  it('says of every cut that the file ends too early, and where', () => {
    for (let at = 2; at < text.trimEnd().length; at += 97) {
      const [e] = errorsOf(readDesign(text.slice(0, at)));
      expect(e.message).toMatch(/ends too early, at line \d+, column \d+/);
      const lines = text.slice(0, at).trimEnd().split('\n').length;
      expect(e.message).toContain(`line ${lines},`);
    }
    const cut = text.slice(0, text.indexOf('"capThickness"') + 17);
    expect(errorsOf(readDesign(cut))[0].message).toContain('rail.capThickness');
  });

  it.each([
    ['nothing', '', /empty/],
    ['white space', ' \n\t', /empty/],
    ['a picture', '\x89PNG\r\n\x1a\n\0\0', /not JSON at line 1, column 1/],
    ['a comment', `// mine\n${text}`, /not JSON at line 1, column 1/],
    ['a doubled comma', text.replace('"revision": "A",', '"revision": "A",,'), /not JSON at line 5, column 19/],
    ['a comma too many at the end', text.replace(/\}\s*$/, ',}'), /not JSON at line \d+/],
    ['NaN as a word', text.replace('"stripWidth": 12', '"stripWidth": NaN'), /not JSON at line \d+, column 19, in rail.stripWidth/],
    ['two boards', text + text, /not JSON/],
    ['a list', '[1, 2]', /one object/],
    ['a number', '12', /one object/],
    ['null', 'null', /one object/],
  ])('refuses %s', (_, given, message) => {
    expect(errorsOf(readDesign(given))[0].message).toMatch(message);
  });

  it('refuses another format, and says what it wants', () => {
    expect(errorsOf(readDesign('{"type": "FeatureCollection"}'))[0]).toMatchObject({ field: 'format', value: 'nothing' });
    expect(only(['format'], 'other')).toMatchObject({ field: 'format', value: '"other"', allowed: '"railwright-board"' });
  });

  it('refuses another version, each kind by its own words', () => {
    expect(only(['version'], BOARD_VERSION + 1)).toMatchObject({ field: 'version', value: String(BOARD_VERSION + 1), message: expect.stringContaining('newer') });
    expect(only(['version'], 0)).toMatchObject({ field: 'version', value: '0', message: expect.stringContaining('older') });
    expect(only(['version'], '1')).toMatchObject({ field: 'version', value: '"1"', message: expect.stringContaining('whole number') });
    expect(only(['version'], undefined)).toMatchObject({ field: 'version', message: 'is missing' });
  });

  it('brings an older version forward step by step where it knows the way, and says so', () => {
    const old: Record<string, unknown> = { ...child(), version: -1, title: 'Old' };
    const read = checkDesign(old, {
      '-1': { step: ({ title, ...rest }) => ({ ...rest, heading: title, version: 0 }), note: 'Titles are headings.' },
      0: { step: ({ heading, ...rest }) => ({ ...rest, name: heading, version: 1 }) },
      1: { step: (rest) => ({ ...rest, version: 2 }) },
    });
    expect(read).toMatchObject({ ok: true, design: { name: 'Old', version: 2 }, notes: [expect.stringContaining('version -1'), 'Titles are headings.'] });
  });

  it('opens a board of version 1 with nothing of version 2 decided, and says what its plan changes', () => {
    const read = checkDesign({ ...child(), version: 1 });
    expect(read).toEqual({ ok: true, design: child(), notes: [expect.stringContaining('version 1'), expect.stringContaining('the strips end on a block')] });
    if (!read.ok) return;
    for (const field of ['methods', 'consents', 'ends', 'vent', 'fittings', 'adhesive', 'weights'] as const) expect(read.design[field]).toBeUndefined();
  });

  it('keeps every field of version 2, and refuses each beyond its range by name', () => {
    const whole: Design = {
      ...child(),
      methods: { sole: { tail: 'split', nose: 'block' }, rows: { tail: 'cold' }, cap: { nose: 'strap' }, skins: { tail: 'layers' } },
      consents: { split: true, strap: false },
      ends: { tail: { block: 'ring', skins: 'wrapped' }, nose: { block: 'solid', skins: 'butted' }, ringWidth: 45 },
      vent: { x: 700, y: -20, through: 'deck', diameter: 12 },
      fittings: [{ kind: 'leash', x: 90, y: 0, length: 60, width: 40, under: 'deck', depth: 20, name: 'Leash plug' }],
      adhesive: { name: 'Shed glue', spread: 180, openMinutes: 10, clampMinutes: 120 },
      weights: { finish: 0.4, vent: 0.02, fittings: 0.3 },
    };
    expect(readDesign(writeDesign(whole))).toMatchObject({ ok: true, design: whole });
    expect(errorsOf(checkDesign({ ...whole, methods: { cap: { tail: 'magic' } } }))[0]).toMatchObject({ field: 'methods.cap.tail', allowed: expect.stringContaining('cold or forced') });
    expect(errorsOf(checkDesign({ ...whole, vent: { ...whole.vent, x: 5999 } }))[0]).toMatchObject({ field: 'vent.x' });
    expect(errorsOf(checkDesign({ ...whole, fittings: [{ ...whole.fittings?.[0], x: 5999 }] }))[0]).toMatchObject({ field: 'fittings[0].x' });
    expect(errorsOf(checkDesign({ ...whole, adhesive: { ...whole.adhesive, spread: 3 } }))[0]).toMatchObject({ field: 'adhesive.spread', value: '3 g/m2', allowed: '20 to 2000 g/m2' });
  });

  it('refuses a file far too large before reading it', () => {
    const parse = vi.spyOn(JSON, 'parse');
    expect(errorsOf(readDesign(text.replace('Demo', 'D'.repeat(30_000_000))))[0].message).toContain('too large');
    expect(parse).not.toHaveBeenCalled();
    expect(errorsOf(readDesign(text.replace('Demo', 'D'.repeat(FILE_LIMIT - text.length))))[0]).toMatchObject({ field: 'note' });
    expect(parse).toHaveBeenCalledOnce();
    parse.mockRestore();
  });

  it('refuses deep nesting without recursing into it, in text and as a value', () => {
    expect(errorsOf(readDesign(`${'['.repeat(900_000)}`))[0].message).toContain('nested too deeply');
    let deep: unknown = 1;
    for (let i = 0; i < 100_000; i++) deep = { a: deep };
    expect(only(['rail'], deep)).toMatchObject({ field: expect.stringMatching(/^rail/), message: expect.stringContaining('nested too deeply') });
    const circle: Record<string, unknown> = {};
    circle.again = circle;
    expect(only(['rail'], circle).message).toContain('nested too deeply');
    // Brackets inside a text are not nesting.
    expect(readDesign(text.replace('Demo', '[[[[[[[[[[[[[[[[[[[[[[[['))).toMatchObject({ ok: true });
  });

  it('refuses a million points as a value, having looked at few of them', () => {
    let looks = 0;
    const counted = <A extends unknown[], B>(look: (...args: A) => B) => (...args: A): B => {
      looks += 1;
      return look(...args);
    };
    const points = new Proxy(Array.from({ length: 1_000_000 }, (_, x) => ({ x, v: 1 })), {
      get: counted(Reflect.get), has: counted(Reflect.has), getOwnPropertyDescriptor: counted(Reflect.getOwnPropertyDescriptor),
    });
    const spoiled = { ...child(), lines: { ...child().lines, rocker: { points } } };
    expect(errorsOf(checkDesign(spoiled))).toMatchObject([{ field: 'lines.rocker.points', value: 'a list of 1000000' }]);
    expect(looks).toBeGreaterThan(0);
    expect(looks).toBeLessThan(1000);
  });

  it("refuses names of the language's machinery, and lets them change nothing", () => {
    const hostile = text.replace('"revision"', '"__proto__": {"polluted": 1}, "constructor": {"prototype": {"polluted": 1}}, "revision"');
    expect(errorsOf(readDesign(hostile)).map((e) => e.field).sort()).toEqual(['__proto__', 'constructor']);
    const inside = text.replace('"bottom":', '"__proto__": {"deck": 4}, "bottom":');
    expect(errorsOf(readDesign(inside))[0].field).toBe('skins.__proto__');
    expect(Reflect.get({}, 'polluted')).toBeUndefined();
    expect(only(['skins'], Object.create({ bottom: 3, deck: 3 }))).toMatchObject({ field: 'skins', message: expect.stringContaining('plain data') });
    expect(only(['skins'], new Map([['bottom', 3]]))).toMatchObject({ field: 'skins' });
  });

  it('refuses a field written twice', () => {
    expect(errorsOf(readDesign(text.replace('"revision"', '"revision": "B", "revision"')))).toMatchObject([
      { field: 'revision', message: expect.stringContaining('twice') },
    ]);
  });
});

describe('a field out of place', () => {
  it.each<[string, (string | number)[], unknown, string, string]>([
    ['text for a number', ['rail', 'stripWidth'], '12', '"12"', '3 to 80 mm'],
    ['NaN', ['rail', 'stripWidth'], Number.NaN, 'NaN', '3 to 80 mm'],
    ['infinity', ['rail', 'stripWidth'], Infinity, 'Infinity', '3 to 80 mm'],
    ['a negative size', ['rail', 'stripWidth'], -12, '−12 mm', '3 to 80 mm'],
    ['zero', ['skins', 'deck'], 0, '0 mm', '0.5 to 20 mm'],
    ['a huge size', ['rail', 'stripWidth'], 1e9, '1000000000 mm', '3 to 80 mm'],
    ['nothing', ['rail', 'stripWidth'], undefined, 'nothing', '3 to 80 mm'],
    ['null', ['rail', 'stripWidth'], null, 'null', '3 to 80 mm'],
    ['a list for a number', ['rail', 'stripWidth'], [12], 'a list of 1', '3 to 80 mm'],
    ['an object for a number', ['rail', 'stripWidth'], { mm: 12 }, 'an object', '3 to 80 mm'],
    ['half a row', ['rail', 'rows'], 1.5, '1.5', 'a whole number, 1 to 8'],
    ['an angle too steep', ['lines', 'outline', 'noseAngleDeg'], 170, '170°', '−60 to 90°'],
    ['a ratio too great', ['lines', 'crown', 'points', 1, 'v'], 3, '3', '−0.1 to 0.5'],
    ['a word of another list', ['rail', 'joint'], 'dovetail', '"dovetail"', 'butt or scarf'],
    ['a number for a yes or no', ['rail', 'fillSlot'], 1, '1', 'true or false'],
    ['a number for a text', ['name'], 7, '7', '1 to 80 visible characters on one line'],
    ['an empty name', ['name'], '', '""', '1 to 80 visible characters on one line'],
    ['a name that steers the terminal', ['name'], 'a\u001b[2Jb', '"a [2Jb"', '1 to 80 visible characters on one line'],
    ['a name that turns its direction', ['name'], 'a\u202eb', '"a b"', '1 to 80 visible characters on one line'],
    ['too many ribs', ['frames', 'ribs'], Array.from({ length: 81 }, (_, i) => 100 + i * 10), 'a list of 81', 'at most 80 entries'],
    ['one point only', ['lines', 'rocker', 'points'], [{ x: 0, v: 1 }], 'a list of 1', 'at least 2 entries'],
    ['no stock at all', ['timber', 'strips'], [], 'a list of 0', 'at least 1 entry'],
  ])('%s is refused with field, value and range', (_, path, given, value, allowed) => {
    const field = path.reduce<string>((a, p) => (typeof p === 'number' ? `${a}[${p}]` : a === '' ? p : `${a}.${p}`), '');
    expect(only(path, given)).toMatchObject({ field, value, allowed });
  });

  it('names an extra field, wherever it stands', () => {
    expect(only(['rail', 'stripwidth'], 12)).toMatchObject({ field: 'rail.stripwidth', value: '12', message: expect.stringContaining('not a field') });
    expect(only(['extra'], 'x')).toMatchObject({ field: 'extra', value: '"x"' });
    expect(only(['lines', 'rocker', 'points', 1, 'z'], 1)).toMatchObject({ field: 'lines.rocker.points[1].z' });
  });

  it('takes the ends of every range and nothing beyond, by the schema it tells the range from', () => {
    for (const path of [['rail', 'clearance'], ['frames', 'kerf'], ['timber', 'sawKerf'], ['spread', 'strip']]) {
      const range = fieldRange(path);
      if (range === undefined) throw new Error(path.join('.'));
      expect(checkDesign(withField(child(), path, range.min)).ok).toBe(true);
      expect(checkDesign(withField(child(), path, range.max)).ok).toBe(true);
      expect(only(path, range.max + 0.001).allowed).toBe(mmText(allowedAt(path)));
      expect(only(path, range.min - 0.001).message).toBe('is too small');
    }
    expect(fieldRange(['rail', 'nonsense'])).toBeUndefined();
    expect(fieldRange(['rail', 'toString'])).toBeUndefined();
  });

  it('reports every fault at once, up to forty', () => {
    const spoiled = { ...child(), rail: {}, skins: { bottom: 'x', deck: -1 } };
    const errors = errorsOf(checkDesign(spoiled));
    expect(errors.length).toBe(Object.keys(child().rail).length + 2);
    const many = withField(child(), ['frames', 'ribs'], Array.from({ length: 80 }, () => 'x'));
    expect(errorsOf(checkDesign(many))).toHaveLength(40);
  });
});

describe('fields that do not go together', () => {
  it.each<[string, (string | number)[], unknown, string, RegExp]>([
    ['an outline not starting at the tail', ['lines', 'outline', 'points', 0, 'x'], 5, 'lines.outline.points[0].x', /x = 0/],
    ['an outline that goes back', ['lines', 'outline', 'points', 2, 'x'], 150, 'lines.outline.points[2].x', /beyond the point before/],
    ['an outline touching the centreline amidships', ['lines', 'outline', 'points', 3, 'y'], 0, 'lines.outline.points[3].y', /centreline/],
    ['an outline folding back between its points', ['lines', 'outline', 'points'],
      [{ x: 0, y: 120 }, { x: 740, y: 238 }, { x: 742, y: 60 }, { x: 744, y: 238 }, { x: 1550, y: 0 }], 'lines.outline', /folds back/],
    ['a rocker that goes back', ['lines', 'rocker', 'points', 2, 'x'], 300, 'lines.rocker.points[2].x', /beyond the point before/],
    ['points on one another', ['lines', 'crown', 'points', 1, 'x'], 0, 'lines.crown.points[1].x', /beyond the point before/],
    ['a curve starting late', ['lines', 'vee', 'points', 0, 'x'], 10, 'lines.vee.points[0].x', /start at the tail/],
    ['a curve ending early', ['lines', 'apex', 'points', 2, 'x'], 1500, 'lines.apex.points[2].x', /end at the nose/],
    ['a board thinner than its skins', ['lines', 'thickness', 'points', 5, 'v'], 6, 'lines.thickness', /no thicker than its skins/],
    ['skins thicker than the ends', ['skins', 'deck'], 15, 'lines.thickness', /no thicker than its skins/],
    ['a thickness that dips between its points', ['lines', 'thickness', 'noseSlopeDeg'], 30, 'lines.thickness', /no thicker than its skins/],
    ['a deck crossing the bottom', ['lines', 'crown', 'points', 2, 'v'], 0.4, 'lines.thickness', /cross/],
    ['a rail round swinging out of range', ['lines', 'apex', 'points'],
      [{ x: 0, v: 0.9 }, { x: 10, v: 0.1 }, { x: 1550, v: 0.5 }], 'lines.apex', /swings out/],
    ['a rib off the nose', ['frames', 'ribs', 6], 1549, 'frames.ribs[6]', /outside the board/],
    ['a rib off the tail', ['frames', 'ribs', 0], 1, 'frames.ribs[0]', /outside the board/],
    ['ribs out of order', ['frames', 'ribs', 3], 500, 'frames.ribs[3]', /tail to nose/],
    ['ribs in one another', ['frames', 'ribs', 3], 523, 'frames.ribs[3]', /cuts into/],
    // Found by fuzz, seed 8, board 780: ribs clear of each other whose notches in the stringer are not.
    ['ribs whose notches run together', ['frames', 'ribs', 3], 524.05, 'frames.ribs[3]', /its notch, cuts into/],
    ['a strip wider than the board', ['lines', 'outline'],
      { points: [{ x: 0, y: 15 }, { x: 740, y: 22 }, { x: 1550, y: 0 }] }, 'rail.stripWidth', /wider than the board/],
    ['a spacer as wide as the strip', ['rail', 'spacerWidth'], 12, 'rail.spacerWidth', /no hollow/],
    ['a least piece longer than the stock', ['rail', 'leastPiece'], 1900, 'rail.leastPiece', /longer than any/],
    ['a timber nobody has', ['timber', 'rail'], 'unobtainium', 'timber.rail', /no timber of this name/],
    ['a timber named like machinery', ['timber', 'outer'], 'constructor', 'timber.outer', /no timber of this name/],
  ])('%s', (_, path, value, field, message) => {
    const errors = errorsOf(checkDesign(withField(child(), path, value)));
    const mine = errors.find((e) => e.field === field);
    expect(errors.map((e) => e.field)).toContain(field);
    expect(mine?.message).toMatch(message);
  });

  it('two batches of timber with one id, and steam that weakens', () => {
    const wood = { id: 'mine', name: 'Mine', density: 300, moe: 5000, mor: 40, dryLimit: 0.004, steamLimit: 0.002 };
    const errors = errorsOf(checkDesign(withField(child(), ['timber', 'species'], [wood, { ...wood, steamLimit: 0.01 }])));
    expect(errors.map((e) => e.field)).toEqual(['timber.species[0].steamLimit', 'timber.species[1].id']);
  });

  it('gives the figure, the place and the limit of a thickness below the skins', () => {
    // Straight line from 24 at the tail to 6 at the nose: least at the nose; skins 3 + 3.
    const line = { points: [{ x: 0, v: 24 }, { x: 1550, v: 6 }] };
    const [e] = errorsOf(checkDesign(withField(child(), ['lines', 'thickness'], line)));
    expect(e).toMatchObject({ field: 'lines.thickness', value: '6.00 mm at 1550.0 mm', allowed: 'more than 6 mm (bottom and deck skin)' });
  });

  it('finds a crossing where the section rule says the depth is gone', () => {
    // Flat bottom, even thickness 30, even crown 0.2: the depth at the outline is 30 - 0.2 y, gone at y = 150.
    const even = (v: number) => ({ points: [{ x: 0, v }, { x: 1550, v }] });
    const base = { ...child(), lines: { ...child().lines, thickness: even(30), vee: even(0), crown: even(0.2) } };
    const narrow = (y: number) => ({ ...base, lines: { ...base.lines, outline: { points: [{ x: 0, y }, { x: 775, y }, { x: 1550, y }] } } });
    expect(checkDesign(narrow(149)).ok).toBe(true);
    expect(errorsOf(checkDesign(narrow(151)))[0]).toMatchObject({ field: 'lines.thickness', value: expect.stringContaining('−0.20 mm') });
  });
});

describe('extremes of a length curve', () => {
  it('are exact for a cubic known in closed form', () => {
    // Natural cubic through (0,0), (1,1), (2,0): v = 1.5 x - 0.5 x^3 on [0, 1], greatest 1 at x = 1, mirrored.
    const arch = graphRange(graphSpline({ points: [{ x: 0, v: 0 }, { x: 1, v: 1 }, { x: 2, v: 0 }] }));
    expect(arch).toMatchObject({ min: 0, xMin: 0 });
    expect(arch.max).toBeCloseTo(1, 12);
    expect(arch.xMax).toBeCloseTo(1, 9);
    // One span with end slopes 1 and 1 (45 degrees) between zeros: Hermite v = x (1 - x) (1 - 2x), extremes +-sqrt(3)/18.
    const wave = graphRange(graphSpline({ points: [{ x: 0, v: 0 }, { x: 1, v: 0 }], tailSlopeDeg: 45, noseSlopeDeg: 45 }));
    expect(wave.max).toBeCloseTo(Math.sqrt(3) / 18, 12);
    expect(wave.min).toBeCloseTo(-Math.sqrt(3) / 18, 12);
    expect(wave.xMax).toBeCloseTo(0.5 - Math.sqrt(3) / 6, 9);
  });

  it('bound a dense sampling, corners included, and are reached', () => {
    fc.assert(
      fc.property(
        fc.array(fc.record({ v: fc.double({ min: -50, max: 50, noNaN: true }), corner: fc.boolean() }), { minLength: 2, maxLength: 9 }),
        (values) => {
          const graph = graphSpline({ points: values.map((p, i) => ({ x: i * 100, ...p })) });
          const { min, max, xMin, xMax } = graphRange(graph);
          for (let i = 0; i <= 400; i++) {
            const v = valueAt(graph, ((values.length - 1) * 100 * i) / 400);
            if (v < min - 1e-9 || v > max + 1e-9) return false;
          }
          return Math.abs(valueAt(graph, xMin) - min) < 1e-9 && Math.abs(valueAt(graph, xMax) - max) < 1e-9;
        },
      ),
    );
  });
});

describe('whatever comes', () => {
  /** Every path to a number in a value. */
  const numbers = (value: unknown, path: (string | number)[] = []): (string | number)[][] =>
    typeof value === 'number' ? [path]
    : Array.isArray(value) ? value.flatMap((v, i) => numbers(v, [...path, i]))
    : typeof value === 'object' && value !== null ? Object.entries(value).flatMap(([k, v]) => numbers(v, [...path, k]))
    : [];

  it('any value in any field is taken or refused by name, never thrown at', () => {
    const paths = numbers(child());
    expect(paths.length).toBeGreaterThan(100);
    fc.assert(
      fc.property(fc.constantFrom(...paths), fc.anything(), (path, value) => {
        const read = checkDesign(withField(child(), path, value === undefined ? null : value));
        return read.ok || (read.errors.length > 0 && read.errors.every((e) => e.allowed !== '' && e.message !== ''));
      }),
      { numRuns: 500 },
    );
  });

  it('any text is taken or refused, never thrown at: cuts, swaps, doubled pieces', () => {
    fc.assert(
      fc.property(fc.nat(text.length), fc.nat(text.length), fc.string({ maxLength: 8, unit: 'binary' }), (a, b, piece) => {
        const read = readDesign(text.slice(0, a) + piece + text.slice(b));
        return read.ok || read.errors.every((e) => e.message !== '');
      }),
      { numRuns: 500 },
    );
  });

  it('a design that passes plans, or says by field why it cannot be built; figures stay finite', () => {
    const places = [CHILD, ROUND].flatMap((name) =>
      numbers(seedDesign(name)).filter((path) => fieldRange(path) !== undefined).map((path) => ({ name, path })));
    let planned = 0;
    fc.assert(
      fc.property(fc.constantFrom(...places), fc.double({ min: 0, max: 1, noNaN: true }), ({ name, path }, share) => {
        const range = fieldRange(path);
        if (range === undefined) return false;
        const at = range.min + share * (range.max - range.min);
        const read = checkDesign(withField(seedDesign(name), path, range.whole ? Math.round(at) : at));
        if (!read.ok) return true;
        try {
          const { rail, hull } = planBoard(read.design);
          planned++;
          return Number.isFinite(hull.volume) && Number.isFinite(rail.hollowVolume) && rail.samples.gap.every(Number.isFinite);
        } catch (e) {
          if (!(e instanceof BuildError)) throw e;
          return e.fault.field !== '' && mmText(e.fault.allowed) !== '';
        }
      }),
      { numRuns: 150 },
    );
    // The generator must spread: most of what it makes is sound enough to plan.
    expect(planned).toBeGreaterThan(50);
  });
});
