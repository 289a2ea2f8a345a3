/** The command line over many boards: the program as it is packed, side by side on all cores, and on one thread of its own beside that. */
import { execFile } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { availableParallelism, tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { Worker } from 'node:worker_threads';
import { buildPrograms } from '../../.ci/programs.mjs';
import { writeDesign } from '../../geometry/design/write';
import { boardSize, scaleBoard } from '../../geometry/search/family';
import type { FileAnswer, FileQuestion } from '../../src/cli/many';
import { seedDesign, seedNames } from '../geometry/boards';
import { ms, type Section } from './report';
import { quantile } from './timing';

const BOARDS = 24;
const ROUNDS = 3;
/** Any day will do; it is printed on the papers. */
const DAY = '2026-01-01';
const PROGRAMS = fileURLToPath(new URL('../../out/command', import.meta.url));
const run = promisify(execFile);

/** Every board of the tests in sizes from 0.9 of its length up, as files in a folder. */
async function written(folder: string): Promise<string[]> {
  const each = BOARDS / seedNames.length;
  return Promise.all(Array.from({ length: BOARDS }, async (_, i) => {
    const name = seedNames[i % seedNames.length];
    const [design, k] = [seedDesign(name), 0.9 + (0.2 * Math.floor(i / seedNames.length)) / (each - 1)];
    const scaled = scaleBoard(design, { length: boardSize(design).length * k });
    if (!scaled.ok) throw new Error(`${name} at ${k} of its length: ${scaled.errors[0].field}`);
    const path = join(folder, `${i + 1}.board.json`);
    await writeFile(path, writeDesign(scaled.design));
    return path;
  }));
}

/** One thread of the program asked for each file in turn, from its beginning; what it prints of each. */
async function inTurn(files: readonly string[], papers?: string): Promise<string> {
  const thread = new Worker(join(PROGRAMS, 'bin.mjs'));
  let told = '';
  for (const path of files) {
    const out = papers === undefined ? {} : { out: join(papers, basename(path, '.board.json')), date: DAY };
    thread.postMessage({ path, args: { files: [path], ...out } } satisfies FileQuestion);
    const [{ code, out: said, err }] = (await once(thread, 'message')) as [FileAnswer];
    if (code !== 0) throw new Error(`${path}: ${err}`);
    told += `${path}:\n${said}\n`;
  }
  await thread.terminate();
  return told;
}

/** The command itself, which takes as many threads as there are cores. */
async function sideBySide(files: readonly string[], papers?: string): Promise<string> {
  const out = papers === undefined ? [] : ['--out', papers, '--date', DAY];
  return (await run(process.execPath, [join(PROGRAMS, 'bin.mjs'), 'plan', ...out, ...files], { maxBuffer: 1 << 26 })).stdout;
}

/** Wall of both ways, medians, ms; throws an Error where they do not tell the same. */
async function bothWays(files: readonly string[], rounds: number, papers?: string): Promise<{ readonly all: number; readonly one: number }> {
  const [all, one]: [number[], number[]] = [[], []];
  const timed = async (times: number[], make: typeof inTurn): Promise<string> => {
    const from = performance.now();
    const told = await make(files, papers);
    times.push(performance.now() - from);
    return told;
  };
  for (let round = 0; round < rounds; round++) {
    if ((await timed(all, sideBySide)) !== (await timed(one, inTurn))) throw new Error('side by side the boards are told otherwise than in turn');
  }
  return { all: quantile(all), one: quantile(one) };
}

export async function commandSection(): Promise<Section> {
  await buildPrograms(PROGRAMS);
  const folder = await mkdtemp(join(tmpdir(), 'boards-'));
  try {
    const files = await written(folder);
    const cores = availableParallelism();
    const rows = [
      { what: 'planned and told', ...(await bothWays(files, ROUNDS)) },
      { what: 'and all their papers written (once)', ...(await bothWays(files, 1, join(folder, 'papers'))) },
    ];
    return {
      title: 'Many boards on the command line',
      tables: [{
        title: `railwright plan over ${BOARDS} files, the packed program from its start, wall: medians of ${ROUNDS}`,
        head: ['', `all ${cores} cores`, 'a board', 'one thread', 'a board', 'times'],
        rows: rows.map(({ what, all, one }) => [what, ms(all, 0), ms(all / BOARDS, 0), ms(one, 0), ms(one / BOARDS, 0), (one / all).toFixed(1)]),
      }],
      remarks: ['Every thread begins cold and compiles the program for itself: for boards that are only planned that is most of it. The one thread begins in a program that runs already.'],
      targets: [],
      data: { cores, rows },
    };
  } finally {
    await rm(folder, { recursive: true });
  }
}
