/** Ribs spaced evenly. */

/** Least distance of a rib from either end of the board, mm: the project's own choice. */
const LEAST_END = 90;

/**
 * Ribs at an even spacing about mid-length, as many as are at least half a spacing, and never less than
 * LEAST_END, from either end. Takes the board's length and the spacing, mm; returns distances from the tail,
 * rising; none where not even one fits.
 */
export function evenRibs(length: number, spacing: number): number[] {
  const end = Math.max(LEAST_END, spacing / 2);
  const room = length - 2 * end;
  if (!(room >= 0) || !(spacing > 0)) return [];
  const bays = Math.floor(room / spacing + 1e-9);
  const first = (length - bays * spacing) / 2;
  return Array.from({ length: bays + 1 }, (_, i) => Math.round((first + i * spacing) * 100) / 100);
}
