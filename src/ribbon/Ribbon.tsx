/**
 * The ribbon: the whole rail unrolled, tail left, nose right, lengths to scale and heights exaggerated by the
 * factor stated. Dragging along it moves the station cursor.
 */
import { type KeyboardEvent, type PointerEvent, useCallback, useMemo, useRef } from 'react';
import { runAtX, stationAt } from '../../geometry/rail/query';
import { nearestSample } from '../../geometry/rail/samples';
import type { Plan, Stop } from '../../geometry/types';
import { useSize } from '../ui/useSize';
import { bevelScale } from '../say/ramp';
import { cursorRun, stepBy } from '../state/station';
import { nearerEnd } from '../say/words';
import { useUnits } from '../state/unit';
import { fixed, lengthText, lengthWithUnit, type Unit } from '../say/units';
import { useView } from '../state/view';
import { usePartsOf } from '../work/parts';
import { useShownBuilt } from '../work/readings';
import { drawnStop, TrustKey, TrustLayer } from './TrustLayer';
import { BevelBand } from './BevelBand';
import { BlockMarks } from './BlockMarks';
import { DecisionMarks } from './DecisionMarks';
import { PartsKey, PartsLayer } from './PartsLayer';
import { type RibbonScale, ribbonScale } from './scale';
import { Stack, StackLabels } from './Stack';
import css from './Ribbon.module.css';

const TICK_STEPS: Readonly<Record<Unit, readonly number[]>> = {
  mm: [50, 100, 200, 250, 500],
  in: [50.8, 101.6, 152.4, 304.8, 609.6],
  in16: [50.8, 101.6, 152.4, 304.8, 609.6],
};
const LEAST_TICK = 46;
const PAGE_STEP = 50;

/** Stations of the box face, from each end to the middle, as the stops are told. */
function StationAxis({ plan, scale, unit }: { readonly plan: Plan; readonly scale: RibbonScale; readonly unit: Unit }) {
  const { hull, rail: { samples } } = plan;
  const steps = TICK_STEPS[unit];
  const step = steps.find((mm) => scale.x(mm) - scale.x(0) >= LEAST_TICK) ?? steps[steps.length - 1];
  const ticks: { from: number; px: number }[] = [];
  for (const [way, end] of [[1, 0], [-1, hull.length]] as const) {
    for (let from = 0; from <= hull.length / 2; from += step) {
      const x = end + way * from;
      const px = scale.x(runAtX(plan, x));
      const clear = x >= samples.x[0] && x <= samples.x[samples.n - 1] && ticks.every((tick) => Math.abs(tick.px - px) >= LEAST_TICK);
      if (clear) ticks.push({ from, px });
    }
  }
  return (
    <g className={css.axis} aria-hidden="true">
      {ticks.map(({ from, px }) => (
        <g key={px} data-station={from}>
          <line x1={px} x2={px} y1={scale.bandBottom} y2={scale.bandBottom + 4} />
          <text x={px} y={scale.height - 4}>{lengthText(from, unit, 0)}</text>
        </g>
      ))}
    </g>
  );
}

export function Ribbon({ plan }: { readonly plan: Plan }) {
  const { frame, size } = useSize();
  const unit = useUnits((state) => state.unit);
  const parts = usePartsOf(plan);
  const asked = useView((state) => state.s);
  const moveTo = useView((state) => state.moveTo);
  const s = cursorRun(plan, asked);
  const bevels = useMemo(() => bevelScale(plan), [plan]);
  const scale = useMemo(() => (size ? ribbonScale(plan, bevels, size.width, size.height) : null), [plan, bevels, size]);
  // As built leads where readings are shown; the rail as drawn stands under it.
  const built = useShownBuilt(plan);
  const lead = built?.plan ?? plan;
  const was = useCallback((stop: Stop) => (built ? drawnStop(plan, built, stop) : undefined), [plan, built]);
  const onPlace = useCallback((run: number) => moveTo(run), [moveTo]);
  const dragged = useRef<{ from: number; moved: boolean } | null>(null);

  const follow = (event: PointerEvent<SVGSVGElement>) => {
    if (scale) moveTo(scale.run(event.clientX - event.currentTarget.getBoundingClientRect().left));
  };
  const press = (event: PointerEvent<SVGSVGElement>) => {
    if (event.button !== 0) return;
    // A press on a stop or a rib leads there exactly; a drag from it follows the hand.
    const onMark = event.target instanceof Element && event.target.closest('[data-leads]') !== null;
    dragged.current = { from: event.clientX, moved: !onMark };
    if (!onMark) {
      event.currentTarget.setPointerCapture(event.pointerId);
      follow(event);
    }
  };
  const move = (event: PointerEvent<SVGSVGElement>) => {
    const drag = dragged.current;
    if (!drag || event.buttons === 0) return;
    if (!drag.moved && Math.abs(event.clientX - drag.from) > 4) {
      drag.moved = true;
      event.currentTarget.setPointerCapture(event.pointerId);
    }
    if (drag.moved) follow(event);
  };
  const release = () => {
    dragged.current = null;
  };
  const key = (event: KeyboardEvent) => {
    if (event.key === 'Home') moveTo(0);
    else if (event.key === 'End') moveTo(plan.rail.face.length);
    else if (event.key === 'PageUp') stepBy(PAGE_STEP);
    else if (event.key === 'PageDown') stepBy(-PAGE_STEP);
    else return;
    event.preventDefault();
  };
  const { samples } = lead.rail;
  const first = Math.max(0, Math.ceil(lead.rail.cap.s0 / samples.step));
  const { soleThickness, capThickness } = plan.design.rail;
  const capHeight = scale ? Math.min(scale.z(soleThickness) - 6, scale.z(soleThickness + Math.max(0, samples.gap[first]) + capThickness / 2) + 4) : 0;
  const i = nearestSample(samples, s);

  return (
    <section className={css.ribbon} data-area="ribbon" aria-label="Ribbon: the rail unrolled" aria-describedby="ribbon-words">
      <div className={css.frame} ref={frame}>
        {scale && size && (
          <svg width={size.width} height={size.height} viewBox={`0 0 ${size.width} ${size.height}`} onPointerDown={press} onPointerMove={move} onPointerUp={release} onPointerCancel={release}>
            <rect fill="transparent" x={0} y={0} width={size.width} height={size.height} />
            <Stack plan={lead} scale={scale} unit={unit} onPlace={onPlace} />
            <BlockMarks plan={lead} scale={scale} unit={unit} />
            {parts && <PartsLayer plan={plan} parts={parts} scale={scale} unit={unit} onPlace={onPlace} />}
            <TrustLayer plan={plan} scale={scale} unit={unit} />
            <StackLabels plan={lead} scale={scale} unit={unit} onPlace={onPlace} was={was} />
            <DecisionMarks plan={plan} scale={scale} unit={unit} onPlace={onPlace} />
            <BevelBand plan={lead} scale={scale} bevels={bevels} />
            <StationAxis plan={plan} scale={scale} unit={unit} />
            <text className={css.side} x={scale.left - 6} y={scale.z(plan.design.rail.soleThickness / 2) + 4}>sole</text>
            <text className={css.side} x={scale.left - 6} y={capHeight}>cap</text>
            <text className={css.side} x={scale.left - 6} y={scale.stackTop - 7}>rib</text>
            <g
              className={css.cursor} role="slider" tabIndex={0} aria-label="Station cursor, along the rail from the tail" onKeyDown={key}
              aria-valuemin={0} aria-valuemax={Math.round(plan.rail.face.length)} aria-valuenow={Math.round(s)}
              aria-valuetext={`${nearerEnd(plan, stationAt(plan, s), unit, 0, lengthWithUnit)}, ${lengthWithUnit(s, unit)} along the rail`}
              transform={`translate(${scale.x(s)} 0)`}
            >
              <line y1={2} y2={scale.bandBottom + 4} />
              <circle cy={scale.bevel(samples.bevel[i])} r={3.5} />
              <path d="M-7 0H7V8L0 15L-7 8Z" />
            </g>
          </svg>
        )}
      </div>
      <p className={css.note}>
        <span className={css.end}>Tail</span>
        {scale && (
          <span>
            {lengthWithUnit(plan.rail.face.length, unit, 0)} along the rail, heights ×{fixed(scale.exaggeration, 1)}; stops and scale: station from the nearer end
          </span>
        )}
        {parts && <PartsKey parts={parts} />}
        <TrustKey plan={plan} />
        <span className={css.end}>Nose</span>
      </p>
    </section>
  );
}
