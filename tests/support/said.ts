/** What the kernel says as text in millimetres, for tests that ask what is said and not how it is kept. */
import type { FieldError } from '../../geometry/errors';
import type { Said } from '../../geometry/said';
import { textOf } from '../../src/say/said';

export const mmText = (what: Said): string => textOf(what, 'mm');

/** A field error with each of its members as text; what else it carries stays. */
export const mmError = <T extends Pick<FieldError, 'value' | 'allowed' | 'message'>>(error: T) =>
  ({ ...error, value: mmText(error.value), allowed: mmText(error.allowed), message: mmText(error.message) });

/** What is wrong in a file, in a line each. */
export const errorLines = (errors: readonly FieldError[]): string =>
  errors.map(mmError).map(({ field, value, message }) => `${field} (${value}): ${message}`).join('; ');
