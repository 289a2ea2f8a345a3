/** What the bench's lists and papers cost: every member of the parts, joints against the number of strips, and every paper. */
import { loadMilp, type MilpSolver } from '../../geometry/parts/milp';
import { PARTS_STAGES, planParts, type PartsStage } from '../../geometry/planParts';
import { planBoard } from '../../geometry/plan';
import { EVERYTHING, listPapers, makePapers, type PaperOptions } from '../../src/papers';
import { seedDesign, seedNames } from '../geometry/boards';
import { kB, ms, nameOf, type Section } from './report';
import { quantile } from './timing';

const ROUNDS = 5;
/** Blanks of a board, and all its papers, ms. */
const LIMITS = { blanks: 60, papers: 1000 } as const;
/** Any day will do; it is printed on the papers. */
const OPTIONS: PaperOptions = { date: '2026-01-01', paper: 'A4', units: 'mm' };

/** Median time of each stage of the parts, ms, and of all together. */
async function stageTimes(solver: MilpSolver, file: string): Promise<{ stages: Record<PartsStage, number>; all: number }> {
  const plan = planBoard(seedDesign(file));
  const lists = new Map<PartsStage, number[]>(PARTS_STAGES.map((stage) => [stage, []]));
  const whole: number[] = [];
  // The first round warms up.
  for (let round = 0; round <= ROUNDS; round++) {
    let stage: PartsStage | 'done' = 'done';
    let since = performance.now();
    const start = since;
    await planParts(plan, {
      solver,
      onProgress: (next) => {
        const now = performance.now();
        if (stage !== 'done' && round > 0) lists.get(stage)?.push(now - since);
        stage = next;
        since = now;
      },
    });
    if (round > 0) whole.push(performance.now() - start);
  }
  const stages = Object.fromEntries(PARTS_STAGES.map((stage) => [stage, quantile(lists.get(stage) ?? [])])) as Record<PartsStage, number>;
  return { stages, all: quantile(whole) };
}

/** Joints of a board whose hollow is filled by so many lower rows: strips to lay, and the solver's time and proof. */
async function jointsBy(solver: MilpSolver, rows: number) {
  const base = seedDesign('paddle-305.board.json');
  const plan = planBoard({ ...base, rail: { ...base.rail, rows, spacerHeight: (base.rail.rows * base.rail.spacerHeight) / rows } });
  const times: number[] = [];
  let from = 0;
  let last = await planParts(plan, { solver });
  for (let round = 0; round < 3; round++) {
    last = await planParts(plan, {
      solver,
      onProgress: (stage) => {
        if (stage === 'joints') from = performance.now();
        if (stage === 'totals') times.push(performance.now() - from);
      },
    });
  }
  const { joints } = last;
  if (!joints) throw new Error(`no joints for ${rows} rows`);
  return { rows, runs: last.bending.length, pieces: joints.pieces.length, joints: joints.joints.length, proof: joints.proof, median: quantile(times) };
}

/** A limit held to the slowest board. */
function target(what: string, limit: number, boards: readonly { readonly board: string; readonly ms: number }[]) {
  const slowest = boards.reduce((a, b) => (a.ms > b.ms ? a : b));
  return { what, target: `${limit} ms`, measured: `${ms(slowest.ms, 0)} on the slowest board (${slowest.board})`, met: slowest.ms <= limit };
}

export async function partsSection(): Promise<Section> {
  const solver = await loadMilp();
  const rows = [];
  for (const file of seedNames) rows.push({ board: nameOf(file), ...(await stageTimes(solver, file)) });
  const joints = [];
  for (const count of [1, 2, 4, 8]) joints.push(await jointsBy(solver, count));
  return {
    title: 'The bench\'s lists',
    tables: [
      {
        title: 'Every member of the parts, medians',
        head: ['board', ...PARTS_STAGES, 'all'],
        rows: rows.map((r) => [r.board, ...PARTS_STAGES.map((stage) => ms(r.stages[stage], 1)), ms(r.all, 1)]),
      },
      {
        title: 'Joints and bars of the 3.05 m board by the number of runs to be laid (a proved best plan has its bounds met)',
        head: ['rows asked for', 'runs', 'pieces', 'joints', 'stock', 'proved bound', 'proof', 'median'],
        rows: joints.map((j) => [
          String(j.rows), String(j.runs), String(j.pieces), String(j.joints), j.proof.stock.toFixed(0), j.proof.stockBound.toFixed(0),
          j.proof.optimal ? 'best' : (j.proof.limit ?? 'not proved'), ms(j.median, 0),
        ]),
      },
    ],
    remarks: ['Bending, blanks, frames and totals are of the kernel\'s own making; joints are a mixed-integer programme solved by HiGHS. No', 'general-purpose kernel among those above has a call for any of them.'],
    targets: [target('the skin blanks of a board', LIMITS.blanks, rows.map((r) => ({ board: r.board, ms: r.stages.blanks })))],
    data: { stages: rows, joints },
  };
}

/** What a work gives, done so many times in turn. */
async function several<T>(times: number, make: () => Promise<T>): Promise<T[]> {
  const list: T[] = [];
  while (list.length < times) list.push(await make());
  return list;
}

export async function papersSection(): Promise<Section> {
  const solver = await loadMilp();
  const rows = [];
  const kinds = new Map<string, { count: number; bytes: number; time: number }>();
  for (const file of seedNames) {
    const plan = planBoard(seedDesign(file));
    const parts = await planParts(plan, { solver });
    const entries = listPapers(plan, parts, OPTIONS).filter(({ id }) => id !== EVERYTHING);
    // A plan of its own each time: what is made once a plan is part of the work. Fonts and writers are loaded by the first paper of their kind, once a visit.
    const made = async (which?: readonly string[]) => {
      const own = planBoard(seedDesign(file));
      const from = performance.now();
      const papers = await makePapers(own, parts, { ...OPTIONS, which });
      return { time: performance.now() - from, bytes: papers.reduce((sum, paper) => sum + paper.bytes.length, 0) };
    };
    const [first, ...rounds] = await several(ROUNDS + 1, made);
    const zips = await several(ROUNDS, () => made([EVERYTHING]));
    rows.push({
      board: nameOf(file), papers: entries.length, bytes: first.bytes, first: first.time, time: quantile(rounds.map(({ time }) => time)),
      zip: zips[0].bytes, zipTime: quantile(zips.map(({ time }) => time)),
    });
    for (const { id, name } of entries) {
      const kind = name.slice(name.lastIndexOf('.') + 1);
      const began = performance.now();
      const [paper] = await makePapers(plan, parts, { ...OPTIONS, which: [id] });
      const kept = kinds.get(kind) ?? { count: 0, bytes: 0, time: 0 };
      kinds.set(kind, { count: kept.count + 1, bytes: kept.bytes + paper.bytes.length, time: kept.time + performance.now() - began });
    }
  }
  return {
    title: 'The papers',
    tables: [
      {
        title: `Every paper of a board, made one after the other on one thread, medians of ${ROUNDS}`,
        head: ['board', 'papers', 'bytes', 'the first time', 'later', 'the zip of them all', 'time'],
        rows: rows.map((r) => [r.board, String(r.papers), kB(r.bytes), ms(r.first, 0), ms(r.time, 0), kB(r.zip), ms(r.zipTime, 0)]),
      },
      {
        title: 'By kind, all boards together',
        head: ['kind', 'papers', 'bytes a paper', 'time a paper'],
        rows: [...kinds].map(([kind, k]) => [kind, String(k.count), kB(k.bytes / k.count), ms(k.time / k.count, 1)]),
      },
    ],
    remarks: ['The first board\'s first time is a cold program\'s: writers are loaded and compiled for it.'],
    targets: [target('all papers of a board', LIMITS.papers, rows.map((r) => ({ board: r.board, ms: r.time })))],
    data: { boards: rows, kinds: Object.fromEntries(kinds) },
  };
}
