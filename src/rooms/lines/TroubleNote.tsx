/** Why an edit was not made, beside the curve or field where it was tried. */
import { useJobs } from '../../state/jobs';
import { kindOf, lineOfField } from './kinds';
import type { Trouble } from './lines';
import type { LineName } from '../../../geometry/shape/line';
import { Fault, Said } from '../../ui/Said';
import './sheet.css';

/** Most errors shown at once. */
const MOST = 3;

/** A field of a line in words: "Point 5, station"; other fields as the board file writes them. */
function fieldWords(field: string): string {
  const match = /^lines\.([a-z]+)(?:\.points\[(\d+)\])?(?:\.([a-zA-Z]+))?$/.exec(field);
  const name = lineOfField(field);
  if (!match || !name) return field;
  const [, , index, part] = match;
  const what = part === 'x' ? 'station' : part === 'y' || part === 'v' ? kindOf(name).value : part?.startsWith('tail') ? 'tail angle' : part?.startsWith('nose') ? 'nose angle' : '';
  return [kindOf(name).title, index === undefined ? '' : `point ${Number(index) + 1}`, what].filter(Boolean).join(', ');
}

export function TroubleNote({ trouble }: { readonly trouble: Trouble }) {
  return (
    <ul role="alert" className="trouble">
      {trouble.errors.slice(0, MOST).map((error, i) => (
        <li key={i}>
          {fieldWords(error.field)}: <Fault error={error} /> Your board is unchanged.
        </li>
      ))}
    </ul>
  );
}

/** Why the board as drawn cannot be planned, beside the line it is about. */
export function PlanTrouble({ name }: { readonly name: LineName }) {
  const failure = useJobs(({ plan }) => plan.failure);
  if (!failure?.error || lineOfField(failure.error.field) !== name) return null;
  return (
    <ul role="alert" className="trouble">
      <li><Said text={failure.message} /> Stage and ribbon show the last board that could be planned.</li>
    </ul>
  );
}
