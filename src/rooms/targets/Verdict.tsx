/** What came of the wishes: the proposal or the closest reached, what changed, what was tried. */
import type { Solution } from '../../../geometry/search/solve';
import { useProposal } from '../../state/proposal';
import { useDesign } from '../../state/design';
import { useJobs } from '../../state/jobs';
import { useUnits } from '../../state/unit';
import { useView } from '../../state/view';
import { accept, refuse, show, useWishes } from './targets';
import { outcomeText, rowFigures, wishText } from './words';
import { Said } from '../../ui/Said';

const TITLES: Readonly<Record<Solution['verdict'], string>> = {
  already: 'Met already', met: 'Found', none: 'None found',
};

function Choice({ result }: { readonly result: Solution }) {
  const ended = useWishes((state) => state.ended);
  const of = useJobs(({ targets }) => targets.of);
  const design = useDesign((state) => state.design);
  const proposal = useProposal((state) => state.proposal);
  const setPanel = useView((state) => state.setPanel);
  if (ended === 'accepted') return <p className="built-note" role="status">Accepted. Undo brings the board before it back.</p>;
  if (design !== of?.design) return <p className="hint" role="status">The board has changed since: seek anew.</p>;
  const shown = proposal?.design === result.design;
  const none = result.verdict === 'none';
  return (
    <>
      {shown && <p className="built-note" role="status">Stage, ribbon and card show {none ? 'the closest reached' : 'the proposal'}.</p>}
      {ended === 'refused' && !shown && <p className="built-note" role="status">Refused. The board is as it was.</p>}
      <div className="buttons">
        <button type="button" className="ruled strong" onClick={accept}>{none ? 'Take the closest' : 'Accept'}</button>
        {shown
          ? <button type="button" className="ruled" onClick={refuse}>Refuse</button>
          : <button type="button" className="ruled" onClick={() => { useWishes.setState({ ended: null }); show(); }}>Show it</button>}
        {shown && <button type="button" className="ruled" onClick={() => setPanel('lines')}>Compare the lines</button>}
      </div>
    </>
  );
}

export function Verdict({ result }: { readonly result: Solution }) {
  const unit = useUnits((state) => state.unit);
  const { verdict, targets: wishes, changes, tried, before, after } = result;
  const changed = changes.length > 0;
  const [was, is] = [rowFigures(before, unit), rowFigures(after, unit)];
  return (
    <section className={`verdict ${verdict}`} aria-label="What came of it">
      <h3>{TITLES[verdict]}</h3>
      <p><Said text={result.message} /></p>
      <ul className="outcomes">
        {wishes.map(({ target: wish, before: from, after: to, met }) => (
          <li key={wishText(wish, unit)} className={met ? 'met' : 'missed'}>
            <b>{met ? '✓ met' : '✕ not met'}</b> {wishText(wish, unit)}
            <small>{outcomeText(wish, from, unit)}{changed && <> → <strong>{outcomeText(wish, to, unit)}</strong></>}</small>
          </li>
        ))}
      </ul>
      {changed && <Choice result={result} />}
      {changes.length > 0 && (
        <table className="study-table lever-changes">
          <caption>What is changed</caption>
          <thead><tr><th scope="col">lever</th><th scope="col">by</th></tr></thead>
          <tbody>
            {changes.map((change) => (
              <tr key={change.lever} data-lever={change.lever}>
                <th scope="row">{change.title}</th>
                <td className="moved">{change.text.replace('-', '−')}{change.atLimit && <small>as far as allowed</small>}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {changed && (
        <table className="study-table before-after">
          <caption>What it comes to</caption>
          <thead><tr><th scope="col">figure</th><th scope="col">before</th><th scope="col">after</th></tr></thead>
          <tbody>
            {is.map(([label, text], i) => (
              <tr key={label} data-figure={label}><th scope="row">{label}</th><td>{was[i]?.[1]}</td><td className={was[i]?.[1] === text ? undefined : 'moved'}>{text}</td></tr>
            ))}
          </tbody>
        </table>
      )}
      {verdict !== 'already' && (
        <details>
          <summary>What was tried: {tried.plans} boards</summary>
          <p className="hint">From {tried.starts === 1 ? 'the board as it is' : `the board as it is and ${tried.starts - 1} other ${tried.starts === 2 ? 'start' : 'starts'}`}. The search is local, so “none” says that nothing was found within these ranges, not that nothing can be. Least: the sum of squared changes, each lever measured in its own step.</p>
          <ul>{tried.levers.map((lever) => <li key={lever.id}>{lever.title}: {lever.min.replace('-', '−')} to {lever.max}</li>)}</ul>
        </details>
      )}
    </section>
  );
}
