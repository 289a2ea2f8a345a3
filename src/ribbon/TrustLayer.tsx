/** Over the ribbon: the bands of gap, bevel and stops, and the rail as drawn where the one as built leads. */
import { memo } from 'react';
import { isFixed, stopsOf } from '../../geometry/rail/laid';
import type { AsBuilt, ToleranceBands } from '../../geometry/trust/types';
import type { Plan } from '../../geometry/types';
import { type RibbonScale, sampleRange } from './scale';
import { drawnStop } from './stack';
import { lengthText, type Unit, unitSign } from '../say/units';
import { useShownBands } from '../work/bands';
import { useShownBuilt } from '../work/readings';
import { signed, spreadText } from '../say/bands';
import css from './TrustLayer.module.css';

interface LayerProps {
  readonly plan: Plan;
  readonly scale: RibbonScale;
  readonly unit: Unit;
}

const join = (points: readonly (readonly [number, number])[]) => points.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join('L');

/** The stretch between two lines as a closed path. */
const between = (low: readonly (readonly [number, number])[], high: readonly (readonly [number, number])[]) =>
  low.length < 2 ? '' : `M${join(low)}L${join(high.toReversed())}Z`;

const Bands = memo(function Bands({ plan, bands, scale, unit }: LayerProps & { readonly bands: ToleranceBands }) {
  const { soleThickness: sole, spacerHeight } = plan.design.rail;
  const { cap } = plan.rail;
  const places = Array.from({ length: bands.n }, (_, i) => i).filter((i) => bands.s[i] >= cap.s0 && bands.s[i] <= cap.s1);
  const line = (height: (i: number) => number) => places.map((i) => [scale.x(bands.s[i]), height(i)] as const);
  const mm = (v: number) => lengthText(v, unit);
  return (
    <g className={css.bands} data-method={bands.method}>
      <path className={css.band} d={between(line((i) => scale.z(sole + Math.max(0, bands.gap.low[i]))), line((i) => scale.z(sole + Math.max(0, bands.gap.high[i]))))} />
      {bands.stops.filter((stop) => !isFixed(stop)).map((stop) => {
        const [x0, x1] = [scale.x(stop.s.low), scale.x(stop.s.high)];
        const [top, bottom] = [scale.z(sole + stop.row * spacerHeight), scale.z(sole + (stop.row - 1) * spacerHeight)];
        return (
          <g key={`${stop.stretch} ${stop.end}`} className={css.range}>
            <title>{`Row ${stop.row} toward the ${stop.end}: ${mm(stop.s.value)} ${spreadText(stop.s, mm)} ${unitSign(unit)} along the rail`}</title>
            <rect x={x0} width={Math.max(1, x1 - x0)} y={top} height={Math.max(1, bottom - top)} />
            <path d={`M${x0.toFixed(1)} ${top.toFixed(1)}V${bottom.toFixed(1)}M${x1.toFixed(1)} ${top.toFixed(1)}V${bottom.toFixed(1)}`} />
          </g>
        );
      })}
    </g>
  );
});

/** The rail as drawn, where the one as built leads. */
const Drawn = memo(function Drawn({ plan, built, scale, unit }: LayerProps & { readonly built: AsBuilt }) {
  const { soleThickness: sole, spacerHeight } = plan.design.rail;
  const { cap, samples } = plan.rail;
  const places = sampleRange(plan, scale, cap.s0, cap.s1);
  const line = (height: (i: number) => number) => join(places.map((i) => [scale.x(samples.s[i]), height(i)] as const));
  const mm = (v: number) => lengthText(v, unit);
  if (places.length < 2) return null;
  return (
    <g className={css.drawn}>
      <path className={css.line} d={`M${line((i) => scale.z(sole + Math.max(0, samples.gap[i])))}`} />
      {stopsOf(built.plan.rail).map((stop) => {
        const was = drawnStop(plan, built, stop)?.s;
        if (was === undefined) return null;
        const [x, top, bottom] = [scale.x(was), scale.z(sole + stop.row * spacerHeight), scale.z(sole + (stop.row - 1) * spacerHeight)];
        return (
          <g key={`${stop.row} ${stop.end} ${stop.s}`} data-moved={`${stop.row} ${stop.end}`}>
            <title>{`As built, row ${stop.row} toward the ${stop.end}: ${mm(stop.s)} ${unitSign(unit)} along the rail, ${signed(stop.s - was, mm)} from drawn`}</title>
            <path d={`M${scale.x(stop.s).toFixed(1)} ${(top + bottom) / 2}H${x.toFixed(1)}`} />
            <path className={css.mark} d={`M${x.toFixed(1)} ${top - 2}V${bottom}`} />
          </g>
        );
      })}
    </g>
  );
});

export function TrustLayer(props: LayerProps) {
  const bands = useShownBands(props.plan);
  const built = useShownBuilt(props.plan);
  return (
    <>
      {bands && <Bands {...props} bands={bands} />}
      {built && <Drawn {...props} built={built} />}
    </>
  );
}
