/**
 * Everything the kernel says, told in millimetres, inches and sixteenths: no slot left open, no value without its
 * slot, one unit a sentence, and the same whatever road it came by. Sentences of all starter boards, of the boards
 * that fuzz runs once broke, of broken files, and of every change that is offered.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { allowedAt, fieldRange, type FieldError } from '../../geometry/design/fields';
import { checkDesign, readDesign } from '../../geometry/design/read';
import type { Design } from '../../geometry/design/schema';
import { BuildError, fieldErrorLine, whatOf } from '../../geometry/errors';
import { planFittings } from '../../geometry/frame/fittings';
import { planFrames } from '../../geometry/frame/frames';
import { bendingFindings, planBending } from '../../geometry/parts/bending';
import { planBlanks } from '../../geometry/parts/blanks';
import { lieFindings, planLies } from '../../geometry/parts/lies';
import { planJoints } from '../../geometry/parts/joints';
import { planSkinPlanks } from '../../geometry/parts/skinPlanks';
import { planTotals } from '../../geometry/parts/totals';
import { workSteps } from '../../geometry/parts/work';
import { planBoard } from '../../geometry/plan';
import { list, logText, mm, range, said, section, size, type Figure, type Said } from '../../geometry/said';
import { amountOf, LEVERS } from '../../geometry/search/levers';
import { REMEDIES } from '../../geometry/search/remedies';
import { parseOffsets } from '../../geometry/shape/offsetsRead';
import { tracingSimilarity } from '../../geometry/shape/tracing';
import { applyReadings } from '../../geometry/trust/asBuilt';
import { READING_FIELDS } from '../../geometry/trust/readings';
import { noReadings } from '../../geometry/trust/emptyRecord';
import type { Finding, Plan } from '../../geometry/types';
import { findingFigures } from '../../src/say/findings';
import { textOf } from '../../src/say/said';
import { UNITS } from '../../src/say/units';
import { breakFile } from '../fuzz/broken';
import { dice } from '../fuzz/dice';
import { seedDesign, seedNames, withField } from './boards';

/** Everything in a value that is said, deepest last; plain words are no different from names and left out. */
function sayings(value: unknown): Said[] {
  if (typeof value !== 'object' || value === null || ArrayBuffer.isView(value)) return [];
  const own = 'say' in value || ('of' in value && 'value' in value) ? [value as Said] : [];
  return [...own, ...Object.values(value).flatMap(sayings)];
}

/** Names of a template's slots. */
const slotsOf = (say: string): string[] => [...say.matchAll(/\{(\w+)\}/g)].map(([, name]) => name);

/** Figures of a length in a sentence. */
const lengths = (what: Said): number => {
  if (typeof what !== 'object') return 0;
  return 'of' in what ? Number(what.of === 'mm') : slotsOf(what.say).reduce((sum, name) => sum + lengths(what.with[name]), 0);
};

/** What tells that something was not whole; what a file holds may be anything, so less is asked where it is quoted. */
const BROKEN = { own: /[{}]|undefined|NaN|Infinity|null|\[object|–|  |\s[.,;:]/, quoted: /\[object/ };

/** What is wrong with one thing said. */
function faults(what: Said, of: keyof typeof BROKEN = 'own'): string[] {
  const found: string[] = [];
  const texts = UNITS.map(({ id }) => [id, textOf(what, id)] as const);
  const wrong = (why: string) => found.push(`${why}: ${texts.map(([, text]) => text).join(' | ')}`);
  if (typeof what === 'object' && 'say' in what) {
    const [slots, values] = [new Set(slotsOf(what.say)), Object.keys(what.with)];
    if (values.some((name) => !slots.has(name))) wrong('a value without its slot');
    if ([...slots].some((name) => !Object.hasOwn(what.with, name))) wrong('an open slot');
    if (/\d ?(mm|in|°|%|kg|cm)\b/.test(what.say)) wrong('a figure in the template');
  }
  for (const [unit, text] of texts) {
    if (BROKEN[of].test(text)) wrong(`not whole in ${unit}`);
    const [metric, inch] = [text.match(/[\d] mm\b/g)?.length ?? 0, text.match(/[\d+−] in\b/g)?.length ?? 0];
    // Each length with its unit, and none in the other.
    if ((unit === 'mm' ? metric : inch) !== lengths(what) || (unit === 'mm' ? inch : metric) !== 0) wrong(`units in ${unit}`);
    if (text !== textOf(JSON.parse(JSON.stringify(what)), unit) || text !== textOf(structuredClone(what), unit)) wrong(`lost on the way in ${unit}`);
  }
  return found;
}

const inAll = (what: Said): string[] => UNITS.map(({ id }) => textOf(what, id));
const ofFinding = (f: Pick<Finding, 'title' | 'advice' | 'figure' | 'limit' | 'unit'>): Said[] => [f.title, f.advice, findingFigures(f) ?? ''];
const ofError = (error: FieldError): Said[] => [error.value, error.allowed, error.message, fieldErrorLine(error)];

const repro = new URL('./repro/boards/', import.meta.url);
const boards: [string, () => Design][] = [
  ...seedNames.map((name): [string, () => Design] => [name, () => seedDesign(name)]),
  ...readdirSync(repro).sort().map((name): [string, () => Design] => [name, () => {
    const read = readDesign(readFileSync(new URL(name, repro), 'utf8'));
    if (!read.ok) throw new Error(name);
    return read.design;
  }]),
];

describe.each(boards)('%s', (_, design) => {
  let plan: Plan;
  beforeAll(() => {
    plan = planBoard(design());
  });

  it('says its findings and its order of work whole, in one unit', () => {
    const bending = planBending(plan);
    const { blanks, findings } = planBlanks(plan);
    const all = [
      ...plan.findings, ...bendingFindings(plan, bending), ...findings, ...planFrames(plan).findings, ...planTotals(plan, { bending, frames: [] }).findings,
      ...lieFindings(plan, bending, planLies(plan, bending)), ...planFittings(plan).findings, ...planSkinPlanks(plan).findings,
    ].flatMap(ofFinding);
    const steps = workSteps(plan, bending, undefined, blanks).flatMap((step) => [step.title, step.text, ...step.needs, ...step.cautions, ...step.checks.map(({ what }) => what)]);
    expect(all.length).toBeGreaterThan(6);
    expect(steps.length).toBeGreaterThan(20);
    expect([...all, ...steps].flatMap((what) => [what, ...sayings(what)]).flatMap((what) => faults(what))).toEqual([]);
  });

  it('offers every change in words and one unit', () => {
    const at = (x: number) => ({ x, s: x });
    const finding = { id: 'x-1', code: 'x', level: 'note', title: '', advice: '', place: at(plan.hull.length / 3), extent: { from: at(plan.hull.length / 3), until: at(plan.hull.length / 2) }, figure: 41.26, limit: 60 } as const;
    const kinds = ['sole', 'cap', 'row', 'outer-skin'] as const;
    const titles = Object.values(REMEDIES).flat().flatMap((remedy) => kinds.flatMap((kind) => remedy(plan, { ...finding, strip: { kind, order: 1 } }).map(({ title }) => title)));
    expect(titles.length).toBeGreaterThan(100);
    expect(titles.flatMap((what) => faults(what))).toEqual([]);
  });
});

describe('what is wrong', () => {
  it('with files broken at random', () => {
    const errors = Array.from({ length: 150 }, (_, i) => {
      const broken = breakFile(dice(7, i), seedDesign(seedNames[i % seedNames.length]));
      const read = 'text' in broken ? readDesign(broken.text) : checkDesign(broken.value);
      return read.ok ? [] : read.errors;
    }).flat();
    expect(errors.length).toBeGreaterThan(100);
    expect(errors.flatMap(ofError).flatMap((what) => faults(what, 'quoted'))).toEqual([]);
    expect(errors.flatMap(({ allowed }) => faults(allowed))).toEqual([]);
  });

  it('with every number a little beyond its range, and with what does not go together', () => {
    const design = seedDesign('child-155.board.json');
    const paths = (value: unknown, path: (string | number)[] = []): (string | number)[][] =>
      typeof value === 'number' ? [path]
      : typeof value === 'object' && value !== null ? Object.entries(value).flatMap(([k, v]) => paths(v, [...path, Array.isArray(value) ? Number(k) : k])) : [];
    const errors = paths(design).flatMap((path) => {
      const held = fieldRange(path);
      return held ? [held.min - 0.25, held.max + 0.25, held.min, held.max].flatMap((value) => {
        const read = checkDesign(withField(design, path, value));
        return read.ok ? [] : read.errors;
      }) : [];
    });
    expect(new Set(errors.map(({ message }) => logText(message))).size).toBeGreaterThan(15);
    expect([...errors.flatMap(ofError), ...paths(design).map((path) => allowedAt(path))].flatMap((what) => faults(what))).toEqual([]);
  });

  it('with boards that read and cannot be built, readings, offsets and pictures', () => {
    const design = seedDesign('child-155.board.json');
    const plan = planBoard(design);
    const low = { ...design, skins: { bottom: 20, deck: 20 }, lines: { ...design.lines, thickness: { points: design.lines.thickness.points.map((p) => ({ ...p, v: 42 })) } } };
    const wide = { ...design, rail: { ...design.rail, shapingAllowance: 400 } };
    const built = [low, wide].map((d) => {
      try {
        planBoard(d);
        return '';
      } catch (error) {
        expect(error).toBeInstanceOf(BuildError);
        return whatOf(error);
      }
    });
    const read = (value: number) => ({ ...Object.fromEntries(READING_FIELDS.map((field) => [field, value])), of: 'rib' as const, side: 'starboard' as const });
    const flags = [1, 60].map((value) => applyReadings(plan, { ...noReadings('Another', 'Z'), readings: design.frames.ribs.map((__, i) => ({ rib: i + 1, ...read(value) })) }).flags).flat();
    expect(flags.length).toBeGreaterThan(10);
    const tables = ['station (in),half-breadth\n0,5\n36,50\n70,0', 'station,half-breadth\n5,5\n36,0\n36,9\n1700,0', 'x,y\n1,2', 'station,width\n0,-3\nb,4\n9,1'];
    const offsets = tables.flatMap((text) => {
      const result = parseOffsets(text);
      return result.ok ? [] : result.errors;
    });
    expect(offsets.length).toBeGreaterThan(6);
    const traced = tracingSimilarity({ picture: [[5, 5], [5, 6]], board: [[3, 0], [3, 0.5]] });
    const errors = [...flags, ...offsets.map(({ column, value, allowed, message }) => ({ field: column, value, allowed, message })), ...(traced.ok ? [] : traced.errors)];
    expect([...built, ...errors.flatMap(ofError)].flatMap((what) => faults(what))).toEqual([]);
  });

  it('with stock that does not serve', () => {
    const design = structuredClone(seedDesign('child-155.board.json'));
    design.timber.strips = [{ length: 180, price: 1 }];
    design.timber.spacers = [{ length: 500, price: 1, onHand: 1 }];
    design.timber.boards = [{ length: 700, width: 60, price: 1, onHand: 1 }];
    design.frames.sheet = { length: 400, width: 200, price: 1 };
    design.rail.leastPiece = 170;
    const plan = planBoard(design);
    const solver = { solve: () => ({ status: 'limit' as const, bound: 0, nodes: 0, limit: 'stopped' }) };
    const found = [...planJoints(plan, planBending(plan), solver).findings, ...planBlanks(plan).findings, ...planFrames(plan).findings];
    expect(new Set(found.map(({ code }) => code)).size).toBeGreaterThan(3);
    expect(found.flatMap(ofFinding).flatMap((what) => faults(what))).toEqual([]);
  });
});

describe('by hand', () => {
  // Inches by 25.4 mm exactly (international yard and pound agreement, 1959; from memory).
  it.each<[Said, ...string[]]>([
    [said('Row {row} stops {x} from the tail', { row: 1, x: mm(97.24) }), 'Row 1 stops 97.2 mm from the tail', 'Row 1 stops 3.828 in from the tail', 'Row 1 stops 3 13/16+ in from the tail'],
    [range(80, 400), '80 to 400 mm', '3.150 to 15.748 in', '3 1/8+ to 15 3/4 in'],
    [size(1250, 620), '1250 by 620 mm', '49.213 by 24.409 in', '49 3/16+ by 24 7/16− in'],
    [section(12.5, 6), '12.5 x 6 mm', '0.492 x 0.236 in', '1/2 x 15/64 in'],
    [size(0.25), '0.25 mm', '0.010 in', '1/64− in'],
    [mm(-0.04), '0.0 mm', '−0.002 in', '0 in'],
    [size(-12), '−12 mm', '−0.472 in', '−1/2− in'],
    [amountOf(LEVERS[0], 0.05), '+5 %', '+5 %', '+5 %'],
    [amountOf(LEVERS[0], LEVERS[0].min, LEVERS[0].max), '−20 to +20 %', '−20 to +20 %', '−20 to +20 %'],
    [{ of: 'rad', value: Math.PI / 6 }, '30.0°', '30.0°', '30.0°'],
    [range(-60, 90, 'deg'), '−60 to 90°', '−60 to 90°', '−60 to 90°'],
    [{ of: 'mm3', value: 2.345e6, decimals: 1, signed: true }, '+2.3 l', '+2.3 l', '+2.3 l'],
    [{ of: 'mm2', value: 929_030.4 }, '0.93 m²', '10.0 sq ft', '10.0 sq ft'],
    [{ of: 'strain', value: 0.0123 }, '1.23 %', '1.23 %', '1.23 %'],
    [list([said('A {x}', { x: size(25.4) }), 'b'], '; '), 'A 25.4 mm; b', 'A 1.000 in; b', 'A 1 in; b'],
    [said('{name} stays {braces}', { name: '{x}', braces: '{{y}}' }), '{x} stays {{y}}', '{x} stays {{y}}', '{x} stays {{y}}'],
  ])('%j', (what, ...texts) => {
    expect(inAll(what)).toEqual(texts);
  });

  it('a finding\'s figure is told against its limit, finer than a tenth only where it is smaller than one', () => {
    const told = (figure: number, limit?: number, unit: Figure['of'] = 'mm') => textOf(findingFigures({ figure, limit, unit }) ?? '', 'mm');
    expect([told(4.26, 10), told(0.07, 0.05), told(12), told(0.0123, 0.0101, 'strain'), told(4, 3, 'count')])
      .toEqual(['4.3 mm (limit 10 mm)', '0.07 mm (limit 0.05 mm)', '12.0 mm', '1.23 % (limit 1.01 %)', '4 (limit 3)']);
  });

  it('a log has bare figures', () => {
    expect(logText(said('{a} and {b}', { a: mm(1.23), b: range(1, 2, 'rad') }))).toBe('1.2 mm and 1 to 2 rad');
  });
});
