/** The key of the cap's lie: its classes, and what it is. */
import type { Parts } from '../../geometry/parts/types';
import { textOf } from '../say/said';
import { LIE_CLASSES, LIE_INK, lieWords } from '../say/lies';
import { useUnits } from '../state/unit';
import { Worded } from '../ui/Term';
import css from './LieKey.module.css';

interface LieKeyProps {
  readonly parts: Parts | null;
  /** Where it stands in a drawer: on small screens alone, where the stage has no room for it. */
  readonly inDrawer?: boolean;
}

export function LieKey({ parts, inDrawer }: LieKeyProps) {
  const unit = useUnits((state) => state.unit);
  return (
    <figure className={css.key} data-in-drawer={inDrawer || undefined} data-keep-out={inDrawer ? undefined : true}>
      <figcaption><Worded text="Cap off its line between the ribs" /></figcaption>
      <ul>
        {LIE_CLASSES.map(({ colour, striped }, i) => (
          <li key={colour}>
            <i style={{ background: striped > 0 ? `repeating-linear-gradient(90deg, ${LIE_INK} 0 ${12 * striped}px, ${colour} ${12 * striped}px 12px)` : colour }} />
            {textOf(lieWords(i), unit)}
          </li>
        ))}
      </ul>
      <p>{parts ? 'Pulled to the rib ends alone; pull it home by hand.' : 'Still working it out.'}</p>
    </figure>
  );
}
