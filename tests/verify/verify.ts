/**
 * `npm run verify [-- --stations N]`: every starter board cut by OCCT at 200 stations (or N), from the same nets
 * but none of our code, and compared with the plan. Prints the greatest differences; exit 1 where one passes
 * 0.01 mm or 0.01 degrees. Ends with `N passed, N failed`, one check a figure and station.
 */
import { parseArgs } from 'node:util';
import { planBoard } from '../../geometry/plan';
import { runOf } from '../../geometry/rail/query';
import { rowsAt } from '../../geometry/rail/rows';
import { sectionOnRun } from '../../geometry/rail/run';
import { seedDesign, seedNames } from '../geometry/boards';
import { loadOcct } from '../support/kernels';
import { occtBoard } from '../support/occtBoard';

const { values: args } = parseArgs({ options: { stations: { type: 'string', default: '200' } } });
const stations = Number(args.stations);
if (!Number.isInteger(stations) || stations < 2) throw new Error(`--stations: given ${args.stations}; allowed a whole number, 2 or more`);

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
console.log(`\n${passed} passed, ${failed} failed`);
process.exitCode = failed > 0 ? 1 : 0;
