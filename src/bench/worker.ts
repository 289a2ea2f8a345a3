/** The bench's other thread. */
import { makeThread, type Thread } from '../store/thread';
import type { BenchJobs } from './parts.worker';
import PartsWorker from './parts.worker?worker';

export const benchThread = (): Thread<BenchJobs> => makeThread<BenchJobs>(() => new PartsWorker());
