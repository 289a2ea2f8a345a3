/**
 * A design that reads but cannot be turned into a hull or a rail at all (a line that folds back, an outline
 * too narrow for any box). Carries what a person needs: the field, the value given and what is allowed.
 */
export class BuildError extends Error {
  constructor(
    readonly field: string,
    readonly value: string,
    readonly allowed: string,
    readonly reason: string,
  ) {
    super(`${field}: ${reason} (given ${value}; allowed ${allowed})`);
    this.name = 'BuildError';
  }
}
