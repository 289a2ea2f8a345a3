/** Entry of `npm run plan`. */
import { planCommand } from './command';

// A reader that closes early (a pager, head) is not a fault.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
});

process.exitCode = await planCommand(process.argv.slice(2), {
  out: (text) => void process.stdout.write(text),
  err: (text) => void process.stderr.write(text),
});
