/** Under the drawings: the plan in a sentence; or, while a tool proposes another board, what it changes, to accept or discard. */
import { render } from 'lit-html';
import { useMemo, useRef } from 'react';
import { familyRow } from '../../../geometry/search/family';
import type { Plan } from '../../../geometry/types';
import { headline } from '../../say/words';
import { useJob } from '../../state/jobs';
import { acceptProposal, discardProposal, useProposal } from '../../state/proposal';
import { useUnits } from '../../state/unit';
import { usePainter } from '../../ui/painter';
import { usePartsOf } from '../../work/parts';
import { changesOf } from './changes';
import './overall.css';

/** The plan in a sentence. */
function Headline({ plan }: { readonly plan: Plan }) {
  const unit = useUnits((state) => state.unit);
  const says = useRef<HTMLParagraphElement>(null);
  usePainter(plan, (shown) => says.current && render(headline(shown, unit), says.current));
  return <p ref={says} />;
}

/** What the proposal changes: known once it is planned. */
function Changes() {
  const unit = useUnits((state) => state.unit);
  const proposal = useProposal((state) => state.proposal);
  const { of, result } = useJob('plan');
  const plan = proposal && of?.design === proposal.design ? (result?.plan ?? null) : null;
  const mass = usePartsOf(plan)?.totals?.mass;
  const changes = useMemo(() => {
    if (!plan || !proposal) return null;
    const was = proposal.before && familyRow(proposal.before, () => (mass === undefined ? undefined : (proposal.mass ?? undefined)));
    return changesOf(was, familyRow(plan, () => mass), unit);
  }, [plan, proposal, mass, unit]);
  if (!changes) return <p>being planned…</p>;
  return (
    <ul>
      {changes.map(({ label, was, is }) => (
        <li key={label} data-change={label}>{label} {was !== null && was !== is && <>{was} <span aria-label="becomes">→</span> </>}<b>{is}</b></li>
      ))}
    </ul>
  );
}

export function ProposalBar({ plan }: { readonly plan: Plan | null }) {
  const proposal = useProposal((state) => state.proposal);
  const bar = useRef<HTMLElement>(null);
  // The buttons go with the proposal: the focus stays with the bar.
  const answer = (how: () => void) => () => {
    how();
    bar.current?.focus();
  };
  return (
    <section className="lines-answer" data-area="answer" aria-label="Proposal" data-open={proposal !== null || undefined} tabIndex={-1} ref={bar}>
      {proposal
        ? (
          <>
            <div role="status"><h3>{proposal.title}</h3><small>a proposal; dashed: as it is now</small></div>
            <Changes />
            <span className="choices">
              <button type="button" className="accept" onClick={answer(acceptProposal)}>Accept</button>
              <button type="button" className="ruled" onClick={answer(discardProposal)}>Discard</button>
            </span>
          </>
        )
        : plan && <Headline plan={plan} />}
    </section>
  );
}
