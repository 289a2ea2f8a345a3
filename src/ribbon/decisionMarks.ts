/** Where there is something to decide: each decision over its stretch, under the stack; a click leads to its worst place. */
import { nothing, svg } from 'lit-html';
import type { Decision } from '../../geometry/rail/findings';
import { runOfPlace } from '../../geometry/rail/query';
import type { Plan } from '../../geometry/types';
import { textOf } from '../say/said';
import type { Unit } from '../say/units';
import { px, type RibbonScale } from './scale';
import css from './DecisionMarks.module.css';

/** Half of the sign's width, px: no stretch is drawn shorter. */
const SIGN = 5;

/** The marks of a plan's decisions. `onPlace`: a click on one leads to its run. */
export function decisionMarks(plan: Plan, decisions: readonly Decision[], scale: RibbonScale, unit: Unit, onPlace: (s: number) => void) {
  const y = scale.curveTop + 1;
  return svg`${decisions.flatMap(({ findings }) => findings).map(({ place, extent, title, level }) => {
    if (!place) return nothing;
    const at = runOfPlace(plan, place);
    const x = scale.x(at);
    const [x0, x1] = extent ? [scale.x(runOfPlace(plan, extent.from)), scale.x(runOfPlace(plan, extent.until))] : [x, x];
    return svg`<g class=${css.decision} data-level=${level} data-leads="true" @click=${() => onPlace(at)}>
      <title>${textOf(title, unit)}</title>
      <path d="M${px(Math.min(x0, x - SIGN))} ${y}H${px(Math.max(x1, x + SIGN))}"></path>
      <circle cx=${px(x)} cy=${y} r=${SIGN}></circle>
      <text x=${px(x)} y=${y + 3.5}>!</text>
    </g>`;
  })}`;
}
