/** A finding's figure against its limit. */
import { said, type Figure, type Said } from '../../geometry/said';
import type { Finding } from '../../geometry/types';

/** Decimals that tell a figure from its limit: a tenth of a millimetre, and finer only below one. */
const decimalsOf = (of: Figure['of'], ...values: readonly number[]): number =>
  of === 'mm' ? (values.some((v) => Math.abs(v) < 1) ? 2 : 1) : of === 'strain' ? 2 : of === 'rad' ? 1 : 0;

/** The figure of a finding, and its limit where there is one; undefined where it has neither. */
export function findingFigures({ figure, limit, unit: of = 'count' }: Pick<Finding, 'figure' | 'limit' | 'unit'>): Said | undefined {
  if (figure === undefined) return limit === undefined ? undefined : said('limit {limit}', { limit: { of, value: limit } });
  const own: Figure = { of, value: figure, decimals: decimalsOf(of, figure, limit ?? figure) };
  return limit === undefined ? own : said('{figure} (limit {limit})', { figure: own, limit: { of, value: limit } });
}
