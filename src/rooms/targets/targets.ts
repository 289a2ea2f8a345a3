/** What is wished for and what came of it. Nothing here changes the board until a proposal is accepted. */
import { create } from 'zustand';
import type { Design } from '../../../geometry/design/schema';
import type { LeverId } from '../../../geometry/search/levers';
import { LEVERS_FOR, type Sense, type Target } from '../../../geometry/search/targets';
import { acceptProposal, propose, refuseProposal, useProposal } from '../../state/proposal';
import { useDesign } from '../../state/design';
import { jobNow } from '../../state/jobs';
import { dropJob, runJob } from '../../work/jobs';

interface WishState {
  readonly wishes: readonly Target[];
  /** Levers the maker chose; null: those that bear on the wishes. */
  readonly levers: readonly LeverId[] | null;
  /** What became of the proposal. */
  readonly ended: 'accepted' | 'refused' | null;
}

export const useWishes = create<WishState>()(() => ({
  wishes: [{ kind: 'volume', value: 40e6, sense: 'about' }], levers: null, ended: null,
}));

/** The levers that would be tried. */
export function leversOf({ wishes, levers }: Pick<WishState, 'wishes' | 'levers'>): readonly LeverId[] {
  return levers ?? [...new Set(wishes.flatMap(({ kind }) => LEVERS_FOR[kind]))];
}

/** Changes what is asked for; an answer to something else is put away. */
export function ask(change: Partial<Pick<WishState, 'wishes' | 'levers'>>): void {
  refuse();
  dropJob('targets');
  useWishes.setState({ ...change, ended: null });
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
  ask({});
  const levers = leversOf(useWishes.getState()).map((id) => ({ id }));
  const result = await runJob('targets', { design: useDesign.getState().design, targets: wishes, levers });
  if (result?.verdict === 'met') show();
}

/** Draws the board found, as a draft. */
export function show(): void {
  const { result } = jobNow('targets');
  if (result) propose(result.verdict === 'none' ? 'The closest reached' : 'The least change found', result.design);
}

/** Takes the board found: one step of history. */
export function accept(): void {
  const { result } = jobNow('targets');
  if (!result) return;
  if (useProposal.getState().proposal?.design === result.design) acceptProposal();
  else useDesign.getState().commit(result.design);
  useWishes.setState({ ended: 'accepted' });
}

/** Puts the proposal away; the board is as before. */
export function refuse(): void {
  const { result } = jobNow('targets');
  if (!result || useWishes.getState().ended) return;
  if (useProposal.getState().proposal?.design === result.design) refuseProposal();
  useWishes.setState({ ended: 'refused' });
}
