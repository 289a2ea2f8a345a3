/** `npm start`: its port, what it says where that is taken, and the policy it sends. */
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { fileURLToPath } from 'node:url';
import { afterEach, expect, test } from 'vitest';

const started: ChildProcess[] = [];
afterEach(async () => {
  for (const child of started.splice(0)) {
    if (child.exitCode !== null) continue;
    child.kill();
    await once(child, 'exit');
  }
});

/** Begins `npm start` at a port. Resolves with what it said once it serves, or with its exit code. */
async function start(port: number): Promise<{ readonly said: string; readonly code: number | null }> {
  const child = spawn(process.execPath, [fileURLToPath(new URL('../../.ci/start.mjs', import.meta.url)), '--no-open', '--port', String(port)], { env: { ...process.env, NO_COLOR: '1', FORCE_COLOR: '0' } });
  started.push(child);
  let said = '';
  return new Promise((resolve) => {
    for (const stream of [child.stdout, child.stderr]) {
      stream?.on('data', (text: Buffer) => {
        said += text.toString();
        if (said.includes('Ctrl+C stops it.')) resolve({ said, code: null });
      });
    }
    child.on('close', (code) => resolve({ said, code }));
  });
}

/** A port that is free now. */
async function freePort(): Promise<number> {
  const server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const { port } = server.address() as AddressInfo;
  server.close();
  await once(server, 'close');
  return port;
}

test('serves at its port with the policy, and a second start says that it is there already', async () => {
  const port = await freePort();
  expect(await start(port)).toMatchObject({ code: null, said: expect.stringContaining(`:${port}/`) });
  const { headers } = await fetch(`http://localhost:${port}/`);
  const policy = Object.fromEntries((headers.get('content-security-policy') ?? '').split('; ').map((rule) => [rule.split(' ')[0], rule]));
  expect(policy).toMatchObject({ 'default-src': "default-src 'self'", 'frame-ancestors': "frame-ancestors 'none'", 'worker-src': "worker-src 'self'", 'object-src': "object-src 'none'" });
  expect(policy['script-src'].split(' ')).toContain("'wasm-unsafe-eval'");
  expect(policy['script-src']).not.toMatch(/'unsafe-eval'/);
  const second = await start(port);
  expect(second.code).toBe(1);
  expect(second.said).toContain(`Port ${port} is taken: Railwright is served there already: open http://localhost:${port}/.`);
  expect(second.said).toContain('Boards are kept by address');
});

test('says that another program has its port', async () => {
  const other = createServer((_, response) => response.end('<title>Something else</title>')).listen(0, 'localhost');
  await once(other, 'listening');
  const { port } = other.address() as AddressInfo;
  try {
    const { code, said } = await start(port);
    expect([code, said.split('\n').filter(Boolean)]).toEqual([1, [expect.stringContaining(`Port ${port} is taken: another program answers there.`)]]);
  } finally {
    other.close();
  }
});
