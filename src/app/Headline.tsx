/** The board over the stage in words: its name, what there is to see in it, and its size. The words follow each move of a dragging hand. */
import { useRef } from 'react';
import type { Plan } from '../../geometry/types';
import { fixed, lengthWithUnit, type Unit } from '../say/units';
import { headline } from '../say/words';
import { useUnits } from '../state/unit';
import { usePainter } from '../ui/painter';
import { useShownBuilt } from '../work/readings';
import css from './App.module.css';

const sizes = ({ hull }: Plan, unit: Unit): string =>
  `${lengthWithUnit(hull.length, unit, 0)} × ${lengthWithUnit(2 * hull.widest.halfBreadth, unit, 0)} · ${fixed(hull.volume / 1e6, 1)} litres`;

export function Headline({ plan }: { readonly plan: Plan }) {
  const built = useShownBuilt(plan);
  const unit = useUnits((state) => state.unit);
  const says = useRef<HTMLParagraphElement>(null);
  const size = useRef<HTMLParagraphElement>(null);
  usePainter(plan, (shown) => {
    const asBuilt = shown === plan ? built : null;
    if (says.current) says.current.textContent = `${asBuilt ? 'As built: ' : ''}${headline(asBuilt?.plan ?? shown, unit)}`;
    if (size.current) size.current.textContent = sizes(shown, unit);
  });
  return (
    <div className={css.headline}>
      <h2 data-keep-out>{plan.design.name}</h2>
      <p ref={says} data-keep-out />
      <p ref={size} className={css.sizes} data-keep-out />
    </div>
  );
}
