/**
 * `npm run verify [-- --stations N] [--boards N] [--seed S]`: every starter board cut by OCCT at 200 stations (or N), from
 * the same nets but none of our code, and compared with the plan: fails where they differ by 0.01 mm or 0.01 degrees. Then the
 * first 100 random boards of seed 1 (or N of S), whatever their findings: fails where two parts of one take the same room.
 * Prints what it finds; ends with `N passed, N failed`, one check a figure and station, and one a random board.
 */
import { parseArgs } from 'node:util';
import { BuildError } from '../../geometry/errors';
import { planBoard } from '../../geometry/plan';
import { runOf } from '../../geometry/rail/query';
import { rowsAt } from '../../geometry/rail/rows';
import { sectionOnRun } from '../../geometry/rail/run';
import type { Plan } from '../../geometry/types';
import { seedDesign, seedNames } from '../geometry/boards';
import { randomDesign } from '../fuzz/designs';
import { loadManifold, loadOcct } from '../support/kernels';
import { occtBoard } from '../support/occtBoard';
import { overlapsOf, overlapText } from '../support/overlaps';

const { values: args } = parseArgs({ options: { stations: { type: 'string', default: '200' }, boards: { type: 'string', default: '100' }, seed: { type: 'string', default: '1' } } });
const whole = (name: keyof typeof args, least: number): number => {
  const n = Number(args[name]);
  if (!Number.isInteger(n) || n < least) throw new Error(`--${name}: given ${args[name]}; allowed a whole number, ${least} or more`);
  return n;
};
const [stations, boards, seed] = [whole('stations', 2), whole('boards', 0), whole('seed', 0)];

const DEGREE = 180 / Math.PI;
/** Greatest difference allowed: millimetres, and degrees. */
const LIMIT = 0.01;
/** How far inside the rib-end line's ends the outermost stations lie, mm. */
const END = 2;

const FIGURES = ['depth', 'gap', 'cover', 'bevel', 'stationBevel'] as const;
const unit = (figure: (typeof FIGURES)[number]) => (figure === 'bevel' || figure === 'stationBevel' ? 'degrees' : 'mm');

const occt = await loadOcct();
let passed = 0;
let failed = 0;
for (const name of seedNames) {
  const design = seedDesign(name);
  const plan = planBoard(design);
  const run = runOf(plan);
  const board = occtBoard(occt, plan.hull, design);
  const { ribX, u } = plan.rail.samples;
  const { knots } = plan.hull.outline;
  // Before a square end the rail is carried on past the outline's own end, where OCCT has no outline to set off.
  const onOutline = (at: number) => at >= knots[0] && at <= knots[knots.length - 1];
  const inBox = Array.from(plan.rail.samples.s).flatMap((s, i) => (s >= plan.rail.boxFrom && s <= plan.rail.boxTo && onOutline(u[i]) ? [ribX[i]] : []));
  const [x0, x1] = [Math.min(...inBox) + END, Math.max(...inBox) - END];
  const worst = new Map(FIGURES.map((f) => [f, { by: 0, x: 0 }]));
  let placed = 0;
  let compared = 0;
  for (let i = 0; i < stations; i++) {
    const x = x0 + ((x1 - x0) * i) / (stations - 1);
    const theirs = board.station(x, (u) => rowsAt(plan.rail.rows, run.map.runAt(u)));
    if (!theirs) {
      console.log(`  ${name}: OCCT finds no rib end at ${x.toFixed(1)} mm`);
      failed++;
      continue;
    }
    compared++;
    const s = run.map.runAt(theirs.u);
    const ours = sectionOnRun(run, s, rowsAt(plan.rail.rows, s));
    placed = Math.max(placed, Math.hypot(ours.ribX - theirs.rib[0], ours.ribY - theirs.rib[1]));
    for (const f of FIGURES) {
      const by = Math.abs(ours[f] - theirs[f]) * (unit(f) === 'degrees' ? DEGREE : 1);
      const kept = worst.get(f);
      if (!kept || by > kept.by || Number.isNaN(by)) worst.set(f, { by, x });
      if (by <= LIMIT) passed++;
      else failed++;
    }
  }
  console.log(`${name}: ${compared} stations; rib ends placed alike to ${placed.toExponential(1)} mm`);
  for (const [f, { by, x }] of worst) console.log(`  ${f.padEnd(12)} differs by ${by.toExponential(2)} ${unit(f)} at most, at ${x.toFixed(0)} mm`);
}

const manifold = await loadManifold();
let refused = 0;
let apart = 0;
for (let index = 0; index < boards; index++) {
  let plan: Plan;
  try {
    plan = planBoard(randomDesign(seed, index).design);
  } catch (error) {
    if (!(error instanceof BuildError)) throw error;
    refused++;
    continue;
  }
  const overlaps = overlapsOf(manifold, plan);
  for (const one of overlaps) console.log(`  random board ${index} of seed ${seed}: ${overlapText(one)}`);
  if (overlaps.length === 0) apart++;
  else failed++;
}
passed += apart;
console.log(`${boards} random boards of seed ${seed}: ${apart} of ${boards - refused} that can be planned have no two parts in one room, ${refused} refused by name`);
console.log(`\n${passed} passed, ${failed} failed`);
process.exitCode = failed > 0 ? 1 : 0;
