/**
 * Bands of the plan shown: how far stops, gap, bevel and cover may fall from their figures. Worked out on
 * another thread while they are looked at, begun when a plan has stood for a while.
 */
import { create } from 'zustand';
import type { ToleranceBands, ToleranceMethod } from '../../geometry/trust/types';
import type { Plan } from '../../geometry/types';
import { whatOf } from '../../geometry/errors';
import type { Said } from '../../geometry/said';
import { Stopped } from './thread';
import { usePlan } from '../state/plan';
import { useView } from '../state/view';
import { studyThread } from './trials';

interface BandsState {
  /** Drawn on ribbon and station card. */
  readonly shown: boolean;
  readonly method: ToleranceMethod;
  /** Boards drawn by Monte Carlo, and their seed. */
  readonly runs: number;
  readonly seed: number;
  readonly bands: ToleranceBands | null;
  /** The plan the bands belong to. */
  readonly of: Plan | null;
  /** Share done, 0 to 1; null while nothing is under way. */
  readonly progress: number | null;
  readonly stopped: boolean;
  readonly failure: Said | null;
}

export const useBands = create<BandsState>()(() => ({
  shown: false, method: 'first order', runs: 1000, seed: 1, bands: null, of: null, progress: null, stopped: false, failure: null,
}));

/** How long a plan must stand before its bands are worked out, ms. */
const QUIET = 250;
const thread = studyThread();
let timer = 0;

const wanted = () => useBands.getState().shown || useView.getState().panel === 'tolerance';

function begin(): void {
  const { plan } = usePlan.getState();
  const { method, runs, seed, bands, of } = useBands.getState();
  if (!plan || !wanted()) return;
  if (bands && of === plan && bands.method === method && (method === 'first order' || (bands.runs === runs && bands.seed === seed))) return;
  useBands.setState({ progress: 0, stopped: false, failure: null });
  thread.run('bands', { plan, method, runs, seed }, (progress) => useBands.setState({ progress })).then(
    (found) => useBands.setState({ bands: found, of: plan, progress: null }),
    (error: Error) => {
      if (!(error instanceof Stopped)) useBands.setState({ failure: whatOf(error), progress: null });
    },
  );
}

function soon(): void {
  thread.stop();
  clearTimeout(timer);
  timer = window.setTimeout(begin, QUIET);
}

/** Stops the work under way; it goes on with the next change, or when asked. */
export function stopBands(): void {
  clearTimeout(timer);
  thread.stop();
  useBands.setState({ progress: null, stopped: true });
}

/** Begins the bands anew after they were stopped. */
export const resumeBands = begin;

/** Changes what is asked for, or whether it is drawn. */
export function askBands(change: Partial<Pick<BandsState, 'shown' | 'method' | 'runs' | 'seed'>>): void {
  useBands.setState(change);
  soon();
}

/** Keeps the bands up with the plan while they are looked at. Call once. */
export function startBands(): void {
  usePlan.subscribe(({ plan }, before) => {
    if (plan === before.plan) return;
    thread.stop();
    useBands.setState({ progress: null, stopped: false });
    if (wanted()) soon();
  });
  useView.subscribe(({ panel }, before) => {
    if (panel === 'tolerance' && before.panel !== panel) soon();
  });
}

/** The bands of this very plan where they are to be drawn, else null. */
export function useShownBands(plan: Plan): ToleranceBands | null {
  return useBands(({ shown, bands, of }) => (shown && of === plan ? bands : null));
}
