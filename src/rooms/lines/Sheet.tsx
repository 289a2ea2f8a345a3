/** One drawing of Lines: a curve over a measured grid, with its points, comb, earlier board, tracing and station. */
import { memo, useEffect, useMemo, useState } from 'react';
import { graphRange } from '../../../geometry/curves/range';
import type { Design } from '../../../geometry/design/schema';
import { combOf } from '../../../geometry/shape/comb';
import { type DesignCurve, isOutline, splineOf } from '../../../geometry/shape/line';
import { useSize } from '../../ui/useSize';
import { shownDesign, useDesign } from '../../state/design';
import { useUnits } from '../../state/unit';
import { fixed, lengthText, type Unit, unitSign } from '../../say/units';
import { chartOf, type Chart, type Extent, gridLines, NO_ZOOM, type Zoom, zoomAbout } from './chart';
import { Handles } from './Handles';
import { inMm, type LineKind, lineText, valueWithUnit } from './kinds';
import { addAt } from './nudge';
import { OffsetMarks } from './OffsetMarks';
import { combPaths, curvePath, deckPath, toothScale, valueOn } from './path';
import { useLines } from './lines';
import { TracingLayer, TracingMarks } from './TracingLayer';
import { PlanTrouble, TroubleNote } from './TroubleNote';
import { LEVER, RULER, useHold } from './useHold';
import './sheet.css';

const ZOOM_STEP = 1.4;
/** Px of width under which an outline is not drawn at equal scale. */
const NARROW = 560;

interface SheetProps {
  readonly kind: LineKind;
  readonly earlier: Design | null;
  /** The design before a proposal, drawn under it; null where there is none. */
  readonly before: Design | null;
  /** Station of the cursor, mm, and half-breadth there. */
  readonly station: number;
  readonly halfBreadth: number;
  readonly onStation: (x: number) => void;
}

/** What the fitted drawing shows of a curve, with room for combs and handles. */
function extentOf(curve: DesignCurve, kind: LineKind, design: Design, comb: boolean): Extent {
  const length = design.lines.outline.points[design.lines.outline.points.length - 1].x;
  if (isOutline(curve)) {
    const high = Math.max(...curve.points.map((p) => p.y));
    return { length, low: -0.05 * high, high: high * (comb ? 1.4 : 1.1) };
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

const Grid = memo(function Grid({ chart, unit, kind }: { readonly chart: Chart; readonly unit: Unit; readonly kind: LineKind }) {
  const stations = gridLines(chart.station(0), chart.station(chart.width), chart.kx, 'x', unit);
  const values = gridLines(chart.value(chart.height - RULER), chart.value(0), chart.kv, 'y', inMm(kind.name) ? unit : 'ratio');
  const base = chart.height - RULER;
  // A path for all lines of a kind: an element a line costs a layer's bookkeeping each, several frames' worth on a large window.
  const ruled = (labelled: boolean) =>
    stations.filter((line) => line.labelled === labelled).map(({ at }) => `M${chart.x(at).toFixed(2)} 0V${base}`).join('')
    + values.filter((line) => line.labelled === labelled).map(({ at }) => `M0 ${chart.y(at).toFixed(2)}H${chart.width}`).join('');
  const decimals = chart.kx > 8 ? 1 : 0;
  return (
    <g className="grid" aria-hidden="true">
      <path d={ruled(false)} />
      <path className="major" d={ruled(true)} />
      <path className="zero" d={`M0 ${chart.y(0).toFixed(2)}H${chart.width}`} />
      <rect className="ruler" x={0} y={base} width={chart.width} height={RULER} />
      {stations.filter((line) => line.labelled).map(({ at }) => <text key={at} x={chart.x(at)} y={base + 15} className="along">{lengthText(at, unit, decimals)}</text>)}
      {values.filter((line) => line.labelled && chart.y(line.at) > 14).map(({ at }) => (
        <text key={at} x={6} y={chart.y(at) - 3} className="up">{lineText(kind.name, at, unit, chart.kv > 40 ? 1 : 0)}</text>
      ))}
    </g>
  );
});

interface CombLayerProps {
  readonly curve: DesignCurve;
  /** The curve before a drag: the teeth keep its scale, so that a change shows. */
  readonly rest: DesignCurve;
  readonly chart: Chart;
  readonly kind: LineKind;
  readonly unit: Unit;
}

function CombLayer({ curve, rest, chart, kind, unit }: CombLayerProps) {
  const scale = useLines((state) => state.combScale);
  const ratio = !inMm(kind.name);
  const restComb = useMemo(() => combOf(rest, { ratio }), [rest, ratio]);
  const comb = useMemo(() => (curve === rest ? restComb : combOf(curve, { ratio })), [curve, rest, restComb, ratio]);
  const { teeth, tips } = combPaths(comb, chart, toothScale(restComb, chart, scale));
  return (
    <g className="comb">
      <path className="teeth" d={teeth} />
      <path className="tips" d={tips} />
      {comb.peaks.map((mark) => (
        <circle key={`p${mark.u}`} className="peak" cx={chart.x(mark.x)} cy={chart.y(mark.v)} r={2.5}>
          <title>{`The bend peaks at ${lengthText(mark.x, unit)}`}</title>
        </circle>
      ))}
      {comb.inflections.map((mark) => (
        <g key={`i${mark.u}`} className="inflection" transform={`translate(${chart.x(mark.x)} ${chart.y(mark.v)})`}>
          <title>{`Hollow changes to round at ${lengthText(mark.x, unit)}`}</title>
          <path d="M-6 -6L6 6M6 -6L-6 6" />
        </g>
      ))}
    </g>
  );
}

/** Wheel and trackpad zoom about the pointer; a press leaves the focus to the drawing. */
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
    element.addEventListener('wheel', onWheel, { passive: false });
    element.addEventListener('mousedown', onPress);
    return () => {
      element.removeEventListener('wheel', onWheel);
      element.removeEventListener('mousedown', onPress);
    };
  }, [frame, setZoom]);
}

export const Sheet = memo(function Sheet({ kind, earlier, before, station, halfBreadth, onStation }: SheetProps) {
  const { name } = kind;
  const { frame, size } = useSize(true);
  const [zoom, setZoom] = useState<Zoom>(NO_ZOOM);
  const unit = useUnits((state) => state.unit);
  // Its own curve and what is drawn with it: a drag in one drawing leaves the others alone.
  const curve = useDesign((state) => shownDesign(state).lines[name]);
  const over = useDesign((state) => (name === 'rocker' ? shownDesign(state).lines.thickness : null));
  const { bottom, deck } = useDesign((state) => shownDesign(state).skins);
  const rest = useDesign((state) => state.design);
  const active = useLines((state) => state.line === name);
  const comb = useLines((state) => state.comb);
  const alone = useLines((state) => state.alone);
  const trouble = useLines((state) => (state.trouble?.line === name ? state.trouble : null));
  useWheel(frame, setZoom);

  // The drawing keeps still under a drag: it is fitted to the board at rest.
  const extent = useMemo(() => extentOf((before ?? rest).lines[name], kind, before ?? rest, comb), [before, rest, name, kind, comb]);
  // On a narrow page an outline at equal scale is a sliver: its breadths are drawn larger, and the header says so.
  const how = name === 'outline' && (!size || size.width >= NARROW) ? 'equal' : inMm(name) ? 'exaggerated' : 'free';
  const chart = useMemo(() => (size ? chartOf(extent, size, how, zoom, name === 'outline' ? LEVER : 0) : null), [extent, size, how, zoom, name]);
  const hold = useHold({ name, chart, unit, frozen: before !== null, zoom, setZoom, onRuler: onStation, onAdd: (x, v) => addAt(name, x, v) });
  const here = valueOn(curve, station);

  const zoomBy = (by: number) => size && setZoom(zoomAbout(zoom, by, size.width / 2, size.height / 2));
  return (
    <section className={`sheet${active ? ' active' : ''}`} aria-label={`${kind.title} drawing`} data-line={name}>
      <header>
        <button type="button" className="sheet-name" aria-pressed={active} onClick={() => useLines.getState().open(name)}>{kind.title}</button>
        <span className="sheet-scale">
          {chart && (how === 'equal' ? 'equal scale' : how === 'exaggerated' ? `${name === 'outline' ? 'breadths' : 'heights'} ×${fixed(chart.exaggeration, chart.exaggeration % 1 === 0 ? 0 : 1)}` : 'ratio')}
        </span>
        <span className="sheet-here" data-here={name}>
          {valueWithUnit(name, here, unit)}
          {kind.across && ` = ${lengthText(here * halfBreadth, unit)} ${unitSign(unit)} ${kind.across}`}
          {` at ${lengthText(station, unit, 0)}`}
        </span>
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
            role="group" aria-label={`${kind.title}: ${curve.points.length} points`} width={size.width} height={size.height} data-held={hold.held ?? undefined} data-drawing={name}
            onPointerDown={hold.onPointerDown} onPointerMove={hold.onPointerMove} onPointerUp={hold.onPointerUp} onPointerCancel={hold.onPointerCancel}
          >
            <TracingLayer name={name} chart={chart} />
            <Grid chart={chart} unit={unit} kind={kind} />
            {over && <path className="deck-line" d={deckPath(curve, over, chart)} />}
            {name === 'thickness' && <line className="limit" x1={chart.x(0)} x2={chart.x(extent.length)} y1={chart.y(bottom + deck)} y2={chart.y(bottom + deck)} />}
            {earlier && <path className="earlier" d={curvePath(earlier.lines[name], chart)} />}
            {comb && <CombLayer curve={curve} rest={rest.lines[name]} chart={chart} kind={kind} unit={unit} />}
            {before && <path className="before" d={curvePath(before.lines[name], chart)} />}
            <path className={`curve${before ? ' proposed' : ''}`} data-curve={name} d={curvePath(curve, chart)} />
            <g className="station-line" transform={`translate(${chart.x(station).toFixed(2)} 0)`} aria-hidden="true">
              <line y1={0} y2={size.height - RULER} />
              <circle cy={chart.y(here)} r={3} />
              <path d={`M-6 ${size.height}V${size.height - RULER + 8}L0 ${size.height - RULER}L6 ${size.height - RULER + 8}V${size.height}Z`} />
            </g>
            {!before && <Handles name={name} curve={curve} chart={chart} unit={unit} active={active} />}
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
