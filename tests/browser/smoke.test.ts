/** The page comes up: a drawn stage, no error, nothing from elsewhere, and no more script than promised. */
import { gzipSync } from 'node:zlib';
import type { Response } from 'playwright-core';
import { describe, expect, inject, it } from 'vitest';
import { openRoom } from './board';
import { expectClean, newVisit, onePage, shareBrowser } from './harness';
import { countColours, takePicture } from './picture';

shareBrowser();

/** The stage says so once it has drawn the board. */
const STAGE = 'canvas[data-drawn="yes"]';

/** Design target: script of the first load, compressed, bytes. */
const SCRIPT_BUDGET = 350_000;

/** Bytes compressed of every script of the first load, by address. */
const scripts = new Map<string, number>();

const atPage = onePage(async () => {
  const visit = await newVisit({ pixels: true, bench: true });
  const { page } = visit;
  const bodies: Promise<void>[] = [];
  const weigh = (response: Response) => {
    if (!/javascript/.test(response.headers()['content-type'] ?? '')) return;
    bodies.push(response.body().then((body) => void scripts.set(response.url(), gzipSync(body).length)));
  };
  page.on('response', weigh);
  await page.goto(inject('origin'), { waitUntil: 'load' });
  await page.locator(STAGE).waitFor();
  page.off('response', weigh);
  await Promise.all(bodies);
  // What is asked for after the picture is no part of the first load, however soon it comes.
  const late = await page.evaluate(() => {
    const { startTime: drawn } = performance.getEntriesByName('first-picture')[0];
    return performance.getEntriesByType('resource').filter(({ startTime }) => startTime > drawn).map(({ name }) => name);
  });
  for (const url of late) scripts.delete(url);
  return visit;
});

describe('the page', () => {
  it('opens on a starter board, drawn, without an error', async () => {
    const visit = await atPage();
    const { page } = visit;
    expect(await page.title()).toBe('Railwright');
    await expect.poll(() => page.evaluate(() => window.railwright?.state()?.rows ?? 0)).toBeGreaterThan(0);
    // A blank canvas over the page's ground is one or two colours; a lit board is hundreds.
    await expect.poll(async () => countColours(await takePicture(page.locator(STAGE)))).toBeGreaterThan(40);
    expectClean(visit);
  });

  it('keeps the script of its first load under 350 kB compressed', async () => {
    await atPage();
    const total = [...scripts.values()].reduce((sum, size) => sum + size, 0);
    console.log(`script of the first load: ${(total / 1000).toFixed(0)} kB compressed in ${scripts.size} files`);
    expect([...scripts.keys()].some((url) => /plan\.worker/.test(url))).toBe(true);
    expect(total).toBeLessThan(SCRIPT_BUDGET);
  });

  it('names every package whose code it holds, its threads and service worker included, one click from Share', async () => {
    const { page, errors } = await atPage();
    await openRoom(page, 'Share');
    const opened = page.waitForEvent('popup');
    await page.getByRole('link', { name: 'Whose work is in it' }).click();
    const text = await (await opened).locator('body').innerText();
    const named = [...text.matchAll(/^-{80}\n(\S+) \S+ \((.+)\)$/gm)].map((match) => match[1]);
    const inside = inject('bundled').filter((id) => id.includes('/node_modules/')).map((id) => id.slice(id.lastIndexOf('/node_modules/') + 14).split('/'));
    const packages = new Set(inside.map(([first, second]) => (first.startsWith('@') ? `${first}/${second}` : first)));
    expect([...packages].filter((name) => !named.includes(name))).toEqual([]);
    // In the page, in each of its threads, as a wasm file, in the service worker, and what the bundler puts in itself.
    for (const name of ['react', 'three', 'zod', '@cantoo/pdf-lib', 'd3-dsv', 'highs', 'workbox-precaching', 'vite']) expect(named).toContain(name);
    expect(text.match(/Permission (is hereby granted|to use)/g)?.length).toBeGreaterThan(40);
    expect(errors).toEqual([]);
  });

  it('forbids itself script from text and from elsewhere', async () => {
    const { page, errors } = await atPage();
    // From a timer, since what the test library runs itself is let past the policy.
    const made = await page.evaluate(
      () =>
        new Promise<string>((resolve) => {
          setTimeout(() => {
            try {
              resolve(String(new Function('return 1')()));
            } catch (error) {
              resolve(error instanceof EvalError ? 'refused' : String(error));
            }
          });
        }),
    );
    expect(made).toBe('refused');
    const fetched = await page.evaluate(() => fetch('https://example.org/').then(() => 'fetched', () => 'refused'));
    expect(fetched).toBe('refused');
    expect(errors.some((error) => error.includes('Content Security Policy'))).toBe(true);
  });
});
