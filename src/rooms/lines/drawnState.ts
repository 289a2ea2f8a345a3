/** What the Drawing tool holds besides the drawing itself. */
import type { At } from '../../../geometry/curves/rational';
import type { FieldError } from '../../../geometry/errors';
import type { DrawnRole } from '../../../geometry/shape/drawingFit';
import type { TableUnit } from '../../../geometry/shape/lengths';

/** How large the drawing is: by its file, by a unit, or by the way between two places in it. */
export type DrawnScale = 'file' | 'pixel' | 'places' | TableUnit;

export interface DrawnState {
  readonly refused: FieldError | null;
  /** What each curve is, by its number; those that are nothing are left out. */
  readonly roles: Readonly<Record<number, DrawnRole>>;
  /** Where each section stands, mm from the tail. */
  readonly stations: Readonly<Record<number, number>>;
  /** The curve that is looked at. */
  readonly picked: number;
  /** Null until the maker has said: the file does not. */
  readonly scale: DrawnScale | null;
  /** The two known places in the drawing, and the way between them on the board, mm. */
  readonly places: readonly [At, At] | null;
  readonly apart: number | null;
  readonly noseHigh: boolean;
  readonly tolerance: number;
}
