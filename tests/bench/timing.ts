/** Timing for the bench: many short rounds, turn and turn about, so that a busy machine does every contestant the same harm. */

/** Milliseconds of one call over the rounds. */
export interface Timing {
  readonly median: number;
  readonly p95: number;
  readonly least: number;
}

const at = (sorted: readonly number[], share: number): number => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))];

/** The value that a share (0 to 1) of a list lies below; its median where none is said. */
export const quantile = (list: readonly number[], share = 0.5): number => at([...list].sort((a, b) => a - b), share);

/** Slope of the least-squares line through points (x, y): what y gains a unit of x by its trend. */
export function slope(points: readonly { readonly x: number; readonly y: number }[]): number {
  const mean = (of: (p: { readonly x: number; readonly y: number }) => number) => points.reduce((sum, p) => sum + of(p), 0) / points.length;
  const [mx, my] = [mean((p) => p.x), mean((p) => p.y)];
  return mean((p) => (p.x - mx) * (p.y - my)) / mean((p) => (p.x - mx) ** 2);
}

/**
 * Time several works, each of which does `calls` calls. Each is warmed up for `warm` ms; then `rounds` rounds,
 * every work once a round. Returns milliseconds a call, in the order of the works.
 */
export function time(works: readonly (() => void)[], calls: number, rounds: number, warm = 300): Timing[] {
  for (const work of works) {
    const until = performance.now() + warm;
    do work();
    while (performance.now() < until);
  }
  const each = works.map((): number[] => []);
  for (let i = 0; i < rounds; i++) {
    works.forEach((work, k) => {
      const from = performance.now();
      work();
      each[k].push((performance.now() - from) / calls);
    });
  }
  return each.map((list) => {
    list.sort((a, b) => a - b);
    return { median: at(list, 0.5), p95: at(list, 0.95), least: list[0] };
  });
}
