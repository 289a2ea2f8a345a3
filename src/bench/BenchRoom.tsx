/** Bench: lists, papers and timber of the plan. */
import type { Plan } from '../../geometry/types';
import './bench.css';

export function BenchRoom({ plan }: { readonly plan: Plan }) {
  return (
    <section className="bench" aria-label="Bench">
      <h2>{plan.design.name}</h2>
    </section>
  );
}
