/** The plan command, as its user meets it: text, files and exit codes. */
import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeDesign } from '../../geometry/design/write';
import { planBoard } from '../../geometry/plan';
import { planCommand } from '../../src/cli/command';
import { seedDesign, seedNames, seedPath, seedText } from './boards';

const ROUND = 'round-tail-175.board.json';
const CHILD = 'child-155.board.json';

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'railwright-plan-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Run the command in this process. */
function run(...argv: string[]): { code: number; out: string; err: string } {
  let out = '';
  let err = '';
  const code = planCommand(argv, { out: (t) => void (out += t), err: (t) => void (err += t) });
  return { code, out, err };
}

function file(name: string, content: string | Uint8Array): string {
  const path = join(folder, name);
  writeFileSync(path, content);
  return path;
}

describe('a board that can be planned', () => {
  it.each(seedNames)('%s: a summary with its rows, ribs and findings; exit 0', (name) => {
    const { code, out, err } = run(seedPath(name));
    const plan = planBoard(seedDesign(name));
    expect([code, err]).toEqual([0, '']);
    expect(out.split('\n')[0]).toBe(`${plan.design.name}, revision ${plan.design.revision}`);
    expect(out).not.toMatch(/NaN|undefined|Infinity|null/);
    // Each row's stops from both ends, to the printed tenth.
    for (const row of plan.rail.rows) {
      const cells = [row.tail.x, row.tail.s].map((v) => v.toFixed(1)).concat(row.tail.cause,
        [plan.hull.length - row.nose.x, plan.rail.face.length - row.nose.s].map((v) => v.toFixed(1)), row.nose.cause, row.length.toFixed(1));
      expect(out).toMatch(new RegExp(`^ +${row.row} +${cells.join(' +').replaceAll('.', '\\.')} `, 'm'));
    }
    for (const rib of plan.rail.ribs) {
      const bevel = ((rib.section.bevel * 180) / Math.PI).toFixed(1);
      expect(out).toMatch(new RegExp(`^ +rib ${rib.index + 1} +${rib.x.toFixed(1)} .* ${bevel} `, 'm'));
    }
    for (const finding of plan.findings) expect(out).toContain(finding.title);
  });

  it('--json prints the whole plan, equal to the kernel’s own', () => {
    const { code, out } = run('--json', seedPath(CHILD));
    const plan = planBoard(seedDesign(CHILD));
    const told: unknown = JSON.parse(out);
    expect(code).toBe(0);
    expect(told).toMatchObject({ design: plan.design, rail: { face: { length: plan.rail.face.length }, rows: plan.rail.rows } });
    expect(told).toHaveProperty('rail.samples.gap', Array.from(plan.rail.samples.gap));
    expect(told).toHaveProperty('hull.volume', plan.hull.volume);
  });

  it('--out writes the papers and nothing else, and again over its own', () => {
    const dir = join(folder, 'new', 'papers; rm -rf $HOME');
    const { code, out } = run(seedPath(ROUND), '--out', dir);
    expect(code).toBe(0);
    expect(readdirSync(dir).sort()).toEqual(['rail.csv', 'summary.txt']);
    expect(readFileSync(join(dir, 'summary.txt'), 'utf8')).toBe(out);
    const [head, ...rows] = readFileSync(join(dir, 'rail.csv'), 'utf8').split('\r\n').slice(0, -1).map((l) => l.split(','));
    expect(head).toContain('bevel_deg');
    const at = (row: string[], name: string) => Number(row[head.indexOf(name)]);
    const { rail } = planBoard(seedDesign(ROUND));
    expect(rows.every((r) => r.length === head.length)).toBe(true);
    expect(at(rows[0], 'run_from_tail_mm')).toBe(0);
    expect(at(rows.at(-1) ?? [], 'run_from_nose_mm')).toBeCloseTo(0, 2);
    for (const row of rows) {
      expect(at(row, 'run_from_tail_mm') + at(row, 'run_from_nose_mm')).toBeCloseTo(rail.face.length, 2);
      // The rise over the strip's width is the bevel's own tangent.
      expect(at(row, 'rise_over_strip_width_mm')).toBeCloseTo(12 * Math.tan((at(row, 'bevel_deg') * Math.PI) / 180), 2);
    }
    expect(run(seedPath(ROUND), '--out', dir).code).toBe(0);
  });
});

describe('a design that cannot be read: exit 2, with field, value and range', () => {
  it.each([
    ['text for a number', (t: string) => t.replace('"stripWidth": 12', '"stripWidth": "12"'), /rail\.stripWidth.*given "12"; allowed 3 to 80 mm/],
    ['a missing field', (t: string) => t.replace('"stripWidth": 12,', ''), /rail\.stripWidth: is missing/],
    ['a negative size', (t: string) => t.replace('"stripWidth": 12', '"stripWidth": -12'), /given -12; allowed 3 to 80 mm/],
    ['a cut file', (t: string) => t.slice(0, 900), /ends too early, at line \d+, column \d+/],
    ['a newer version', (t: string) => t.replace('"version": 1', '"version": 9'), /version.*newer/],
    ['a rib off the board', (t: string) => t.replace('[140, ', '[1, '), /frames\.ribs\[0\].*outside the board/],
  ])('%s', (what, spoil, message) => {
    const { code, out, err } = run(file(`${what}.json`, spoil(seedText(CHILD))));
    expect([code, out]).toEqual([2, '']);
    expect(err).toMatch(message);
  });

  it('a file that is missing, a folder, a device, too large, or no UTF-8', () => {
    expect(run(join(folder, 'none.json'))).toMatchObject({ code: 2, err: expect.stringContaining('no such file') });
    expect(run(folder)).toMatchObject({ code: 2, err: expect.stringContaining('no ordinary file') });
    expect(run('/dev/zero')).toMatchObject({ code: 2, err: expect.stringContaining('no ordinary file') });
    expect(run(file('large.json', new Uint8Array(2_100_000)))).toMatchObject({ code: 2, err: expect.stringContaining('too large') });
    const utf16 = new Uint8Array([0xff, 0xfe, ...Buffer.from(seedText(CHILD), 'utf16le')]);
    expect(run(file('utf16.json', utf16))).toMatchObject({ code: 2, err: expect.stringContaining('UTF-8') });
  });

  it('a pipe nobody writes to does not hold it up', () => {
    const pipe = join(folder, 'pipe.json');
    execFileSync('mkfifo', [pipe]);
    expect(run(pipe)).toMatchObject({ code: 2, err: expect.stringContaining('no ordinary file') });
  });

  it('a file name cannot steer the terminal, pass for an option or run anything', () => {
    const nasty = file('\u001b[2J\u001b]0;x\u0007 $(touch pwned) \n.json', '{');
    const { code, err } = run(nasty);
    expect(code).toBe(2);
    // eslint-disable-next-line no-control-regex
    expect(err).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f]/);
    expect(err.split('\n')).toHaveLength(3);
    expect(existsSync(join(folder, 'pwned'))).toBe(false);
    file('--json', seedText(CHILD));
    const before = process.cwd();
    process.chdir(folder);
    try {
      expect(run('--', '--json').out).toMatch(/^Reedmere/);
    } finally {
      process.chdir(before);
    }
  });
});

describe('a design that reads but cannot be built: exit 3, with what and where', () => {
  it('strips that touch everywhere, with all that can still be shown', () => {
    const design = seedDesign(CHILD);
    const path = file('touching.json', writeDesign({ ...design, rail: { ...design.rail, soleThickness: 20, capThickness: 20 } }));
    const { code, out, err } = run(path);
    expect(code).toBe(3);
    expect(err).toMatch(/reads, but cannot be built:\n {2}.+\(\d+\.\d mm off the tail\)/);
    expect(out).toContain('By rib');
    const json = run('--json', path);
    expect(json.code).toBe(3);
    expect(JSON.parse(json.out)).toMatchObject({ findings: expect.arrayContaining([expect.objectContaining({ level: 'stop' })]) });
  });

  it('no spacer row that fits anywhere', () => {
    const design = seedDesign(CHILD);
    const { code, err } = run(file('no-row.json', writeDesign({ ...design, rail: { ...design.rail, spacerHeight: 40 } })));
    expect(code).toBe(3);
    expect(err).toMatch(/No spacer row fits anywhere \(\d+\.\d mm off the tail\)/);
  });

  it('no room for a box at all: the field, the figure and what is allowed', () => {
    // So much crown that the rail is thinner than the skins, though the middle of the board is not.
    const design = seedDesign(CHILD);
    const { points } = design.lines.thickness;
    const low = { points: points.map((p) => ({ ...p, v: 42 })) };
    const round = { points: design.lines.crown.points.map((p) => ({ ...p, v: 0.16 })) };
    const flat = { points: design.lines.vee.points.map((p) => ({ ...p, v: 0 })) };
    const skins = { bottom: 20, deck: 20 };
    const path = file('no-room.json', writeDesign({ ...design, skins, lines: { ...design.lines, thickness: low, crown: round, vee: flat } }));
    const { code, out, err } = run(path);
    expect([code, out]).toEqual([3, '']);
    expect(err).toMatch(/reads, but cannot be built:\n {2}lines\.thickness: .+given .+; allowed .+/);
  });
});

describe('the command itself', () => {
  it('--help tells how to use it', () => {
    const { code, out } = run('--help');
    expect(code).toBe(0);
    for (const word of ['--json', '--out', 'seeds/', '2 when', '3 when']) expect(out).toContain(word);
  });

  it('wrong use is exit 1 and points to the help', () => {
    for (const argv of [[], ['--nonsense'], ['--out'], [seedPath(CHILD), seedPath(ROUND)], ['--json=yes', seedPath(CHILD)]]) {
      expect(run(...argv)).toMatchObject({ code: 1, out: '', err: expect.stringContaining('--help') });
    }
  });

  it('a folder that cannot be written is exit 1, and the plan is not lost on a file in the way', () => {
    const inTheWay = file('in-the-way', 'keep me');
    expect(run(seedPath(CHILD), '--out', inTheWay)).toMatchObject({ code: 1, err: expect.stringContaining('in the way') });
    expect(readFileSync(inTheWay, 'utf8')).toBe('keep me');
    const dir = join(folder, 'blocked');
    mkdirSync(join(dir, 'rail.csv'), { recursive: true });
    expect(run(seedPath(CHILD), '--out', dir)).toMatchObject({ code: 1, err: expect.stringContaining('a folder, not a file') });
    const link = join(folder, 'link.json');
    symlinkSync(link, link);
    expect(run(link).code).toBe(2);
  });

  it('runs as a process with the same codes, and survives a reader that closes early', () => {
    const top = fileURLToPath(new URL('../..', import.meta.url));
    const entry = ['--import', 'tsx', 'src/cli/plan.ts'];
    const done = spawnSync(process.execPath, [...entry, seedPath(CHILD)], { cwd: top, encoding: 'utf8' });
    expect([done.status, done.stderr]).toEqual([0, '']);
    expect(done.stdout).toBe(run(seedPath(CHILD)).out);
    const bad = spawnSync(process.execPath, [...entry, join(folder, 'none.json')], { cwd: top, encoding: 'utf8' });
    expect([bad.status, bad.stdout]).toEqual([2, '']);
    const piped = spawnSync('sh', ['-c', '"$0" "$@" | head -c 10', process.execPath, ...entry, '--json', seedPath(CHILD)], { cwd: top, encoding: 'utf8' });
    expect([piped.stdout.length, piped.stderr]).toEqual([10, '']);
  }, 30_000);
});
