/** What every job on another thread is doing, its result, and of what: one store, by key. src/work/jobs.ts runs them. */
import { create } from 'zustand';
import type { Plan } from '../../geometry/types';
import type { Failure, Given, JobKey, Progress, Result } from './jobKinds';

export interface Job<K extends JobKey> {
  /** Waiting: it begins when what it waits for is over. Stopped: by the maker. */
  readonly status: 'idle' | 'waiting' | 'working' | 'done' | 'stopped' | 'failed';
  /** What was asked last, and the last progress on that. */
  readonly given: Given<K> | null;
  readonly progress: Progress<K> | null;
  /** The last result, and what it was made of. It stays until the next one. */
  readonly result: Result<K> | null;
  readonly of: Given<K> | null;
  /** Why the last answer was not a result. */
  readonly failure: Failure | null;
}

type JobStore = { readonly [K in JobKey]: Job<K> };

export const IDLE = { status: 'idle', given: null, progress: null, result: null, of: null, failure: null } as const;

export const useJobs = create<JobStore>()(() => ({
  plan: IDLE, draft: IDLE, parts: IDLE, paperList: IDLE, papers: IDLE, pages: IDLE, bands: IDLE, built: IDLE, asked: IDLE, family: IDLE, targets: IDLE, offers: IDLE, offsets: IDLE, drawing: IDLE, drawingFit: IDLE, hullRead: IDLE, hullFit: IDLE,
}));

/** A job as it stands, for a screen that follows all of it. */
export const useJob = <K extends JobKey>(key: K): Job<K> => useJobs((jobs) => jobs[key]);

/** A job as it stands now. */
export const jobNow = <K extends JobKey>(key: K): Job<K> => useJobs.getState()[key];

export const isBusy = ({ status }: Pick<Job<JobKey>, 'status'>): boolean => status === 'waiting' || status === 'working';

type OfPlan = { [K in JobKey]: Given<K> extends { readonly plan: Plan } ? K : never }[JobKey];

/** What a job made of this very plan, or null while it has not. */
export function madeOf<K extends OfPlan>({ of, result }: Job<K>, plan: Plan | null): Result<K> | null {
  return of?.plan === plan ? result : null;
}

/** The same, for a screen. */
export const useMade = <K extends OfPlan>(key: K, plan: Plan | null): Result<K> | null => useJobs((jobs) => madeOf<K>(jobs[key], plan));
