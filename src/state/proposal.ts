/** A board that a tool proposes: drawn and planned, not yet the maker's own. */
import { create } from 'zustand';
import type { Said } from '../../geometry/said';
import type { Design } from '../../geometry/design/schema';
import type { Plan } from '../../geometry/types';
import { useDesign } from './design';
import { jobNow, madeOf } from './jobs';

/** A board proposed by a tool: planned and drawn as a draft until it is accepted or discarded. */
interface Proposal {
  readonly title: string;
  readonly design: Design;
  /** The plan of the board as it is, and the mass of its timber, kg: null where they were not made. */
  readonly before: Plan | null;
  readonly mass: number | null;
}

interface ProposalState {
  readonly proposal: Proposal | null;
  /** The board proposed last, and what became of it. */
  readonly ended: { readonly design: Design; readonly how: 'accepted' | 'discarded' } | null;
}
export const useProposal = create<ProposalState>()(() => ({ proposal: null, ended: null }));

/** Shows a proposal. */
export function propose(title: string, design: Design): void {
  const { proposal: was } = useProposal.getState();
  const { of, result } = jobNow('plan');
  const before = was ? was.before : result && of?.design === useDesign.getState().design ? result.plan : null;
  const mass = was ? was.mass : before && (madeOf(jobNow('parts'), before)?.totals?.mass ?? null);
  useProposal.setState({ proposal: { title, design, before, mass }, ended: null });
  useDesign.getState().sketch(design);
}

function end(how: 'accepted' | 'discarded'): void {
  const { proposal } = useProposal.getState();
  if (proposal) useProposal.setState({ proposal: null, ended: { design: proposal.design, how } });
}

/** Takes the proposal: one step of history. */
export function acceptProposal(): void {
  end('accepted');
  useDesign.getState().keepDraft();
}

/** Drops the proposal; the board is as before. */
export function discardProposal(): void {
  const { proposal } = useProposal.getState();
  end('discarded');
  if (proposal && useDesign.getState().draft === proposal.design) useDesign.getState().dropDraft();
}

// A draft from elsewhere, or a step of history, takes the proposal's place.
useDesign.subscribe(({ draft }) => {
  const { proposal } = useProposal.getState();
  if (proposal && draft !== proposal.design) end('discarded');
});

/** The last way out of a decision that was taken, by name, and the board it made: while that is the board, it can be undone by name. */
export const useTaken = create<{ readonly taken: { readonly title: Said; readonly design: Design } | null }>()(() => ({ taken: null }));
