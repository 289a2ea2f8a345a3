/**
 * Keeps the parts for the bench up with the plan. They take longer than a frame, so they are begun when the
 * plan has been quiet for a while; a newer plan stops the work on an older one.
 */
import { create } from 'zustand';
import { useMemo } from 'react';
import { allFindings } from '../../geometry/rail/findings';
import type { Parts } from '../../geometry/parts/types';
import type { Finding, Plan } from '../../geometry/types';
import { whatOf } from '../../geometry/errors';
import type { Said } from '../../geometry/said';
import type { Progress } from './parts.worker';
import { benchThread } from './partsThread';
import { usePlan } from '../state/plan';
import { Stopped } from './thread';

interface PartsState {
  /** The last parts made, and the plan they belong to. */
  readonly parts: Parts | null;
  readonly of: Plan | null;
  /** How far the work is; null while none is under way. */
  readonly progress: Progress | null;
  /** The maker stopped the work; it goes on with the next change, or when asked. */
  readonly stopped: boolean;
  readonly failure: Said | null;
}

/** The parts of the shown plan, once they are made. */
export const useParts = create<PartsState>()(() => ({ parts: null, of: null, progress: null, stopped: false, failure: null }));

/** How long a plan must stand before its parts are made, ms. */
const QUIET = 500;
/** The first picture goes before; but where there is no stage, the bench does not wait for one longer than this, ms. */
const LONGEST_WAIT = 5000;

const thread = benchThread();

/** Begins the parts of the plan shown now. */
export function beginParts(): void {
  const { plan } = usePlan.getState();
  if (!plan) return;
  useParts.setState({ progress: { share: 0, title: '' }, stopped: false, failure: null });
  void thread.run('parts', { plan }, (progress) => useParts.setState({ progress })).then(
    (parts) => useParts.setState({ parts, of: plan, progress: null }),
    (error: Error) => {
      if (!(error instanceof Stopped)) useParts.setState({ failure: whatOf(error), progress: null });
    },
  );
}

/** Stops the work on the parts. */
export function stopParts(): void {
  thread.stop();
  useParts.setState({ progress: null, stopped: true });
}

function firstPicture(): Promise<void> {
  return new Promise((resolve) => {
    const seen = new PerformanceObserver((list) => {
      if (list.getEntriesByName('first-picture').length > 0) resolve();
    });
    seen.observe({ type: 'mark', buffered: true });
    setTimeout(resolve, LONGEST_WAIT);
  });
}

/** Makes the parts of every plan that stands for a while, from the first picture on. */
export async function startParts(): Promise<void> {
  await firstPicture();
  let timer = 0;
  const soon = () => {
    clearTimeout(timer);
    timer = window.setTimeout(beginParts, QUIET);
  };
  if (usePlan.getState().plan) soon();
  usePlan.subscribe(({ plan }, before) => {
    if (plan === before.plan) return;
    thread.stop();
    useParts.setState({ progress: null, stopped: false });
    soon();
  });
}

/** The parts of this very plan, or null while they are not made. */
export function usePartsOf(plan: Plan | null): Parts | null {
  return useParts(({ parts, of }) => (of === plan ? parts : null));
}

/** All findings of a plan, worst first: the plan's own and, once `parts` are made, those of the bench. */
export function useFindings(plan: Plan | null): { readonly findings: readonly Finding[]; readonly whole: boolean } {
  const parts = usePartsOf(plan);
  return useMemo(() => ({
    findings: plan ? allFindings(plan, parts) : [], whole: parts !== null,
  }), [plan, parts]);
}
