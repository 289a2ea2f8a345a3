/**
 * npm run bench: how long a full plan takes for each starter board, and how the evaluator under it compares with
 * three general-purpose kernels asked the same questions of the same net. Answers are compared before anything
 * is timed; the run fails (exit 1) where they differ by more than 0.01 mm. Options: --json FILE, --markdown FILE.
 */
import { writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { breaks } from '../../geometry/curves/bspline';
import { buildHull } from '../../geometry/hull/hull';
import { planBoard } from '../../geometry/plan';
import { seedDesign, seedNames } from '../geometry/boards';
import { inside } from '../support/nets';
import { field, QUESTIONS, type Contestant } from './queries';
import { time, type Timing } from './timing';

/** Targets: a frame at 60 Hz for a full plan, and ten times each kernel; the same answers to 0.01 mm. */
const PLAN_TARGET = 16;
const RATIO_TARGET = 10;
const AGREEMENT = 0.01;
/** Places asked about, few enough that the answers stay in the nearest cache, and passes over them in one timed round. */
const PLACES = 400;
const PASSES = 10;

interface PlanRow extends Timing {
  readonly board: string;
  readonly length: number;
  readonly samples: number;
}

interface QueryRow extends Timing {
  readonly question: string;
  readonly kernel: string;
  readonly how: string;
  /** Times ours by the least, which a busy machine inflates least; and the greatest difference from ours in any figure. */
  readonly ratio: number;
  readonly difference: number;
}

function plans(): PlanRow[] {
  const designs = seedNames.map(seedDesign);
  const times = time(designs.map((design) => () => planBoard(design)), 1, 120, 1500);
  return designs.map((design, i) => {
    const { hull, rail } = planBoard(design);
    return { board: seedNames[i].replace('.board.json', ''), length: hull.length, samples: rail.samples.n, ...times[i] };
  });
}

/** Compare, then time turn and turn about; the first contestant is ours. */
function race(contestants: readonly Contestant[]): QueryRow[] {
  const figures = QUESTIONS[contestants[0].question];
  const answers = contestants.map((c) => {
    const out = new Float64Array(PLACES * figures);
    c.answer(out);
    return out;
  });
  const differences = contestants.map((c, k) => {
    let difference = 0;
    answers[k].forEach((value, i) => {
      const d = Math.abs(value - answers[0][i]);
      if (!(d <= AGREEMENT)) throw new Error(`${c.kernel}, ${c.question}: figure ${i % figures} of place ${Math.floor(i / figures)} is ${value}, ours ${answers[0][i]}`);
      difference = Math.max(difference, d);
    });
    return difference;
  });
  const times = time(contestants.map((c, k) => () => {
    for (let pass = 0; pass < PASSES; pass++) c.answer(answers[k]);
  }), PLACES * PASSES, 60);
  return contestants.map(({ question, kernel, how }, k) => ({
    question, kernel, how, ...times[k], ratio: times[k].least / times[0].least, difference: differences[k],
  }));
}

function option(name: string): string | undefined {
  const at = process.argv.indexOf(`--${name}`);
  if (at < 0) return undefined;
  const file = process.argv[at + 1];
  if (file === undefined || file.startsWith('--')) throw new Error(`--${name} wants a file name`);
  return file;
}

const table = (head: readonly string[], rows: readonly (readonly string[])[]): string => {
  const widths = head.map((h, i) => Math.max(h.length, ...rows.map((r) => r[i].length)));
  const line = (cells: readonly string[]) => `| ${cells.map((c, i) => (i < 1 ? c.padEnd(widths[i]) : c.padStart(widths[i]))).join(' | ')} |`;
  return [line(head), `| ${widths.map((w, i) => (i < 1 ? '-'.repeat(w) : `${'-'.repeat(w - 1)}:`)).join(' | ')} |`, ...rows.map(line)].join('\n');
};

const us = (ms: number): string => `${(ms * 1000).toFixed(3)} us`;

async function main(): Promise<void> {
  const jsonFile = option('json');
  const markdownFile = option('markdown');
  const planRows = plans();
  const { deck } = buildHull(seedDesign('round-tail-175.board.json'));
  const uPlaces = Float64Array.from(inside(deck.spline.knots, PLACES));
  const vPlaces = uPlaces.map((_, i) => (i * 0.7548776662466927) % 1);
  const { contestants, emptyCalls } = await field(deck, uPlaces, vPlaces);
  const queryRows = (Object.keys(QUESTIONS) as (keyof typeof QUESTIONS)[]).flatMap((question) => race(contestants.filter((c) => c.question === question)));
  const emptyTimes = time(emptyCalls.map(({ call }) => () => {
    for (let i = 0; i < PLACES * PASSES; i++) call();
  }), PLACES * PASSES, 60);
  const empties = emptyCalls.map(({ kernel }, i) => ({ kernel, ...emptyTimes[i] }));

  const net = `${deck.spline.knots.length - 4} x 4 control points, ${breaks(deck.spline.knots).length - 1} spans`;
  const text = [
    `Node ${process.version}, ${cpus()[0]?.model ?? 'unknown processor'}, ${cpus().length} cores. Contestants take turns; p95 and least tell how busy the machine was. 'Times ours' compares the least.`,
    '',
    `Full plan, samples at most 2 mm apart (target ${PLAN_TARGET} ms):`,
    table(['board', 'length', 'samples', 'median', 'p95', 'least', 'target'], planRows.map((r) => [
      r.board, `${r.length.toFixed(0)} mm`, String(r.samples), `${r.median.toFixed(2)} ms`, `${r.p95.toFixed(2)} ms`, `${r.least.toFixed(2)} ms`, r.median <= PLAN_TARGET ? 'met' : 'missed',
    ])),
    '',
    `Queries of the deck of the 1.75 m board (bicubic net, ${net}), ${PLACES} places, time a place (target ${RATIO_TARGET} times each kernel):`,
    table(['query', 'kernel', 'median', 'p95', 'least', 'times ours', 'target', 'greatest difference', 'asked by'], queryRows.map((r) => [
      r.question, r.kernel, us(r.median), us(r.p95), us(r.least), r.ratio.toFixed(1),
      r.kernel === 'ours' ? '' : r.ratio >= RATIO_TARGET ? 'met' : 'missed', r.kernel === 'ours' ? '' : r.difference.toExponential(1), r.how,
    ])),
    '',
    'What a call into each WASM kernel costs by itself. None of the packages has a call for many places at once that',
    'works here (verb\'s regular grid runs past its last knot), so each kernel pays its boundary at every place:',
    table(['call', 'median'], empties.map((e) => [e.kernel, us(e.median)])),
    '',
    'Ours knows that a panel\'s x hangs on u alone and its y is linear in v; the others take any net. Differences are',
    'in mm for points, mm per unit of u or v for derivatives, and the length of a unit vector for normals.',
  ].join('\n');
  console.log(text);
  if (markdownFile !== undefined) writeFileSync(markdownFile, `${text}\n`);
  if (jsonFile !== undefined) writeFileSync(jsonFile, `${JSON.stringify({ node: process.version, plans: planRows, queries: queryRows, emptyCalls: empties }, null, 2)}\n`);
}

try {
  await main();
} catch (error) {
  console.error(error instanceof Error ? error.message : String(error));
  process.exitCode = 1;
}
