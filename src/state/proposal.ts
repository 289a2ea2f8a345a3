/** A board that a tool proposes: drawn and planned, not yet the maker's own. */
import { create } from 'zustand';
import type { Design } from '../../geometry/design/schema';
import { useDesign } from './design';

/** A board proposed by a tool: planned and drawn as a draft until it is accepted or discarded. */
interface ProposalState {
  readonly proposal: { readonly title: string; readonly design: Design } | null;
}
export const useProposal = create<ProposalState>()(() => ({ proposal: null }));

/** Shows a proposal. */
export function propose(title: string, design: Design): void {
  useProposal.setState({ proposal: { title, design } });
  useDesign.getState().sketch(design);
}

/** Takes the proposal: one step of history. */
export function acceptProposal(): void {
  useProposal.setState({ proposal: null });
  useDesign.getState().keepDraft();
}

/** Drops the proposal; the board is as before. */
export function discardProposal(): void {
  const { proposal } = useProposal.getState();
  useProposal.setState({ proposal: null });
  if (proposal && useDesign.getState().draft === proposal.design) useDesign.getState().dropDraft();
}

// A draft from elsewhere, or a step of history, takes the proposal's place.
useDesign.subscribe(({ draft }) => {
  const { proposal } = useProposal.getState();
  if (proposal && draft !== proposal.design) useProposal.setState({ proposal: null });
});
