/** One cause: what happens and where, what to do about it, and what the way chosen changes; a way chosen is shown on the stage before it is taken. */
import { type KeyboardEvent, useEffect, useId, useState } from 'react';
import type { Decision } from '../../../geometry/rail/decisions';
import { runOfPlace } from '../../../geometry/rail/query';
import { said, type Said as What } from '../../../geometry/said';
import type { Proposal } from '../../../geometry/search/proposals';
import type { Finding, Plan, StripName } from '../../../geometry/types';
import { findingFigures, findingPlace } from '../../say/findings';
import { capital, SEVERITY_WORDS } from '../../say/words';
import { textOf } from '../../say/said';
import { useDesign } from '../../state/design';
import { useJob } from '../../state/jobs';
import { acceptProposal, discardProposal, propose, useTaken } from '../../state/proposal';
import { useUnits } from '../../state/unit';
import { useView } from '../../state/view';
import { endJob, runJob } from '../../work/jobs';
import { Said } from '../../ui/Said';
import { Working } from '../../ui/Working';
import { NowThen } from './NowThen';
import './findings.css';

/** Marks a cause as settled at the bench, or opens it again. One step of history. */
function settle(cause: string, title: What, settled: boolean): void {
  const { design, commit } = useDesign.getState();
  const others = (design.settled ?? []).filter((one) => one !== cause);
  const { settled: _, ...rest } = design;
  const next = settled ? [...others, cause] : others;
  commit(next.length > 0 ? { ...rest, settled: next } : rest);
  useTaken.setState({ taken: { title, design: useDesign.getState().design } });
}

const stripText = ({ kind, order }: StripName): string => (kind === 'row' ? `Row ${order}` : kind === 'outer-skin' ? `Outer skin ${order}` : capital(kind));

/** Where the cause shows: a line for each strip or place, leading there. */
function Places({ plan, findings }: { readonly plan: Plan; readonly findings: readonly Finding[] }) {
  const moveTo = useView((state) => state.moveTo);
  return (
    <ul className="places">
      {findings.map((finding) => {
        const { id, place, strip } = finding;
        const figures = findingFigures(finding);
        const where = findingPlace(plan, finding);
        if (!place && figures === undefined) return null;
        return (
          <li key={id}>
            <button type="button" disabled={!place} onClick={() => place && moveTo(runOfPlace(plan, place))}>
              <span>{strip ? stripText(strip) : 'Here'}</span>
              <span>{where !== undefined && <Said text={where} />}{figures !== undefined && <small><Said text={figures} /></small>}</span>
            </button>
          </li>
        );
      })}
    </ul>
  );
}

interface TopicProps {
  readonly plan: Plan;
  readonly cause: string;
  readonly findings: Decision['findings'];
  /** Called when a way was taken. */
  readonly onDone: () => void;
}

/** The choice that stands for settling a cause at the bench, or for deciding it after all. */
const BENCH = -1;

export function Topic({ plan, cause, findings, onDone }: TopicProps) {
  const [finding] = findings;
  const unit = useUnits((state) => state.unit);
  const name = useId();
  const [chosen, choose] = useState<number | null>(null);
  const { of, result } = useJob('offers');
  useEffect(() => {
    void runJob('offers', { plan, finding });
    return () => endJob('offers');
  }, [plan, finding]);
  // What was said of another plan or finding is not said of this one.
  const made = result && of?.plan === plan && of.finding === finding ? result : null;
  const offers: readonly Proposal[] = made?.offers ?? [];
  const title = textOf(finding.title, unit);
  const bench = finding.settled ? 'Decide it now' : finding.level === 'check' ? 'Settle it at the bench' : null;
  const take = (which: number) => {
    choose(which);
    const offer = offers.at(which);
    if (which === BENCH || !offer) discardProposal();
    else propose(textOf(offer.title, unit), offer.design);
  };
  const done = () => {
    if (chosen === BENCH) settle(cause, finding.settled ? 'decide it now' : 'settle it at the bench', !finding.settled);
    else if (chosen !== null) {
      acceptProposal();
      useTaken.setState({ taken: { title: offers[chosen].title, design: useDesign.getState().design } });
    }
    choose(null);
    onDone();
  };
  const keep = () => {
    discardProposal();
    choose(null);
  };
  const escape = (event: KeyboardEvent) => {
    if (event.key === 'Escape') useView.getState().open(null);
  };
  const way = (which: number, label: What, under: What, clears?: boolean) => (
    <label key={which} className="way" data-clears={clears} data-chosen={chosen === which || undefined}>
      <input type="radio" name={name} checked={chosen === which} onChange={() => take(which)} onKeyDown={escape} />
      <b><Said text={label} /></b>
      <small><Said text={under} /></small>
    </label>
  );
  return (
    <article data-level={finding.level}>
      <h3 className="title"><Said text={finding.title} /></h3>
      <h4>What happens <em>{SEVERITY_WORDS[finding.level]}</em></h4>
      <Places plan={plan} findings={findings} />
      <h4>What to do</h4>
      <p className="advice"><Said text={finding.advice} /></p>
      {!made && <Working job="offers" tell={({ progress }) => ({ text: `${progress ?? 0} changes tried` })} />}
      {made && offers.length === 0 && <p className="hint" role="status">{made.tried === 0 ? 'This describes the board; nothing needs to change.' : `None of the ${made.tried} changes tried helps. Follow the advice above.`}</p>}
      {(offers.length > 0 || bench !== null) && (
        <div role="radiogroup" aria-label={`Ways out: ${title}`}>
          {offers.map((offer, i) => {
            const still = offer.still[0];
            const figures = still && findingFigures(still);
            return way(i, offer.title, offer.clears ? 'clears it' : figures === undefined ? 'improves it' : said('improves it: still {figures}', { figures }), offer.clears);
          })}
          {bench !== null && way(BENCH, bench, finding.settled ? 'It is a decision again.' : 'It stays as a note, here and on the papers.')}
        </div>
      )}
      {chosen !== null && chosen !== BENCH && <NowThen plan={plan} offer={offers[chosen]} />}
      {(offers.length > 0 || bench !== null) && (
        <p className="acts">
          <button type="button" className="do-it" disabled={chosen === null} onClick={done}>Do it</button>
          <button type="button" className="ruled" onClick={keep}>Keep as it is</button>
        </p>
      )}
    </article>
  );
}
