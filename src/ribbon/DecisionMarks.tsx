/** Where there is something to decide: each decision over its stretch, under the stack; a click leads to its worst place. */
import { memo } from 'react';
import { runOfPlace } from '../../geometry/rail/query';
import type { Plan } from '../../geometry/types';
import { textOf } from '../say/said';
import type { Unit } from '../say/units';
import { useDecisions } from '../work/parts';
import type { RibbonScale } from './scale';
import css from './DecisionMarks.module.css';

/** Half of the sign's width, px: no stretch is drawn shorter. */
const SIGN = 5;

interface DecisionMarksProps {
  readonly plan: Plan;
  readonly scale: RibbonScale;
  readonly unit: Unit;
  readonly onPlace: (s: number) => void;
}

/** Drawn again when the plan, its findings or the layout change; the cursor alone changes none of them. */
export const DecisionMarks = memo(function DecisionMarks({ plan, scale, unit, onPlace }: DecisionMarksProps) {
  const decisions = useDecisions(plan);
  const y = scale.curveTop + 1;
  return (
    <g>
      {decisions.flatMap(({ findings: list }) => list).map(({ id, place, extent, title, level }) => {
        if (!place) return null;
        const at = runOfPlace(plan, place);
        const px = scale.x(at);
        const [x0, x1] = extent ? [scale.x(runOfPlace(plan, extent.from)), scale.x(runOfPlace(plan, extent.until))] : [px, px];
        return (
          <g key={id} className={css.decision} data-level={level} data-leads onClick={() => onPlace(at)}>
            <title>{textOf(title, unit)}</title>
            <path d={`M${Math.min(x0, px - SIGN).toFixed(1)} ${y}H${Math.max(x1, px + SIGN).toFixed(1)}`} />
            <circle cx={px} cy={y} r={SIGN} />
            <text x={px} y={y + 3.5}>!</text>
          </g>
        );
      })}
    </g>
  );
});
