/** The order of work: what to do, what to measure and what it should read, and the cautions. */
import { runOfPlace } from '../../../geometry/rail/query';
import type { WorkStep } from '../../../geometry/parts/types';
import type { Plan } from '../../../geometry/types';
import { nearerEnd } from '../../say/words';
import { textOf } from '../../say/said';
import { lengthText, type Unit } from '../../say/units';
import { Said } from '../../ui/Said';
import { PlaceList } from './places';
import type { PageProps } from './RailPages';
import { Missing } from './Missing';
import './work.css';

function Checks({ plan, step, unit }: { readonly plan: Plan; readonly step: WorkStep; readonly unit: Unit }) {
  if (step.checks.length === 0) return null;
  return (
    <PlaceList
      plan={plan} label={`Measure in step ${step.index}`}
      columns={[{ title: 'measure', words: 'long' }, { title: 'should read' }, { title: 'station', words: true }, { title: 'along rail', hint: 'Along the rail from the tail', spare: true }]}
      lines={step.checks.map(({ what, place, unit: of, value }, i) => ({
        key: String(i), spot: place && { s: runOfPlace(plan, place) },
        cells: [
          textOf(what, unit), textOf({ of, value, decimals: 1 }, unit), place ? nearerEnd(plan, place.x, unit) : '',
          place?.s === undefined ? '' : lengthText(place.s, unit, 0),
        ],
      }))}
    />
  );
}

export function WorkPage({ plan, parts, unit }: PageProps) {
  if (parts.steps.length === 0) return <Missing parts={parts} codes={['not-made']} what="There is no order of work." />;
  return (
    <>
      <p className="hint">Clamps stand behind the ribs: none hangs over the open gap before the rows are in. Makers’ data sheets, local codes and licensed trades come first.</p>
      <ol className="steps-of-work">
        {parts.steps.map((step) => (
          <li key={step.index}>
            <details open={step.index === 1}>
              <summary><b>{step.index}</b><span>{step.title}</span><small>{step.checks.length === 0 ? '' : `${step.checks.length} to measure`}</small></summary>
              <p><Said text={step.text} /></p>
              {step.needs.length > 0 && <ul className="needs">{step.needs.map((need, i) => <li key={i}><Said text={need} /></li>)}</ul>}
              {step.clamps.length > 0 && (
                <p className="clamps">
                  {step.clamps.length} clamps: {step.clamps.map((place) => nearerEnd(plan, place.x, unit)).join(', ')}
                </p>
              )}
              <Checks plan={plan} step={step} unit={unit} />
              {step.cautions.length > 0 && <ul className="cautions">{step.cautions.map((caution) => <li key={caution}>{caution}</li>)}</ul>}
            </details>
          </li>
        ))}
      </ol>
    </>
  );
}
