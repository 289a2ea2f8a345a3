/** Notes what a test file costs, for `npm test` to print: this worker, what it ran, and the Chromium it drives. */
import { relative } from 'node:path';
import { afterAll, expect, inject } from 'vitest';
import { cpuOfTree, cpuOutlived, noteCpu } from '../../.ci/cpu.mjs';

/** This worker and what it has outlived, seconds. */
function ofWorker(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6 + (cpuOutlived() ?? 0);
}

/** Undefined in a project that drives none. */
const chromium = inject('chromiums')?.[Number(process.env.VITEST_POOL_ID) - 1];
const ofChromium = () => (chromium ? cpuOfTree(chromium.pid) ?? 0 : 0);

/** Files that share a worker each pay from the end of the one before, its first file from its start: nothing lies between. */
const paid = globalThis as { cpuPaid?: number };
const from = (paid.cpuPaid ?? 0) + ofChromium();

afterAll(() => {
  const worker = ofWorker();
  noteCpu(relative(process.cwd(), expect.getState().testPath ?? 'a file'), worker + ofChromium() - from);
  paid.cpuPaid = worker;
});
