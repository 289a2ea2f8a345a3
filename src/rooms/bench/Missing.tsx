/** Why something of the bench is not there, or not as it should be: the findings that say so, each leading to its place. */
import { runOfPlace } from '../../../geometry/rail/query';
import type { Parts } from '../../../geometry/parts/types';
import { usePlan } from '../../state/plan';
import { leadTo } from './places';
import { Said } from '../../ui/Said';
import './bench.css';
import './lists.css';

interface MissingProps {
  readonly parts: Parts;
  /** Codes of the findings that matter here. */
  readonly codes: readonly string[];
  /** Said first, where a whole list is missing. */
  readonly what?: string;
}

export function Missing({ parts, codes, what }: MissingProps) {
  const plan = usePlan();
  const here = parts.findings.filter(({ code }) => codes.includes(code));
  if (here.length === 0 && what === undefined) return null;
  return (
    <div className="missing" role="note">
      {what !== undefined && <p><strong>{what}</strong></p>}
      {here.map(({ id, title, advice, place }) => (
        <p key={id}>
          {place && plan ? <button type="button" className="lead go" onClick={() => leadTo(runOfPlace(plan, place))}><Said text={title} />.</button> : <span><Said text={title} />.</span>} <Said text={advice} />
        </p>
      ))}
    </div>
  );
}
