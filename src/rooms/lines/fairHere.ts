/** A line made fair about one of its points: that one and its neighbours move, the others stay. */
import { fairCurve } from '../../../geometry/shape/fair';
import type { LineName } from '../../../geometry/shape/line';
import { useDesign } from '../../state/design';
import { propose } from '../../state/proposal';
import { withLine } from './edits';
import { inMm, kindOf, pointsOf } from './kinds';
import { useLines } from './lines';

/** How far a point may move where nothing else was asked: mm, or the ratio. Own choice. */
export const fairLimit = (name: LineName): number => (inMm(name) ? 3 : 0.01);

/** The inner point of a line nearest to a station. */
export function nearestPoint(name: LineName, station: number): number {
  const points = pointsOf(useDesign.getState().design.lines[name]);
  let best = 1;
  points.forEach(({ x }, i) => {
    if (i > 0 && i < points.length - 1 && Math.abs(x - station) < Math.abs(points[best].x - station)) best = i;
  });
  return best;
}

/** Proposes the line made fair about a point; returns what there is to say where nothing is proposed. */
export function fairHere(name: LineName, index: number): string | null {
  const { design } = useDesign.getState();
  const curve = design.lines[name];
  const keep = pointsOf(curve).flatMap((_, i) => (Math.abs(i - index) > 1 ? [i] : []));
  const found = fairCurve(curve, { limit: fairLimit(name), keep, ratio: !inMm(name) });
  if (Math.abs(found.greatestMove.amount) === 0) return 'The line is fair here: no point needs to move.';
  const edit = withLine(design, name, found.curve);
  if (!edit.ok) {
    useLines.setState({ trouble: { line: name, errors: edit.errors } });
    return null;
  }
  propose(`${kindOf(name).title} made fair at point ${index + 1}`, edit.design);
  return null;
}
