/** The targets and what was found for them. Nothing here changes the board until a proposal is accepted. */
import { create } from 'zustand';
import type { Design } from '../../../geometry/design/schema';
import type { LeverId } from '../../../geometry/search/levers';
import { withTrials } from '../../../geometry/wood/trials';
import { LEVERS_FOR, type Sense, type Target } from '../../../geometry/search/targets';
import { propose, discardProposal, useProposal } from '../../state/proposal';
import { useDesign } from '../../state/design';
import { jobNow } from '../../state/jobs';
import { useUnits } from '../../state/unit';
import { dropJob, runJob } from '../../work/jobs';
import { targetText } from './words';

interface TargetsState {
  readonly targets: readonly Target[];
  /** Levers the maker chose; null: those that affect the targets. */
  readonly levers: readonly LeverId[] | null;
}

export const useTargets = create<TargetsState>()(() => ({
  targets: [{ kind: 'volume', value: 40e6, sense: 'about' }], levers: null,
}));

/** The levers that would be tried. */
export function leversOf({ targets, levers }: Pick<TargetsState, 'targets' | 'levers'>): readonly LeverId[] {
  return levers ?? [...new Set(targets.flatMap(({ kind }) => LEVERS_FOR[kind]))];
}

/** Changes what is asked for; an answer to something else is dropped. */
export function ask(change: Partial<Pick<TargetsState, 'targets' | 'levers'>>): void {
  const { result } = jobNow('targets');
  if (result && useProposal.getState().proposal?.design === result.design) discardProposal();
  dropJob('targets');
  useTargets.setState(change);
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

/** Proposes the board found: it is accepted or discarded under the drawings. */
export function show(): void {
  const { result } = jobNow('targets');
  if (!result) return;
  const [first, ...more] = result.targets;
  const what = more.length > 0 ? `${result.targets.length} together` : targetText(first.target, useUnits.getState().unit);
  propose(`Targets: ${what}${result.verdict === 'none' ? ', the closest reached' : ''}`, result.design);
}
