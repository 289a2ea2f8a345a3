/** The bevel on the ribbon: its curve over a degree axis, and the map's colours as a band. */
import { memo, useId } from 'react';
import { nearestSample } from '../../geometry/rail/samples';
import type { Plan } from '../../geometry/types';
import { type BevelScale, bevelCss, contours } from '../say/ramp';
import { angleText } from '../say/units';
import { type RibbonScale, sampleRange } from './scale';
import css from './BevelBand.module.css';

const STOPS = 96;
const AXIS_ROOM = 13;

interface BevelBandProps {
  readonly plan: Plan;
  readonly scale: RibbonScale;
  readonly bevels: BevelScale;
}

export const BevelBand = memo(function BevelBand({ plan, scale, bevels }: BevelBandProps) {
  const id = useId();
  const { cap, samples } = plan.rail;
  if (!(cap.s1 > cap.s0)) return null;
  const points = sampleRange(plan, scale, cap.s0, cap.s1);
  const curve = points.map((i) => `${scale.x(samples.s[i]).toFixed(1)} ${scale.bevel(samples.bevel[i]).toFixed(1)}`).join('L');
  const [x0, x1] = [scale.x(cap.s0), scale.x(cap.s1)];
  const levels = contours(bevels);
  const room = (scale.curveBottom - scale.curveTop) / (levels.length - 1);
  const every = Math.max(1, Math.ceil(AXIS_ROOM / room));
  const at = (k: number) => samples.bevel[nearestSample(samples, cap.s0 + ((cap.s1 - cap.s0) * k) / STOPS)];
  return (
    <g>
      <linearGradient id={id} x1={x0} x2={x1} gradientUnits="userSpaceOnUse">
        {Array.from({ length: STOPS + 1 }, (_, k) => <stop key={k} offset={k / STOPS} stopColor={bevelCss(bevels, at(k))} />)}
      </linearGradient>
      {levels.map((level, i) => i % every === 0 && (
        <g key={level} className={css.level}>
          <line x1={scale.left} x2={scale.right} y1={scale.bevel(level)} y2={scale.bevel(level)} />
          <text x={scale.left - 5} y={scale.bevel(level) + 3.5}>{angleText(level, 0)}</text>
        </g>
      ))}
      <path className={css.curve} d={`M${curve}`} />
      <rect x={x0} width={x1 - x0} y={scale.curveBottom} height={scale.bandBottom - scale.curveBottom} fill={`url(#${id})`} />
    </g>
  );
});
