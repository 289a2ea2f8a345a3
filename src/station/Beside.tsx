/** Beside a figure of the station: how far it may vary, and what it is as built. */
import { bandAt } from '../../geometry/trust/bandAt';
import type { Banded } from '../../geometry/trust/types';
import { sectionAt } from '../../geometry/rail/query';
import type { Plan, RailSection } from '../../geometry/types';
import { useUnits } from '../state/unit';
import { angleText, lengthText } from '../say/units';
import { useShownBands } from '../work/bands';
import { useShownBuilt } from '../work/readings';
import { figureText, spreadText } from '../say/bands';
import { bevelSense } from '../say/words';
import css from './Beside.module.css';

interface BesideProps {
  readonly plan: Plan;
  /** Place along the rail, mm. */
  readonly s: number;
  readonly what: keyof Pick<RailSection, 'gap' | 'bevel' | 'cover' | 'planing'>;
}

const BANDED: Readonly<Record<BesideProps['what'], Banded | undefined>> = { gap: 'gap', bevel: 'bevel', cover: 'cover', planing: undefined };

export function Beside({ plan, s, what }: BesideProps) {
  const unit = useUnits((state) => state.unit);
  const bands = useShownBands(plan);
  const built = useShownBuilt(plan);
  const banded = BANDED[what];
  const band = bands && banded && bandAt(bands, banded, s);
  const value = built && sectionAt(built.plan, s)[what];
  return (
    <>
      {band && banded && <small className={css.beside} data-band={what}>{spreadText(band, figureText(banded, unit))}</small>}
      {value !== null && <small className={css.beside} data-built={what}>as built {what === 'bevel' ? angleText(value) : lengthText(value, unit)}</small>}
    </>
  );
}

/** Under a bevel, what its sign means where it is not the usual. */
export function BevelSense({ bevel }: { readonly bevel: number }) {
  return bevel < 0 && <small className={css.beside}>{bevelSense(bevel)}</small>;
}
