// Processor time of processes and of all they started, in seconds: right on a busy machine, which a clock on the wall is not.
import { appendFileSync, readdirSync, readFileSync } from 'node:fs';

/** What Linux counts in, whatever the machine's own tick is. */
const TICKS = 100;

/** Parent, and time of a process and of those children it has outlived; undefined when it is gone, or the system has no /proc. */
function look(pid) {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
    // After the name, which is in brackets and may hold anything: state, parent, ...
    const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ').map(Number);
    return { parent: fields[1], own: (fields[11] + fields[12]) / TICKS, outlived: (fields[13] + fields[14]) / TICKS };
  } catch {
    return undefined;
  }
}

/** Time of a process, its living descendants and the children each has outlived; undefined where it cannot be known. */
export function cpuOfTree(pid) {
  const all = new Map();
  try {
    for (const name of readdirSync('/proc')) if (/^\d+$/.test(name)) all.set(Number(name), look(name));
  } catch {
    return undefined;
  }
  const sum = (of) => {
    const here = all.get(of);
    let time = here ? here.own + here.outlived : 0;
    for (const [id, each] of all) if (each?.parent === of) time += sum(id);
    return time;
  };
  return all.get(pid) ? sum(pid) : undefined;
}

/** Time of the children this process has outlived; undefined where it cannot be known. */
export const cpuOutlived = () => look('self')?.outlived;

/** Under this name is time that no process's children count any more. */
export const LOST = 'lost';

/** Notes the time of a file, or of something else by name, where `.ci/test.mjs` reads it; nothing where it did not ask. */
export function noteCpu(name, seconds) {
  const book = process.env.RAILWRIGHT_CPU;
  if (book && seconds !== undefined) appendFileSync(book, `${JSON.stringify({ name, seconds })}\n`);
}
