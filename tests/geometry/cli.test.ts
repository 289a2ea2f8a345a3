/** The plan command, as its user meets it: text, files and exit codes. */
import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { writeDesign } from '../../geometry/design/write';
import { planParts } from '../../geometry/planParts';
import { planBoard } from '../../geometry/plan';
import { noReadings } from '../../geometry/trust/emptyRecord';
import { writeReadings } from '../../geometry/trust/readingsFile';
import type { Finding, Plan } from '../../geometry/types';
import type { Parts } from '../../geometry/parts/types';
import { planCommand } from '../../src/cli/command';
import { fillFolder } from '../../src/cli/folder';
import { STOP_CAUSES } from '../../src/say/words';
import { seedDesign, seedNames, seedPath, seedText } from './boards';
import { mmText } from '../support/said';

const ROUND = 'round-tail-175.board.json';
const CHILD = 'child-155.board.json';

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'railwright-plan-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Files in a folder and those in it, by their paths. */
const filesIn = (dir: string): string[] => readdirSync(dir, { recursive: true, withFileTypes: true }).filter((one) => one.isFile()).map((one) => relative(dir, join(one.parentPath, one.name))).sort();

/** Run the command in this process. */
async function run(...argv: string[]): Promise<{ code: number; out: string; err: string }> {
  let out = '';
  let err = '';
  const code = await planCommand(argv, { out: (t) => void (out += t), err: (t) => void (err += t) });
  return { code, out, err };
}

function file(name: string, content: string | Uint8Array): string {
  const path = join(folder, name);
  writeFileSync(path, content);
  return path;
}

describe('a board that can be planned', () => {
  it.each(seedNames)('%s: a summary with its rows, ribs and findings; exit 0', async (name) => {
    const { code, out, err } = await run(seedPath(name));
    const plan = planBoard(seedDesign(name));
    expect([code, err]).toEqual([0, '']);
    expect(out.split('\n')[0]).toBe(`${plan.design.name}, revision ${plan.design.revision}`);
    expect(out).not.toMatch(/NaN|undefined|Infinity|null/);
    // Each row's stops from both ends, to the printed tenth.
    for (const row of plan.rail.rows) {
      const cells = [row.tail.x, row.tail.s].map((v) => v.toFixed(1)).concat(STOP_CAUSES[row.tail.cause],
        [plan.hull.length - row.nose.x, plan.rail.face.length - row.nose.s].map((v) => v.toFixed(1)), STOP_CAUSES[row.nose.cause], row.length.toFixed(1));
      expect(out).toMatch(new RegExp(`^ +${row.row} +${cells.join(' +').replaceAll('.', '\\.')} `, 'm'));
    }
    for (const rib of plan.rail.ribs) {
      const bevel = ((rib.section.bevel * 180) / Math.PI).toFixed(1);
      expect(out).toMatch(new RegExp(`^ +rib ${rib.index + 1} +${rib.x.toFixed(1)} .* ${bevel} `, 'm'));
    }
    for (const finding of plan.findings) expect(out).toContain(mmText(finding.title));
  });

  it('--json prints the whole plan, equal to the kernel’s own', async () => {
    const { code, out } = await run('--json', seedPath(CHILD));
    const plan = planBoard(seedDesign(CHILD));
    const told: unknown = JSON.parse(out);
    expect(code).toBe(0);
    expect(told).toMatchObject({ design: plan.design, rail: { face: { length: plan.rail.face.length }, rows: plan.rail.rows } });
    expect(told).toHaveProperty('rail.samples.gap', Array.from(plan.rail.samples.gap));
    expect(told).toHaveProperty('hull.volume', plan.hull.volume);
  });

  it('--json gives the findings of plan and parts in one list, each once, worst first', async () => {
    const { code, out } = await run('--json', seedPath(ROUND));
    expect(code).toBe(0);
    const told: (Finding & { text: string })[] = JSON.parse(out).findings;
    const plan = planBoard(seedDesign(ROUND));
    const parts = await planParts(plan);
    const name = ({ code: of, title, place }: Finding) => `${of} ${mmText(title)} ${place?.x.toFixed(3)}`;
    expect(told.map(name).sort()).toEqual([...plan.findings, ...parts.findings].map(name).sort());
    expect(new Set(told.map(name)).size).toBe(told.length);
    expect(told.filter(({ text, title, advice }) => text !== `${mmText(title)}. ${mmText(advice)}`)).toEqual([]);
    expect(new Set(told.map(({ id }) => id)).size).toBe(told.length);
    // A narrow round tail in thick strips: what fittings, blocks and frames find of it, and the rail's own.
    for (const of of ['vent-none', 'block', 'rib-end-open', plan.findings[0].code]) expect(told.map((finding) => finding.code)).toContain(of);
    const rank = told.map(({ level }) => ['cannot', 'check', 'note'].indexOf(level));
    expect(rank).toEqual([...rank].sort((a, b) => a - b));
  });

  it('--out writes every paper and nothing else, the same bytes over its own', async () => {
    const dir = join(folder, 'new', 'papers; rm -rf $HOME');
    const again = join(folder, 'again');
    const words = ['--date', '2031-02-28', '--paper', 'Letter', '--units', 'in', '--step', '254'];
    const { code, out, err } = await run(seedPath(CHILD), '--out', dir, ...words);
    expect([code, err]).toEqual([0, '']);
    const names = filesIn(dir);
    expect(readdirSync(dir).sort()).toEqual(['bench', 'laser', 'lists', 'papers.manifest.json', 'print-shop', 'solids']);
    expect(readFileSync(join(dir, 'bench', 'summary.txt'), 'utf8')).toBe(out);
    for (const [shelf, end] of [
      ['bench', 'bench-sheet.pdf'], ['bench', 'skin-blanks.pdf'], ['print-shop', 'wall-sheet.pdf'], ['print-shop', 'ribs.pdf'], ['laser', 'skin-blanks.dxf'], ['laser', 'sheet-1.svg'], ['lists', 'cut-list.csv'],
      ['lists', 'mill-list.csv'], ['solids', 'assembly.glb'], ['solids', 'finished-hull.stl'],
    ]) expect(names).toContain(`${shelf}/reedmere-child-s-board-1-55-m-rev-a-${end}`);
    const [head, ...rows] = readFileSync(join(dir, 'lists', 'reedmere-child-s-board-1-55-m-rev-a-steps.csv'), 'utf8').split('\r\n');
    expect(head).toContain('along the rail from tail (in)');
    expect(rows[1]).toMatch(/^[^,]+,[^,]+,10,/);
    expect(rows[1]).toMatch(/,"A","in","2031-02-28"$/);
    expect((await run(seedPath(CHILD), '--out', again, ...words)).code).toBe(0);
    expect(filesIn(again)).toEqual(names);
    expect(names.filter((name) => !readFileSync(join(again, name)).equals(readFileSync(join(dir, name))))).toEqual([]);
  });

  it('--readings gives the board as built too; readings that cannot be used are exit 1, with field and range', async () => {
    const design = seedDesign(CHILD);
    const rib = planBoard(design).rail.ribs[2];
    const reading = { rib: rib.index + 1, side: 'port', sole: design.rail.soleThickness + 0.2 };
    // A file of version 1 still serves.
    const record = { ...noReadings(design.name, design.revision), version: 1, readings: [reading] };
    const good = join(folder, 'good.readings.json');
    const bad = join(folder, 'bad.readings.json');
    writeFileSync(good, JSON.stringify(record));
    writeFileSync(bad, JSON.stringify({ ...record, readings: [{ ...reading, sole: -1 }] }));
    const dir = join(folder, 'built');
    expect((await run(seedPath(CHILD), '--out', dir, '--readings', good)).code).toBe(0);
    const table = filesIn(dir).find((name) => name.endsWith('as-built-port.csv')) ?? '';
    expect(readFileSync(join(dir, table), 'utf8')).toMatch(new RegExp(`\\n${rib.index + 1},,[^,]+,${reading.sole},${design.rail.soleThickness},`));
    expect(await run(seedPath(CHILD), '--out', dir, '--readings', bad)).toMatchObject({ code: 1, err: expect.stringMatching(/readings\[0\]\.sole.*−1 mm.*0 to 80 mm/) });
    expect(await run(seedPath(CHILD), '--out', dir, '--readings', join(folder, 'none'))).toMatchObject({ code: 1, err: expect.stringContaining('there is no such file') });
  });

  it('--readings with trial bends plans by the limits they show, and says so', async () => {
    const design = seedDesign(CHILD);
    const file = join(folder, 'trials.readings.json');
    writeFileSync(file, writeReadings({
      ...noReadings(design.name, design.revision), trials: [{ of: 'rail', width: 12, thickness: 6, bent: 'edge', radius: 600, heat: 'cold', held: true }],
    }));
    const [without, tried] = [await run(seedPath(CHILD)), await run(seedPath(CHILD), '--readings', file)];
    expect(tried.out).toContain('Limit by your trial bend: strips, 12.0 mm on edge to 600 mm, cold: held at 1.00 %.');
    expect(without.out).not.toContain('trial bend:');
    const json = await run(seedPath(CHILD), '--json', '--parts', '--readings', file);
    const { parts } = JSON.parse(json.out) as { parts: { bending: { strip: { kind: string }; limits: { cold: number; byTrial?: string[] } }[] } };
    expect(parts.bending.find(({ strip }) => strip.kind === 'sole')?.limits).toMatchObject({ cold: 0.01, byTrial: ['cold'] });
  });

  it('an option of the papers that cannot be used is exit 1, with what is allowed', async () => {
    const dir = join(folder, 'options');
    for (const [words, said] of [
      [['--paper', 'B5'], 'A4, A3, Letter, roll'], [['--units', 'ell'], 'mm, in, in16'], [['--date', '2031-02-29'], 'YYYY-MM-DD'], [['--step', 'wide'], '10 to 1000'], [['--shop', seedPath(CHILD)], 'not a Railwright shop profile'],
    ] as const) {
      expect(await run(seedPath(CHILD), '--out', dir, ...words)).toMatchObject({ code: 1, err: expect.stringContaining(said) });
    }
  });
});

describe('a design that cannot be read: exit 2, with field, value and range', () => {
  it.each([
    ['text for a number', (t: string) => t.replace('"stripWidth": 12', '"stripWidth": "12"'), /rail\.stripWidth.*given "12"; allowed 3 to 80 mm/],
    ['a missing field', (t: string) => t.replace('"stripWidth": 12,', ''), /rail\.stripWidth: is missing/],
    ['a negative size', (t: string) => t.replace('"stripWidth": 12', '"stripWidth": -12'), /given −12 mm; allowed 3 to 80 mm/],
    ['a cut file', (t: string) => t.slice(0, 900), /ends too early, at line \d+, column \d+/],
    ['a newer version', (t: string) => t.replace('"version": 2', '"version": 9'), /version.*newer/],
    ['a rib off the board', (t: string) => t.replace('[140, ', '[1, '), /frames\.ribs\[0\].*outside the board/],
  ])('%s', async (what, spoil, message) => {
    const { code, out, err } = await run(file(`${what}.json`, spoil(seedText(CHILD))));
    expect([code, out]).toEqual([2, '']);
    expect(err).toMatch(message);
  });

  it('a file that is missing, a folder, a device, too large, or no UTF-8', async () => {
    expect(await run(join(folder, 'none.json'))).toMatchObject({ code: 2, err: expect.stringContaining('no such file') });
    expect(await run(folder)).toMatchObject({ code: 2, err: expect.stringContaining('not an ordinary file') });
    expect(await run('/dev/zero')).toMatchObject({ code: 2, err: expect.stringContaining('not an ordinary file') });
    expect(await run(file('large.json', new Uint8Array(2_100_000)))).toMatchObject({ code: 2, err: expect.stringContaining('too large') });
    const utf16 = new Uint8Array([0xff, 0xfe, ...Buffer.from(seedText(CHILD), 'utf16le')]);
    expect(await run(file('utf16.json', utf16))).toMatchObject({ code: 2, err: expect.stringContaining('UTF-8') });
  });

  it('a pipe nobody writes to does not hold it up', async () => {
    const pipe = join(folder, 'pipe.json');
    execFileSync('mkfifo', [pipe]);
    expect(await run(pipe)).toMatchObject({ code: 2, err: expect.stringContaining('not an ordinary file') });
  });

  it('a file name cannot steer the terminal, pass for an option or run anything', async () => {
    const nasty = file('\u001b[2J\u001b]0;x\u0007 $(touch pwned) \n.json', '{');
    const { code, err } = await run(nasty);
    expect(code).toBe(2);
    // eslint-disable-next-line no-control-regex
    expect(err).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f]/);
    expect(err.split('\n')).toHaveLength(3);
    expect(existsSync(join(folder, 'pwned'))).toBe(false);
    file('--json', seedText(CHILD));
    const before = process.cwd();
    process.chdir(folder);
    try {
      expect((await run('--', '--json')).out).toMatch(/^Reedmere/);
    } finally {
      process.chdir(before);
    }
  });
});

describe('a design that reads but cannot be built: exit 3, with what and where', () => {
  it('strips that touch everywhere, with all that can still be shown', async () => {
    const design = seedDesign(CHILD);
    const path = file('touching.json', writeDesign({ ...design, rail: { ...design.rail, soleThickness: 20, capThickness: 20 } }));
    const { code, out, err } = await run(path);
    expect(code).toBe(3);
    expect(err).toMatch(/reads, but cannot be built:\n {2}.+\(\d+\.\d mm from the tail\)/);
    expect(out).toContain('By rib');
    const json = await run('--json', path);
    expect(json.code).toBe(3);
    expect(JSON.parse(json.out)).toMatchObject({ findings: expect.arrayContaining([expect.objectContaining({ level: 'cannot' })]) });
  });

  it('no spacer row that fits anywhere', async () => {
    const design = seedDesign(CHILD);
    const { code, err } = await run(file('no-row.json', writeDesign({ ...design, rail: { ...design.rail, spacerHeight: 40 } })));
    expect(code).toBe(3);
    expect(err).toMatch(/No spacer row fits anywhere \(\d+\.\d mm from the tail\)/);
  });

  it('no room for a box at all: the field, the figure and what is allowed', async () => {
    // So much crown that the rail is thinner than the skins, though the middle of the board is not.
    const design = seedDesign(CHILD);
    const { points } = design.lines.thickness;
    const low = { points: points.map((p) => ({ ...p, v: 42 })) };
    const round = { points: design.lines.crown.points.map((p) => ({ ...p, v: 0.16 })) };
    const flat = { points: design.lines.vee.points.map((p) => ({ ...p, v: 0 })) };
    const skins = { bottom: 20, deck: 20 };
    const path = file('no-room.json', writeDesign({ ...design, skins, lines: { ...design.lines, thickness: low, crown: round, vee: flat } }));
    const { code, out, err } = await run(path);
    expect([code, out]).toEqual([3, '']);
    expect(err).toMatch(/reads, but cannot be built:\n {2}lines\.thickness: .+given .+; allowed .+/);
  });
});

describe('the command itself', () => {
  it('--help tells how to use it', async () => {
    const { code, out } = await run('--help');
    expect(code).toBe(0);
    for (const word of ['--json', '--out', 'seeds/', '2 when', '3 when']) expect(out).toContain(word);
  });

  it('wrong use is exit 1 and points to the help', async () => {
    for (const argv of [[], ['--nonsense'], ['--out'], ['-', seedPath(ROUND)], ['--json=yes', seedPath(CHILD)]]) {
      expect(await run(...argv)).toMatchObject({ code: 1, out: '', err: expect.stringContaining('--help') });
    }
  });

  it('a folder that cannot be written is exit 1, and the plan is not lost on a file in the way', async () => {
    const inTheWay = file('in-the-way', 'keep me');
    expect(await run(seedPath(CHILD), '--out', inTheWay)).toMatchObject({ code: 1, err: expect.stringContaining('already exists') });
    expect(readFileSync(inTheWay, 'utf8')).toBe('keep me');
    const dir = join(folder, 'blocked');
    mkdirSync(join(dir, 'bench', 'summary.txt'), { recursive: true });
    expect(await run(seedPath(CHILD), '--out', dir)).toMatchObject({ code: 1, err: expect.stringContaining('a folder, not a file') });
    const link = join(folder, 'link.json');
    symlinkSync(link, link);
    expect((await run(link)).code).toBe(2);
  });

  it('puts the papers in together or not at all, and takes away those of an earlier plan, and nothing else', async () => {
    const dir = join(folder, 'filled');
    const text = (name: string) => readFileSync(join(dir, name), 'utf8');
    expect(fillFolder(dir, [{ path: 'a.csv', bytes: 'one' }, { path: 'b.csv', bytes: 'two' }])).toEqual([]);
    writeFileSync(join(dir, 'mine.txt'), 'keep me');
    expect(fillFolder(dir, [{ path: 'a.csv', bytes: 'three' }, { path: 'c.csv', bytes: 'four' }])).toEqual(['b.csv']);
    expect(readdirSync(dir).sort()).toEqual(['a.csv', 'c.csv', 'mine.txt', 'papers.manifest.json']);
    expect([text('a.csv'), text('mine.txt')]).toEqual(['three', 'keep me']);
    // The last of three cannot be put in its place: the first two stay as they were.
    mkdirSync(join(dir, 'z.csv'));
    expect(() => fillFolder(dir, [{ path: 'a.csv', bytes: 'five' }, { path: 'c.csv', bytes: 'six' }, { path: 'z.csv', bytes: 'seven' }])).toThrow(/z\.csv: it is a folder/);
    expect(readdirSync(dir).sort()).toEqual(['a.csv', 'c.csv', 'mine.txt', 'papers.manifest.json', 'z.csv']);
    expect([text('a.csv'), text('c.csv')]).toEqual(['three', 'four']);
    // A list that was tampered with reaches no file outside.
    writeFileSync(join(folder, 'outside.txt'), 'keep me');
    writeFileSync(join(dir, 'papers.manifest.json'), JSON.stringify({ files: ['../outside.txt', '.', '..', '', 7, 'lists/../../outside.txt', 'lists/..', '/etc/hosts', 'own/mine.txt', 'lists/.hidden', 'lists/deep/a.csv', '..\\outside.txt'] }));
    rmSync(join(dir, 'z.csv'), { recursive: true });
    expect(fillFolder(dir, [{ path: 'a.csv', bytes: 'eight' }])).toEqual([]);
    expect(readFileSync(join(folder, 'outside.txt'), 'utf8')).toBe('keep me');
  });

  it('parts them by shelf, takes away those of the flat folders of before and the shelves that they leave empty, and follows no link', () => {
    const dir = join(folder, 'shelved');
    fillFolder(dir, [{ path: 'old.csv', bytes: 'flat' }]);
    mkdirSync(join(dir, 'bench'));
    writeFileSync(join(dir, 'bench', 'mine.txt'), 'keep me');
    expect(fillFolder(dir, [{ path: 'bench/a.pdf', bytes: 'one' }, { path: 'lists/b.csv', bytes: 'two' }, { path: 'solids/c.stl', bytes: 'three' }])).toEqual(['old.csv']);
    expect(filesIn(dir)).toEqual(['bench/a.pdf', 'bench/mine.txt', 'lists/b.csv', 'papers.manifest.json', 'solids/c.stl']);
    writeFileSync(join(dir, 'lists', 'own.csv'), 'keep me');
    expect(fillFolder(dir, [{ path: 'laser/d.svg', bytes: 'four' }])).toEqual(['bench/a.pdf', 'lists/b.csv', 'solids/c.stl']);
    expect(filesIn(dir)).toEqual(['bench/mine.txt', 'laser/d.svg', 'lists/own.csv', 'papers.manifest.json']);
    expect(existsSync(join(dir, 'solids'))).toBe(false);
    for (const path of ['../e.csv', 'bench/../../e.csv', '/e.csv', 'other/e.csv', 'bench/.e.csv', 'bench/', '.', '']) {
      expect(() => fillFolder(dir, [{ path, bytes: 'five' }])).toThrow(RangeError);
    }
    // A shelf that is a link leads elsewhere: nothing is put there, and nothing of an earlier list taken from there.
    const elsewhere = join(folder, 'elsewhere');
    mkdirSync(elsewhere);
    writeFileSync(join(elsewhere, 'd.svg'), 'keep me');
    rmSync(join(dir, 'laser'), { recursive: true });
    symlinkSync(elsewhere, join(dir, 'laser'));
    expect(() => fillFolder(dir, [{ path: 'solids/f.stl', bytes: 'six' }, { path: 'laser/d.svg', bytes: 'seven' }])).toThrow(/laser.*already exists/);
    expect(existsSync(join(dir, 'solids'))).toBe(false);
    expect(fillFolder(dir, [{ path: 'lists/g.csv', bytes: 'eight' }])).toEqual([]);
    expect(readFileSync(join(elsewhere, 'd.svg'), 'utf8')).toBe('keep me');
  });

  it('as a program prints JSON and nothing else, reads standard input, and takes paths from where it is called, with the codes and text of the command', async () => {
    // Each start loads the whole kernel: what needs no process of its own is asked of the command in this one.
    const bin = fileURLToPath(new URL('../../src/cli/bin.mjs', import.meta.url));
    file('here.board.json', seedText(CHILD));
    const call = (argv: string[], input?: string, env = {}) => spawnSync(process.execPath, [bin, ...argv], { cwd: folder, encoding: 'utf8', input, maxBuffer: 64e6, env: { ...process.env, ...env } });
    const piped = call(['plan', '-', '--json', '--parts'], seedText(CHILD));
    expect(piped.stderr).toBe('');
    const { design, parts } = JSON.parse(piped.stdout) as { design: Plan['design']; parts: Parts };
    expect(design).toEqual(seedDesign(CHILD));
    expect(parts.steps.length).toBeGreaterThan(5);
    const done = call(['here.board.json']);
    expect([done.status, done.stderr]).toEqual([0, '']);
    expect(done.stdout).toBe((await run(seedPath(CHILD))).out);
    expect((await run('--version')).out).toMatch(/^\d+\.\d+\.\d+\n$/);
    // npm runs a script in the project's folder, and says where it was called.
    vi.stubEnv('npm_lifecycle_event', 'plan');
    vi.stubEnv('INIT_CWD', folder);
    const byNpm = await run('here.board.json').finally(() => vi.unstubAllEnvs());
    expect(byNpm.out).toMatch(/^Reedmere/);
    const bad = call(['-'], '{');
    expect([bad.status, bad.stdout]).toEqual([2, '']);
  });

  it('survives a reader that closes early', () => {
    const top = fileURLToPath(new URL('../..', import.meta.url));
    const entry = ['--import', 'tsx', 'src/cli/plan.ts'];
    const piped = spawnSync('sh', ['-c', '"$0" "$@" | head -c 10', process.execPath, ...entry, '--json', seedPath(CHILD)], { cwd: top, encoding: 'utf8' });
    expect([piped.stdout.length, piped.stderr]).toEqual([10, '']);
  });
});
