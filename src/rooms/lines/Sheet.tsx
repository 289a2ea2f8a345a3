/** One drawing of Lines: a curve over a measured grid, with its points, comb, earlier board, tracing and station. */
import { html, nothing, render, svg } from 'lit-html';
import { guard } from 'lit-html/directives/guard.js';
import { memo, useEffect, useMemo, useRef, useState } from 'react';
import { graphRange } from '../../../geometry/curves/range';
import type { Design } from '../../../geometry/design/schema';
import { type DesignCurve, isOutline, splineOf } from '../../../geometry/shape/line';
import type { Plan } from '../../../geometry/types';
import { useSize } from '../../ui/useSize';
import { shownDesign, useDesign } from '../../state/design';
import { useProposal } from '../../state/proposal';
import { useUnits } from '../../state/unit';
import { asGiven, lengthText, type Unit, unitSign } from '../../say/units';
import { nearerEnd } from '../../say/words';
import { NARROW, stationTicks, tickText } from '../../ui/stationAxis';
import { chartOf, type Chart, type Extent, gridLines, NO_ZOOM, type Zoom, zoomAbout } from './chart';
import { curveDrawing, type CurveOf } from './drawing';
import { handlesDrawing, type HandlesOf } from './handles';
import { boardOf, inMm, type LineKind, lineText, valueWithUnit } from './kinds';
import { addAt } from './nudge';
import { OffsetMarks } from './OffsetMarks';
import { valueOn } from './path';
import { useLines } from './lines';
import { TracingLayer, TracingMarks } from './TracingLayer';
import { PlanTrouble, TroubleNote } from './TroubleNote';
import { LEVER, useHold } from './useHold';
import { useDesignPainter, useStationPainter } from './useShownPainter';
import './sheet.css';

const ZOOM_STEP = 1.4;
/** Height of a drawing's ruler, px. */
const RULER = { wide: 14, narrow: 22 } as const;

interface SheetProps {
  readonly kind: LineKind;
  readonly earlier: Design | null;
  /** The design before a proposal, drawn under it; null where there is none. */
  readonly before: Design | null;
  /** The settled plan, where there is one: it has the cursor's station. */
  readonly plan: Plan | null;
  readonly onStation: (x: number) => void;
}

/** What the fitted drawing shows of a curve, with room for combs and handles. */
function extentOf(curve: DesignCurve, kind: LineKind, design: Design, comb: boolean): Extent {
  const { hull: { length } } = boardOf(design.lines.outline.points);
  if (isOutline(curve)) {
    const high = Math.max(...curve.points.map((p) => p.y));
    return { length, low: 0, high: high * (comb ? 1.3 : 1.04) };
  }
  const { min, max } = graphRange(splineOf(curve));
  if (!inMm(kind.name)) {
    const pad = Math.max(0.01, (max - min) * 0.25);
    return { length, low: Math.min(0, min) === 0 && min < 0.02 ? -pad * 0.4 : min - pad, high: max + pad };
  }
  const low = kind.name === 'thickness' ? 0 : Math.min(0, min);
  const pad = Math.max(2, (max - low) * 0.14);
  return { length, low: low - pad * 0.6, high: max + pad * (comb ? 1.8 : 1) };
}

const Grid = memo(function Grid({ chart, unit, kind, lettered }: { readonly chart: Chart; readonly unit: Unit; readonly kind: LineKind; readonly lettered: boolean }) {
  const base = chart.height - chart.ruler;
  const stations = stationTicks(chart.length, chart.kx, unit).map((tick) => ({ ...tick, at: chart.x(tick.x) })).filter(({ at }) => at >= 0 && at <= chart.width);
  // Past the centreline of an outline there is only room for levers.
  const low = kind.name === 'outline' ? Math.max(0, chart.value(base)) : chart.value(base);
  const values = gridLines(low, chart.value(0), chart.kv, inMm(kind.name) ? unit : 'ratio');
  const [left, right] = [Math.max(0, chart.x(0)), Math.min(chart.width, chart.x(chart.length))];
  // A path for all lines of a kind: an element a line costs a layer's bookkeeping each, several frames' worth on a large window.
  const across = (labelled: boolean) => values.filter((line) => line.labelled === labelled).map(({ at }) => `M${left.toFixed(2)} ${chart.y(at).toFixed(2)}H${right.toFixed(2)}`).join('');
  return (
    <g className="grid" aria-hidden="true">
      <path d={across(false)} />
      <path d={stations.map(({ at }) => `M${at.toFixed(2)} 0V${base}`).join('')} />
      <path className="major" d={`${across(true)}M${chart.x(chart.length / 2).toFixed(2)} 0V${base}`} />
      <path className="zero" d={`M${left.toFixed(2)} ${chart.y(0).toFixed(2)}H${right.toFixed(2)}`} />
      <rect className="ruler" x={0} y={base} width={chart.width} height={chart.ruler} />
      {lettered && stations.map(({ at, x, from }) => <text key={x} x={at} y={base + 11} className="along">{tickText(from, unit)}</text>)}
      {values.filter((line) => line.labelled && chart.y(line.at) > 14).map(({ at }) => (
        <text key={at} x={left - 8} y={chart.y(at) + 4} className="up">{inMm(kind.name) ? tickText(at, unit) : lineText(kind.name, at, unit, chart.kv > 40 ? 1 : 0)}</text>
      ))}
    </g>
  );
});

/** Wheel and trackpad zoom about the pointer; a press leaves the focus to the drawing, a finger on a handle leaves the page where it is. */
function useWheel(frame: { readonly current: HTMLDivElement | null }, setZoom: (change: (zoom: Zoom) => Zoom) => void) {
  useEffect(() => {
    const element = frame.current;
    if (!element) return;
    const onWheel = (event: WheelEvent) => {
      event.preventDefault();
      const box = element.getBoundingClientRect();
      setZoom((zoom) => zoomAbout(zoom, Math.exp(-event.deltaY * 0.0018), event.clientX - box.left, event.clientY - box.top));
    };
    // A press would give the focus to the topmost handle under it; the drawing gives it to the nearest.
    const onPress = (event: MouseEvent) => event.preventDefault();
    // No style can say so of a handle: the browser asks the whole drawing alone.
    const onTouch = (event: TouchEvent) => {
      if (event.cancelable && event.target instanceof Element && event.target.closest('[data-handle]')) event.preventDefault();
    };
    element.addEventListener('touchstart', onTouch, { passive: false });
    element.addEventListener('wheel', onWheel, { passive: false });
    element.addEventListener('mousedown', onPress);
    return () => {
      element.removeEventListener('touchstart', onTouch);
      element.removeEventListener('wheel', onWheel);
      element.removeEventListener('mousedown', onPress);
    };
  }, [frame, setZoom]);
}

/** The curve with what stands under it. */
function CurveLayer(of: CurveOf) {
  const { kind: { name }, chart, unit, rest, earlier, before, least, teeth } = of;
  const layer = useRef<SVGGElement>(null);
  useDesignPainter(({ lines }) => {
    const [curve, over] = [lines[name], name === 'rocker' ? lines.thickness : null];
    if (layer.current) render(guard([curve, over, chart, unit, rest, earlier, before, least, teeth], () => curveDrawing(of, curve, over)), layer.current);
  });
  return <g ref={layer} />;
}

function HandleLayer(of: HandlesOf) {
  const { name, chart, unit, active, selected } = of;
  const layer = useRef<SVGGElement>(null);
  useDesignPainter(({ lines: { [name]: curve } }) => {
    if (layer.current) render(guard([curve, chart, unit, active, selected], () => handlesDrawing(of, curve)), layer.current);
  });
  return <g ref={layer} />;
}

/** The station under the cursor, and the curve's place on it. */
function StationLine({ name, plan, chart }: { readonly name: LineKind['name']; readonly plan: Plan | null; readonly chart: Chart }) {
  const layer = useRef<SVGGElement>(null);
  const { height } = chart;
  const base = height - chart.ruler;
  useStationPainter(plan, ({ lines }, station) => layer.current && render(svg`<g class="station-line" transform="translate(${chart.x(station).toFixed(2)} 0)" aria-hidden="true">
    <line y1="0" y2=${height}></line>
    <circle cy=${chart.y(valueOn(lines[name], station)).toFixed(2)} r="3"></circle>
    ${chart.ruler === RULER.narrow ? svg`<path d="M-6 ${height}V${base + 7}L0 ${base}L6 ${base + 7}V${height}Z"></path>` : nothing}
  </g>`, layer.current));
  return <g ref={layer} />;
}

/** The curve's value at the station under the cursor. */
function Here({ kind: { name, across }, plan, unit }: { readonly kind: LineKind; readonly plan: Plan | null; readonly unit: Unit }) {
  const here = useRef<HTMLSpanElement>(null);
  useStationPainter(plan, ({ lines }, station) => {
    const value = valueOn(lines[name], station);
    const wide = across ? ` = ${lengthText(value * valueOn(lines.outline, station), unit)} ${unitSign(unit)} ${across}` : '';
    if (here.current) render(html`at ${nearerEnd(boardOf(lines.outline.points), station, unit)} <b>${valueWithUnit(name, value, unit)}</b>${wide}`, here.current);
  });
  return <span className="sheet-here" data-here={name} ref={here} />;
}

/** How a sheet's values are drawn against the axis. */
function scaleWords(name: LineKind['name'], { exaggeration }: Chart): string {
  if (!inMm(name)) return 'ratio';
  const by = exaggeration === 1 ? ', same scale as the axis' : ` × ${asGiven(exaggeration, 2)}`;
  return name === 'outline' ? `half width${by}` : exaggeration === 1 ? 'same scale as the axis' : `heights${by}`;
}

export const Sheet = memo(function Sheet({ kind, earlier, before, plan, onStation }: SheetProps) {
  const { name } = kind;
  const { frame, size } = useSize(true);
  const [zoom, setZoom] = useState<Zoom>(NO_ZOOM);
  const unit = useUnits((state) => state.unit);
  // What a drag moves is painted: it renders no drawing.
  const count = useDesign((state) => shownDesign(state).lines[name].points.length);
  const least = useDesign((state) => shownDesign(state).skins.bottom + shownDesign(state).skins.deck);
  const rest = useDesign((state) => state.design);
  const active = useLines((state) => state.line === name);
  const selected = useLines((state) => (state.selected?.line === name ? state.selected.grip : null));
  const comb = useLines((state) => state.comb);
  const combScale = useLines((state) => state.combScale);
  const alone = useLines((state) => state.alone);
  const trouble = useLines((state) => (state.trouble?.line === name ? state.trouble : null));
  useWheel(frame, setZoom);

  // The drawing keeps still under a drag: it is fitted to the board at rest.
  // A proposal may be of another size: both have room.
  const proposed = useProposal((state) => state.proposal?.design);
  const extent = useMemo(() => {
    const own = extentOf((before ?? rest).lines[name], kind, before ?? rest, comb);
    const other = before && proposed ? extentOf(proposed.lines[name], kind, proposed, comb) : own;
    return { length: Math.max(own.length, other.length), low: Math.min(own.low, other.low), high: Math.max(own.high, other.high) };
  }, [before, proposed, rest, name, kind, comb]);
  // On a narrow page an outline at equal scale is a sliver: its breadths are drawn larger, and the header says so.
  const narrow = size !== null && size.width < NARROW;
  const how = name === 'outline' && !narrow ? 'equal' : inMm(name) ? 'exaggerated' : 'free';
  const chart = useMemo(
    () => (size ? chartOf(extent, size, how, zoom, narrow ? RULER.narrow : RULER.wide, name === 'outline' ? LEVER : 0) : null),
    [extent, size, how, zoom, narrow, name],
  );
  const hold = useHold({ name, chart, unit, frozen: before !== null, zoom, setZoom, onRuler: onStation, onAdd: (x, v) => addAt(name, x, v) });

  const zoomBy = (by: number) => size && setZoom(zoomAbout(zoom, by, size.width / 2, size.height / 2));
  return (
    <section className={`sheet${active ? ' active' : ''}`} aria-label={`${kind.title} drawing`} data-line={name}>
      <header>
        <button type="button" className="sheet-name" aria-pressed={active} onClick={() => useLines.getState().open(name)}>{kind.title}</button>
        <span className="sheet-scale">
          {chart && scaleWords(name, chart)}
        </span>
        {earlier && <span className="sheet-scale">dotted: {earlier.name}</span>}
        <Here kind={kind} plan={plan} unit={unit} />
        <span className="sheet-tools">
          <button type="button" aria-label={`${kind.title}: zoom out`} onClick={() => zoomBy(1 / ZOOM_STEP)}>−</button>
          <button type="button" aria-label={`${kind.title}: zoom in`} onClick={() => zoomBy(ZOOM_STEP)}>+</button>
          <button type="button" onClick={hold.reset}>Fit</button>
          <button type="button" className="sheet-alone" aria-pressed={alone} onClick={() => {
            useLines.getState().open(name);
            useLines.getState().set({ alone: !alone });
          }}>{alone ? 'All' : 'Alone'}</button>
        </span>
      </header>
      <div className="sheet-frame" ref={frame}>
        {chart && size && (
          <svg
            role="group" aria-label={`${kind.title}: ${count} points`} width={size.width} height={size.height} data-held={hold.held ?? undefined} data-drawing={name} data-zoomed={zoom !== NO_ZOOM || undefined}
            onPointerDown={hold.onPointerDown} onPointerMove={hold.onPointerMove} onPointerUp={hold.onPointerUp} onPointerCancel={hold.onPointerCancel}
          >
            <TracingLayer name={name} chart={chart} />
            <Grid chart={chart} unit={unit} kind={kind} lettered={narrow || zoom !== NO_ZOOM} />
            <CurveLayer kind={kind} chart={chart} unit={unit} rest={rest} earlier={earlier} before={before} least={least} teeth={comb ? combScale : null} />
            <StationLine name={name} plan={plan} chart={chart} />
            {!before && <HandleLayer name={name} chart={chart} unit={unit} active={active} selected={selected} />}
            <OffsetMarks name={name} chart={chart} />
            <TracingMarks name={name} chart={chart} />
            {trouble?.wanted && (
              <g className="wanted" transform={`translate(${chart.x(trouble.wanted.x)} ${chart.y(trouble.wanted.v)})`} aria-hidden="true">
                <path d="M-7 -7L7 7M7 -7L-7 7" />
              </g>
            )}
          </svg>
        )}
        {trouble ? <TroubleNote trouble={trouble} /> : <PlanTrouble name={name} />}
      </div>
    </section>
  );
});
