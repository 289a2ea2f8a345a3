/**
 * The ribbon: the whole rail unrolled, tail left, nose right, lengths to scale and heights exaggerated by the
 * factor stated. Dragging along it moves the station cursor. What follows the plan is painted (usePainter): a dragging hand
 * in Lines moves all of it, but for what is made of a settled plan only, which is not shown meanwhile.
 */
import { html, render, svg, type TemplateResult } from 'lit-html';
import { memo, type PointerEvent, type ReactNode, useCallback, useId, useRef } from 'react';
import { allFindings, decisionsOf } from '../../geometry/rail/findings';
import { runAtX } from '../../geometry/rail/query';
import { nearestSample } from '../../geometry/rail/samples';
import type { Plan, Stop } from '../../geometry/types';
import { usePainter } from '../ui/painter';
import { useSize } from '../ui/useSize';
import { draftNow } from '../state/draft';
import { cursorRun, drawingAt, stepBy } from '../state/station';
import { nearerEnd } from '../say/words';
import { useUnits } from '../state/unit';
import { fixed, lengthText, lengthWithUnit, type Unit } from '../say/units';
import { useView } from '../state/view';
import { usePartsOf } from '../work/parts';
import { useShownBuilt } from '../work/readings';
import { drawnStop, TrustKey, TrustLayer } from './TrustLayer';
import { bevelBand } from './bevelBand';
import { blockMarks } from './blockMarks';
import { decisionMarks } from './decisionMarks';
import { PartsKey, PartsLayer } from './PartsLayer';
import { scaleOf, px, type RibbonScale, type RibbonSize } from './scale';
import { stackDrawing, stackLabels } from './stack';
import css from './Ribbon.module.css';

const TICK_STEPS: Readonly<Record<Unit, readonly number[]>> = {
  mm: [50, 100, 200, 250, 500],
  in: [50.8, 101.6, 152.4, 304.8, 609.6],
  in16: [50.8, 101.6, 152.4, 304.8, 609.6],
};
const LEAST_TICK = 46;
const PAGE_STEP = 50;

/** Stations of the box face, from each end to the middle, as the stops are told. */
function stationAxis(plan: Plan, scale: RibbonScale, unit: Unit) {
  const { hull, rail: { samples } } = plan;
  const steps = TICK_STEPS[unit];
  const step = steps.find((mm) => scale.x(mm) - scale.x(0) >= LEAST_TICK) ?? steps[steps.length - 1];
  const ticks: { from: number; at: number }[] = [];
  for (const [way, end] of [[1, 0], [-1, hull.length]] as const) {
    for (let from = 0; from <= hull.length / 2; from += step) {
      const x = end + way * from;
      const at = scale.x(runAtX(plan, x));
      const clear = x >= samples.x[0] && x <= samples.x[samples.n - 1] && ticks.every((tick) => Math.abs(tick.at - at) >= LEAST_TICK);
      if (clear) ticks.push({ from, at });
    }
  }
  return svg`<g class=${css.axis} aria-hidden="true">${ticks.map(({ from, at }) => svg`<g data-station=${from}>
    <line x1=${px(at)} x2=${px(at)} y1=${scale.bandBottom} y2=${scale.bandBottom + 4}></line>
    <text x=${px(at)} y=${scale.height - 4}>${lengthText(from, unit, 0)}</text>
  </g>`)}</g>`;
}

/** What stands at the left of the strips. `lead`: the plan that is drawn. */
function sideWords({ design }: Plan, lead: Plan, scale: RibbonScale) {
  const { soleThickness, capThickness } = design.rail;
  const { samples, cap } = lead.rail;
  const first = Math.max(0, Math.ceil(cap.s0 / samples.step));
  const capHeight = Math.min(scale.z(soleThickness) - 6, scale.z(soleThickness + Math.max(0, samples.gap[first]) + capThickness / 2) + 4);
  const word = (y: number, text: string) => svg`<text class=${css.side} x=${scale.left - 6} y=${px(y)}>${text}</text>`;
  return svg`${word(scale.z(soleThickness / 2) + 4, 'sole')}${word(capHeight, 'cap')}${word(scale.stackTop - 7, 'rib')}`;
}

function onCursorKey(event: KeyboardEvent, plan: Plan): void {
  const { moveTo } = useView.getState();
  if (event.key === 'Home') moveTo(0);
  else if (event.key === 'End') moveTo(plan.rail.face.length);
  else if (event.key === 'PageUp') stepBy(PAGE_STEP);
  else if (event.key === 'PageDown') stepBy(-PAGE_STEP);
  else return;
  event.preventDefault();
}

interface LayerProps {
  readonly plan: Plan;
  readonly size: RibbonSize;
}

/** What is drawn of each plan, the settled and the drafts of a drag. */
const Layer = memo(function Layer({ plan, size, draw }: LayerProps & { readonly draw: (plan: Plan, scale: RibbonScale) => TemplateResult }) {
  const layer = useRef<SVGGElement>(null);
  usePainter(plan, (shown) => layer.current && render(draw(shown, scaleOf(shown, size)), layer.current));
  return <g ref={layer} />;
});

/** What is made of a settled plan only: it stands nowhere while another is drawn. */
function Settled({ plan, inSvg, children }: { readonly plan: Plan; readonly inSvg?: boolean; readonly children: ReactNode }) {
  const layer = useRef<SVGGElement & HTMLSpanElement>(null);
  usePainter(plan, (shown) => {
    if (layer.current) layer.current.style.visibility = shown === plan ? '' : 'hidden';
  });
  return inSvg ? <g ref={layer} data-settled>{children}</g> : <span ref={layer} className={css.settled} data-settled>{children}</span>;
}

interface LeadProps extends LayerProps {
  /** The plan that is drawn where this one is shown: as built leads. */
  readonly leads: (plan: Plan) => Plan;
  readonly unit: Unit;
}

function Cursor({ plan, size, leads, unit }: LeadProps) {
  const asked = useView((state) => state.s);
  const layer = useRef<SVGGElement>(null);
  usePainter(plan, (shown) => {
    if (!layer.current) return;
    const scale = scaleOf(shown, size);
    const s = cursorRun(shown, asked);
    const { samples } = leads(shown).rail;
    const words = `${nearerEnd(shown, drawingAt(shown, s).x, unit, 0, lengthWithUnit)}, ${lengthWithUnit(s, unit)} along the rail`;
    render(svg`<g class=${css.cursor} role="slider" tabindex="0" aria-label="Station cursor, along the rail from the tail" @keydown=${(event: KeyboardEvent) => onCursorKey(event, shown)}
      aria-valuemin="0" aria-valuemax=${Math.round(shown.rail.face.length)} aria-valuenow=${Math.round(s)} aria-valuetext=${words} transform="translate(${px(scale.x(s))} 0)">
      <line y1="2" y2=${scale.bandBottom + 4}></line>
      <circle cy=${px(scale.bevel(samples.bevel[nearestSample(samples, s)]))} r="3.5"></circle>
      <path d="M-7 0H7V8L0 15L-7 8Z"></path>
    </g>`, layer.current);
  });
  return <g ref={layer} />;
}

/** How long the rail is and how its heights are drawn. */
function ScaleNote({ plan, size, unit }: LayerProps & { readonly unit: Unit }) {
  const note = useRef<HTMLSpanElement>(null);
  usePainter(plan, (shown) => note.current && render(
    html`${lengthWithUnit(shown.rail.face.length, unit, 0)} along the rail, heights ×${fixed(scaleOf(shown, size).exaggeration, 1)}; stops and scale: station from the nearer end`, note.current,
  ));
  return <span ref={note} />;
}

export function Ribbon({ plan }: { readonly plan: Plan }) {
  const { frame, size } = useSize();
  const id = useId();
  const unit = useUnits((state) => state.unit);
  const parts = usePartsOf(plan);
  const moveTo = useView((state) => state.moveTo);
  // As built leads where readings are shown; the rail as drawn stands under it.
  const built = useShownBuilt(plan);
  const leads = useCallback((shown: Plan) => (built && shown === plan ? built.plan : shown), [plan, built]);
  const stack = useCallback((shown: Plan, scale: RibbonScale) => svg`
    <g>${stackDrawing(leads(shown), scale, unit, moveTo)}</g>
    ${blockMarks(leads(shown), scale, unit, `${id}b`)}`, [leads, unit, moveTo, id]);
  const labels = useCallback((shown: Plan, scale: RibbonScale) => {
    const was = (stop: Stop) => (built && shown === plan ? drawnStop(plan, built, stop) : undefined);
    const decisions = decisionsOf(allFindings(shown, shown === plan ? parts : null), shown.hull.length);
    return svg`
      <g>${stackLabels(leads(shown), scale, unit, moveTo, was)}</g>
      <g>${decisionMarks(shown, decisions, scale, unit, moveTo)}</g>
      ${bevelBand(leads(shown), scale, `${id}r`)}
      ${stationAxis(shown, scale, unit)}
      ${sideWords(shown, leads(shown), scale)}`;
  }, [plan, built, parts, leads, unit, moveTo, id]);
  // Where the ribbon lay at the press: to look again would make the browser lay out the page for every move.
  const dragged = useRef<{ from: number; left: number; moved: boolean } | null>(null);

  const follow = (event: PointerEvent<SVGSVGElement>, left: number) => {
    if (size) moveTo(scaleOf(draftNow()?.plan ?? plan, size).run(event.clientX - left));
  };
  const press = (event: PointerEvent<SVGSVGElement>) => {
    if (event.button !== 0) return;
    // A press on a stop or a rib leads there exactly; a drag from it follows the hand.
    const onMark = event.target instanceof Element && event.target.closest('[data-leads]') !== null;
    const { left } = event.currentTarget.getBoundingClientRect();
    dragged.current = { from: event.clientX, left, moved: !onMark };
    if (!onMark) {
      event.currentTarget.setPointerCapture(event.pointerId);
      follow(event, left);
    }
  };
  const move = (event: PointerEvent<SVGSVGElement>) => {
    const drag = dragged.current;
    if (!drag || event.buttons === 0) return;
    if (!drag.moved && Math.abs(event.clientX - drag.from) > 4) {
      drag.moved = true;
      event.currentTarget.setPointerCapture(event.pointerId);
    }
    if (drag.moved) follow(event, drag.left);
  };
  const release = () => {
    dragged.current = null;
  };

  return (
    <section className={css.ribbon} data-area="ribbon" aria-label="Ribbon: the rail unrolled" aria-describedby="ribbon-words">
      <div className={css.frame} ref={frame}>
        {size && (
          <svg width={size.width} height={size.height} viewBox={`0 0 ${size.width} ${size.height}`} onPointerDown={press} onPointerMove={move} onPointerUp={release} onPointerCancel={release}>
            <rect fill="transparent" x={0} y={0} width={size.width} height={size.height} />
            <Layer plan={plan} size={size} draw={stack} />
            <Settled plan={plan} inSvg>
              {parts && <PartsLayer plan={plan} parts={parts} scale={scaleOf(plan, size)} unit={unit} onPlace={moveTo} />}
              <TrustLayer plan={plan} scale={scaleOf(plan, size)} unit={unit} />
            </Settled>
            <Layer plan={plan} size={size} draw={labels} />
            <Cursor plan={plan} size={size} leads={leads} unit={unit} />
          </svg>
        )}
      </div>
      <p className={css.note}>
        <span className={css.end}>Tail</span>
        {size && <ScaleNote plan={plan} size={size} unit={unit} />}
        <Settled plan={plan}>
          {parts && <PartsKey parts={parts} />}
          <TrustKey plan={plan} />
        </Settled>
        <span className={css.end}>Nose</span>
      </p>
    </section>
  );
}
