/** Says of a page that stays as drawn that it does, where readings of a side are in. */
import type { Plan } from '../../../geometry/types';
import { useMeasuredSides } from '../../work/readings';
import './bench.css';

export function AsDrawn({ plan, but = '' }: { readonly plan: Plan; readonly but?: string }) {
  const sides = useMeasuredSides(plan);
  return sides.length === 0 ? null : <p className="advice">As drawn: readings of {sides.join(' and ')} change nothing here{but}.</p>;
}
