/** Before the first browser test: one build, one server, one Chromium for each worker; all gone after the last. */
import type { BrowserServer } from 'playwright-core';
import type { TestProject } from 'vitest/node';
import { serveSite, startChromium } from './site';

declare module 'vitest' {
  export interface ProvidedContext {
    origin: string;
    /** Addresses of the browsers, one for each worker, so that files side by side share no GPU process and no clipboard. */
    chromiums: string[];
  }
}

/**
 * Only the stage's canvas is drawn by the software GPU, at one sample a pixel: putting the page together through it
 * too, and smoothing edges, takes twice the time, and no test looks at either.
 */
const QUICK = ['--disable-gpu-compositing', '--webgl-antialiasing-mode=none'];

export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const site = await serveSite();
  const browsers: BrowserServer[] = [];
  const close = async () => {
    for (const browser of browsers) await browser.close();
    await site.close();
  };
  try {
    for (let i = 0; i < project.config.maxWorkers; i++) browsers.push(await startChromium(QUICK));
    project.provide('origin', site.origin);
    project.provide('chromiums', browsers.map((browser) => browser.wsEndpoint()));
    return close;
  } catch (error) {
    await close();
    throw error;
  }
}
