/** What goes wrong, said so that a person can fix it. */
import { logText, said, type Said } from './said';

/** One thing wrong: which field, what it holds, what it may hold, and what to do. */
export interface FieldError {
  /** Where, as a reader would write it: rail.stripWidth, lines.rocker.points[2].x. Empty: the file as a whole. */
  readonly field: string;
  /** What the field holds, shortened. */
  readonly value: Said;
  /** What the field may hold. */
  readonly allowed: Said;
  readonly message: Said;
}

/** An error that says what is wrong; its message is the same as bare text, for a log. */
export class SaidError extends Error {
  constructor(readonly what: Said) {
    super(logText(what));
  }
}

/** What an error says, of whatever kind it is. */
export const whatOf = (error: unknown): Said => (error instanceof SaidError ? error.what : error instanceof Error ? error.message : String(error));

/** A field error in one line. */
export const fieldErrorLine = ({ field, value, allowed, message }: FieldError): Said =>
  said('{field}: {message} (given {value}; allowed {allowed})', { field: field === '' ? 'board file' : field, message, value, allowed });

/**
 * A design that reads but cannot be turned into a hull or a rail at all (a line that folds back, an outline
 * too narrow for any box). Carries what a person needs: the field, the value given and what is allowed.
 */
export class BuildError extends SaidError {
  constructor(readonly fault: FieldError) {
    super(fieldErrorLine(fault));
    this.name = 'BuildError';
  }
}
