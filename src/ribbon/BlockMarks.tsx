/** The blocks at the ends: a hatched bar over the rail each takes, its tongue as far as it reaches between the strips, and where outer skins butt on it. The cursor goes over them as over the strips. */
import { memo, useId } from 'react';
import { blockAt } from '../../geometry/frame/ends';
import { runAtX } from '../../geometry/rail/query';
import { nearestSample } from '../../geometry/rail/samples';
import type { Plan } from '../../geometry/types';
import { capital, nearerEnd } from '../say/words';
import { lengthWithUnit, type Unit } from '../say/units';
import { SKIN_LINE, type RibbonScale } from './scale';
import css from './BlockMarks.module.css';

interface BlockMarksProps {
  readonly plan: Plan;
  readonly scale: RibbonScale;
  readonly unit: Unit;
}

export const BlockMarks = memo(function BlockMarks({ plan, scale, unit }: BlockMarksProps) {
  const id = useId();
  const { rail, design } = plan;
  const { soleThickness: sole, capThickness: cap, outerLayers } = design.rail;
  return (
    <g>
      <defs>
        <pattern id={id} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path className={css.hatch} d="M0 0V6" /></pattern>
      </defs>
      {(['tail', 'nose'] as const).map((end) => {
        const block = blockAt(plan, end);
        if (!block) return null;
        const ended = rail.ends[end];
        const s = ended?.s ?? runAtX(plan, block.inner);
        const tail = end === 'tail';
        const last = tail ? 0 : rail.face.length;
        const gap = Math.max(0, rail.samples.gap[nearestSample(rail.samples, s)]);
        const bar = (from: number, until: number, low: number, high: number) => ({
          x: scale.x(Math.min(from, until)), width: Math.abs(scale.x(until) - scale.x(from)), y: scale.z(high), height: scale.z(low) - scale.z(high),
        });
        const landing = block.landing?.s;
        const words = `${capital(end)} block, ${block.hole ? 'a ring' : 'solid'}: inner face ${nearerEnd(plan, block.inner, unit, 1, lengthWithUnit)}, ${lengthWithUnit(Math.abs(s - last), unit, 0)} of the rail` +
          (landing === undefined ? '' : `; the outer skins butt on it ${lengthWithUnit(Math.abs(landing - last), unit, 0)} along the rail from the ${end}`);
        return (
          <g key={end} className={css.block} role="img" aria-label={words}>
            <title>{words}</title>
            <rect {...bar(last, s, 0, sole + gap + cap)} fill={`url(#${id})`} />
            {ended && ended.rowsTo !== s && <rect {...bar(s, ended.rowsTo, sole, sole + gap)} fill={`url(#${id})`} />}
            {landing !== undefined && (
              <rect x={scale.x(Math.min(last, landing))} width={Math.abs(scale.x(landing) - scale.x(last))} y={scale.stackBottom + 6} height={outerLayers * SKIN_LINE} fill={`url(#${id})`} />
            )}
          </g>
        );
      })}
    </g>
  );
});
