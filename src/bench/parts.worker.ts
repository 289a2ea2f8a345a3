/**
 * Makes parts and papers off the main thread. One message in, answers out, the last of them final. The solver
 * blocks its thread, so whoever wants to stop a job ends the worker (see worker.ts).
 */
import { planParts } from '../../geometry/parts/parts';
import type { Parts } from '../../geometry/parts/types';
import { planTolerance } from '../../geometry/trust/tolerance';
import type { Plan } from '../../geometry/types';
import { listPapers, makePapers, type Paper, type PaperEntry, PaperError, type PaperOptions } from '../papers';

/** Paper options that can be sent to another thread. */
export type PaperWish = Pick<PaperOptions, 'date' | 'paper' | 'units' | 'which' | 'step' | 'kerf' | 'address' | 'trust'>;

export type BenchJob =
  | { readonly kind: 'parts'; readonly plan: Plan }
  | { readonly kind: 'list'; readonly plan: Plan; readonly parts: Parts; readonly wish: PaperWish }
  /** `zip`: what the papers are packed into, instead of coming one by one. */
  | { readonly kind: 'papers'; readonly plan: Plan; readonly parts: Parts; readonly wish: PaperWish; readonly zip?: string };

/** A paper that could not be made. */
export interface Fault {
  readonly title: string;
  readonly message: string;
}

export interface Progress {
  /** 0 to 1. */
  readonly share: number;
  /** What is being made now. */
  readonly title: string;
}

/** An option that cannot be used, or what went wrong altogether. */
export interface JobFailure {
  readonly message: string;
  readonly field?: string;
}

/** What each kind of job answers in the end. */
export interface JobResult {
  readonly parts: Parts;
  readonly list: readonly PaperEntry[];
  readonly papers: { readonly papers: readonly Paper[]; readonly faults: readonly Fault[] };
}

export type JobAnswer =
  | { readonly kind: 'progress'; readonly progress: Progress }
  | { readonly kind: 'done'; readonly result: JobResult[keyof JobResult] }
  | { readonly kind: 'failed'; readonly failure: JobFailure };

const STAGES = {
  bending: 'Bending', blanks: 'Blanks', frames: 'Ribs and stringer', joints: 'Joints and cutting', totals: 'Totals', steps: 'Order of work', done: 'Done',
} as const;

const textOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

function tell(progress: Progress): void {
  self.postMessage({ kind: 'progress', progress } satisfies JobAnswer);
}

/** The solver comes over the wire only when it is wanted; where it cannot, the joints are a finding and the rest is made. */
const partsOf = (plan: Plan): Promise<Parts> => planParts(plan, { onProgress: (stage, share) => tell({ share, title: STAGES[stage] }) });

/** The wish with bands: those it brings, or bands of first order. */
async function withBands(plan: Plan, wish: PaperWish): Promise<PaperWish> {
  if (wish.trust?.bands) return wish;
  return { ...wish, trust: { ...wish.trust, bands: await planTolerance(plan, { method: 'first order' }) } };
}

async function papersOf({ plan, parts, wish, zip }: Extract<BenchJob, { kind: 'papers' }>): Promise<JobResult['papers']> {
  const faults: Fault[] = [];
  const papers = await makePapers(plan, parts, {
    ...(await withBands(plan, wish)),
    onProgress: ({ done, total, title }) => tell({ share: done / total, title }),
    onFault: ({ title, error }) => faults.push({ title, message: textOf(error) }),
  });
  if (zip === undefined) return { papers, faults };
  const { writeZip } = await import('../papers/zip');
  const bytes = writeZip(papers, wish.date);
  return { papers: [{ id: 'chosen', name: zip, title: 'The papers chosen', mime: 'application/zip', bytes }], faults };
}

function work(job: BenchJob): Promise<JobResult[keyof JobResult]> | JobResult[keyof JobResult] {
  switch (job.kind) {
    case 'parts':
      return partsOf(job.plan);
    case 'list':
      return withBands(job.plan, job.wish).then((wish) => listPapers(job.plan, job.parts, wish));
    case 'papers':
      return papersOf(job);
  }
}

self.onmessage = async ({ data }: MessageEvent<BenchJob>) => {
  try {
    self.postMessage({ kind: 'done', result: await work(data) } satisfies JobAnswer);
  } catch (error) {
    const failure: JobFailure = { message: textOf(error), ...(error instanceof PaperError ? { field: error.field } : {}) };
    self.postMessage({ kind: 'failed', failure } satisfies JobAnswer);
  }
};
