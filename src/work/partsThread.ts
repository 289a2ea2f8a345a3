/** The bench's other thread. */
import { makeThread, type Thread } from './thread';
import type { BenchJobs, Progress } from './parts.worker';
import PartsWorker from './parts.worker?worker';

export const benchThread = (): Thread<BenchJobs> => makeThread<BenchJobs>(() => new PartsWorker());

/** What is under way and which part of it now, in words. */
export const progressText = (what: string, progress: Progress | null): string =>
  progress === null || progress.title === '' ? what : `${what}: ${progress.title}`;
