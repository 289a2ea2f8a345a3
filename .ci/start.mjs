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

const options = readOptions();
ensureInstalled();
const { createServer } = await import('vite');
const server = await createServer({
  root,
  server: {
    port: options.port,
    strictPort: options.port !== undefined,
    host: options.host,
    open: options.open && hasScreen(),
  },
});
await server.listen();
console.log('Railwright is served at');
server.printUrls();
console.log('  Ctrl+C stops it.');
