/** The section at a rib with a number at each thing that has a word. */
import type { PartKind, Plan, SectionDrawing } from '../../../geometry/types';
import { TERMS, type TermId } from '../../say/terms';
import { useSize } from '../../ui/useSize';
import './words.css';

const FIRST = { width: 660, height: 520 };
/** Room for the numbers around the section, and how far inboard of the rib-end line is shown, mm. */
const PAD = { x: 76, y: 64 };
const INBOARD = 28;
const RADIUS = 13;
/** Numbers of one side stand at least so far apart, px. */
const APART = 38;

type Point = readonly [number, number];
type Side = 'left' | 'right' | 'top' | 'bottom';
interface Callout {
  readonly id: TermId;
  readonly side: Side;
  /** What it points at, px. */
  readonly at: Point;
}

/** The lowest and the highest of a closed outline at o. */
function spanAt(points: ArrayLike<number>, o: number): readonly [number, number] {
  let [low, high] = [Infinity, -Infinity];
  for (let i = 0; i < points.length; i += 2) {
    const j = (i + 2) % points.length;
    const [a, b] = [points[i], points[j]];
    if ((a > o && b > o) || (a < o && b < o)) continue;
    const z = a === b ? points[i + 1] : points[i + 1] + ((points[j + 1] - points[i + 1]) * (o - a)) / (b - a);
    [low, high] = [Math.min(low, z), Math.max(high, z)];
  }
  return [low, high];
}

/** Where numbers of one side stand along it: in the order of what they point at, as near to it as they may. */
function spread(wanted: readonly number[], from: number, to: number): number[] {
  const places: number[] = [];
  wanted.forEach((at, i) => places.push(Math.max(at, i === 0 ? from : places[i - 1] + APART)));
  for (let i = places.length - 1, most = to; i >= 0; i--, most -= APART) places[i] = Math.min(places[i], most);
  return places;
}

interface LabelledSectionProps {
  readonly plan: Plan;
  readonly drawing: SectionDrawing;
  readonly term: TermId | null;
}

export function LabelledSection({ plan: { design: { rail } }, drawing: { section: c, shapes, finished }, term }: LabelledSectionProps) {
  const { frame, size } = useSize();
  const { width, height } = size ?? FIRST;
  const w = rail.stripWidth;
  const edge = w + rail.outerLayers * rail.outerThickness + rail.shapingAllowance;
  const [low, high] = [spanAt(finished, -INBOARD)[0], spanAt(finished, -INBOARD)[1]];
  const mm = Math.min((width - 2 * PAD.x) / (edge + INBOARD), (height - 2 * PAD.y) / (high - low));
  const left = (width - mm * (edge + INBOARD)) / 2;
  const top = (height - mm * (high - low)) / 2;
  const x = (o: number) => left + (o + INBOARD) * mm;
  const y = (z: number) => top + (high - z) * mm;
  const path = (points: ArrayLike<number>) => Array.from({ length: points.length / 2 }, (_, i) => `${x(points[2 * i]).toFixed(1)},${y(points[2 * i + 1]).toFixed(1)}`).join(' ');
  const shape = (kind: PartKind, order?: number) => shapes.find((one) => one.kind === kind && (order === undefined || one.order === order));
  const middle = (kind: PartKind, o: number, order?: number): Point | null => {
    const found = shape(kind, order);
    if (!found) return null;
    const [a, b] = spanAt(found.points, o);
    return [x(o), y((a + b) / 2)];
  };
  const fall = (o: number) => c.capTop - o * Math.tan(c.bevel);
  const gapAt = x(-7);
  const capAt = x(edge) + 16;
  const coverZ = c.capBottom - Math.max(c.slot, rail.spacerHeight) / 2;
  const list: readonly (readonly [TermId, Side, Point | null])[] = [
    ['deck-skin', 'left', middle('deck-skin', -INBOARD * 0.6)],
    ['bottom-skin', 'left', middle('bottom-skin', -INBOARD * 0.6)],
    ['rib', 'left', [x(-INBOARD * 0.7), y((c.deckRib + c.bottomRib) / 2)]],
    ['sole', 'bottom', middle('sole', w * 0.25)],
    ['cap', 'top', middle('cap', w * 0.25)],
    ['row', 'right', middle('row', w - rail.spacerWidth / 2, Math.min(2, c.rows))],
    ['hollow', 'left', shape('hollow') ? [x((w - rail.spacerWidth) / 2), y(c.soleTop + 0.72 * (c.capBottom - c.soleTop))] : null],
    ['gap', 'left', [gapAt, y(c.soleTop + 0.25 * (c.capBottom - c.soleTop))]],
    ['outer-skins', 'right', middle('outer-skin', edge - rail.outerThickness / 2, rail.outerLayers)],
    ['bevel', 'right', [x(w * 2.1), y((c.capTop + fall(w * 2.1)) / 2)]],
    ['plane-off', 'top', [x(w * 0.9), y((c.capTop + fall(w * 0.9)) / 2)]],
    ['cap-left', 'right', [capAt, y((c.capBottom + c.deckFace) / 2)]],
    ['cover', 'right', [x((w + edge) / 2), y(coverZ)]],
    // The last point of the bottom's stretch of the finished outline.
    ['tuck', 'bottom', [x(finished[16]), y(finished[17])]],
  ];
  const callouts = list.flatMap(([id, side, at]): Callout[] => (at ? [{ id, side, at }] : []));
  const placed = (['left', 'right', 'top', 'bottom'] as const).flatMap((side) => {
    const upright = side === 'left' || side === 'right';
    const own = callouts.filter((one) => one.side === side).sort((a, b) => (upright ? a.at[1] - b.at[1] : a.at[0] - b.at[0]));
    const along = spread(own.map(({ at }) => at[upright ? 1 : 0]), 20, (upright ? height : width) - 20);
    const across = side === 'left' || side === 'top' ? 22 : (upright ? width : height) - 22;
    return own.map((one, i) => ({ ...one, label: (upright ? [across, along[i]] : [along[i], across]) as Point }));
  });
  const finishedAt = Math.max(...Array.from({ length: finished.length / 2 - 1 }, (_, i) => {
    const [z0, z1, o0, o1] = [finished[2 * i + 1], finished[2 * i + 3], finished[2 * i], finished[2 * i + 2]];
    return (z0 - coverZ) * (z1 - coverZ) <= 0 && z0 !== z1 ? o0 + ((o1 - o0) * (coverZ - z0)) / (z1 - z0) : w;
  }));
  return (
    <div className="words-section" ref={frame}>
      <svg viewBox={`0 0 ${width} ${height}`} role="img" aria-label="The section at a rib, each thing that has a word numbered as in the list">
        <clipPath id="words-clip"><rect x={x(-INBOARD)} y="0" width={width} height={height} /></clipPath>
        <g clipPath="url(#words-clip)">
          {shapes.map(({ kind, order, points }) => <polygon key={`${kind} ${order}`} data-kind={kind} points={path(points)} />)}
          <polyline data-line="finished" points={path(finished)} />
        </g>
        <g data-line="bevel">
          <path d={`M${x(0)} ${y(c.capTop)}H${x(w * 2.3)}M${x(0)} ${y(c.capTop)}L${x(w * 2.3)} ${y(fall(w * 2.3))}`} />
        </g>
        <g data-line="size">
          <path d={`M${gapAt} ${y(c.soleTop)}V${y(c.capBottom)}M${gapAt - 4} ${y(c.soleTop)}H${x(0)}M${gapAt - 4} ${y(c.capBottom)}H${x(0)}`} />
          <path d={`M${capAt} ${y(c.capBottom)}V${y(c.deckFace)}M${x(w)} ${y(c.capBottom)}H${capAt + 4}M${x(w)} ${y(c.deckFace)}H${capAt + 4}`} />
          <path d={`M${x(w)} ${y(coverZ)}H${x(finishedAt)}`} />
        </g>
        {placed.map(({ id, at, label }) => (
          <g key={id} className="words-callout" data-on={term === id || undefined}>
            <path d={`M${label[0]} ${label[1]}L${at[0]} ${at[1]}`} />
            <circle cx={at[0]} cy={at[1]} r="3.5" data-dot />
            <circle cx={label[0]} cy={label[1]} r={RADIUS} />
            <text x={label[0]} y={label[1] + 4.5}>{TERMS.findIndex((one) => one.id === id) + 1}</text>
          </g>
        ))}
      </svg>
    </div>
  );
}
