/** Threads for studies of a board. Each screen has its own, so that none stops another's work. */
import { makeThread, type Thread } from '../store/thread';
import type { StudyJobs } from './jobs';
import StudyWorker from './study.worker?worker';

export const studyThread = (): Thread<StudyJobs> => makeThread<StudyJobs>(() => new StudyWorker());
