/** Several board files planned side by side, as many at once as the machine has cores; told in the order they were named. */
import { once } from 'node:events';
import { availableParallelism } from 'node:os';
import { basename, join } from 'node:path';
import { Worker } from 'node:worker_threads';
import { shorten } from '../../geometry/design/fields';
import { EXIT, type Output, type PlanArguments } from './planFile';

/** What a thread is asked: one file, with the options of all. */
export interface FileQuestion {
  readonly args: PlanArguments;
  readonly path: string;
}

/** What it answers: the exit code, and what is printed. */
export interface FileAnswer {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

/** The program itself, which plans files for another thread when it is not the main one: as it stands here, or as it is packed. */
const PROGRAM = new URL('./bin.mjs', import.meta.url);

/** Folder of a file's papers: its name without what it ends on. */
const folderOf = (path: string): string => basename(path).replace(/(\.board)?\.json$/i, '');

/** Why these files cannot go into folders named after them, or null. */
function clashOf(files: readonly string[]): string | null {
  const taken = new Map<string, string>();
  for (const path of files) {
    const folder = folderOf(path).toLowerCase();
    const other = taken.get(folder);
    if (other !== undefined) return `${shorten(other, 200)} and ${shorten(path, 200)} would both be written into --out's folder ${shorten(folderOf(path), 100)}: give one of them another name, or plan it alone.`;
    taken.set(folder, path);
  }
  return null;
}

/** Plans a file on a thread, which is free then. Rejects when the thread ends or breaks. */
function planOn(thread: Worker, question: FileQuestion): Promise<FileAnswer> {
  const over = new AbortController();
  const { signal } = over;
  const answered = Promise.race([
    once(thread, 'message', { signal }).then(([answer]) => answer as FileAnswer),
    once(thread, 'exit', { signal }).then(([code]) => Promise.reject(new Error(`the thread of ${question.path} ended with code ${code}`))),
  ]);
  thread.postMessage(question);
  return answered.finally(() => over.abort());
}

/**
 * Plans the files that the arguments name, two at least. Each is printed as soon as it and those before it are done; returns the
 * first of 1, 2, 3 that any of them ended with. Rejects on a fault of ours.
 */
export async function planEach(args: PlanArguments, { out, err }: Output): Promise<number> {
  const { files } = args;
  const clash = files.includes('-') ? 'Standard input is read alone: name no other file beside it.' : args.out === undefined ? null : clashOf(files);
  if (clash !== null) {
    err(`${clash}\nSee: npm run plan -- --help\n`);
    return EXIT.use;
  }
  const answers: (FileAnswer | undefined)[] = files.map(() => undefined);
  let [next, told] = [0, 0];
  const tell = () => {
    for (let answer = answers[told]; answer; answer = answers[told]) {
      const path = shorten(files[told], 200);
      if (answer.err !== '') err(`${path}:\n${answer.err}`);
      if (answer.out !== '') out(args.json ? answer.out : `${path}:\n${answer.out}\n`);
      told += 1;
    }
  };
  const work = async () => {
    const thread = new Worker(PROGRAM);
    try {
      while (next < files.length) {
        const i = next++;
        const path = files[i];
        answers[i] = await planOn(thread, { path, args: { ...args, ...(args.out === undefined ? {} : { out: join(args.out, folderOf(path)) }) } });
        tell();
      }
    } finally {
      void thread.terminate();
    }
  };
  await Promise.all(Array.from({ length: Math.min(files.length, availableParallelism()) }, work));
  const codes = answers.flatMap((answer) => (answer && answer.code !== EXIT.done ? answer.code : []));
  return codes.length === 0 ? EXIT.done : Math.min(...codes);
}
