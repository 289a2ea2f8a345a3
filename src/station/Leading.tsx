/**
 * What leads at the station: the plan as built where readings are shown, else as drawn. Under a leading figure stands what
 * was drawn, and how far that may vary.
 */
import type { ReactNode } from 'react';
import { bandAt } from '../../geometry/trust/bandAt';
import type { Banded } from '../../geometry/trust/types';
import { hasBox } from '../../geometry/rail/query';
import type { Plan, RailSection, SectionDrawing } from '../../geometry/types';
import { drawingAt, useStation } from '../state/station';
import { useUnits } from '../state/unit';
import { useShownBands } from '../work/bands';
import { useMeasuredSides, useReadings, useShownBuilt } from '../work/readings';
import { figureText, spreadText } from '../say/bands';
import css from './Leading.module.css';

export interface Leading {
  readonly drawing: SectionDrawing;
  /** The plan that leads. */
  readonly lead: Plan;
  /** Sole, cap and hollow stand here. */
  readonly boxed: boolean;
  /** Beside the state of the box: that it is as built. */
  readonly tag: ReactNode;
  /** A figure as its text says it, the drawn one under it; `within` only where the box stands, and a dash elsewhere. */
  told(text: (section: RailSection) => string, banded?: Banded, within?: boolean): ReactNode;
}

/** Null before the first plan. */
export function useLeading(plan: Plan): Leading | null {
  const drawn = useStation();
  const built = useShownBuilt(plan);
  const bands = useShownBands(plan);
  const unit = useUnits((state) => state.unit);
  const drawing = built && drawn ? drawingAt(built.plan, drawn.section.s) : drawn;
  if (!drawn || !drawing) return null;
  const { s } = drawn.section;
  const told: Leading['told'] = (text, banded, within = true) => {
    const figure = (of: Plan, { section }: SectionDrawing) => (!within || hasBox(of, s) ? text(section) : '–');
    const [is, was] = [figure(built?.plan ?? plan, drawing), figure(plan, drawn)];
    const band = bands && banded && hasBox(plan, s) && bandAt(bands, banded, s);
    return (
      <>
        {is}
        {is !== was && <small className={css.beside} data-drawn>drawn {was}</small>}
        {band && banded && <small className={css.beside} data-band={banded}>{spreadText(band, figureText(banded, unit))}</small>}
      </>
    );
  };
  return { drawing, lead: built?.plan ?? plan, boxed: hasBox(built?.plan ?? plan, s), tag: built && <> · <span className={css.built}>as built</span></>, told };
}

const SIDES = [['starboard', 'Starboard'], ['port', 'Port']] as const;

/** Which side is read where as built leads; a side that was not measured is as drawn, and says so. */
export function SideSwitch({ plan }: { readonly plan: Plan }) {
  const measured = useMeasuredSides(plan);
  const side = useReadings((state) => state.side);
  if (measured.length === 0) return null;
  return (
    <span className="segments" role="group" aria-label="Side shown">
      {SIDES.map(([id, label]) => (
        <button key={id} type="button" aria-pressed={side === id} onClick={() => useReadings.setState({ side: id })}>{label}{measured.includes(id) ? '' : ', as drawn'}</button>
      ))}
    </span>
  );
}
