/** What is said over the stage: the board in a sentence, what there is to decide, and its size. */
import { useRef } from 'react';
import type { Plan } from '../../geometry/types';
import { fixed, lengthText, lengthWithUnit, type Unit } from '../say/units';
import { headline } from '../say/words';
import { isBusy, useJobs } from '../state/jobs';
import { useProposal } from '../state/proposal';
import { useUnits } from '../state/unit';
import { useView } from '../state/view';
import { usePainter } from '../ui/painter';
import { Said } from '../ui/Said';
import { useKnownStanding, useStanding } from '../work/parts';
import { useShownBuilt } from '../work/readings';
import css from './Headline.module.css';

const sizes = ({ hull }: Plan, unit: Unit): string =>
  `${lengthText(hull.length, unit, 0)} × ${lengthWithUnit(2 * hull.widest.halfBreadth, unit, 0)}, ${fixed(hull.volume / 1e6, 1)} litres. Stops are told from the nearer end.`;

/** How much there is to decide, as far as that is known, and the way there; grey while the plan and its parts are being made. */
function DecisionsButton() {
  const { parts } = useStanding();
  const { parts: whole, decisions: { length: count } } = useKnownStanding();
  const planning = useJobs((jobs) => isBusy(jobs.plan));
  const opened = useView(({ drawer }) => drawer === 'decisions');
  const known = parts !== null && !planning;
  return (
    <button type="button" data-count={count} data-known={known || undefined} aria-busy={!known} aria-expanded={opened} onClick={() => useView.getState().open(opened ? null : 'decisions')}>
      {count === 0 ? (whole ? 'Nothing to decide.' : 'Still working out what to decide.') : count === 1 ? '1 decision.' : `${count} decisions.`}
    </button>
  );
}

/** Lines of what there is to decide that are told here: the rest are in their drawer. */
const TOLD = 2;

/** What there is to decide, by the numbers of its pins, worst first. */
function DecisionLines() {
  const { decisions } = useKnownStanding();
  const more = decisions.length - TOLD;
  return (
    <>
      {decisions.slice(0, TOLD).map(({ cause, findings: [{ title }] }, i) => (
        <p key={cause} className={css.decision} data-keep-out>{i + 1} <Said text={title} />{i === TOLD - 1 && more > 0 && `, and ${more} more`}.</p>
      ))}
    </>
  );
}

/** The board over the stage in words: its name, what there is to see in it, and its size. The words follow each move of a dragging hand. */
export function Headline({ plan }: { readonly plan: Plan }) {
  const built = useShownBuilt(plan);
  const tried = useProposal(({ proposal }) => proposal !== null);
  const unit = useUnits((state) => state.unit);
  const says = useRef<HTMLSpanElement>(null);
  const size = useRef<HTMLParagraphElement>(null);
  usePainter(plan, (shown) => {
    const asBuilt = shown === plan ? built : null;
    if (says.current) says.current.textContent = `${tried ? 'Preview: ' : ''}${asBuilt ? 'As built: ' : ''}${headline(asBuilt?.plan ?? shown, unit)}`;
    if (size.current) size.current.textContent = sizes(shown, unit);
  });
  return (
    <div className={css.headline}>
      <h2 data-keep-out>{plan.design.name}</h2>
      <p data-keep-out><span ref={says} /> <DecisionsButton /></p>
      <DecisionLines />
      <p ref={size} className={css.sizes} data-keep-out />
    </div>
  );
}
