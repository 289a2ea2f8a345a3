/** Wishes: what the board should come to, the levers to pull, and the least change found, to accept or refuse. */
import { useEffect } from 'react';
import { type LeverId, leverById } from '../../../geometry/search/levers';
import type { Sense, Target } from '../../../geometry/search/targets';
import { FigureField } from '../../ui/fields';
import { refuseProposal } from '../../state/proposal';
import { useDesign } from '../../state/design';
import { isBusy, type Job, useJobs } from '../../state/jobs';
import { useUnits } from '../../state/unit';
import { useView } from '../../state/view';
import '../../ui/trials.css';
import { Working } from '../../ui/Working';
import { ask, leversOf, newWish, seek, useWishes } from './targets';
import { Verdict } from './Verdict';
import './targets.css';
import { KINDS, LEVER_GROUPS, readFigure, wishFigure, withFigure } from './words';

const SENSES: readonly Sense[] = ['about', 'at most', 'at least'];
const MOST_ROWS = 8;

interface WishLineProps {
  readonly wish: Target;
  readonly index: number;
  readonly onPut: (wish: Target | null) => void;
}

/** One wish: its kind, its figure, and what else it needs to be said. */
function WishLine({ wish, index, onPut }: WishLineProps) {
  const unit = useUnits((state) => state.unit);
  const { text, sign, allowed } = wishFigure(wish, unit);
  const name = `Wish ${index + 1}`;
  return (
    <div className="wish" role="group" aria-label={name}>
      <div className="wish-head">
        <select aria-label={`${name}: what`} value={wish.kind} onChange={(event) => {
          const kind = KINDS.find((k) => k.kind === event.target.value)?.kind;
          if (kind) onPut(newWish(kind, useDesign.getState().design));
        }}>
          {KINDS.map(({ kind, label }) => <option key={kind} value={kind}>{label}</option>)}
        </select>
        {(wish.kind === 'volume' || wish.kind === 'mass') && (
          <select aria-label={`${name}: how`} value={wish.sense ?? 'about'} onChange={(event) => onPut({ ...wish, sense: SENSES.find((s) => s === event.target.value) })}>
            {SENSES.map((sense) => <option key={sense}>{sense}</option>)}
          </select>
        )}
        <button type="button" className="ruled" aria-label={`Take ${name.toLowerCase()} away`} onClick={() => onPut(null)}>✕</button>
      </div>
      <FigureField
        key={`${wish.kind} ${unit}`} label={wish.kind === 'reach' ? 'Within' : wish.kind === 'bevel' ? 'At most' : 'Target'} shown={text} unit={sign} allowed={allowed}
        read={(typed) => readFigure(wish, typed, unit)}
        put={(value) => {
          if (value !== undefined) onPut(withFigure(wish, value));
          return [];
        }}
      />
      {wish.kind === 'reach' && (
        <div className="wish-head">
          <label>of the <select aria-label="of the" value={wish.end} onChange={(event) => onPut({ ...wish, end: event.target.value === 'tail' ? 'tail' : 'nose' })}><option value="nose">nose</option><option value="tail">tail</option></select></label>
          <label>by row <select aria-label="by row" value={wish.row ?? 1} onChange={(event) => onPut({ ...wish, row: Number(event.target.value) })}>
            {Array.from({ length: MOST_ROWS }, (_, i) => <option key={i} value={i + 1}>{i + 1}</option>)}
          </select></label>
        </div>
      )}
    </div>
  );
}

function Levers() {
  const state = useWishes();
  const chosen = leversOf(state);
  const flip = (id: LeverId) => ask({ levers: chosen.includes(id) ? chosen.filter((c) => c !== id) : [...chosen, id] });
  return (
    <fieldset className="levers">
      <legend>What may be changed</legend>
      {LEVER_GROUPS.map(({ title, ids }) => (
        <div key={title} role="group" aria-label={title}>
          <p className="hint">{title}</p>
          {ids.map((id) => (
            <label key={id} className="switch"><input type="checkbox" checked={chosen.includes(id)} onChange={() => flip(id)} />{leverById(id).title}</label>
          ))}
        </div>
      ))}
      {state.levers !== null && <button type="button" className="go" onClick={() => ask({ levers: null })}>Back to what bears on these wishes</button>}
    </fieldset>
  );
}

const told = ({ progress }: Job<'targets'>) => ({
  text: progress
    ? `${progress.plans} boards tried, start ${progress.start} of at most ${progress.starts}${Number.isFinite(progress.lack) ? `, still lacking ${progress.lack.toFixed(2)}` : ''}`
    : 'Planning the board as it is',
});

export function WishesPanel() {
  const { wishes, levers } = useWishes();
  const result = useJobs(({ targets }) => targets.result);
  const working = useJobs(({ targets }) => isBusy(targets));
  // Leaving gives an open proposal up, but for Lines, which shows it and asks.
  useEffect(() => () => {
    if (useView.getState().panel !== 'lines') refuseProposal();
  }, []);
  const put = (index: number, wish: Target | null) =>
    ask({ wishes: wish ? wishes.map((w, i) => (i === index ? wish : w)) : wishes.filter((_, i) => i !== index) });
  const none = wishes.length === 0 || leversOf({ wishes, levers }).length === 0;
  return (
    <section className="panel wishes" aria-label="Wishes">
      <h2>Wishes</h2>
      <p className="hint">Say what the board should come to. The least change of the chosen levers that meets it is sought, planned, and shown to accept or refuse.</p>
      <fieldset>
        <legend>Wished for</legend>
        {wishes.map((wish, i) => <WishLine key={i} index={i} wish={wish} onPut={(next) => put(i, next)} />)}
        <button type="button" className="go" onClick={() => ask({ wishes: [...wishes, newWish('bevel', useDesign.getState().design)] })}>One more wish</button>
      </fieldset>
      <details>
        <summary>What may be changed: {leversOf({ wishes, levers }).length} of {LEVER_GROUPS.flatMap(({ ids }) => ids).length} levers</summary>
        <Levers />
      </details>
      <div className="buttons"><button type="button" className="ruled strong" disabled={none || working} onClick={() => void seek()}>Find the least change</button></div>
      {none && <p className="hint">{wishes.length === 0 ? 'Nothing is wished for.' : 'Nothing may be changed: choose a lever.'}</p>}
      <Working job="targets" tell={told} stopped="Stopped before anything was found." again={() => void seek()} />
      {result && <Verdict result={result} />}
    </section>
  );
}
