/** What Lines shows, and why a change was not made. Nothing here changes the board. */
import { create } from 'zustand';
import type { FieldError } from '../../../geometry/design/fields';
import type { LineName } from '../../../geometry/shape/line';
import { useDesign } from '../../state/design';
import type { End, Edit } from './edits';

export type ToolName = 'points' | 'fairness' | 'compare' | 'offsets' | 'drawing' | 'hull' | 'tracing';

/** What is selected: a point by its number, or the lever of an end. */
export type Grip = { readonly index: number } | { readonly end: End };

/** Why an edit was not made, where it was tried. */
export interface Trouble {
  readonly line: LineName;
  readonly errors: readonly FieldError[];
  /** Where the drag was going, to be marked. */
  readonly wanted?: { readonly x: number; readonly v: number };
}

interface LinesState {
  /** The line whose points are listed. */
  readonly line: LineName;
  /** The line along the length that is drawn beside the main three; null for none. */
  readonly side: LineName | null;
  /** Only the listed line is drawn. */
  readonly alone: boolean;
  readonly selected: { readonly line: LineName; readonly grip: Grip } | null;
  readonly tool: ToolName;
  readonly comb: boolean;
  /** Length of the comb's teeth against the usual. */
  readonly combScale: number;
  readonly trouble: Trouble | null;
  open(line: LineName): void;
  select(line: LineName, grip: Grip | null): void;
  set(change: Partial<Pick<LinesState, 'alone' | 'tool' | 'comb' | 'combScale' | 'trouble'>>): void;
}

const MAIN: readonly LineName[] = ['outline', 'rocker', 'thickness'];

/** The view of Lines. */
export const useLines = create<LinesState>()((set) => ({
  line: 'outline',
  side: null,
  alone: false,
  selected: null,
  tool: 'points',
  comb: false,
  combScale: 1,
  trouble: null,
  open: (line) => set(({ side, selected }) => ({
    line, side: MAIN.includes(line) ? side : line, selected: selected?.line === line ? selected : null, trouble: null,
  })),
  select: (line, grip) => set(({ side }) => ({ line, side: MAIN.includes(line) ? side : line, selected: grip && { line, grip }, trouble: null })),
  set: (change) => set(change),
}));

/** Shows an edit without a step, or says what is wrong; then the board is unchanged. `held`: by a dragging hand, and where a point was going. */
export function sketchEdit(line: LineName, edit: Edit, held?: { readonly wanted?: Trouble['wanted'] }): boolean {
  if (edit.ok) {
    useDesign.getState().sketch(edit.design, held !== undefined);
    if (useLines.getState().trouble) useLines.setState({ trouble: null });
  } else useLines.setState({ trouble: { line, errors: edit.errors, wanted: held?.wanted } });
  return edit.ok;
}

/** Makes an edit one step of history, or says what is wrong; then the board is unchanged. */
export function commitEdit(line: LineName, edit: Edit): boolean {
  if (edit.ok) useDesign.getState().commit(edit.design);
  useLines.setState({ trouble: edit.ok ? null : { line, errors: edit.errors } });
  return edit.ok;
}

/** Takes an edit made in a field: its errors stay at the field. */
export function takeEdit(edit: Edit): readonly FieldError[] {
  if (!edit.ok) return edit.errors;
  useDesign.getState().commit(edit.design);
  useLines.setState({ trouble: null });
  return [];
}
