/** The bevel on the ribbon: the map's colours as a band, with the degrees lettered at the ribs; with its band where that is known. */
import { nothing, svg } from 'lit-html';
import { nearestSample } from '../../geometry/rail/samples';
import type { ToleranceBands } from '../../geometry/trust/types';
import type { Plan } from '../../geometry/types';
import { spreadText } from '../say/bands';
import { bevelCss, bevelScale, inkOn } from '../say/ramp';
import { angleText } from '../say/units';
import { px, type RibbonScale } from './scale';
import css from './BevelBand.module.css';

/** Of the colours along the band: between two the map turns by less than the eye tells. */
const STOPS = 48;
/** Px that a letter of the degrees takes. */
const LETTER = 6.6;

/** Band and degrees. @param id of the band's gradient, its own on the page */
export function bevelBand(plan: Plan, scale: RibbonScale, id: string, bands: ToleranceBands | null) {
  const { cap, samples, ribs } = plan.rail;
  if (!(cap.s1 > cap.s0)) return nothing;
  const bevels = bevelScale(plan);
  const bevelAt = (s: number) => samples.bevel[nearestSample(samples, s)];
  const [x0, x1] = [px(scale.x(cap.s0)), px(scale.x(cap.s1))];
  // Evenly over the px, so that the colours are those of the axis.
  const colour = (k: number) => bevelCss(bevels, bevelAt(scale.run(x0 + ((x1 - x0) * k) / STOPS)));
  const spread = (rib: number) => bands?.ribs.find(({ index }) => index === rib)?.bands.bevel;
  let taken = x0;
  const letters = [...ribs].sort((a, b) => a.s - b.s).flatMap(({ index, s, x, section }) => {
    if (s < cap.s0 || s > cap.s1) return [];
    const band = spread(index);
    const text = angleText(section.bevel) + (band ? ` ${spreadText(band, (v) => angleText(v))}` : '');
    const [at, half] = [scale.at(x), (text.length * LETTER) / 2];
    if (at - half < taken + 2 || at + half > x1 - 2) return [];
    taken = at + half + 6;
    return [{ text, at, ink: inkOn(bevels, section.bevel) }];
  });
  const middle = (scale.bandTop + scale.bandBottom) / 2;
  return svg`<g class=${css.band}>
    <linearGradient id=${id} x1=${x0} x2=${x1} gradientUnits="userSpaceOnUse">
      ${Array.from({ length: STOPS + 1 }, (_, k) => svg`<stop offset=${k / STOPS} stop-color=${colour(k)}></stop>`)}
    </linearGradient>
    <rect x=${x0} width=${px(x1 - x0)} y=${scale.bandTop} height=${scale.bandBottom - scale.bandTop} fill="url(#${id})"></rect>
    ${letters.map(({ text, at, ink }) => svg`<text x=${px(at)} y=${px(middle + 4)} fill=${ink}>${text}</text>`)}
  </g>`;
}
