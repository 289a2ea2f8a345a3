/** The page comes up: a drawn stage, no error, nothing from elsewhere, and no more script than promised. */
import { gzipSync } from 'node:zlib';
import { describe, expect, inject, it } from 'vitest';
import { expectClean, newVisit, openViewer, shareBrowser } from './harness';
import { countColours, takePicture } from './picture';

shareBrowser();

/** The stage says so once it has drawn the board. */
const STAGE = 'canvas[data-drawn="yes"]';

/** Design target: script of the first load, compressed, bytes. */
const SCRIPT_BUDGET = 600_000;

describe('the page', () => {
  it('opens on a starter board, drawn, without an error', async () => {
    const visit = await openViewer();
    const { page } = visit;
    expect(await page.title()).toBe('Railwright');
    const stage = page.locator(STAGE);
    await stage.waitFor();
    await expect.poll(() => page.evaluate(() => window.railwright?.state()?.rows ?? 0)).toBeGreaterThan(0);
    // A blank canvas over the page's ground is one or two colours; a lit board is hundreds.
    await expect.poll(async () => countColours(await takePicture(stage))).toBeGreaterThan(40);
    expectClean(visit);
  });

  it('keeps the script of its first load under 600 kB compressed', async () => {
    const visit = await newVisit();
    const scripts = new Map<string, number>();
    const bodies: Promise<void>[] = [];
    visit.page.on('response', (response) => {
      if (!/javascript/.test(response.headers()['content-type'] ?? '')) return;
      bodies.push(response.body().then((body) => void scripts.set(response.url(), gzipSync(body).length)));
    });
    await visit.page.goto(inject('origin'), { waitUntil: 'load' });
    await visit.page.locator(STAGE).waitFor();
    await Promise.all(bodies);
    const total = [...scripts.values()].reduce((sum, size) => sum + size, 0);
    console.log(`script of the first load: ${(total / 1000).toFixed(0)} kB compressed in ${scripts.size} files`);
    expect(scripts.size).toBeGreaterThan(1);
    expect(total).toBeLessThan(SCRIPT_BUDGET);
  });

  it('forbids itself script from text and from elsewhere', async () => {
    const { page, errors } = await openViewer();
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
