/** What a plan costs: every starter board, against the number of samples and of rows, and the memory that a thousand plans leave. */
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { readDesign } from '../../geometry/design/read';
import type { Design } from '../../geometry/design/schema';
import { DRAFT_STEP, planBoard } from '../../geometry/plan';
import { meshBoard, meshStarboard } from '../../geometry/solid/board';
import { seedDesign, seedNames, starterTexts } from '../geometry/boards';
import { MB, ms, nameOf, type Section } from './report';
import { slope, time } from './timing';

const PLAN_TARGET = 4;
/** A draft plan and its bodies, as a dragging hand asks for them, ms. */
const DRAFT_TARGET = 10;
const STEPS = [16, 8, 4, 2, 1, 0.5, 0.25];
const REPLANS = 1000;
/** Memory is flat when by its trend over the later nine tenths a plan leaves less than this, bytes: half a megabyte in all. */
const LEFT_BEHIND = 500;

/** The tests' boards and the starters, with their ladders and ends. */
function everyBoard(): { readonly board: string; readonly design: Design }[] {
  const starters = starterTexts.map(([name, text]) => {
    const read = readDesign(text);
    if (!read.ok) throw new Error(`${name} does not read`);
    return { board: nameOf(name), design: read.design };
  });
  return [...seedNames.map((name) => ({ board: nameOf(name), design: seedDesign(name) })), ...starters];
}

export function planSection(): Section {
  const boards = everyBoard();
  const designs = boards.map(({ design }) => design);
  const plans = designs.map((design) => planBoard(design));
  const times = time(designs.map((design) => () => planBoard(design)), 1, 60, 800);
  const meshes = time(plans.map((plan) => () => meshBoard(plan)), 1, 20, 300);
  // What hangs a rib's plate together is kept from draft to draft, as the planner's thread keeps it.
  const kept = designs.map(() => new Map());
  const drafts = time(designs.map((design, i) => () => meshStarboard(planBoard(design, { step: DRAFT_STEP }), kept[i])), 1, 40, 500);
  const rows = plans.map(({ hull, rail }, i) => ({ board: boards[i].board, length: hull.length, samples: rail.samples.n, ...times[i], mesh: meshes[i], draft: drafts[i] }));
  const slowest = rows.reduce((a, b) => (a.median > b.median ? a : b));
  const slowDraft = rows.reduce((a, b) => (a.draft.median > b.draft.median ? a : b));
  return {
    title: 'A full plan',
    tables: [{
      title: 'Hull, rail, stops, bevels, covers and findings, samples at most 2 mm apart; all its meshes; and a draft of 4 mm with the bodies that a drag shows',
      head: ['board', 'length', 'samples', 'median', 'p95', 'least', 'meshes, median', 'meshes, least', 'draft, median', 'draft, least'],
      rows: rows.map((r) => [r.board, `${r.length.toFixed(0)} mm`, String(r.samples), ms(r.median), ms(r.p95), ms(r.least), ms(r.mesh.median), ms(r.mesh.least), ms(r.draft.median), ms(r.draft.least)]),
    }],
    remarks: ['What runs this from TypeScript names every inner function as it is made, which the page\'s build does not: kernel code with many of them looks slower here.'],
    targets: [
      { what: 'a full plan, samples 2 mm apart', target: `${PLAN_TARGET} ms median`, measured: `${ms(slowest.median, 1)} on the slowest board (${slowest.board})`, met: slowest.median <= PLAN_TARGET },
      { what: 'a draft plan with its bodies', target: `${DRAFT_TARGET} ms median`, measured: `${ms(slowDraft.draft.median, 1)} on the slowest board (${slowDraft.board})`, met: slowDraft.draft.median <= DRAFT_TARGET },
    ],
    data: rows,
  };
}

/** How cost and answers follow the number of samples on the run, and the number of rows asked for. */
export function growthSection(): Section {
  const design = seedDesign('round-tail-175.board.json');
  const stopsOf = (plan: ReturnType<typeof planBoard>) => plan.rail.rows.flatMap((r) => [r.tail.s, r.nose.s]);
  const finest = stopsOf(planBoard(design, { step: STEPS[STEPS.length - 1] }));
  const times = time(STEPS.map((step) => () => planBoard(design, { step })), 1, 25, 300);
  const steps = STEPS.map((step, i) => {
    const plan = planBoard(design, { step });
    const stops = stopsOf(plan);
    if (stops.length !== finest.length) throw new Error(`${step} mm sees ${stops.length} row ends, the finest ${finest.length}`);
    return { step, samples: plan.rail.samples.n, ...times[i], moved: Math.max(...stops.map((s, k) => Math.abs(s - finest[k]))) };
  });
  const counts = [1, 2, 4, 8];
  const thin = (rows: number): Design => ({ ...design, rail: { ...design.rail, rows, spacerHeight: (design.rail.rows * design.rail.spacerHeight) / rows } });
  const rowTimes = time(counts.map((rows) => () => planBoard(thin(rows))), 1, 40, 300);
  const rows = counts.map((count, i) => ({ count, ends: planBoard(thin(count)).rail.rows.length * 2, ...rowTimes[i] }));
  const at2 = steps.find(({ step }) => step === 2);
  const at1 = steps.find(({ step }) => step === 1);
  const moved = at2 && at1 ? Math.max(at2.moved, at1.moved) : Number.NaN;
  return {
    title: 'Cost against samples and rows',
    tables: [
      {
        title: 'The 1.75 m board by the greatest distance of its samples',
        head: ['step', 'samples', 'median', 'least', 'least a sample', 'stops move, against 0.25 mm'],
        rows: steps.map((r) => [`${r.step} mm`, String(r.samples), ms(r.median), ms(r.least), `${((r.least * 1000) / r.samples).toFixed(2)} us`, `${r.moved.toExponential(1)} mm`]),
      },
      {
        title: 'The same board with its hollow filled by more and lower rows',
        head: ['rows', 'stops sought', 'median', 'least'],
        rows: rows.map((r) => [String(r.count), String(r.ends), ms(r.median), ms(r.least)]),
      },
    ],
    remarks: ['Stops are roots refined on the surfaces, not samples, so that the step decides only what could be overlooked.'],
    targets: [{ what: 'stops when the sampling is halved', target: 'move < 0.05 mm', measured: `${moved.toExponential(1)} mm`, met: moved < 0.05 }],
    data: { steps, rows },
  };
}

/** A garbage collection on demand, without a flag on the command line. */
function collector(): () => void {
  setFlagsFromString('--expose-gc');
  return runInNewContext('gc') as () => void;
}

export async function memorySection(): Promise<Section> {
  const collect = collector();
  const base = seedDesign('round-tail-175.board.json');
  const { points } = base.lines.outline;
  const middle = Math.floor(points.length / 2);
  const dragged = (i: number): Design => ({
    ...base,
    lines: { ...base.lines, outline: { ...base.lines.outline, points: points.map((p, k) => (k === middle ? { ...p, y: p.y + 6 * Math.sin(i / 7) } : p)) } },
  });
  const held = async (): Promise<number> => {
    // Buffers of typed arrays are swept on another thread, some time after the collection that freed them.
    for (let i = 0; i < 3; i++) {
      collect();
      await new Promise((resolve) => {
        setTimeout(resolve, 100);
      });
    }
    const { heapUsed, external } = process.memoryUsage();
    return heapUsed + external;
  };
  const counts: { plans: number; held: number }[] = [];
  for (let i = 0; i <= REPLANS; i++) {
    if (i % (REPLANS / 10) === 0) counts.push({ plans: i, held: await held() });
    if (i < REPLANS) meshBoard(planBoard(dragged(i)));
  }
  // The first tenth warms caches and compiled code; a leak would show in the rest.
  const left = slope(counts.slice(1).map((c) => ({ x: c.plans, y: c.held })));
  return {
    title: 'Memory over a thousand re-plans',
    tables: [{
      title: 'The 1.75 m board with a point of its outline dragged to and fro, planned and meshed; memory held after a collection',
      head: ['plans', 'held'],
      rows: counts.map((c) => [String(c.plans), MB(c.held)]),
    }],
    remarks: [],
    targets: [{ what: 'memory over 1000 re-plans', target: 'flat', measured: `${left.toFixed(0)} bytes a plan by the trend after the first hundred`, met: left < LEFT_BEHIND }],
    data: counts,
  };
}
