/**
 * Makes parts and papers off the main thread. One message in, answers out, the last of them final. The solver
 * blocks its thread, so whoever wants to stop a job ends the worker (see store/thread.ts).
 */
import { planParts } from '../../geometry/planParts';
import type { Parts } from '../../geometry/parts/types';
import { whatOf } from '../../geometry/errors';
import type { Said } from '../../geometry/said';
import { planTolerance } from '../../geometry/trust/tolerance';
import type { Plan } from '../../geometry/types';
import { listPapers, makePapers, type Paper, type PaperEntry, type PaperOptions } from '../papers';
import { serve } from './thread';

/** Paper options that can be sent to another thread. */
export type PaperWish = Pick<PaperOptions, 'date' | 'paper' | 'units' | 'which' | 'step' | 'kerf' | 'address' | 'trust'>;

/** A paper that could not be made. */
export interface Fault {
  readonly title: string;
  readonly message: Said;
}

export interface Progress {
  /** 0 to 1. */
  readonly share: number;
  /** What is being made now. */
  readonly title: string;
}

/** The kinds of job for the bench. */
export interface BenchJobs {
  readonly parts: { readonly job: { readonly plan: Plan }; readonly progress: Progress; readonly result: Parts };
  readonly list: {
    readonly job: { readonly plan: Plan; readonly parts: Parts; readonly wish: PaperWish };
    readonly progress: never; readonly result: readonly PaperEntry[];
  };
  /** `zip`: what the papers are packed into, instead of coming one by one. */
  readonly papers: {
    readonly job: { readonly plan: Plan; readonly parts: Parts; readonly wish: PaperWish; readonly zip?: string };
    readonly progress: Progress; readonly result: { readonly papers: readonly Paper[]; readonly faults: readonly Fault[] };
  };
}

const STAGES = {
  bending: 'Bending', blanks: 'Blanks', frames: 'Ribs and stringer', joints: 'Joints and cutting', totals: 'Totals', steps: 'Order of work', done: 'Done',
} as const;

/** The wish with bands: those it brings, or bands of first order. */
async function withBands(plan: Plan, wish: PaperWish): Promise<PaperWish> {
  if (wish.trust?.bands) return wish;
  return { ...wish, trust: { ...wish.trust, bands: await planTolerance(plan, { method: 'first order' }) } };
}

async function papersOf({ plan, parts, wish, zip }: BenchJobs['papers']['job'], tell: (progress: Progress) => void): Promise<BenchJobs['papers']['result']> {
  const faults: Fault[] = [];
  const papers = await makePapers(plan, parts, {
    ...(await withBands(plan, wish)),
    onProgress: ({ done, total, title }) => tell({ share: done / total, title }),
    onFault: ({ title, error }) => faults.push({ title, message: whatOf(error) }),
  });
  if (zip === undefined) return { papers, faults };
  const { writeZip } = await import('../papers/zip');
  const bytes = writeZip(papers, wish.date);
  return { papers: [{ id: 'chosen', name: zip, title: 'The papers chosen', mime: 'application/zip', bytes }], faults };
}

serve<BenchJobs>({
  // The solver comes over the wire only when it is wanted; where it cannot, the joints are a finding and the rest is made.
  parts: ({ plan }, tell) => planParts(plan, { onProgress: (stage, share) => tell({ share, title: STAGES[stage] }) }),
  list: async ({ plan, parts, wish }) => listPapers(plan, parts, await withBands(plan, wish)),
  papers: papersOf,
});
