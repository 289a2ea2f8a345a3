/** A finding's figure against its limit. */
import { mm, range, said, type Figure, type Said } from '../../geometry/said';
import type { Finding, Plan } from '../../geometry/types';

/** Decimals that tell a figure from its limit: a tenth of a millimetre, and finer only below one. */
const decimalsOf = (of: Figure['of'], ...values: readonly number[]): number =>
  of === 'mm' ? (values.some((v) => Math.abs(v) < 1) ? 2 : 1) : of === 'strain' ? 2 : of === 'rad' ? 1 : 0;

/** The figure of a finding, and its limit where there is one; undefined where it has neither. */
export function findingFigures({ figure, limit, unit: of = 'count' }: Pick<Finding, 'figure' | 'limit' | 'unit'>): Said | undefined {
  if (figure === undefined) return limit === undefined ? undefined : said('limit {limit}', { limit: { of, value: limit } });
  const own: Figure = { of, value: figure, decimals: decimalsOf(of, figure, limit ?? figure) };
  return limit === undefined ? own : said('{figure} (limit {limit})', { figure: own, limit: { of, value: limit } });
}

/** A stretch shorter than this along the board is told as its one place, mm. */
const STRETCH = 1;

/** Where a finding is, as stations from the nearer end: its place, or the stretch it covers and where it is worst; undefined where it has no place. */
export function findingPlace({ hull }: Plan, { place, extent }: Pick<Finding, 'place' | 'extent'>): Said | undefined {
  if (!place) return undefined;
  const end = place.x <= hull.length / 2 ? 'tail' : 'nose';
  const from = (x: number) => (end === 'tail' ? x : hull.length - x);
  if (!extent || Math.abs(extent.until.x - extent.from.x) < STRETCH) return said('{x} from {end}', { x: mm(from(place.x), 0), end });
  const [a, b] = [extent.from.x, extent.until.x].map(from).sort((p, q) => p - q);
  const stretch = said('{stretch} from {end}', { stretch: range(a, b, 'mm', 0), end });
  return extent.even ? stretch : said('{stretch}, worst at {worst}', { stretch, worst: mm(from(place.x), 0) });
}
