/** Which place of the board a press on the picture means: fetched with the first that measures. */
import { type OrthographicCamera, type PerspectiveCamera, Vector3 } from 'three';
import { cornersAt, type MeasuredPlace, namedPlaces, placeOnSurface } from '../../geometry/rail/measure';
import type { Plan } from '../../geometry/types';
import { toStage } from './frame';

/** How near on the page, px, and on the board, mm, a pick must be to be taken for a named place; for an edge of a part, which are many. */
const SNAP = { px: 16, mm: 70 };
const EDGE = { px: 9, mm: 16 };

/** The place that a press on the board at a stage point means. */
export function placePicked(plan: Plan, point: Vector3, camera: OrthographicCamera | PerspectiveCamera, size: { readonly width: number; readonly height: number }): MeasuredPlace {
  const { length } = plan.hull;
  const onPage = (at: Vector3) => {
    const { x, y } = at.clone().project(camera);
    return { x: (x * size.width) / 2, y: (y * size.height) / 2 };
  };
  const here = onPage(point);
  const place = new Vector3();
  const nearest = (places: readonly MeasuredPlace[], reach: typeof SNAP): MeasuredPlace | null => {
    let [best, least]: [MeasuredPlace | null, number] = [null, reach.px];
    for (const one of places) {
      toStage(length, ...one.at, place);
      if (place.distanceTo(point) > reach.mm) continue;
      const there = onPage(place);
      const off = Math.hypot(there.x - here.x, there.y - here.y);
      if (off < least) [best, least] = [one, off];
    }
    return best;
  };
  const at = [point.x + length / 2, point.z, point.y] as const;
  return nearest(namedPlaces(plan), SNAP) ?? nearest(cornersAt(plan, at), EDGE) ?? placeOnSurface(plan, at);
}
