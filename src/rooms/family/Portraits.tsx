/** Boards of a family drawn side by side to one scale: stood on their tails, and cut where they are widest. */
import type { Portrait } from '../../../geometry/search/portrait';
import './family.css';

/** One scale for all boards of a strip: the longest and the widest of them, mm. */
export interface Span {
  readonly length: number;
  readonly halfBreadth: number;
}

const TALL = 300;
const PAD = 6;

function path(points: ArrayLike<number>, x: (v: number) => number, y: (v: number) => number): string {
  const out: string[] = [];
  for (let i = 0; i < points.length; i += 2) out.push(`${x(points[i]).toFixed(1)} ${y(points[i + 1]).toFixed(1)}`);
  return out.join('L');
}

/** The board in plan, nose up: outline, box face, ribs, and dots where rows stop. */
export function PlanPortrait({ portrait, span, name }: { readonly portrait: Portrait; readonly span: Span; readonly name: string }) {
  const k = (TALL - 2 * PAD) / span.length;
  const width = 2 * (span.halfBreadth * k + PAD);
  const middle = width / 2;
  const up = (x: number) => TALL - PAD - x * k;
  const across = (side: 1 | -1) => (y: number) => middle + side * y * k;
  // The pairs are (x, y): along the board is up the page.
  const half = (points: ArrayLike<number>, side: 1 | -1) => {
    const turned = new Float64Array(points.length);
    for (let i = 0; i < points.length; i += 2) {
      turned[i] = points[i + 1];
      turned[i + 1] = points[i];
    }
    return path(turned, across(side), up);
  };
  return (
    <svg className="portrait" viewBox={`0 0 ${width.toFixed(1)} ${TALL}`} role="img" aria-label={`${name} seen from above, nose up`}>
      {([1, -1] as const).map((side) => <path key={side} className="body" d={`M${middle} ${up(0)}L${half(portrait.outline, side)}L${middle} ${up(portrait.length)}Z`} />)}
      {portrait.ribs.map(({ x, y }) => <line key={x} className="rib" x1={across(-1)(y)} x2={across(1)(y)} y1={up(x)} y2={up(x)} />)}
      <line className="rib" x1={middle} x2={middle} y1={up(0)} y2={up(portrait.length)} />
      {([1, -1] as const).map((side) => <path key={side} className="face" d={`M${half(portrait.face, side)}`} />)}
      {([1, -1] as const).map((side) => <path key={side} className="edge" d={`M${middle} ${up(0)}L${half(portrait.outline, side)}`} />)}
      {portrait.stops.flatMap(({ row, end, x, y }) => ([1, -1] as const).map((side) => (
        <circle key={`${row} ${end} ${x} ${side}`} className="stop" cx={across(side)(y)} cy={up(x)} r={1.9} />
      )))}
    </svg>
  );
}

const WIDE = 160;

/** The board cut where its rail is widest, with the two boxes. */
export function StationPortrait({ portrait, span, name }: { readonly portrait: Portrait; readonly span: Span; readonly name: string }) {
  const { station, box: [y0, y1, z0, z1] } = portrait;
  const k = (WIDE - 2 * PAD) / (2 * span.halfBreadth);
  let [low, high] = [z0, z1];
  for (let i = 1; i < station.length; i += 2) {
    low = Math.min(low, station[i]);
    high = Math.max(high, station[i]);
  }
  const height = (high - low) * k + 2 * PAD;
  const up = (z: number) => PAD + (high - z) * k;
  const across = (side: 1 | -1) => (y: number) => WIDE / 2 + side * y * k;
  return (
    <svg className="portrait station" viewBox={`0 0 ${WIDE} ${height.toFixed(1)}`} role="img" aria-label={`${name} cut where it is widest`}>
      {([1, -1] as const).map((side) => <path key={side} className="body" d={`M${path(station, across(side), up)}`} />)}
      {([1, -1] as const).map((side) => (
        <rect key={side} className="box" x={Math.min(across(side)(y0), across(side)(y1))} width={Math.max(1, (y1 - y0) * k)} y={up(z1)} height={(z1 - z0) * k} />
      ))}
      {([1, -1] as const).map((side) => <path key={side} className="edge" d={`M${path(station, across(side), up)}`} />)}
    </svg>
  );
}
