/** Threads for studies of a board. Each screen has its own, so that none stops another's work. */
import { makeThread, type Thread } from './thread';
import type { StudyJobs } from './trialJobs';
import StudyWorker from './trials.worker?worker';

export const studyThread = (): Thread<StudyJobs> => makeThread<StudyJobs>(() => new StudyWorker());
