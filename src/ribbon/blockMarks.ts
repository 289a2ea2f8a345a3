/** The blocks at the ends: a hatched bar over the rail each takes, its tongue as far as it reaches between the strips, and where outer skins butt on it. The cursor goes over them as over the strips. */
import { nothing, svg } from 'lit-html';
import { blockAt } from '../../geometry/frame/ends';
import { runAtX } from '../../geometry/rail/query';
import { nearestSample } from '../../geometry/rail/samples';
import type { Plan } from '../../geometry/types';
import { capital, nearerEnd } from '../say/words';
import { lengthWithUnit, type Unit } from '../say/units';
import { hatchFill } from './Hatches';
import { px, SKIN_LINE, type RibbonScale } from './scale';
import css from './BlockMarks.module.css';

/** The marks of both ends. @param id of their hatch */
export function blockMarks(plan: Plan, scale: RibbonScale, unit: Unit, id: string) {
  const { rail, design } = plan;
  const { soleThickness: sole, capThickness: cap, outerLayers } = design.rail;
  const hatched = (from: number, until: number, top: number, height: number) =>
    svg`<rect x=${px(scale.x(Math.min(from, until)))} width=${px(Math.abs(scale.x(until) - scale.x(from)))} y=${px(top)} height=${px(height)} fill=${hatchFill(id, 'end')}></rect>`;
  const bar = (from: number, until: number, low: number, high: number) => hatched(from, until, scale.z(high), scale.z(low) - scale.z(high));
  return svg`<g>
    ${(['tail', 'nose'] as const).map((end) => {
      const block = blockAt(plan, end);
      if (!block) return nothing;
      const ended = rail.ends[end];
      const s = ended?.s ?? runAtX(plan, block.inner);
      const tail = end === 'tail';
      const last = tail ? 0 : rail.face.length;
      const gap = Math.max(0, rail.samples.gap[nearestSample(rail.samples, s)]);
      const landing = block.landing?.s;
      const words = `${capital(end)} block, ${block.hole ? 'a ring' : 'solid'}: inner face ${nearerEnd(plan, block.inner, unit, 1, lengthWithUnit)}, ${lengthWithUnit(Math.abs(s - last), unit, 0)} of the rail` +
        (landing === undefined ? '' : `; the outer skins butt on it ${lengthWithUnit(Math.abs(landing - last), unit, 0)} along the rail from the ${end}`);
      return svg`<g class=${css.block} role="img" aria-label=${words}>
        <title>${words}</title>
        ${bar(last, s, 0, sole + gap + cap)}
        ${ended && ended.rowsTo !== s ? bar(s, ended.rowsTo, sole, sole + gap) : nothing}
        ${landing === undefined ? nothing : hatched(last, landing, scale.skinsTop, outerLayers * SKIN_LINE)}
      </g>`;
    })}
  </g>`;
}
