/** Before the first browser test: one build, one server, one Chromium; all gone after the last. */
import type { TestProject } from 'vitest/node';
import { serveSite, startChromium } from './site';

declare module 'vitest' {
  export interface ProvidedContext {
    origin: string;
    chromium: string;
  }
}

export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const site = await serveSite();
  try {
    const browser = await startChromium();
    project.provide('origin', site.origin);
    project.provide('chromium', browser.wsEndpoint());
    return async () => {
      await browser.close();
      await site.close();
    };
  } catch (error) {
    await site.close();
    throw error;
  }
}
