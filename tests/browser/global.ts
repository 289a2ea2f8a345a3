/** Before the first browser test: one build, one server, one Chromium for each worker; all gone after the last. */
import type { BrowserServer } from 'playwright-core';
import type { TestProject } from 'vitest/node';
import { cpuOfTree, cpuOutlived, LOST, noteCpu } from '../../.ci/cpu.mjs';
import { serveSite, startChromium } from './site';

declare module 'vitest' {
  export interface ProvidedContext {
    origin: string;
    /** Every module of which code came into the page and its threads. */
    bundled: readonly string[];
    /** The browsers, one for each worker, so that files side by side share no GPU process and no clipboard. */
    chromiums: { readonly address: string; readonly pid: number }[];
  }
}

/** What the test library leaves out of a Chromium. Of two such lists only the last counts, so ours repeats its own. */
const LIBRARY_OMITS = [
  'AvoidUnnecessaryBeforeUnloadCheckSync', 'DestroyProfileOnBrowserClose', 'HttpsUpgrades', 'HttpsFirstBalancedModeAutoEnable',
  'LensOverlay', 'MediaRouter', 'PaintHolding', 'ThirdPartyStoragePartitioning', 'AvoidCorsURLLoaderRestartOnRedirect',
  'OptimizationHints', 'NetworkTimeServiceQuerying', 'AimEnabled', 'PreconnectToSearch',
];

/**
 * Only the stage's canvas is drawn by the software GPU, at one sample a pixel: putting the page together through it
 * too, and smoothing edges, takes twice the time, and no test looks at either. Nor does one look at the address bar,
 * whose own two pages would be loaded for each page of a test.
 */
const QUICK = [
  '--disable-gpu-compositing',
  '--webgl-antialiasing-mode=none',
  // Scripts are compiled and their leavings swept by the thread that runs them: on few cores the threads beside cost a quarter of a visit.
  '--js-flags=--single-threaded',
  `--disable-features=${[...LIBRARY_OMITS, 'WebUIOmniboxPopup', 'WebUIOmniboxAimPopup'].join(',')}`,
];

/** No name but this machine's leads anywhere: a stray request goes nowhere, and none has to be held up and looked at on its way. */
const SEALED = '--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1';

const pidOf = (browser: BrowserServer): number => browser.process().pid ?? 0;

export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const site = await serveSite();
  const browsers: BrowserServer[] = [];
  const close = async () => {
    const [used, outlived] = [browsers.reduce((sum, browser) => sum + (cpuOfTree(pidOf(browser)) ?? 0), 0), cpuOutlived()];
    for (const browser of browsers) await browser.close();
    // What ran in a Chromium's pages when it was closed is nobody's child any more, and in no count but this.
    noteCpu(LOST, used - ((cpuOutlived() ?? 0) - (outlived ?? 0)));
    await site.close();
  };
  try {
    for (let i = 0; i < project.config.maxWorkers; i++) browsers.push(await startChromium([...QUICK, SEALED]));
    project.provide('origin', site.origin);
    project.provide('bundled', site.bundled);
    project.provide('chromiums', browsers.map((browser) => ({ address: browser.wsEndpoint(), pid: pidOf(browser) })));
    return close;
  } catch (error) {
    await close();
    throw error;
  }
}
