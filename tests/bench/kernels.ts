/**
 * The evaluator against three general-purpose kernels asked the same questions of the same net in one run, and the
 * box cut at stations against OCCT. Answers are compared before anything is timed: where they differ by more than
 * 0.01 mm (or 0.01 degrees) the bench fails.
 */
import { breaks } from '../../geometry/curves/bspline';
import { parameterAtX } from '../../geometry/curves/station';
import { planBoard } from '../../geometry/plan';
import { runOf } from '../../geometry/rail/query';
import { rowsAt } from '../../geometry/rail/laid';
import { sectionOnRun } from '../../geometry/rail/run';
import type { Plan } from '../../geometry/types';
import { seedDesign } from '../geometry/boards';
import { loadOcct } from '../support/kernels';
import { inside } from '../support/nets';
import { occtBoard } from '../support/occtBoard';
import { planField } from './planQueries';
import { field, QUESTIONS, type Contestant } from './queries';
import { ms, us, type Section } from './report';
import { time, type Timing } from './timing';

/** Ten times each kernel; the same answers to 0.01 mm. */
const RATIO_TARGET = 10;
const AGREEMENT = 0.01;
/** Places asked about, few enough that the answers stay in the nearest cache; figures gathered in one timed round at least. */
const PLACES = 400;
const PASSES = 10;
/** The questions that planning asks; the rest show the bare evaluator. */
const ASKED = ['height over the plan', 'inner face over the plan'];

interface QueryRow extends Timing {
  readonly question: string;
  readonly kernel: string;
  readonly how: string;
  /** Times ours by the least, which a busy machine inflates least; and the greatest difference from ours in any figure. */
  readonly ratio: number;
  readonly difference: number;
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
  }), PLACES * PASSES, 40, 200);
  return contestants.map(({ question, kernel, how }, k) => ({
    question, kernel, how, ...times[k], ratio: times[k].least / times[0].least, difference: differences[k],
  }));
}

/** Plan points along the rib-end line and the box face in turn, where there is a box: what planning walks over. */
function railPlaces({ rail }: Plan): { xs: Float64Array; ys: Float64Array } {
  const { samples, boxFrom, boxTo } = rail;
  const inBox = Array.from(samples.s.keys()).filter((i) => samples.s[i] > boxFrom && samples.s[i] < boxTo);
  const picked = Array.from({ length: PLACES }, (_, k) => inBox[Math.floor((k * (inBox.length - 1)) / (PLACES - 1))]);
  return { xs: Float64Array.from(picked, (i) => samples.ribX[i]), ys: Float64Array.from(picked, (i) => samples.ribY[i]) };
}

/** Every question to every kernel, on the deck of one starter board. */
export async function kernelSection(): Promise<Section> {
  const plan = planBoard(seedDesign('round-tail-175.board.json'));
  const { deck } = plan.hull;
  const uPlaces = Float64Array.from(inside(deck.spline.knots, PLACES));
  const vPlaces = uPlaces.map((_, i) => (i * 0.7548776662466927) % 1);
  const { contestants, emptyCalls } = await field(deck, uPlaces, vPlaces);
  const { xs, ys } = railPlaces(plan);
  const all = [...(await planField(deck, xs, ys, parameterAtX(deck.spline, xs[0]), 0.9)), ...contestants];
  const rows = (Object.keys(QUESTIONS) as (keyof typeof QUESTIONS)[]).flatMap((question) => race(all.filter((c) => c.question === question)));
  const emptyTimes = time(emptyCalls.map(({ call }) => () => {
    for (let i = 0; i < PLACES * PASSES; i++) call();
  }), PLACES * PASSES, 20);
  const empties = emptyCalls.map(({ kernel }, i) => ({ kernel, ...emptyTimes[i] }));
  const others = rows.filter((r) => r.kernel !== 'ours');
  const least = (asked: boolean) => others.filter((r) => ASKED.includes(r.question) === asked).reduce((a, b) => (a.ratio < b.ratio ? a : b));
  const [asked, bare] = [least(true), least(false)];
  const greatest = Math.max(...others.map((r) => r.difference));
  return {
    title: 'Against general-purpose kernels',
    tables: [
      {
        title: `Queries of the deck of the 1.75 m board (bicubic net, ${deck.spline.knots.length - 4} x 4 control points, ${breaks(deck.spline.knots).length - 1} spans), ${PLACES} places, time a place`,
        head: ['query', 'kernel', 'median', 'p95', 'least', 'times ours', 'greatest difference', 'asked by'],
        rows: rows.map((r) => [
          r.question, r.kernel, us(r.median), us(r.p95), us(r.least), r.kernel === 'ours' ? '' : r.ratio.toFixed(1),
          r.kernel === 'ours' ? '' : r.difference.toExponential(1), r.how,
        ]),
      },
      { title: 'What a call into each WASM kernel costs by itself', head: ['call', 'median'], rows: empties.map((e) => [e.kernel, us(e.median)]) },
    ],
    remarks: [
      'The first two questions are those that planning asks, at places along the rail; the others show the bare evaluators at',
      'scattered parameters. None of the packages has a call for many places at once that works here (verb\'s regular grid runs',
      'past its last knot), so each WASM kernel pays its boundary at every place. Ours knows that a panel\'s x hangs on u alone',
      'and its y is linear in v; the others take any net. Ours gives the derivatives with every point, asked for or not.',
      'Differences are in mm for points and heights, mm per mm for slopes, mm per unit of u or v for derivatives, and the length',
      'of a unit vector for normals. "Times ours" compares the least times.',
    ],
    targets: [
      { what: 'the queries of planning, against each kernel', target: `${RATIO_TARGET} times faster`, measured: `${asked.ratio.toFixed(1)} times at least (${asked.kernel}, ${asked.question})`, met: asked.ratio >= RATIO_TARGET },
      { what: 'the bare evaluator, against each kernel', target: `${RATIO_TARGET} times faster`, measured: `${bare.ratio.toFixed(1)} times at least (${bare.kernel}, ${bare.question})`, met: bare.ratio >= RATIO_TARGET },
      { what: 'the same answers', target: `${AGREEMENT} mm`, measured: `${greatest.toExponential(1)} at most`, met: greatest <= AGREEMENT },
    ],
    data: { queries: rows, emptyCalls: empties },
  };
}

const CUTS = 12;
/** The ends of the rib-end line, where OCCT's windows have no room, mm. */
const END = 2;
const DEGREE = 180 / Math.PI;

/** Whole stations of the box: depth, gap, bevel and cover, by our rail and by OCCT's cuts and least distances. */
export async function cutSection(): Promise<Section> {
  const design = seedDesign('round-tail-175.board.json');
  const plan = planBoard(design);
  const run = runOf(plan);
  const occt = await loadOcct();
  const board = occtBoard(occt, plan.hull, design);
  const { ribX, s } = plan.rail.samples;
  const inBox = Array.from(s).flatMap((at, i) => (at >= plan.rail.boxFrom && at <= plan.rail.boxTo ? [ribX[i]] : []));
  const [x0, x1] = [Math.min(...inBox) + END, Math.max(...inBox) - END];
  const xs = Array.from({ length: CUTS }, (_, i) => x0 + ((x1 - x0) * i) / (CUTS - 1));
  const theirs = (x: number) => board.station(x, (u) => rowsAt(plan.rail.rows, run.map.runAt(u)));
  const places: number[] = [];
  let [worst, worstAngle] = [0, 0];
  for (const x of xs) {
    const cut = theirs(x);
    if (!cut) throw new Error(`OCCT finds no rib end at ${x.toFixed(1)} mm`);
    const at = run.map.runAt(cut.u);
    places.push(at);
    const ours = sectionOnRun(run, at, rowsAt(plan.rail.rows, at));
    for (const f of ['depth', 'gap', 'cover'] as const) worst = Math.max(worst, Math.abs(ours[f] - cut[f]));
    worstAngle = Math.max(worstAngle, Math.abs(ours.bevel - cut.bevel) * DEGREE);
  }
  if (!(worst <= AGREEMENT && worstAngle <= AGREEMENT)) throw new Error(`stations differ by ${worst} mm and ${worstAngle} degrees`);
  const [mine, occts] = time([
    () => places.forEach((at) => sectionOnRun(run, at, rowsAt(plan.rail.rows, at))),
    () => xs.forEach(theirs),
  ], CUTS, 3, 0);
  const ratio = occts.least / mine.least;
  return {
    title: 'The box cut at stations',
    tables: [{
      title: `${CUTS} stations of the 1.75 m board, each with depth, gap, bevel and cover; time a station`,
      head: ['by', 'median', 'least', 'times ours', 'greatest difference'],
      rows: [
        ['ours (sectionOnRun)', us(mine.median), us(mine.least), '', ''],
        ['OCCT (offset surfaces, line cuts, least distances)', ms(occts.median), ms(occts.least), ratio.toFixed(0), `${worst.toExponential(1)} mm, ${worstAngle.toExponential(1)} degrees`],
      ],
    }],
    remarks: ['`npm run verify` holds 200 stations of every starter board to the same limits. verb and rhino3dm have no offset surfaces and no least distances to a face.'],
    targets: [{ what: 'a whole station, against OCCT', target: `${RATIO_TARGET} times faster`, measured: `${ratio.toFixed(0)} times`, met: ratio >= RATIO_TARGET }],
    data: { ours: mine, occt: occts, difference: worst, differenceDegrees: worstAngle },
  };
}
