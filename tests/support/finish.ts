/** What a search comes to, its steps passed over. */
export function finish<Result>(steps: Generator<unknown, Result>): Result {
  for (let next = steps.next(); ; next = steps.next()) if (next.done) return next.value;
}
