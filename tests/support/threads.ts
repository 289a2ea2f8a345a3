/** Threads and frames of the page that come when a test says so. */
import { vi } from 'vitest';
import { blankDesign } from '../../geometry/design/defaults';
import type { Design } from '../../geometry/design/schema';
import type { Plan, SectionDrawing } from '../../geometry/types';
import type { Given, JobKey } from '../../src/state/jobKinds';
import type { Answer, Question } from '../../src/work/serve';

/** A thread that keeps what it was asked. */
export class Thread {
  static all: Thread[] = [];
  readonly asked: Question<JobKey>[] = [];
  ended = false;
  onmessage: (event: { data: Answer<JobKey> }) => void = () => {};
  onerror: (event: { message?: string }) => void = () => {};

  constructor() {
    Thread.all.push(this);
  }

  postMessage(question: Question<JobKey>): void {
    this.asked.push(question);
  }

  terminate(): void {
    this.ended = true;
  }
}

/** Lets what waits for a promise go on. */
export const turn = () => vi.advanceTimersByTimeAsync(0);

/** A sound board, told apart by its name. */
export const board = (name: string): Design => ({ ...blankDesign(), name });

/** What a thread was asked, each by its board's name. */
export const askedOf = (thread: Thread): string[] => thread.asked.map(({ key, given }) => `${key} ${(given as Given<'plan'>).design.name}`);

/** A thread answers what it was asked last, with a plan of that very board. */
export async function answer(thread = Thread.all[0]): Promise<void> {
  const { given } = thread.asked.at(-1) as Question<'plan'>;
  thread.onmessage({ data: { kind: 'done', result: { plan: { design: given.design } as Plan, bodies: [], ms: 1, drawn: { s: 0, drawing: {} as SectionDrawing } } } });
  await turn();
}

const frames: (() => void)[] = [];

/** The next frame comes: what was asked for it is done. Returns how many that were. */
export async function frame(): Promise<number> {
  const now = frames.splice(0);
  for (const then of now) then();
  await turn();
  return now.length;
}

/** Asks for the next frame, as a page does. */
export const nextFrame = (then: () => void): void => {
  frames.push(then);
};

/** A page without a screen, on a machine of so many cores. */
export function stubPage(cores: number): void {
  frames.length = 0;
  vi.useFakeTimers();
  vi.stubGlobal('Worker', Thread);
  vi.stubGlobal('navigator', { hardwareConcurrency: cores });
  vi.stubGlobal('requestAnimationFrame', nextFrame);
  vi.stubGlobal('window', { matchMedia: () => ({ matches: false }) });
}
