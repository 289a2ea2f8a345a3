/** Entry of `npm run plan`; on a thread that plans one of several files, what answers there. */
import { parentPort } from 'node:worker_threads';
import { planCommand } from './command';
import type { FileAnswer, FileQuestion } from './many';
import { planFile } from './planFile';

/** Plans a file for another thread, its text kept for the answer. */
async function answer({ args, path }: FileQuestion): Promise<FileAnswer> {
  const said = { out: '', err: '' };
  const code = await planFile(args, path, { out: (text) => void (said.out += text), err: (text) => void (said.err += text) });
  return { code, ...said };
}

if (parentPort) {
  const port = parentPort;
  // What is thrown here ends the thread, and is told by the one that asked.
  port.on('message', (question: FileQuestion) => void answer(question).then((told) => port.postMessage(told)));
} else {
  // A reader that closes early (a pager, head) is not a fault.
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') throw error;
  });
  process.exitCode = await planCommand(process.argv.slice(2), {
    out: (text) => void process.stdout.write(text),
    err: (text) => void process.stderr.write(text),
  });
}
