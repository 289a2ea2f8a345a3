/** The result for the targets: the proposal or the closest reached, what changed, what was tried. */
import type { Solution } from '../../../geometry/search/solve';
import { withTrials } from '../../../geometry/wood/trials';
import { useProposal } from '../../state/proposal';
import { useDesign } from '../../state/design';
import { useJobs } from '../../state/jobs';
import { useUnits } from '../../state/unit';
import { show } from './targets';
import { outcomeText, rowFigures, targetText } from './words';
import { Said } from '../../ui/Said';
import { Worded } from '../../ui/Term';
import './targets.css';

const TITLES: Readonly<Record<Solution['verdict'], string>> = {
  already: 'Already met', met: 'Found', none: 'None found',
};

/** What became of the board found, and the way to see it. */
function Choice({ result }: { readonly result: Solution }) {
  const of = useJobs(({ targets }) => targets.of);
  const design = useDesign((state) => state.design);
  const trials = useDesign((state) => state.record.trials);
  const { proposal, ended } = useProposal();
  const shown = proposal?.design === result.design;
  const how = ended?.design === result.design ? ended.how : null;
  const none = result.verdict === 'none';
  if (shown) return <p className="said" role="status">Drawings, stage and ribbon show {none ? 'the closest reached' : 'the proposal'}: accept or discard it under the drawings.</p>;
  if (how === 'accepted') return <p className="said" role="status">Accepted. Undo returns to the previous board.</p>;
  if (withTrials(design, trials) !== of?.design) return <p className="hint" role="status">The board has changed since: search again.</p>;
  return (
    <>
      {how === 'discarded' && <p className="said" role="status">Discarded. Your board is unchanged.</p>}
      <div className="buttons"><button type="button" className="ruled strong" onClick={show}>{none ? 'Show the closest' : 'Show it'}</button></div>
    </>
  );
}

export function Verdict({ result }: { readonly result: Solution }) {
  const unit = useUnits((state) => state.unit);
  const { verdict, targets, changes, tried, before, after } = result;
  const changed = changes.length > 0;
  const [was, is] = [rowFigures(before, unit), rowFigures(after, unit)];
  return (
    <section className="verdict" data-verdict={verdict} aria-label="Result">
      <h3>{TITLES[verdict]}</h3>
      <p><Said text={result.message} /></p>
      <ul className="outcomes">
        {targets.map(({ target, before: from, after: to, met }) => (
          <li key={targetText(target, unit)} className={met ? undefined : 'missed'}>
            <b>{met ? '✓ met' : '✕ not met'}</b> {targetText(target, unit)}
            <small>{outcomeText(target, from, unit)}{changed && <> → <strong>{outcomeText(target, to, unit)}</strong></>}</small>
          </li>
        ))}
      </ul>
      {changed && <Choice result={result} />}
      {changes.length > 0 && (
        <table className="trial-table" data-list="changes">
          <caption>Changes</caption>
          <thead><tr><th scope="col">what</th><th scope="col">by</th></tr></thead>
          <tbody>
            {changes.map((change) => (
              <tr key={change.lever} data-lever={change.lever}>
                <th scope="row"><Worded text={change.title} /></th>
                <td className="moved"><Said text={change.by} />{change.atLimit && <small>at its limit</small>}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {changed && (
        <table className="trial-table" data-list="before and after">
          <caption>Before and after</caption>
          <thead><tr><th scope="col">figure</th><th scope="col">before</th><th scope="col">after</th></tr></thead>
          <tbody>
            {is.map(([label, text], i) => (
              <tr key={label} data-figure={label}><th scope="row"><Worded text={label} /></th><td>{was[i]?.[1]}</td><td className={was[i]?.[1] === text ? undefined : 'moved'}>{text}</td></tr>
            ))}
          </tbody>
        </table>
      )}
      {verdict !== 'already' && (
        <details className="more">
          <summary>What was tried: {tried.plans} boards</summary>
          <p className="hint">From {tried.starts === 1 ? 'the board as it is' : `the board as it is and ${tried.starts - 1} other ${tried.starts === 2 ? 'board' : 'boards'}`}. The search is local: “none found” means that nothing was found within these ranges, not that nothing exists. Least change: the smallest sum of squares, each change counted in its own step.</p>
          <ul>{tried.levers.map((lever) => <li key={lever.id}>{lever.title}: <Said text={lever.range} /></li>)}</ul>
        </details>
      )}
    </section>
  );
}
