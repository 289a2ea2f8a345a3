/** What the bench adds to the ribbon: joints, and by which method each strip is bent; outer skins as lines under the stack. */
import { memo } from 'react';
import { stripName } from '../../geometry/parts/stripWords';
import type { BendZone, Joint, Parts, StripBending, StripId } from '../../geometry/parts/types';
import { nearestSample } from '../../geometry/rail/samples';
import type { Plan } from '../../geometry/types';
import { lengthWithUnit, type Unit } from '../say/units';
import { zoneText } from '../say/bendWords';
import { hatchFill } from './Hatches';
import { type RibbonScale, sampleRange, SKIN_LINE } from './scale';
import css from './PartsLayer.module.css';

/** Px that a joint's marks reach past their layer. */
const REACH = 2;
/** Least px a joint can be hit within. */
const TOUCH = 7;

interface PartsLayerProps {
  readonly plan: Plan;
  readonly parts: Parts;
  readonly scale: RibbonScale;
  readonly unit: Unit;
  /** Of the hatches. */
  readonly id: string;
  readonly onPlace: (s: number) => void;
}

/** Top and bottom, px, of a strip of the stack at run s. */
function bandOf(plan: Plan, scale: RibbonScale, strip: StripId, s: number): readonly [number, number] {
  const { soleThickness: sole, capThickness: cap, spacerHeight } = plan.design.rail;
  const { samples } = plan.rail;
  if (strip.kind === 'sole') return [scale.z(sole), scale.z(0)];
  if (strip.kind === 'row') return [scale.z(sole + strip.order * spacerHeight), scale.z(sole + (strip.order - 1) * spacerHeight)];
  if (strip.kind === 'outer-skin') {
    const top = scale.skinsTop + (strip.order - 1) * SKIN_LINE;
    return [top, top + SKIN_LINE - 0.5];
  }
  const gap = Math.max(0, samples.gap[nearestSample(samples, s)]);
  return [scale.z(sole + gap + cap), scale.z(sole + gap)];
}

/** A stretch of a strip as a closed path. */
function stretchPath(plan: Plan, scale: RibbonScale, strip: StripId, s0: number, s1: number): string {
  const { samples } = plan.rail;
  const inside = strip.kind === 'cap' ? sampleRange(plan, scale, s0, s1).map((i) => samples.s[i]).filter((s) => s > s0 && s < s1) : [];
  const runs = [s0, ...inside, s1];
  const point = (s: number, edge: 0 | 1) => `${scale.x(s).toFixed(1)} ${bandOf(plan, scale, strip, s)[edge].toFixed(1)}`;
  return `M${runs.map((s) => point(s, 0)).join('L')}L${runs.toReversed().map((s) => point(s, 1)).join('L')}Z`;
}

/** The joint of the other side at the same place, if there is one: both are drawn as one. */
const isBoth = (joints: readonly Joint[], joint: Joint): boolean => joints.some((other) =>
  other.side !== joint.side && Math.abs(other.s - joint.s) < 0.05 && stripName(other.strip) === stripName(joint.strip));

const zonesOf = (bending: readonly StripBending[]): { readonly bent: StripBending; readonly zone: BendZone }[] =>
  bending.flatMap((bent) => bent.zones.filter((zone) => zone.method !== 'cold').map((zone) => ({ bent, zone })));

export const PartsLayer = memo(function PartsLayer({ plan, parts, scale, unit, id, onPlace }: PartsLayerProps) {
  const joints = parts.joints?.joints ?? [];
  const pieces = parts.joints?.pieces.filter((piece) => piece.side === 'starboard') ?? [];
  return (
    <g>
      {parts.bending.filter(({ strip }) => strip.kind === 'outer-skin').map(({ strip, s }) => (
        <path key={stripName(strip)} className={css.skin} d={stretchPath(plan, scale, strip, s[0], s[s.length - 1])} />
      ))}
      {pieces.map((piece) => (
        <path key={`${stripName(piece.strip)} ${piece.index}`} className={css.piece} d={stretchPath(plan, scale, piece.strip, piece.s0, piece.s1)}>
          <title>{`${stripName(piece.strip)}, starboard, part ${piece.index + 1} from the tail: cut ${lengthWithUnit(piece.length, unit)}`}</title>
        </path>
      ))}
      {zonesOf(parts.bending).map(({ bent, zone }) => (
        <path
          key={`${stripName(bent.strip)} ${zone.s0}`} className={css.zone} data-method={zone.method}
          d={stretchPath(plan, scale, bent.strip, zone.s0, zone.s1)} fill={hatchFill(id, zone.method)}
        >
          <title>{`${stripName(bent.strip)}: ${zoneText(zone, unit)}`}</title>
        </path>
      ))}
      {joints.filter((joint) => joint.side === 'starboard' || !isBoth(joints, joint)).map((joint) => {
        const both = isBoth(joints, joint);
        const [top, bottom] = bandOf(plan, scale, joint.strip, joint.s);
        const x = scale.x(joint.s);
        const lean = joint.scarf === undefined ? 0 : Math.max(2, (scale.at(joint.scarf) - scale.at(0)) / 2);
        const side = both ? 'both sides' : joint.side;
        const where = joint.rib === undefined ? '' : ` over the tab of rib ${joint.rib + 1}`;
        return (
          <g key={`${stripName(joint.strip)} ${joint.side} ${joint.s}`} className={css.joint} data-side={both ? 'both' : joint.side} data-leads onClick={() => onPlace(joint.s)}>
            <title>{`${stripName(joint.strip)}: ${joint.kind} joint${where}, ${side}`}</title>
            <rect fill="transparent" x={x - TOUCH} width={2 * TOUCH} y={top - REACH} height={bottom - top + 2 * REACH} />
            <line x1={x - lean} x2={x + lean} y1={bottom + REACH} y2={top - REACH} />
          </g>
        );
      })}
    </g>
  );
});
