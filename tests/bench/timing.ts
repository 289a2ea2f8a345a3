/** Timing for the bench: many short rounds, turn and turn about, so that a busy machine does every contestant the same harm. */

/** Milliseconds of one call over the rounds. */
export interface Timing {
  readonly median: number;
  readonly p95: number;
  readonly least: number;
}

const at = (sorted: readonly number[], share: number): number => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))];

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
