// npm start [-- --port N] [--no-open] [--host]: installs if need be, serves the viewer, opens the browser.
import { parseArgs } from 'node:util';
import { ensureInstalled, root } from './deps.mjs';

const usage = 'Usage: npm start -- [--port N] [--no-open] [--host]';

function readOptions() {
  try {
    const { values } = parseArgs({
      options: {
        port: { type: 'string' },
        'no-open': { type: 'boolean', default: false },
        host: { type: 'boolean', default: false },
      },
    });
    const port = values.port === undefined ? undefined : Number(values.port);
    if (port !== undefined && !(Number.isInteger(port) && port >= 1 && port <= 65535)) {
      throw new Error(`--port: ${values.port} is not a port; allowed 1 to 65535`);
    }
    return { port, open: !values['no-open'], host: values.host };
  } catch (error) {
    console.error(`${error.message}\n${usage}`);
    process.exit(2);
  }
}

/** False on a build machine and where a Linux session has no screen to open a browser on. */
function hasScreen() {
  if (process.env.CI) return false;
  return process.platform !== 'linux' || Boolean(process.env.DISPLAY || process.env.WAYLAND_DISPLAY);
}

/** The usual address: a browser keeps its boards by address, so another port would begin with an empty shelf. */
const PORT = 5173;

/** What answers at a port of this machine already, in words. Waits long: a server that has just begun answers late on a busy machine. */
async function whoIs(port) {
  try {
    const page = await (await fetch(`http://localhost:${port}/`, { signal: AbortSignal.timeout(15_000) })).text();
    return /<title>Railwright<\/title>/.test(page) ? `Railwright is served there already: open http://localhost:${port}/.` : 'another program answers there.';
  } catch {
    return 'another program holds it.';
  }
}

const options = readOptions();
ensureInstalled();
const { createServer } = await import('vite');
const port = options.port ?? PORT;
const server = await createServer({
  root,
  server: { port, strictPort: true, host: options.host, open: options.open && hasScreen() },
});
try {
  await server.listen();
} catch (error) {
  if (!/already in use/.test(error.message)) throw error;
  console.error(`Port ${port} is taken: ${await whoIs(port)} Boards are kept by address; --port N serves at another, with a shelf of its own.`);
  process.exit(1);
}
console.log('Railwright is served at');
server.printUrls();
console.log('  Ctrl+C stops it.');
