/** Over the ribbon: the rail that the one shown is tried against, dashed: the underside of its cap, and its stops where they are elsewhere. */
import { memo } from 'react';
import { movedStops } from '../../geometry/rail/laid';
import type { Plan } from '../../geometry/types';
import { useBoardBefore } from '../state/boardBefore';
import { type RibbonScale, sampleRange } from './scale';
import css from './EarlierRail.module.css';

const Rail = memo(function Rail({ was, plan, scale }: { readonly was: Plan; readonly plan: Plan; readonly scale: RibbonScale }) {
  const { soleThickness: sole, spacerHeight } = was.design.rail;
  const { cap, samples } = was.rail;
  const places = sampleRange(was, scale, cap.s0, cap.s1);
  if (places.length < 2) return null;
  const moved = movedStops(was.rail, plan.rail);
  return (
    <g className={css.earlier} data-earlier={moved.length}>
      <path d={`M${places.map((i) => `${scale.x(samples.s[i]).toFixed(1)} ${scale.z(sole + Math.max(0, samples.gap[i])).toFixed(1)}`).join('L')}`} />
      {moved.map(({ row, end, s }) => (
        <path key={`${row} ${end} ${s}`} className={css.mark} d={`M${scale.x(s).toFixed(1)} ${(scale.z(sole + row * spacerHeight) - 2).toFixed(1)}V${scale.z(sole + (row - 1) * spacerHeight).toFixed(1)}`} />
      ))}
    </g>
  );
});

export function EarlierRail({ plan, scale }: { readonly plan: Plan; readonly scale: RibbonScale }) {
  const was = useBoardBefore((state) => state.plan);
  return was && was !== plan ? <Rail was={was} plan={plan} scale={scale} /> : null;
}
