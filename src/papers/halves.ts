/** A rib or a block's template that is alike on both sides, as its half on paper: traced, then turned over at the centreline. */
import type { FlatShape, FramePart } from '../../geometry/frame/types';
import { shapeStrokes, sketchOf, type Sketch, type Stroke } from './drawing';

/** Farther from its mirror than this a rib is not alike on both sides, mm. */
const ALIKE = 0.01;
/** Room between the centreline and the half's own label, and the label's height, mm. */
const [LABEL_IN, LABEL_HIGH] = [4, 4];

/** Whether every corner of a loop has its mirror, left for right. */
function mirrored(loop: Float64Array): boolean {
  const corners: [number, number][] = [];
  for (let i = 0; i < loop.length; i += 2) corners.push([loop[i], loop[i + 1]]);
  return corners.every(([x, y]) => corners.some(([u, v]) => Math.abs(u + x) < ALIKE && Math.abs(v - y) < ALIKE));
}

/** The parts of a line at x >= 0, as open lines; ends lie on x = 0 where it was cut. */
function rightOf({ layer, points, closed }: Stroke): Stroke[] {
  const n = points.length / 2;
  const out: number[][] = [];
  let line: number[] = [];
  const end = () => {
    if (line.length >= 4) out.push(line);
    line = [];
  };
  // A loop begins where it comes in from the left, so that no part of it is split in two.
  let first = 0;
  if (closed) while (first < n && !(points[2 * first] < 0)) first++;
  for (let k = 0; k < (closed ? n : n - 1); k++) {
    const [i, j] = [(first + k) % n, (first + k + 1) % n];
    const [ax, ay, bx, by] = [points[2 * i], points[2 * i + 1], points[2 * j], points[2 * j + 1]];
    const middle = ay + ((by - ay) * ax) / (ax - bx);
    if (ax >= 0 && line.length === 0) line.push(ax, ay);
    if (ax < 0 && bx >= 0) line.push(0, middle);
    if (bx >= 0) line.push(bx, by);
    else if (ax >= 0) {
      line.push(0, middle);
      end();
    }
  }
  end();
  return out.map((part) => ({ layer, points: part, closed: closed && first === n }));
}

/** A part's half to starboard, or the whole of it where its sides differ. */
export function halfSketch(part: Pick<FramePart, 'id' | 'label' | 'shape'>): Sketch {
  const { outline, holes, marks } = part.shape;
  // A hole on one side has its mirror among the others.
  const alike = mirrored(outline) && mirrored(Float64Array.from(holes.flatMap((hole) => [...hole])));
  if (!alike) return sketchOf(part.id, part.label, shapeStrokes(part.shape));
  const shape: FlatShape = { outline, holes, marks: marks.filter(({ kind }) => kind !== 'label') };
  const heights = Array.from(outline).filter((_, i) => i % 2 === 1);
  const [low, high] = [Math.min(...heights), Math.max(...heights)];
  const base = (low + high) / 2;
  const label = shapeStrokes({ outline: new Float64Array(), holes: [], marks: [
    { kind: 'label', points: Float64Array.from([LABEL_IN, base, LABEL_IN + 1, base]), text: `${part.label}, half`, height: LABEL_HIGH },
  ] }).filter(({ layer }) => layer === 'label');
  const centre: Stroke = { layer: 'stock', closed: false, points: [0, low - 3, 0, high + 3] };
  return sketchOf(part.id, `${part.label}, half`, [...shapeStrokes(shape).flatMap(rightOf), ...label, centre]);
}
