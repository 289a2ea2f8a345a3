/** A drawing as it was read: each curve to be pointed at, the two known places to be moved, and where it lies farthest from the board. */
import { useMemo, useRef } from 'react';
import { nearestOn } from '../../../geometry/curves/chords';
import type { At } from '../../../geometry/curves/rational';
import { boxOf, type DrawnPlan } from '../../../geometry/shape/drawing';
import { placesOf } from '../../../geometry/shape/drawingLines';
import { useSize } from '../../ui/useSize';
import { NO_ZOOM, type Zoom } from './chart';
import { changeDrawn, useDrawn } from './drawn';
import { KnownPlace } from './KnownPlace';
import { useZoom } from './useZoom';
import './drawn.css';

/** Room round the drawing, how near a curve a press picks it and a known place catches on it, px. */
const EDGE = 26;
const REACH = 24;
const CATCH = 10;
/** Height of the sheet, px. */
const HEIGHT = { least: 110, most: 340 } as const;
/** How far a chord of what is drawn is off the curve at most, as a share of the drawing: half a pixel where it is closest. */
const SAG = 1 / 40_000;

interface Paper {
  readonly x: (at: At) => number;
  readonly y: (at: At) => number;
  readonly back: (x: number, y: number) => At;
  readonly width: number;
  readonly height: number;
}

function paperOf(drawing: DrawnPlan, width: number): Paper {
  const { low, high } = boxOf(drawing.curves);
  const [dx, dy] = [high.x - low.x || 1, high.y - low.y || 1];
  const height = Math.min(HEIGHT.most, Math.max(HEIGHT.least, ((width - 2 * EDGE) * dy) / dx + 2 * EDGE));
  const k = Math.min((width - 2 * EDGE) / dx, (height - 2 * EDGE) / dy);
  const [left, top] = [(width - k * dx) / 2, (height - k * dy) / 2];
  return {
    width, height, x: (at) => left + (at.x - low.x) * k, y: (at) => top + (high.y - at.y) * k,
    back: (x, y) => ({ x: low.x + (x - left) / k, y: high.y - (y - top) / k }),
  };
}

const zoomed = (paper: Paper, { factor, dx, dy }: Zoom): Paper => ({
  ...paper, x: (at) => paper.x(at) * factor + dx, y: (at) => paper.y(at) * factor + dy, back: (x, y) => paper.back((x - dx) / factor, (y - dy) / factor),
});

/** The way from a place on the paper to a curve's chords, px, and the place there. */
function nearest(paper: Paper, places: readonly At[], x: number, y: number): { readonly way: number; readonly at: At } {
  let best = { way: Infinity, at: places[0] };
  for (let i = 0; i + 1 < places.length; i++) {
    const [p, q] = [places[i], places[i + 1]];
    const [px, py] = [paper.x(p), paper.y(p)];
    const [dx, dy] = [paper.x(q) - px, paper.y(q) - py];
    const t = nearestOn(dx, dy, x - px, y - py);
    const way = Math.hypot(x - px - t * dx, y - py - t * dy);
    if (way < best.way) best = { way, at: { x: p.x + t * (q.x - p.x), y: p.y + t * (q.y - p.y) } };
  }
  return best;
}

interface MarkProps {
  readonly which: 0 | 1;
  readonly at: At;
  readonly paper: Paper;
  /** The place on a curve that a place on the paper catches on. */
  readonly caught: (x: number, y: number) => At;
}

/** A known place: dragged, it catches on what is drawn; by the arrow keys it goes where they take it. It stays on the paper, where it can be taken hold of again, or no farther off it than it is. */
function Mark({ which, at, paper, caught }: MarkProps) {
  const on = (to: number, from: number, size: number) => Math.min(Math.max(size, from), Math.max(Math.min(0, from), to));
  const put = (to: (x: number, y: number) => At) => (x: number, y: number) => {
    const { places } = useDrawn.getState();
    const place = to(on(x, paper.x(at), paper.width), on(y, paper.y(at), paper.height));
    if (places) changeDrawn({ places: which === 0 ? [place, places[1]] : [places[0], place] });
  };
  return <KnownPlace which={which} x={paper.x(at)} y={paper.y(at)} tells={`the drawing: ${at.x.toFixed(1)}, ${at.y.toFixed(1)}`} onDrag={put(caught)} onStep={put(paper.back)} />;
}

interface DrawingSheetProps {
  readonly drawing: DrawnPlan;
  /** The farthest place of each line, in the order in which they are told. */
  readonly worst: readonly At[];
  readonly onPick: (curve: number) => void;
}

export function DrawingSheet({ drawing, worst, onPick }: DrawingSheetProps) {
  const view = useRef<HTMLDivElement>(null);
  const { frame, size } = useSize(true);
  const roles = useDrawn((state) => state.roles);
  const picked = useDrawn((state) => state.picked);
  const places = useDrawn((state) => (state.scale === 'places' ? state.places : null));
  const width = size?.width ?? 0;
  const walks = useMemo(() => {
    const { low, high } = boxOf(drawing.curves);
    return drawing.curves.map((curve) => placesOf(curve, Math.max(high.x - low.x, high.y - low.y) * SAG, Infinity));
  }, [drawing]);
  const whole = useMemo(() => (width > 0 ? paperOf(drawing, width) : null), [drawing, width]);
  const pick = (x: number, y: number, at: Zoom) => {
    if (!whole) return;
    const on = zoomed(whole, at);
    const ways = walks.map((walk) => nearest(on, walk, x, y).way);
    const best = ways.reduce((least, way, i) => (way < ways[least] ? i : least), 0);
    if (ways[best] <= REACH) onPick(best);
  };
  const { zoom, hand, zoomIn, zoomOut, fit } = useZoom(view, width, whole?.height ?? 0, pick);
  const paper = useMemo(() => whole && zoomed(whole, zoom), [whole, zoom]);
  const paths = useMemo(() => (paper ? walks.map((walk) => walk.map((at, i) => `${i === 0 ? 'M' : 'L'}${paper.x(at).toFixed(1)} ${paper.y(at).toFixed(1)}`).join('')) : []), [paper, walks]);
  if (!paper) return <div ref={view}><div className="drawn-sheet" ref={frame} style={{ height: HEIGHT.least }} /></div>;
  const caught = (x: number, y: number): At => {
    const ends = walks.flatMap((walk) => [walk[0], walk[walk.length - 1]]).map((at) => ({ at, way: Math.hypot(paper.x(at) - x, paper.y(at) - y) }));
    const near = [ends, walks.map((walk) => nearest(paper, walk, x, y))].map((of) => of.reduce((a, b) => (b.way < a.way ? b : a))).find(({ way }) => way <= CATCH);
    return near?.at ?? paper.back(x, y);
  };
  return (
    <div ref={view}>
      <div className="drawn-sheet" ref={frame} style={{ height: paper.height }}>
        <svg
          role="group" aria-label={`The drawing: ${drawing.curves.length} ${drawing.curves.length === 1 ? 'curve' : 'curves'}`} width={width} height={paper.height}
          data-zoomed={zoom === NO_ZOOM ? undefined : zoom.factor.toFixed(2)} {...hand}
        >
          {paths.map((d, i) => <path key={i} d={d} data-curve-of={i} className={roles[i] ? 'said' : undefined} data-picked={i === picked || undefined} />)}
          {worst.map((at, i) => (
            <g key={i} className="drawn-worst" transform={`translate(${paper.x(at).toFixed(2)} ${paper.y(at).toFixed(2)})`} data-worst={i + 1} aria-hidden="true">
              <circle r={6} />
              <text x={8} y={-7}>{i + 1}</text>
            </g>
          ))}
          {places?.map((at, i) => <Mark key={i} which={i === 0 ? 0 : 1} at={at} paper={paper} caught={caught} />)}
        </svg>
      </div>
      <p className="buttons drawn-zoom">
        <button type="button" className="ruled" aria-label="Drawing: zoom out" onClick={zoomOut} disabled={zoom === NO_ZOOM}>−</button>
        <button type="button" className="ruled" aria-label="Drawing: zoom in" onClick={zoomIn}>+</button>
        <button type="button" className="ruled" aria-label="Drawing: fit" onClick={fit} disabled={zoom === NO_ZOOM}>Fit</button>
      </p>
    </div>
  );
}
