/** A step of the order of work: what to do in short lines, what to measure, and its tick. */
import { ribAt, runOfPlace } from '../../../geometry/rail/query';
import type { Plan } from '../../../geometry/types';
import { angleText, lengthText, unitSign } from '../../say/units';
import { checkPlaces } from '../../say/placeWords';
import { useStepAsked } from '../../state/build';
import { useUnits } from '../../state/unit';
import { useView } from '../../state/view';
import { Said } from '../../ui/Said';
import { Working } from '../../ui/Working';
import { usePartsOf } from '../../work/parts';
import { useReadings, useRecord } from '../../work/readings';
import { isSided, isSideDone, tickStep } from '../../work/ticks';
import './face.css';

export function StepFace({ plan }: { readonly plan: Plan }) {
  const unit = useUnits((state) => state.unit);
  const record = useRecord();
  const side = useReadings((state) => state.side);
  const asked = useStepAsked();
  const parts = usePartsOf(plan);
  if (!parts) return <Working job="parts" tell={() => ({ text: 'Working out the order of work' })} stopped="Stopped: the order of work is not worked out." failed="The order of work could not be worked out." />;
  const step = parts.steps.at(Math.min(asked, parts.steps.length) - 1);
  if (!step) return <p className="bench-none">There is no order of work for this board.</p>;
  const at = checkPlaces(plan, step.checks, unit);
  const done = isSideDone(step, side, record.ticks);
  return (
    <div className="bench-step">
      <p className="bench-count">step {step.index} of {parts.steps.length}</p>
      <h2>{step.title}</h2>
      <p><Said text={step.text} /></p>
      {step.needs.length > 0 && <ul>{step.needs.map((need, i) => <li key={i}><Said text={need} /></li>)}</ul>}
      {step.checks.length > 0 && (
        <table>
          <thead><tr><th scope="col">measure</th><th scope="col">should read, {unitSign(unit)}</th></tr></thead>
          <tbody>
            {step.checks.map(({ what, value, unit: of, place }, i) => {
              const rib = place && ribAt(plan, runOfPlace(plan, place));
              return (
                <tr key={i}>
                  <th scope="row">{rib && place ? <button type="button" className="go" onClick={() => useView.getState().moveTo(runOfPlace(plan, place))}><Said text={what} />{at[i]}</button> : <><Said text={what} />{at[i]}</>}</th>
                  <td>{of === 'rad' ? angleText(value) : lengthText(value, unit)}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      )}
      {step.cautions.length > 0 && <ul className="cautions" aria-label="Cautions">{step.cautions.map((caution) => <li key={caution}>{caution}</li>)}</ul>}
      <label className="bench-done">
        <input type="checkbox" checked={done} onChange={({ target }) => tickStep(step, side, target.checked, parts.steps.length)} /> Step {step.index} is done{isSided(step) && `, ${side}`}
      </label>
    </div>
  );
}
