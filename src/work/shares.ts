/** Work that several threads share: how it is parted, and put together again. */
import type { Variant } from '../../geometry/search/member';
import type { Given, Member } from '../state/jobKinds';

/** Boards of a family that are worth a thread of their own: a cold one costs as much as so many (own choice). */
const BOARDS_EACH = 6;
/** More than so many threads gain little and take room (own choice). */
const MOST_THREADS = 4;

/** How many threads a family of so many boards to work out is shared by, on a machine of so many cores: the page keeps one of more than two. */
const threadsFor = (boards: number, cores: number): number =>
  Math.max(1, Math.min(MOST_THREADS, Math.max(2, cores - 1), Math.ceil(boards / BOARDS_EACH)));

/** What each thread is asked, and the whole from what each has made so far, in its order. */
export interface Shares {
  readonly asked: readonly Given<'family'>[];
  join(made: readonly (readonly Variant[])[]): Member[];
}

/** Deals the boards that are not worked out yet in turn, so that large and small ones go to each thread alike. */
export function familyShares({ design, boards }: Given<'family'>, cores: number): Shares {
  const due = boards.flatMap(({ variant }, i) => (variant ? [] : [i]));
  const n = threadsFor(due.length, cores);
  return {
    asked: Array.from({ length: n }, (_, k) => ({ design, boards: due.filter((_i, j) => j % n === k).map((i) => boards[i]) })),
    join(made) {
      const all = [...boards];
      due.forEach((i, j) => {
        const variant = made[j % n][Math.floor(j / n)];
        if (variant) all[i] = { ...boards[i], variant };
      });
      return all;
    },
  };
}
