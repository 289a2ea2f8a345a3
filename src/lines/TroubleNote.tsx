/** Why a wish was not followed, beside the curve or field where it was made. */
import { usePlan } from '../store/planner';
import { useDesign } from '../store/design';
import { lineOfField } from './kinds';
import type { Trouble } from './state';
import type { LineName } from '../../geometry/shape/line';

/** Most errors shown at once. */
const MOST = 3;

export function TroubleNote({ trouble }: { readonly trouble: Trouble }) {
  return (
    <ul role="alert" className="trouble">
      {trouble.errors.slice(0, MOST).map((error) => (
        <li key={`${error.field} ${error.message}`}>
          <b>{error.value}</b> {error.message}. Allowed: {error.allowed}. The last good board stays.
        </li>
      ))}
    </ul>
  );
}

/** The line a board that cannot be planned fails at, or undefined: said beside that line. */
export function usePlanTrouble(): { readonly line: LineName | undefined; readonly text: string } | null {
  const failure = usePlan((state) => state.failure);
  const busy = usePlan((state) => state.busy);
  const dragging = useDesign((state) => state.draft !== null);
  if (!failure || (busy && !dragging)) return null;
  return { line: failure.field === undefined ? undefined : lineOfField(failure.field), text: failure.message };
}
