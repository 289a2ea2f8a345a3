/** The package as another program gets it: packed, unpacked where only what it asks for is installed, imported, type-checked, and run. */
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { planParts } from '../../geometry/planParts';
import { planBoard } from '../../geometry/plan';
import { sectionAt } from '../../geometry/rail/query';
import { textOf } from '../../src/say/said';
import { seedDesign, seedPath } from './boards';

const CHILD = 'child-155.board.json';
const top = fileURLToPath(new URL('../..', import.meta.url));

/** A program of someone else's: what it prints is checked here. */
const PROGRAM = `
import { readFileSync } from 'node:fs';
import { BuildError, fieldErrorLine, makePapers, planBoard, planParts, readDesign, sectionAt, textOf, type Parts, type Plan, type RailSection } from 'railwright';

const read = readDesign(readFileSync(process.argv[2], 'utf8'));
if (!read.ok) throw new Error(read.errors.map((error) => textOf(fieldErrorLine(error), 'mm')).join(', '));
const plan: Plan = planBoard(read.design);
const parts: Parts = await planParts(plan);
const middle: RailSection = sectionAt(plan, plan.rail.face.length / 2);
const [paper] = await makePapers(plan, parts, { date: '2026-11-27', paper: 'A4', units: 'mm', which: ['steps.csv'] });
const bad = readDesign('{}');
console.log(JSON.stringify({
  stops: plan.rail.rows.map((row) => [row.tail.s, row.nose.s]), gap: middle.gap, bevel: middle.bevel, steps: parts.steps.length, mass: parts.totals?.mass, told: textOf(plan.findings[0].title, 'in'),
  bad: bad.ok ? null : bad.errors[0].field, paper: paper?.name, error: BuildError.name,
}));
// @ts-expect-error a plan is made of a design, not of a file's text
export const wrong = (): Plan => planBoard('text');
`;

let folder: string;
let home: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'railwright-library-'));
  home = join(folder, 'node_modules', 'railwright');
  execFileSync(process.execPath, ['.ci/library.mjs'], { cwd: top, stdio: 'pipe' });
  const [{ filename }] = JSON.parse(execFileSync('npm', ['pack', '--ignore-scripts', '--json', '--pack-destination', folder], { cwd: top, encoding: 'utf8', stdio: 'pipe', shell: process.platform === 'win32' })) as [{ filename: string }];
  mkdirSync(home, { recursive: true });
  execFileSync('tar', ['-xzf', filename, '-C', home, '--strip-components', '1'], { cwd: folder });
  // Only what the package says that it needs, and the types of Node that a program of one's own has.
  const { dependencies } = JSON.parse(readFileSync(join(home, 'package.json'), 'utf8')) as { dependencies: Record<string, string> };
  for (const name of [...Object.keys(dependencies), '@types/node', 'undici-types']) {
    mkdirSync(dirname(join(folder, 'node_modules', name)), { recursive: true });
    symlinkSync(join(top, 'node_modules', name), join(folder, 'node_modules', name), 'junction');
  }
  writeFileSync(join(folder, 'package.json'), '{ "type": "module" }');
  writeFileSync(join(folder, 'program.ts'), PROGRAM);
  writeFileSync(join(folder, 'tsconfig.json'), JSON.stringify({ compilerOptions: { target: 'ES2022', module: 'nodenext', moduleResolution: 'nodenext', strict: true, outDir: 'out', rootDir: '.', types: ['node'] }, files: ['program.ts'] }));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

it('gives another program types and the kernel’s own figures, from the packed tarball alone', async () => {
  // Its types are read with no check left out, by Node's own rules of finding files.
  const types = spawnSync(process.execPath, [join(top, 'node_modules/typescript/bin/tsc'), '-p', '.'], { cwd: folder, encoding: 'utf8' });
  expect(types.stdout).toBe('');
  const ran = spawnSync(process.execPath, ['out/program.js', seedPath(CHILD)], { cwd: folder, encoding: 'utf8' });
  expect(ran.stderr).toBe('');
  const plan = planBoard(seedDesign(CHILD));
  const parts = await planParts(plan);
  const told = JSON.parse(ran.stdout) as Record<string, unknown>;
  const { gap, bevel } = sectionAt(plan, plan.rail.face.length / 2);
  expect(told).toEqual({
    stops: plan.rail.rows.map((row) => [row.tail.s, row.nose.s]), gap, bevel, steps: parts.steps.length, mass: parts.totals?.mass, told: textOf(plan.findings[0].title, 'in'),
    bad: expect.any(String), paper: expect.stringMatching(/steps\.csv$/), error: 'BuildError',
  });
});

it('runs its command line from there, several files too', () => {
  const bin = join(home, 'src/cli/bin.mjs');
  const { status, stdout, stderr } = spawnSync(process.execPath, [bin, 'plan', seedPath(CHILD), seedPath(CHILD)], { cwd: folder, encoding: 'utf8' });
  expect([status, stderr]).toEqual([0, '']);
  expect(stdout.split(`${seedPath(CHILD)}:\n`).length).toBe(3);
  const version = spawnSync(process.execPath, [bin, '--version'], { cwd: folder, encoding: 'utf8' });
  expect(version.stdout.trim()).toBe((JSON.parse(readFileSync(join(top, 'package.json'), 'utf8')) as { version: string }).version);
});
