/** Trial bends: an offcut of the batch bent to a radius, and whether it held. What they show becomes the batch's limit. */
import { useState } from 'react';
import type { TrialBend } from '../../../geometry/design/schema';
import { allSpecies } from '../../../geometry/design/timber';
import type { FieldError } from '../../../geometry/errors';
import { range } from '../../../geometry/said';
import type { Plan } from '../../../geometry/types';
import { trialStrain } from '../../../geometry/wood/trials';
import { fieldLength, readLength, type Unit, unitSign } from '../../say/units';
import { strainText, trialText } from '../../say/bendWords';
import { FigureField } from '../../ui/fields';
import { Fault } from '../../ui/Said';
import { useRecord } from '../../work/readings';
import { addTrial, dropTrial } from '../../work/record';
import './readings.css';

const FIELDS = [
  { id: 'width', label: 'Width', most: 300, least: 0.5 },
  { id: 'thickness', label: 'Thickness', most: 300, least: 0.5 },
  { id: 'radius', label: 'Radius, to its middle', most: 100_000, least: 5 },
] as const;

/** A choice of two, as buttons side by side. */
function Either<T extends string | boolean>({ label, value, ways, put }: {
  readonly label: string; readonly value: T; readonly ways: readonly (readonly [T, string])[]; readonly put: (value: T) => void;
}) {
  return (
    <div className="segments" role="group" aria-label={label}>
      {ways.map(([way, text]) => <button key={text} type="button" aria-pressed={value === way} onClick={() => put(way)}>{text}</button>)}
    </div>
  );
}

function NewTrial({ plan, unit }: { readonly plan: Plan; readonly unit: Unit }) {
  const { rail } = plan.design;
  const [trial, setTrial] = useState<TrialBend>(() => ({
    of: 'rail', width: rail.stripWidth, thickness: rail.soleThickness, bent: 'edge', radius: 1000, heat: 'cold', held: true,
  }));
  const [errors, setErrors] = useState<readonly FieldError[]>([]);
  const change = (part: Partial<TrialBend>) => {
    setTrial({ ...trial, ...part });
    setErrors([]);
  };
  return (
    <div className="trial" role="group" aria-label="New trial bend">
      <label className="figure-row">
        Of
        <select value={trial.of} onChange={({ target: { value } }) => change(value === 'outer' ? { of: value, thickness: rail.outerThickness, bent: 'flat' } : { of: value })}>
          <option value="rail">strips and spacers</option>
          <option value="outer">outer skins</option>
          {allSpecies(plan.design).map(({ id, name }) => <option key={id} value={id}>{name}</option>)}
        </select>
      </label>
      {FIELDS.map(({ id, label, least, most }) => (
        <FigureField
          key={id} label={label} unit={unitSign(unit)} shown={fieldLength(trial[id], unit)} allowed={range(least, most)} read={(text) => readLength(text, unit)}
          put={(value) => {
            if (value === undefined || value < least || value > most) return [{ field: label, value: value === undefined ? 'nothing' : { of: 'mm', value }, allowed: range(least, most), message: 'is not a size for this' }];
            change({ [id]: value });
            return [];
          }}
        />
      ))}
      <Either label="Bent" value={trial.bent} ways={[['edge', 'on edge'], ['flat', 'on the flat']]} put={(bent) => change({ bent })} />
      <Either label="Heat" value={trial.heat} ways={[['cold', 'cold'], ['wet', 'in wet heat']]} put={(heat) => change({ heat })} />
      <Either label="Outcome" value={trial.held} ways={[[true, 'it held'], [false, 'it cracked']]} put={(held) => change({ held })} />
      <p className="reading-notes"><span>strain at its outer fibre: half the size over the radius</span><span>{strainText(trialStrain(trial))}</span></p>
      {errors.map((error) => <p key={error.field} className="reading-flag" role="alert"><Fault error={error} /></p>)}
      <button type="button" className="ruled" onClick={() => void addTrial(trial).then(setErrors)}>Add the trial bend</button>
    </div>
  );
}

export function Trials({ plan, unit }: { readonly plan: Plan; readonly unit: Unit }) {
  const { trials = [] } = useRecord();
  return (
    <details className="trials" open={trials.length > 0}>
      <summary>Trial bends{trials.length > 0 ? `: ${trials.length}` : ''}</summary>
      <p>Bend an offcut of the batch before the strips. What held raises the limit that the plan goes by, what cracked lowers it to three quarters of its strain.</p>
      <ul className="cautions" aria-label="Cautions">
        <li>Steam scalds: gloves, long sleeves, and never seal a steam box.</li>
        <li>A strip springs when it slips or breaks: eye protection, and stand clear of its line.</li>
      </ul>
      {trials.length > 0 && (
        <ul className="trial-list">
          {trials.map((trial, i) => (
            <li key={`${i} ${JSON.stringify(trial)}`}>
              <span>{trialText(trial, unit)}</span>
              <button type="button" aria-label={`Remove the trial bend: ${trialText(trial, unit)}`} onClick={() => dropTrial(trial)}>✕</button>
            </li>
          ))}
        </ul>
      )}
      <NewTrial plan={plan} unit={unit} />
    </details>
  );
}
