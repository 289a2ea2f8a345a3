/**
 * The ribbon: the whole rail from the side on the station's axis, tail left, nose right, heights exaggerated by the
 * factor stated. Dragging along it moves the station cursor. What follows the plan is painted (usePainter): a dragging hand
 * in Lines moves all of it, but for what is made of a settled plan only, which is not shown meanwhile.
 */
import { nothing, render, svg, type TemplateResult } from 'lit-html';
import { memo, type PointerEvent, type ReactNode, useCallback, useEffect, useId, useRef, useState } from 'react';
import { heldRun } from '../../geometry/rail/query';
import type { Plan, Stop } from '../../geometry/types';
import { usePainter } from '../ui/painter';
import { NARROW } from '../ui/stationAxis';
import { useSize } from '../ui/useSize';
import { paintedPlan } from '../state/draft';
import { drawingAt, stepBy } from '../state/station';
import { nearerEnd } from '../say/words';
import { useUnits } from '../state/unit';
import { fixed, lengthText, lengthWithUnit, type Unit } from '../say/units';
import { useView } from '../state/view';
import { useShownBands } from '../work/bands';
import { standingOf, usePartsOf, useStanding } from '../work/parts';
import { nextPicture } from '../work/picture';
import { useShownBuilt } from '../work/readings';
import { axes, hideUnder } from './axis';
import { bevelBand } from './bevelBand';
import { decisionPins, type Pin, pinsOf } from './decisionPins';
import { Hatches } from './Hatches';
import { Head } from './Head';
import { px, type RibbonScale, type RibbonSize, scaleOf, SKIN_LINE } from './scale';
import { drawnStop, stackDrawing, stackLabels } from './stack';
import css from './Ribbon.module.css';

type LaterLayers = typeof import('./Later');

/** What the first picture does without; null until it is there. */
function useLater(): LaterLayers | null {
  const [later, setLater] = useState<LaterLayers | null>(null);
  useEffect(() => {
    // Without it the ribbon stands, as the plan alone.
    void nextPicture().then(() => import('./Later')).then(setLater, () => undefined);
  }, []);
  return later;
}

const PAGE_STEP = 50;

/** What stands at the left. `lead`: the plan that is drawn. */
function sideWords({ design }: Plan, lead: Plan, scale: RibbonScale) {
  const { soleThickness, capThickness, outerLayers } = design.rail;
  const { samples, cap } = lead.rail;
  const first = Math.max(0, Math.ceil(cap.s0 / samples.step));
  const capHeight = Math.min(scale.z(soleThickness) - 6, scale.z(soleThickness + Math.max(0, samples.gap[first]) + capThickness / 2) + 4);
  const word = (y: number, text: string) => svg`<text class=${css.side} ?data-narrow=${scale.width < NARROW} x=${scale.left - 8} y=${px(y)}>${text}</text>`;
  return svg`${word(scale.headBottom - 14, 'heights')}${word(scale.headBottom - 2, `×${fixed(scale.exaggeration, 1)}`)}${scale.width < NARROW ? nothing : svg`${word(capHeight, 'cap')}${word(scale.z(soleThickness / 2) + 3, 'sole')}`}
    ${outerLayers > 0 ? word(scale.skinsTop + (outerLayers * SKIN_LINE) / 2 + 4, 'skins') : nothing}
    ${word((scale.bandTop + scale.bandBottom) / 2 + 4, 'bevel')}${word(scale.axis + 18, 'station')}${scale.railAxis === null ? nothing : word(scale.railAxis + 12, 'on rail')}`;
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

interface CursorProps extends LayerProps {
  readonly unit: Unit;
}

/** Px that a letter of the cursor's figures takes. */
const LETTER = { station: 7.2, run: 5.8 };

function Cursor({ plan, size, unit }: CursorProps) {
  const asked = useView((state) => state.s);
  const layer = useRef<SVGGElement>(null);
  usePainter(plan, (shown) => {
    if (!layer.current) return;
    const scale = scaleOf(shown, size);
    const s = heldRun(shown, asked);
    const { x } = drawingAt(shown, s);
    const { hull, rail: { face } } = shown;
    const words = `${nearerEnd(shown, x, unit, 0, lengthWithUnit)}, ${lengthWithUnit(s, unit)} along the rail`;
    const at = scale.x(s);
    // A figure stays on the ribbon where its place is at the end.
    const flag = (text: string, letter: number) => {
      const half = (text.length * letter) / 2 + 5;
      return { text, half, off: Math.min(size.width - half, Math.max(half, at)) - at };
    };
    const station = flag(lengthText(Math.min(x, hull.length - x), unit), LETTER.station);
    const run = flag(lengthText(Math.min(s, face.length - s), unit), LETTER.run);
    render(svg`<g class=${css.cursor} role="slider" tabindex="0" aria-label="Station cursor, along the rail from the tail" @keydown=${(event: KeyboardEvent) => onCursorKey(event, shown)}
      aria-valuemin="0" aria-valuemax=${Math.round(face.length)} aria-valuenow=${Math.round(s)} aria-valuetext=${words} transform="translate(${px(at)} 0)">
      <line data-casing y1="2" y2=${scale.axis}></line>
      <line y1="2" y2=${scale.axis + 5}></line>
      <path d="M-7 0H7V8L0 15L-7 8Z"></path>
      <rect class=${css.flag} x=${px(station.off - station.half)} width=${px(2 * station.half)} y=${scale.axis + 4} height="18"></rect>
      <text class=${css.flagged} x=${px(station.off)} y=${scale.axis + 18}>${station.text}</text>
      ${scale.railAxis === null ? nothing : svg`<rect class=${css.ground} x=${px(run.off - run.half)} width=${px(2 * run.half)} y=${scale.railAxis + 2} height="12"></rect>
        <text class=${css.run} x=${px(run.off)} y=${scale.railAxis + 12}>${run.text}</text>`}
    </g>`, layer.current);
    const over = ({ off, half }: typeof station): [number, number] => [at + off - half, at + off + half];
    if (layer.current.ownerSVGElement) hideUnder(layer.current.ownerSVGElement, { station: over(station), run: over(run) });
  });
  return <g ref={layer} />;
}

export function Ribbon({ plan }: { readonly plan: Plan }) {
  const { frame, size } = useSize();
  const id = useId();
  const unit = useUnits((state) => state.unit);
  const parts = usePartsOf(plan);
  const later = useLater();
  const { decisions } = useStanding();
  const bands = useShownBands(plan);
  const moveTo = useView((state) => state.moveTo);
  const open = useView((state) => state.open);
  const picked = useView((state) => state.strip);
  // As built leads where readings are shown; the rail as drawn stands under it.
  const built = useShownBuilt(plan);
  const leads = useCallback((shown: Plan) => (built && shown === plan ? built.plan : shown), [plan, built]);
  const pins = useCallback(
    (shown: Plan, scale: RibbonScale) => pinsOf(shown, shown === plan ? decisions : standingOf(shown, null).decisions, scale),
    [plan, decisions],
  );
  const stack = useCallback((shown: Plan, scale: RibbonScale) => svg`
    <g>${stackDrawing(leads(shown), scale, unit, pins(shown, scale), moveTo, picked)}</g>
    ${later ? later.blockMarks(leads(shown), scale, unit, id) : nothing}`, [leads, pins, unit, moveTo, picked, id, later]);
  const labels = useCallback((shown: Plan, scale: RibbonScale) => {
    const was = (stop: Stop) => (built && shown === plan ? drawnStop(plan, built, stop) : undefined);
    const decide = ({ decision }: Pin, s: number) => {
      moveTo(s);
      useView.setState({ decision: decision.cause });
      open('decisions');
    };
    return svg`
      <g>${stackLabels(leads(shown), scale, unit, moveTo, was)}</g>
      ${bevelBand(leads(shown), scale, `${id}r`, shown === plan ? bands : null)}
      ${axes(shown, scale, unit)}
      ${sideWords(shown, leads(shown), scale)}
      <g>${decisionPins(shown, pins(shown, scale), scale, unit, decide)}</g>`;
  }, [plan, built, bands, leads, pins, unit, moveTo, open, id]);
  // Where the ribbon lay at the press: to look again would make the browser lay out the page for every move.
  const dragged = useRef<{ readonly from: number; readonly fromY: number; readonly left: number; readonly taps: boolean; readonly s: number; moved: boolean } | null>(null);

  const follow = (event: PointerEvent<SVGSVGElement>, left: number) => {
    if (size) moveTo(scaleOf(paintedPlan(plan), size).run(event.clientX - left));
  };
  const press = (event: PointerEvent<SVGSVGElement>) => {
    if (event.button !== 0) return;
    // A press on a stop or a rib leads there exactly; a drag from it follows the hand. A finger may be about to scroll the page:
    // it moves the cursor once it goes along the ribbon, or when it is lifted where it was put.
    const onMark = event.target instanceof Element && event.target.closest('[data-leads]') !== null;
    const waits = onMark || event.pointerType === 'touch';
    const { left } = event.currentTarget.getBoundingClientRect();
    dragged.current = { from: event.clientX, fromY: event.clientY, left, taps: !onMark, s: useView.getState().s, moved: !waits };
    if (!waits) {
      event.currentTarget.setPointerCapture(event.pointerId);
      follow(event, left);
    }
  };
  const move = (event: PointerEvent<SVGSVGElement>) => {
    const drag = dragged.current;
    if (!drag || event.buttons === 0) return;
    const across = Math.abs(event.clientX - drag.from);
    if (!drag.moved && across > 4 && across > Math.abs(event.clientY - drag.fromY)) {
      drag.moved = true;
      event.currentTarget.setPointerCapture(event.pointerId);
    }
    if (drag.moved) follow(event, drag.left);
  };
  const release = (event: PointerEvent<SVGSVGElement>) => {
    const drag = dragged.current;
    if (drag && !drag.moved && drag.taps) follow(event, drag.left);
    dragged.current = null;
  };
  // The browser took the finger to scroll the page: the cursor is as it was.
  const drop = () => {
    if (dragged.current?.moved) moveTo(dragged.current.s);
    dragged.current = null;
  };

  return (
    <section className={css.ribbon} data-area="ribbon" aria-label="Ribbon: the whole rail" aria-describedby="ribbon-words">
      <Head plan={plan} id={id} settled={(children) => <Settled plan={plan}>{children}</Settled>} />
      <div className={css.frame} ref={frame}>
        {size && (
          <svg width={size.width} height={size.height} viewBox={`0 0 ${size.width} ${size.height}`} onPointerDown={press} onPointerMove={move} onPointerUp={release} onPointerCancel={drop}>
            <Hatches id={id} />
            <rect fill="transparent" x={0} y={0} width={size.width} height={size.height} />
            <Layer plan={plan} size={size} draw={stack} />
            <Settled plan={plan} inSvg>
              {later && <later.Later plan={plan} parts={parts} scale={scaleOf(plan, size)} unit={unit} id={id} onPlace={moveTo} />}
            </Settled>
            <Layer plan={plan} size={size} draw={labels} />
            <Cursor plan={plan} size={size} unit={unit} />
          </svg>
        )}
      </div>
    </section>
  );
}
