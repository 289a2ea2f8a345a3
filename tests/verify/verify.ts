/**
 * `npm run verify [-- --stations N] [--boards N] [--seed S]`: every starter board cut by OCCT at 200 stations (or N), from
 * the same nets but none of our code, and compared with the plan: fails where they differ by 0.01 mm or 0.01 degrees. Every part of every board and its hull as STEP, read by OCCT. Every board there and back as a
 * body of triangles, and one of two million (bodies.ts). Then
 * the boards that `tests/geometry/overlaps.test.ts` leaves out, and the first 100 random boards of seed 1 (or N of S), whatever their findings: fails where two parts of one take the same room.
 * Then every room and drawer of the page in all seven windows of `tests/browser/boxes.ts`, at a desk and on a phone, in a real Chromium: fails where text or a control is cut, covered or overlaps.
 * Prints what it finds; ends with `N passed, N failed`, one check a figure and station, one a board, and one each for desk and phone.
 */
import { spawnSync } from 'node:child_process';
import { parseArgs } from 'node:util';
import { BuildError } from '../../geometry/errors';
import { planBoard } from '../../geometry/plan';
import { runOf } from '../../geometry/rail/query';
import { rowsAt } from '../../geometry/rail/laid';
import { sectionOnRun } from '../../geometry/rail/run';
import { meshBoard } from '../../geometry/solid/board';
import { shapeArea } from '../../geometry/frame/frames';
import { boardBreps } from '../../geometry/solid/brep/board';
import { framePlates } from '../../geometry/solid/frameBodies';
import { hullBrep } from '../../geometry/solid/brep/hull';
import type { Plan } from '../../geometry/types';
import { writeStep } from '../../src/papers/step';
import { seedDesign, seedNames } from '../geometry/boards';
import { randomDesign } from '../fuzz/designs';
import { IN_VERIFY } from '../support/assemblies';
import { loadManifold, loadOcct } from '../support/kernels';
import { meshVolume } from '../support/meshVolume';
import { occtBoard } from '../support/occtBoard';
import { overlapsOf, overlapText } from '../support/overlaps';
import { readStep } from '../support/readStep';
import { verifyBodies } from './bodies';

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

/** A solid's file must hold as much as its mesh, whose chords stray by this share of it at most. */
const CHORDS = 2e-4;
for (const name of seedNames) {
  const plan = planBoard(seedDesign(name));
  const stamp = { board: name, revision: 'A', unit: 'mm', date: '2026-01-01' } as const;
  const { solids, short } = boardBreps(plan);
  const meshes = new Map(meshBoard(plan, 4).map(({ id, mesh }) => [id, meshVolume(mesh)]));
  // On the stage the corners of a frame's holes are coarser than they are cut.
  for (const { id, shape, thickness } of framePlates(plan, 'cut')) meshes.set(id, thickness * shapeArea(shape));
  const volumes = [...solids.map(({ id }) => meshes.get(id) ?? Number.NaN), plan.hull.volume];
  const read = [...readStep(occt, writeStep(solids, 'Parts', stamp)), ...readStep(occt, writeStep([hullBrep(plan.hull)], 'Finished hull', stamp))];
  // The smallest solids, of a few hundred mm3, by their absolute difference.
  const right = read.filter(({ valid, volume }, i) => valid && Math.abs(volume - volumes[i]) < Math.max(0.5, CHORDS * volumes[i])).length;
  passed += right;
  failed += volumes.length - right + short.length;
  console.log(`${name}: ${right} of ${volumes.length} solids read by OCCT from STEP, valid and of the right volume${short.length > 0 ? `; not closed: ${short.join(', ')}` : ''}`);
}

const bodies = verifyBodies();
passed += bodies.passed;
failed += bodies.failed;

const manifold = await loadManifold();
/** Whether no two parts of a board take the same room; prints those that do. */
function isApart(name: string, plan: Plan): boolean {
  const overlaps = overlapsOf(manifold, plan);
  for (const one of overlaps) console.log(`  ${name}: ${overlapText(one)}`);
  return overlaps.length === 0;
}
const drawn = IN_VERIFY.filter(([name, design]) => isApart(name, planBoard(design))).length;
passed += drawn;
failed += IN_VERIFY.length - drawn;
console.log(`${drawn} of ${IN_VERIFY.length} drawn boards have no two parts in one room`);
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
  if (isApart(`random board ${index} of seed ${seed}`, plan)) apart++;
  else failed++;
}
passed += apart;
console.log(`${boards} random boards of seed ${seed}: ${apart} of ${boards - refused} that can be planned have no two parts in one room, ${refused} refused by name`);
/** Each a check: the desk's sweep and the phone's. */
for (const file of ['access', 'access-phone']) {
  console.log(`every room and drawer in all windows: ${file}`);
  const { status } = spawnSync(process.execPath, ['node_modules/vitest/vitest.mjs', 'run', '--project', 'browser', `tests/browser/${file}.test.ts`], {
    cwd: new URL('../../', import.meta.url), env: { ...process.env, RAILWRIGHT_BOXES: 'all' }, stdio: 'inherit',
  });
  if (status === 0) passed++;
  else failed++;
}
console.log(`\n${passed} passed, ${failed} failed`);
process.exitCode = failed > 0 ? 1 : 0;
