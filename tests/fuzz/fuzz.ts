/**
 * `npm run fuzz -- --runs N --seed S [--index I] [--deep D] [--only boards|files|keeping] [--out DIR]`: random sound boards held to
 * every rule of a plan (of each D-th all parts and papers too, read back by other readers), random broken files that must each be refused by name, and hostile files timed. A failure
 * prints one line that repeats it and leaves the file in DIR. Ends with `N passed, N failed`; exit 1 on any failure.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { parseArgs } from 'node:util';
import { meshBoard } from '../../geometry/solid/board';
import { checkDesign, readDesign, type ReadResult } from '../../geometry/design/read';
import type { Design } from '../../geometry/design/schema';
import { writeDesign } from '../../geometry/design/write';
import { BuildError } from '../../geometry/errors';
import { loadMilp, type MilpSolver } from '../../geometry/parts/milp';
import { planParts } from '../../geometry/planParts';
import { planBoard } from '../../geometry/plan';
import { applyReadings, expectedReadings } from '../../geometry/trust/asBuilt';
import { READING_FIELDS, type Readings } from '../../geometry/trust/readings';
import { noReadings } from '../../geometry/trust/emptyRecord';
import { planTolerance } from '../../geometry/trust/tolerance';
import type { Plan } from '../../geometry/types';
import { breakFile } from './broken';
import { randomDesign, type Traits } from './designs';
import { dice, type Dice } from './dice';
import { hostileFiles } from './hostile';
import { faultsOf, partFaults, strangeNumbers } from './invariants';
import { keepingFaults } from './keeping';
import { paperFaults } from './papers';
import { loadManifold } from '../support/kernels';
import { overlapsOf, overlapText } from '../support/overlaps';
import { errorLines, mmError, mmText } from '../support/said';

const { values: args } = parseArgs({
  options: {
    runs: { type: 'string', default: '500' }, seed: { type: 'string', default: '1' }, index: { type: 'string' },
    deep: { type: 'string', default: '16' }, only: { type: 'string' }, out: { type: 'string', default: 'out/fuzz' },
  },
});
const number = (name: 'runs' | 'seed' | 'index' | 'deep', text: string): number => {
  const n = Number(text);
  if (!Number.isInteger(n) || n < 0) throw new Error(`--${name}: given ${text}; allowed a whole number, 0 or more`);
  return n;
};
const seed = number('seed', args.seed);
const from = args.index === undefined ? 0 : number('index', args.index);
const to = args.index === undefined ? number('runs', args.runs) : from + 1;
if (args.only !== undefined && !['boards', 'files', 'keeping'].includes(args.only)) throw new Error(`--only: given ${args.only}; allowed boards, files or keeping`);

/** Every so many boards (0: never), all the rooms behind the rail are walked too. */
const DEEP = args.index === undefined ? number('deep', args.deep) : 1;
let solver: MilpSolver | undefined;
let manifold: Awaited<ReturnType<typeof loadManifold>> | undefined;

let passed = 0;
let failed = 0;
const failures = new Map<string, number>();

function fail(kind: 'boards' | 'files' | 'keeping', index: number, what: string, file: string): void {
  failed++;
  // Numbers aside, the same words are the same fault: show each a few times only.
  const sort = what.replace(/-?\d+(\.\d+)?(e[-+]?\d+)?/g, '#').slice(0, 160);
  const seen = (failures.get(sort) ?? 0) + 1;
  failures.set(sort, seen);
  if (seen > 3) return;
  mkdirSync(args.out, { recursive: true });
  const path = join(args.out, `${kind}-${seed}-${index}.json`);
  writeFileSync(path, file);
  console.log(`FAIL ${what}\n  npm run fuzz -- --only ${kind} --seed ${seed} --index ${index}   (${path})`);
}

const textOf = (e: unknown): string => (e instanceof Error ? `${e.name}: ${e.message} | ${e.stack?.split('\n')[1]?.trim() ?? ''}` : String(e));

/** Readings about what the plan expects, some far off, at some of the ribs and at ribs that are not there. */
function randomReadings(d: Dice, plan: Plan): Readings {
  const value = (expected: number) => Math.min(80, Math.max(0, d.chance(0.1) ? d.real(0, 80) : expected + d.real(-1, 1)));
  const readings = plan.rail.ribs.filter(() => d.chance(0.6)).map((rib) => {
    const expected = expectedReadings(plan, rib);
    return {
      of: 'rib' as const, rib: rib.index + 1, side: 'starboard' as const, ...(d.chance(0.3) ? { bevelDeg: (expected.bevel * 180) / Math.PI + d.real(-4, 4) } : {}),
      ...Object.fromEntries(READING_FIELDS.filter((f) => f !== 'bevel' && d.chance(0.5)).map((f) => [f, value(expected[f])])),
    };
  });
  if (d.chance(0.2)) readings.push({ of: 'rib', rib: 80, side: 'starboard' });
  if (d.chance(0.3)) return { ...noReadings(plan.design.name, plan.design.revision), readings: [...readings, { of: 'batch', cap: value(plan.design.rail.capThickness) }] };
  return { ...noReadings(plan.design.name, plan.design.revision), readings };
}

/** The rooms behind the rail: no throw, no strange number. */
async function deepFaults(plan: Plan, index: number): Promise<string[]> {
  const found: string[] = [];
  const room = async (name: string, walk: () => unknown) => {
    try {
      const strange = strangeNumbers(await walk(), name);
      if (strange.length > 0) found.push(strange[0]);
    } catch (e) {
      // Readings may leave no room for a box, and must then say so by field.
      if (!(name === 'readings' && e instanceof BuildError)) found.push(`${name} throws ${textOf(e)}`);
    }
  };
  await room('parts', async () => {
    const parts = await planParts(plan, { solver: (solver ??= await loadMilp()), limits: { nodes: 50, seconds: 0.5 } });
    const lost = parts.findings.find((f) => f.code === 'not-made');
    if (lost) found.push(`${mmText(lost.title)}: ${mmText(lost.advice)}`);
    found.push(...partFaults(parts));
    found.push(...await paperFaults(dice(seed + 0x9a9e, index), plan, parts));
    return parts;
  });
  await room('meshes', () => meshBoard(plan));
  await room('overlaps', async () => {
    found.push(...overlapsOf(manifold ??= await loadManifold(), plan).map((one) => `two parts take the same room: ${overlapText(one)}`));
    return 0;
  });
  await room('tolerance', () => planTolerance(plan, { method: 'estimate', places: 25 }));
  await room('readings', () => {
    const built = applyReadings(plan, randomReadings(dice(seed + 0x4ead, index), plan));
    const odd = built.plan.rail.rows.flatMap((r) => [r.tail, r.nose]).find((s) => s.gap < s.need - 1e-4);
    if (odd) found.push(`as built, row ${odd.row} stops at gap ${odd.gap}, needs ${odd.need}`);
    return built;
  });
  await room('drawn tolerance', () => planTolerance(plan, { method: 'trials', places: 25, runs: 6 }));
  return found;
}

const count = <K>(map: Map<K, number>, key: K) => map.set(key, (map.get(key) ?? 0) + 1);
const table = (title: string, map: Map<string | number, number>, total: number) =>
  console.log(`${title}: ${[...map].sort(([a], [b]) => (a < b ? -1 : 1)).map(([k, n]) => `${k} ${((100 * n) / total).toFixed(1)} %`).join(', ')}`);

async function fuzzBoards(): Promise<void> {
  const spread: Record<'tail' | 'nose' | 'rowsAsked' | 'rowsStanding' | 'length' | 'outcome', Map<string | number, number>> = {
    tail: new Map(), nose: new Map(), rowsAsked: new Map(), rowsStanding: new Map(), length: new Map(), outcome: new Map(),
  };
  const times: { ms: number; index: number }[] = [];
  const codes = new Map<string | number, number>();
  let tries = 0;
  let corners = 0;
  for (let index = from; index < to; index++) {
    let design: Design;
    let traits: Traits;
    try {
      ({ design, traits } = randomDesign(seed, index));
    } catch (e) {
      fail('boards', index, `the generator throws ${textOf(e)}`, '');
      continue;
    }
    const file = writeDesign(design);
    tries += traits.tries;
    count(spread.tail, traits.tail);
    count(spread.nose, traits.nose);
    count(spread.rowsAsked, design.rail.rows);
    const length = design.lines.outline.points.at(-1)?.x ?? 0;
    count(spread.length, length < 1000 ? '0.3-1 m' : length < 3000 ? '1-3 m' : '3-6 m');
    if (Object.values(design.lines).some((l) => l.points.some((p) => 'corner' in p && p.corner))) corners++;
    const faults: string[] = [];
    const again = readDesign(file);
    if (!again.ok) faults.push(`written and read again it is refused: ${errorLines(again.errors)}`);
    else if (writeDesign(again.design) !== file) faults.push('written and read again it is another board');
    const t = performance.now();
    try {
      const plan = planBoard(design);
      times.push({ ms: performance.now() - t, index });
      count(spread.rowsStanding, Math.max(0, ...plan.rail.rows.map((r) => r.row)));
      count(spread.outcome, 'planned');
      new Set(plan.findings.map((f) => f.code)).forEach((c) => count(codes, c));
      faults.push(...faultsOf(plan));
      if (DEEP > 0 && index % DEEP === 0) faults.push(...(await deepFaults(plan, index)));
    } catch (e) {
      if (e instanceof BuildError && e.fault.field !== '' && mmText(e.fault.allowed) !== '' && mmText(e.fault.value) !== '') count(spread.outcome, `refused by name: ${e.fault.field}`);
      else faults.push(`planBoard throws ${textOf(e)}`);
    }
    if (faults.length === 0) passed++;
    else fail('boards', index, faults.join('; '), file);
  }
  const total = to - from;
  times.sort((a, b) => a.ms - b.ms);
  const at = (share: number) => times[Math.min(times.length - 1, Math.floor(share * times.length))];
  console.log(`\n${total} random boards, seed ${seed}; ${(tries / total).toFixed(2)} throws a board; ${((100 * corners) / total).toFixed(1)} % with a corner in a line`);
  table('tail', spread.tail, total);
  table('nose', spread.nose, total);
  table('length', spread.length, total);
  table('rows asked for', spread.rowsAsked, total);
  table('highest row standing', spread.rowsStanding, total);
  table('outcome', spread.outcome, total);
  table('boards with a finding', codes, total);
  if (times.length > 0) {
    console.log(`plan at 2 mm: median ${at(0.5).ms.toFixed(1)} ms, 95 % under ${at(0.95).ms.toFixed(1)} ms, 99.9 % under ${at(0.999).ms.toFixed(1)} ms, `
      + `slowest ${at(1).ms.toFixed(1)} ms (index ${at(1).index})`);
  }
}

/** Why a refusal does not name what it must, or undefined. */
function unnamed(read: ReadResult): string | undefined {
  if (read.ok) return undefined;
  if (read.errors.length === 0) return 'refused without an error';
  const bad = read.errors.map(mmError).find((e) => e.value === '' || e.allowed === '' || e.message === '' || /undefined|\[object/.test(e.message + e.allowed));
  return bad && `an error that does not say enough: ${JSON.stringify(bad)}`;
}

function fuzzFiles(): void {
  const outcome = new Map<string | number, number>();
  let slowest = { ms: 0, index: 0 };
  for (let index = from; index < to; index++) {
    const { design } = randomDesign(seed, index);
    const broken = breakFile(dice(seed + 0x5eed, index), design);
    const file = 'text' in broken ? broken.text : `${broken.how}\n${writeDesign(design)}`;
    const t = performance.now();
    let fault: string | undefined;
    try {
      const read = 'text' in broken ? readDesign(broken.text) : checkDesign(broken.value);
      const ms = performance.now() - t;
      if (ms > slowest.ms) slowest = { ms, index };
      fault = unnamed(read);
      count(outcome, read.ok ? 'still sound' : 'refused');
      if (read.ok) {
        try {
          const strange = strangeNumbers(planBoard(read.design));
          if (strange.length > 0) fault = strange[0];
        } catch (e) {
          if (!(e instanceof BuildError)) throw e;
        }
      }
      if (Reflect.get({}, 'polluted') !== undefined) fault = 'the file reached into the language';
    } catch (e) {
      fault = `throws ${textOf(e)}`;
    }
    if (fault === undefined) passed++;
    else fail('files', index, `${fault} (${broken.how.slice(0, 120)})`, file);
  }
  console.log(`\n${to - from} random broken files, seed ${seed}`);
  table('outcome', outcome, to - from);
  console.log(`slowest answer ${slowest.ms.toFixed(1)} ms (index ${slowest.index})`);
}

/** Of every D-th index a maker's hour in a browser that fails. */
async function fuzzKeeping(): Promise<void> {
  for (let index = from; index < to; index++) {
    if (args.only === undefined && (DEEP === 0 || index % DEEP !== 0)) continue;
    const faults = await keepingFaults(dice(seed + 0x6ee9, index), 14);
    if (faults.length === 0) passed++;
    else fail('keeping', index, faults[0], '');
  }
}

/** How long each hostile file takes to be refused, in processor time: the machine may be busy with other things. */
function timeHostile(): void {
  const { design } = randomDesign(seed, 0);
  console.log('\nhostile files, processor time to the refusal:');
  for (const { name, text, value } of hostileFiles(design, writeDesign(design))) {
    const before = process.cpuUsage();
    const read = text === undefined ? checkDesign(value) : readDesign(text);
    const { user, system } = process.cpuUsage(before);
    console.log(`  ${name.padEnd(44)} ${((user + system) / 1000).toFixed(1).padStart(7)} ms${read.ok ? '  TAKEN AS SOUND' : ''}`);
    if (read.ok) failed++;
    else passed++;
  }
}

if (args.only === undefined || args.only === 'boards') await fuzzBoards();
if (args.only === undefined || args.only === 'files') fuzzFiles();
if (args.only === undefined || args.only === 'keeping') await fuzzKeeping();
if (args.only === undefined) timeHostile();
if (failures.size > 0) {
  console.log('\nfaults by kind:');
  for (const [what, n] of [...failures].sort((a, b) => b[1] - a[1])) console.log(`  ${n} x ${what}`);
}
console.log(`\n${passed} passed, ${failed} failed`);
process.exitCode = failed > 0 ? 1 : 0;
