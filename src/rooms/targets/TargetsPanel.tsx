/** Targets: what the board should reach, what may be changed for it, and the least change found, to accept or discard. */
import { type LeverId, leverById } from '../../../geometry/search/levers';
import type { Sense, Target } from '../../../geometry/search/targets';
import { FigureField } from '../../ui/fields';
import { useDesign } from '../../state/design';
import { isBusy, type Job, useJobs } from '../../state/jobs';
import { useUnits } from '../../state/unit';
import { Working } from '../../ui/Working';
import { ask, leversOf, newTarget, search, useTargets } from './targets';
import { Verdict } from './Verdict';
import './targets.css';
import { KINDS, LEVER_GROUPS, readFigure, targetFigure, withFigure } from './words';
import { Drawer } from '../../ui/Drawer';

const SENSES: readonly Sense[] = ['about', 'at most', 'at least'];
const MOST_ROWS = 8;

interface TargetLineProps {
  readonly target: Target;
  readonly index: number;
  readonly onPut: (target: Target | null) => void;
}

/** One target: its kind, its figure, and what else it needs. */
function TargetLine({ target, index, onPut }: TargetLineProps) {
  const unit = useUnits((state) => state.unit);
  const { text, sign, allowed } = targetFigure(target, unit);
  const name = `Target ${index + 1}`;
  return (
    <div className="target" role="group" aria-label={name}>
      <div className="target-head">
        <select aria-label={`${name}: what`} value={target.kind} onChange={(event) => {
          const kind = KINDS.find((k) => k.kind === event.target.value)?.kind;
          if (kind) onPut(newTarget(kind, useDesign.getState().design));
        }}>
          {KINDS.map(({ kind, label }) => <option key={kind} value={kind}>{label}</option>)}
        </select>
        {(target.kind === 'volume' || target.kind === 'mass') && (
          <select aria-label={`${name}: how`} value={target.sense ?? 'about'} onChange={(event) => onPut({ ...target, sense: SENSES.find((s) => s === event.target.value) })}>
            {SENSES.map((sense) => <option key={sense}>{sense}</option>)}
          </select>
        )}
        <button type="button" className="ruled" aria-label={`Remove ${name.toLowerCase()}`} onClick={() => onPut(null)}>✕</button>
      </div>
      <FigureField
        key={`${target.kind} ${unit}`} label={target.kind === 'reach' ? 'Within' : target.kind === 'bevel' ? 'At most' : 'Value'} shown={text} unit={sign} allowed={allowed}
        read={(typed) => readFigure(target, typed, unit)}
        put={(value) => {
          if (value !== undefined) onPut(withFigure(target, value));
          return [];
        }}
      />
      {target.kind === 'reach' && (
        <div className="target-head">
          <label>of the <select aria-label="of the" value={target.end} onChange={(event) => onPut({ ...target, end: event.target.value === 'tail' ? 'tail' : 'nose' })}><option value="nose">nose</option><option value="tail">tail</option></select></label>
          <label>by row <select aria-label="by row" value={target.row ?? 1} onChange={(event) => onPut({ ...target, row: Number(event.target.value) })}>
            {Array.from({ length: MOST_ROWS }, (_, i) => <option key={i} value={i + 1}>{i + 1}</option>)}
          </select></label>
        </div>
      )}
    </div>
  );
}

function Levers() {
  const state = useTargets();
  const chosen = leversOf(state);
  const flip = (id: LeverId) => ask({ levers: chosen.includes(id) ? chosen.filter((c) => c !== id) : [...chosen, id] });
  return (
    <fieldset>
      <legend>What may be changed</legend>
      {LEVER_GROUPS.map(({ title, ids }) => (
        <div key={title} role="group" aria-label={title}>
          <p className="hint">{title}</p>
          {ids.map((id) => (
            <label key={id} className="switch"><input type="checkbox" checked={chosen.includes(id)} onChange={() => flip(id)} />{leverById(id).title}</label>
          ))}
        </div>
      ))}
      {state.levers !== null && <button type="button" className="go" onClick={() => ask({ levers: null })}>Back to what affects these targets</button>}
    </fieldset>
  );
}

const told = ({ progress }: Job<'targets'>) => ({
  text: progress
    ? `${progress.plans} boards tried, attempt ${progress.start} of at most ${progress.starts}`
    : 'Planning the board as it is',
});

export function TargetsPanel() {
  const { targets, levers } = useTargets();
  const result = useJobs(({ targets }) => targets.result);
  const working = useJobs(({ targets }) => isBusy(targets));
  const put = (index: number, target: Target | null) =>
    ask({ targets: target ? targets.map((w, i) => (i === index ? target : w)) : targets.filter((_, i) => i !== index) });
  const none = targets.length === 0 || leversOf({ targets, levers }).length === 0;
  return (
    <Drawer label="Targets" className="targets">
      <p className="hint">Say what the board should reach. The least change that meets it is found, planned and shown, to accept or discard.</p>
      <fieldset>
        <legend>Wanted</legend>
        {targets.map((target, i) => <TargetLine key={i} index={i} target={target} onPut={(next) => put(i, next)} />)}
        <button type="button" className="go" onClick={() => ask({ targets: [...targets, newTarget('bevel', useDesign.getState().design)] })}>Add a target</button>
      </fieldset>
      <details className="more">
        <summary>What may be changed: {leversOf({ targets, levers }).length} of {LEVER_GROUPS.flatMap(({ ids }) => ids).length}</summary>
        <Levers />
      </details>
      <div className="buttons"><button type="button" className="ruled strong" disabled={none || working} onClick={() => void search()}>Find the least change</button></div>
      {none && <p className="hint">{targets.length === 0 ? 'Add a target.' : 'Choose at least one thing that may be changed.'}</p>}
      <Working job="targets" tell={told} stopped="Stopped before anything was found." again={() => void search()} />
      {result && <Verdict result={result} />}
    </Drawer>
  );
}
