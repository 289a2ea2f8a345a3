/** What is wished for and what came of it. Nothing here changes the board until a proposal is accepted. */
import { create } from 'zustand';
import type { Design } from '../../../geometry/design/schema';
import type { SolveProgress, Solution } from '../../../geometry/search/solve';
import type { LeverId } from '../../../geometry/search/levers';
import { LEVERS_FOR, type Sense, type Target } from '../../../geometry/search/targets';
import { whatOf } from '../../../geometry/errors';
import type { Said } from '../../../geometry/said';
import { acceptProposal, propose, refuseProposal, useProposal } from '../../state/proposal';
import { useDesign } from '../../state/design';
import { Stopped } from '../../work/thread';
import { studyThread } from '../../work/trials';

interface WishState {
  readonly wishes: readonly Target[];
  /** Levers the maker chose; null: those that bear on the wishes. */
  readonly levers: readonly LeverId[] | null;
  readonly progress: SolveProgress | null;
  readonly working: boolean;
  readonly result: Solution | null;
  /** The board the result was sought for. */
  readonly of: Design | null;
  /** What became of the proposal. */
  readonly ended: 'accepted' | 'refused' | null;
  readonly failure: Said | null;
}

export const useWishes = create<WishState>()(() => ({
  wishes: [{ kind: 'volume', value: 40e6, sense: 'about' }], levers: null, progress: null, working: false, result: null, of: null, ended: null, failure: null,
}));

const thread = studyThread();

/** The levers that would be tried. */
export function leversOf({ wishes, levers }: Pick<WishState, 'wishes' | 'levers'>): readonly LeverId[] {
  return levers ?? [...new Set(wishes.flatMap(({ kind }) => LEVERS_FOR[kind]))];
}

/** Changes what is asked for; an answer to something else is put away. */
export function ask(change: Partial<Pick<WishState, 'wishes' | 'levers'>>): void {
  thread.stop();
  refuse();
  useWishes.setState({ ...change, result: null, of: null, ended: null, failure: null, working: false, progress: null });
}

/** A wish of a kind to begin with, near what boards are. */
export function newWish(kind: Target['kind'], design: Design): Target {
  const sense: Sense = 'about';
  switch (kind) {
    case 'volume':
      return { kind, value: 40e6, sense };
    case 'mass':
      return { kind, value: 3, sense };
    case 'bevel':
      return { kind, most: Math.PI / 18 };
    case 'reach':
      return { kind, end: 'nose', within: Math.round(design.lines.outline.points[design.lines.outline.points.length - 1].x / 20) };
  }
}

/** Seeks the least change that meets the wishes. */
export async function seek(): Promise<void> {
  const { wishes } = useWishes.getState();
  const { design } = useDesign.getState();
  refuse();
  useWishes.setState({ progress: null, working: true, result: null, of: null, ended: null, failure: null });
  try {
    const levers = leversOf(useWishes.getState()).map((id) => ({ id }));
    const result = await thread.run('wishes', { design, wishes, levers }, (progress) => useWishes.setState({ progress }));
    useWishes.setState({ result, of: design, working: false });
    if (result.verdict === 'met') show();
  } catch (error) {
    useWishes.setState({ working: false, failure: error instanceof Stopped ? 'Stopped before anything was found.' : whatOf(error) });
  }
}

/** Stops seeking. */
export const stopSeeking = (): void => thread.stop();

/** Draws the board found, as a draft. */
export function show(): void {
  const { result } = useWishes.getState();
  if (result) propose(result.verdict === 'none' ? 'The closest reached' : 'The least change found', result.design);
}

/** Takes the board found: one step of history. */
export function accept(): void {
  const { result } = useWishes.getState();
  if (!result) return;
  if (useProposal.getState().proposal?.design === result.design) acceptProposal();
  else useDesign.getState().commit(result.design);
  useWishes.setState({ ended: 'accepted' });
}

/** Puts the proposal away; the board is as before. */
export function refuse(): void {
  const { result, ended } = useWishes.getState();
  if (!result || ended) return;
  if (useProposal.getState().proposal?.design === result.design) refuseProposal();
  useWishes.setState({ ended: 'refused' });
}
