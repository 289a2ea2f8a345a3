/** The targets and what was found for them. Nothing here changes the board until a proposal is accepted. */
import { create } from 'zustand';
import type { Design } from '../../../geometry/design/schema';
import type { LeverId } from '../../../geometry/search/levers';
import { withTrials } from '../../../geometry/wood/trials';
import { LEVERS_FOR, type Sense, type Target } from '../../../geometry/search/targets';
import { acceptProposal, propose, discardProposal, useProposal } from '../../state/proposal';
import { useDesign } from '../../state/design';
import { jobNow } from '../../state/jobs';
import { dropJob, runJob } from '../../work/jobs';

interface TargetsState {
  readonly targets: readonly Target[];
  /** Levers the maker chose; null: those that affect the targets. */
  readonly levers: readonly LeverId[] | null;
  /** What became of the proposal. */
  readonly ended: 'accepted' | 'discarded' | null;
}

export const useTargets = create<TargetsState>()(() => ({
  targets: [{ kind: 'volume', value: 40e6, sense: 'about' }], levers: null, ended: null,
}));

/** The levers that would be tried. */
export function leversOf({ targets, levers }: Pick<TargetsState, 'targets' | 'levers'>): readonly LeverId[] {
  return levers ?? [...new Set(targets.flatMap(({ kind }) => LEVERS_FOR[kind]))];
}

/** Changes what is asked for; an answer to something else is dropped. */
export function ask(change: Partial<Pick<TargetsState, 'targets' | 'levers'>>): void {
  discard();
  dropJob('targets');
  useTargets.setState({ ...change, ended: null });
}

/** A target of a kind to begin with, near what boards usually are. */
export function newTarget(kind: Target['kind'], design: Design): Target {
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

/** Searches for the least change that meets the targets. */
export async function search(): Promise<void> {
  const { targets } = useTargets.getState();
  ask({});
  const levers = leversOf(useTargets.getState()).map((id) => ({ id }));
  const { design, record } = useDesign.getState();
  const result = await runJob('targets', { design: withTrials(design, record.trials), targets, levers });
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
  useTargets.setState({ ended: 'accepted' });
}

/** Drops the proposal; the board is as before. */
export function discard(): void {
  const { result } = jobNow('targets');
  if (!result || useTargets.getState().ended) return;
  if (useProposal.getState().proposal?.design === result.design) discardProposal();
  useTargets.setState({ ended: 'discarded' });
}
