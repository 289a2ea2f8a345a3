/** The ribbon's axis: stations from both ends to the middle, as stops are told, and under it the way along the rail, likewise. */
import { nothing, svg } from 'lit-html';
import type { Plan } from '../../geometry/types';
import type { Unit } from '../say/units';
import { stationTicks, tickText } from '../ui/stationAxis';
import { px, type RibbonScale } from './scale';
import css from './Axis.module.css';

/** Ticks to a figure. */
const PARTS: Readonly<Record<Unit, number>> = { mm: 5, in: 4, in16: 4 };
/** Px that the word in the middle keeps free on either side. */
const MIDDLE = 38;
/** The second axis's figures are farther apart than the first's by this; nearer than this many px none stands beside another. */
const SPARSE = 0.55;
const LEAST_RAIL = 42;

/** Px that a letter of an axis' figure takes. */
const LETTER = { station: 6.9, run: 5.9 };

/** Hides what of the axes' figures would show from under the cursor's flags: px where each begins and ends. */
export function hideUnder(drawing: Element, flags: { readonly station: readonly [number, number]; readonly run: readonly [number, number] }): void {
  for (const text of drawing.querySelectorAll<SVGTextElement>('[data-station] > text, [data-middle], [data-along] > text')) {
    const run = text.closest('[data-along]') !== null;
    const [from, to] = run ? flags.run : flags.station;
    const [at, half] = [Number(text.getAttribute('x')), ((text.textContent ?? '').length * (run ? LETTER.run : LETTER.station)) / 2];
    text.style.visibility = at + half > from && at - half < to ? 'hidden' : '';
  }
}

export function axes(plan: Plan, scale: RibbonScale, unit: Unit) {
  const { hull: { length }, rail: { face } } = plan;
  const { axis, railAxis } = scale;
  const across = scale.at(1) - scale.at(0);
  const ticks = stationTicks(length, across, unit);
  const part = (ticks[1].x - ticks[0].x) / PARTS[unit];
  const middle = scale.at(length / 2);
  const small = Array.from({ length: Math.floor(length / 2 / part) }, (_, i) => (i + 1) * part)
    .map((from) => `M${px(scale.at(from))} ${axis}v4M${px(scale.at(length - from))} ${axis}v4`).join('');
  const along: { from: number; at: number }[] = [];
  for (const { from, x: s } of stationTicks(face.length, across * SPARSE, unit)) {
    const at = scale.x(s);
    if (from > 0 && along.every((other) => Math.abs(other.at - at) >= LEAST_RAIL)) along.push({ from, at });
  }
  return svg`<g aria-hidden="true">
    <path class=${css.scale} d="M${px(scale.left)} ${axis}H${px(scale.right)}${small}M${px(middle)} ${axis - 4}v9"></path>
    <g class=${css.axis}>${ticks.filter(({ x }) => Math.abs(scale.at(x) - middle) >= MIDDLE).map(({ from, x }) => svg`<g data-station=${from}>
      <line x1=${px(scale.at(x))} x2=${px(scale.at(x))} y1=${axis} y2=${axis + 7}></line>
      <text x=${px(scale.at(x))} y=${axis + 18}>${tickText(from, unit)}</text>
    </g>`)}</g>
    <text class=${css.middle} data-middle x=${px(middle)} y=${axis + 18}>middle</text>
    ${railAxis === null ? nothing : svg`<g class=${css.along}>${along.map(({ from, at }) => svg`<g data-along=${from}>
      <line x1=${px(at)} x2=${px(at)} y1=${railAxis} y2=${railAxis + 3}></line>
      <text x=${px(at)} y=${railAxis + 12}>${tickText(from, unit)}</text>
    </g>`)}</g>`}
  </g>`;
}
