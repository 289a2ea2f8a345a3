/** The bevel on the ribbon: its curve over a degree axis, and the map's colours as a band. */
import { nothing, svg } from 'lit-html';
import { nearestSample } from '../../geometry/rail/samples';
import type { Plan } from '../../geometry/types';
import { bevelCss, contours } from '../say/ramp';
import { angleText } from '../say/units';
import { lineSamples, px, type RibbonScale } from './scale';
import css from './BevelBand.module.css';

/** Of the colours along the band: between two the map turns by less than the eye tells. */
const STOPS = 48;
const AXIS_ROOM = 13;

/** Curve, axis and band. @param id of the band's gradient, its own on the page */
export function bevelBand(plan: Plan, scale: RibbonScale, id: string) {
  const { cap, samples } = plan.rail;
  const { bevels } = scale;
  if (!(cap.s1 > cap.s0)) return nothing;
  const height = (i: number) => scale.bevel(samples.bevel[i]);
  let curve = '';
  for (const i of lineSamples(plan, scale, cap.s0, cap.s1, height)) curve += `${curve ? 'L' : 'M'}${px(scale.x(samples.s[i]))} ${px(height(i))}`;
  const [x0, x1] = [px(scale.x(cap.s0)), px(scale.x(cap.s1))];
  const levels = contours(bevels);
  const room = (scale.curveBottom - scale.curveTop) / (levels.length - 1);
  const every = Math.max(1, Math.ceil(AXIS_ROOM / room));
  const colour = (k: number) => bevelCss(bevels, samples.bevel[nearestSample(samples, cap.s0 + ((cap.s1 - cap.s0) * k) / STOPS)]);
  return svg`<g>
    <linearGradient id=${id} x1=${x0} x2=${x1} gradientUnits="userSpaceOnUse">
      ${Array.from({ length: STOPS + 1 }, (_, k) => svg`<stop offset=${k / STOPS} stop-color=${colour(k)}></stop>`)}
    </linearGradient>
    ${levels.filter((_, i) => i % every === 0).map((level) => svg`<g class=${css.level}>
      <line x1=${scale.left} x2=${scale.right} y1=${px(scale.bevel(level))} y2=${px(scale.bevel(level))}></line>
      <text x=${scale.left - 5} y=${px(scale.bevel(level) + 3.5)}>${angleText(level, 0)}</text>
    </g>`)}
    <path class=${css.curve} d=${curve}></path>
    <rect x=${x0} width=${px(x1 - x0)} y=${scale.curveBottom} height=${scale.bandBottom - scale.curveBottom} fill="url(#${id})"></rect>
  </g>`;
}
