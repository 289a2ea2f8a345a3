/** The plan command over several files: side by side, told in order, each as it is told alone. */
import { existsSync, mkdtempSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { planCommand } from '../../src/cli/command';
import { seedPath, seedText } from './boards';

const [CHILD, ROUND] = ['child-155.board.json', 'round-tail-175.board.json'];

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'railwright-many-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function run(...argv: string[]): Promise<{ code: number; out: string; err: string }> {
  let [out, err] = ['', ''];
  const code = await planCommand(argv, { out: (text) => void (out += text), err: (text) => void (err += text) });
  return { code, out, err };
}

it('tells each file under its name in the order given, as it is told alone; the exit code is the first of 1, 2, 3', async () => {
  const broken = join(folder, 'broken.board.json');
  writeFileSync(broken, '{');
  const paths = [seedPath(ROUND), broken, seedPath(CHILD), join(folder, 'none.json')];
  const { code, out, err } = await run(...paths);
  const alone = await Promise.all(paths.map((path) => run(path)));
  expect(code).toBe(2);
  expect(out).toBe([0, 2].map((i) => `${paths[i]}:\n${alone[i].out}\n`).join(''));
  expect(err).toBe([1, 3].map((i) => `${paths[i]}:\n${alone[i].err}`).join(''));
  // One line of JSON a file, which says whose it is.
  const lines = (await run('--json', seedPath(CHILD), seedPath(CHILD))).out.trimEnd().split('\n').map((line) => JSON.parse(line) as { file?: string; design: unknown });
  const { file, ...plan } = lines[0];
  expect([file, lines.length, lines[1]]).toEqual([seedPath(CHILD), 2, lines[0]]);
  expect(plan).toEqual(JSON.parse((await run('--json', seedPath(CHILD))).out));
});

it('writes the papers of each into a folder named after its file; names that clash, and standard input beside a file, are refused before anything is made', async () => {
  const dir = join(folder, 'out');
  mkdirSync(join(folder, 'other'));
  const [one, two, again] = [join(folder, 'one.board.json'), join(folder, 'two.json'), join(folder, 'other', 'One.board.json')];
  for (const path of [one, two, again]) writeFileSync(path, seedText(CHILD));
  for (const [argv, told] of [[['--out', dir, one, again], /one\.board\.json and .*One\.board\.json would both be written into --out's folder One/], [['-', one], /Standard input is read alone/]] as const) {
    const { code, out, err } = await run(...argv);
    expect([code, out]).toEqual([1, '']);
    expect(err).toMatch(told);
  }
  expect(existsSync(dir)).toBe(false);
  expect((await run('--out', dir, '--date', '2026-11-27', one, two)).code).toBe(0);
  const papers = (name: string) => readFileSync(join(dir, name, 'papers.manifest.json'), 'utf8');
  expect(papers('one')).toBe(papers('two'));
  expect(papers('one')).toContain('bench/summary.txt');
});
