/** The policy as it is sent: workers stand under a header alone, and only a header keeps other pages from framing this one. */
import { expect, inject, test } from 'vitest';

const RULES = ["default-src 'self'", "script-src 'self' 'wasm-unsafe-eval'", "connect-src 'self'", "worker-src 'self'", "object-src 'none'", "base-uri 'none'", "form-action 'none'", "frame-ancestors 'none'"];

test('every file is served with it, and static hosts are given it in a file', async () => {
  const origin = inject('origin');
  const page = await (await fetch(origin)).text();
  const scripts = [...page.matchAll(/(?:src|href)="\.?\/?(assets\/[^"]+\.js)"/g)].map(([, path]) => path);
  expect(scripts.length).toBeGreaterThan(0);
  for (const path of ['', 'offline.js', ...scripts]) {
    const { headers } = await fetch(new URL(path, origin));
    expect(headers.get('content-security-policy')?.split('; ')).toEqual(expect.arrayContaining(RULES));
    expect([headers.get('x-content-type-options'), headers.get('referrer-policy')]).toEqual(['nosniff', 'no-referrer']);
  }
  const [paths, ...lines] = (await (await fetch(new URL('_headers', origin))).text()).trim().split('\n');
  expect(paths).toBe('/*');
  const given = Object.fromEntries(lines.map((line) => /^ {2}([^:]+): (.*)$/.exec(line)?.slice(1) ?? []));
  expect(given['Content-Security-Policy'].split('; ')).toEqual(expect.arrayContaining(RULES));
  expect(given).toMatchObject({ 'X-Content-Type-Options': 'nosniff', 'Referrer-Policy': 'no-referrer' });
  // A host that sends no headers: the page asks for what it can itself, framing is not among it.
  const meta = /<meta http-equiv="Content-Security-Policy" content="([^"]+)"/.exec(page)?.[1].replaceAll('&#39;', "'").split('; ');
  expect(meta).toEqual(expect.arrayContaining(RULES.slice(0, -1)));
});
