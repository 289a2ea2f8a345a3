/** How every strip bends at the station, once the bench has worked it out. */
import { stripName } from '../../geometry/parts/stripWords';
import { bendsAt } from '../../geometry/parts/bendsAt';
import type { Plan } from '../../geometry/types';
import { usePartsOf } from '../work/parts';
import { useUnits } from '../state/unit';
import { unitSign } from '../say/units';
import { limitText, BEND_TONES, bendText, radiusText, strainText } from '../say/bendWords';
import { capital } from '../say/words';
import css from './BendingHere.module.css';

interface BendingHereProps {
  readonly plan: Plan;
  /** Place along the rail, mm. */
  readonly s: number;
}

export function BendingHere({ plan, s }: BendingHereProps) {
  const parts = usePartsOf(plan);
  const unit = useUnits((state) => state.unit);
  if (!parts) return null;
  const here = bendsAt(parts.bending, s);
  if (here.length === 0) return null;
  return (
    <table className={css.bending}>
      <caption>Bending here</caption>
      <thead>
        <tr><th scope="col">strip</th><th scope="col">radius {unitSign(unit)}</th><th scope="col">strain</th><th scope="col">method</th></tr>
      </thead>
      <tbody>
        {here.map(({ strip, radius, strain, limits, ...by }) => (
          <tr key={stripName(strip)} data-state={BEND_TONES[by.method]} data-strip={stripName(strip)} title={capital(limitText(limits))}>
            <th scope="row">{stripName(strip)}</th>
            <td>{radiusText(radius, unit)}</td>
            <td>{strainText(strain)}</td>
            <td className={css.bend}>{bendText(by)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
