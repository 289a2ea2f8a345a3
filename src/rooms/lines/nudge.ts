/** Moving, adding and removing by keys. A key held down is one step of history, made when it is released. */
import type { FieldError } from '../../../geometry/errors';
import { size as given } from '../../../geometry/said';
import { isOutline, type LineName } from '../../../geometry/shape/line';
import { shownDesign, useDesign } from '../../state/design';
import type { Unit } from '../../say/units';
import { addPoint, type End, endAngle, movePoint, presentAngle, removePoint, setCorner, setEndAngle, stationMoves, widestSpace } from './edits';
import { lengthSteps, pointsOf, valueSteps } from './kinds';
import { commitEdit, type Grip, sketchEdit, useLines } from './lines';

/** Steps in which an end turns, degrees. */
const TURN = { plain: 1, coarse: 5, fine: 0.1 } as const;

const sizeOf = (event: KeyboardEvent): 'plain' | 'coarse' | 'fine' => (event.altKey ? 'fine' : event.shiftKey ? 'coarse' : 'plain');

/** Name by which a handle is found on the page. */
export const handleId = (line: LineName, grip: Grip): string => `${line}-${'end' in grip ? grip.end : grip.index}`;

/** Selects a handle that is drawn and gives it the focus. */
export function selectHandle(line: LineName, grip: Grip): void {
  useLines.getState().select(line, grip);
  document.querySelector<SVGElement>(`[data-handle="${handleId(line, grip)}"]`)?.focus();
}

/** The same once it is drawn, for a point that is new. */
export function focusHandle(line: LineName, grip: Grip): void {
  useLines.getState().select(line, grip);
  requestAnimationFrame(() => selectHandle(line, grip));
}

/** Adds a point on the curve nearest to a place and selects it. */
export function addAt(line: LineName, x: number, v: number): void {
  const { edit, index } = addPoint(useDesign.getState().design, line, x, v);
  if (commitEdit(line, edit)) focusHandle(line, { index });
}

/** Adds a point in the middle of the space after a point (before the last one), or of the widest space. */
function addBetween(line: LineName, after?: number): void {
  const curve = useDesign.getState().design.lines[line];
  const { points } = curve;
  const i = after === undefined ? undefined : Math.min(after, points.length - 2);
  const x = i === undefined ? widestSpace(curve) : (points[i].x + points[i + 1].x) / 2;
  const v = i === undefined || !isOutline(curve) ? 0 : (curve.points[i].y + curve.points[i + 1].y) / 2;
  addAt(line, x, v);
}

/** Removes a point and selects its neighbour. */
export function removeAt(line: LineName, index: number): void {
  if (commitEdit(line, removePoint(useDesign.getState().design, line, index))) focusHandle(line, { index: index - 1 });
}

const ARROWS: Readonly<Record<string, readonly [number, number]>> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

function turn(line: LineName, end: End, by: number): void {
  const design = shownDesign(useDesign.getState());
  const now = endAngle(design.lines[line], end) ?? presentAngle(design.lines[line], end);
  sketchEdit(line, setEndAngle(design, line, end, Math.round((now + by) * 10) / 10));
}

function move(line: LineName, index: number, [right, up]: readonly [number, number], event: KeyboardEvent, unit: Unit): void {
  const design = shownDesign(useDesign.getState());
  const curve = design.lines[line];
  const size = sizeOf(event);
  const p = pointsOf(curve)[index];
  if (right !== 0 && !stationMoves(curve, index)) {
    const error: FieldError = { field: `lines.${line}.points[${index}].x`, value: index === 0 ? 'the tail' : 'the nose', allowed: index === 0 ? given(0) : 'the outline’s end', message: index === 0 ? 'stays at station 0' : 'moves on the outline only' };
    useLines.getState().set({ trouble: { line, errors: [error] } });
    return;
  }
  sketchEdit(line, movePoint(design, line, index, p.x + right * lengthSteps(unit)[size], p.v + up * valueSteps(line, unit)[size]));
}

/** A key pressed on a handle. Returns whether it did anything. */
export function handleKey(line: LineName, grip: Grip, event: KeyboardEvent, unit: Unit): boolean {
  if (event.ctrlKey || event.metaKey) return false;
  const arrow = ARROWS[event.key];
  if (arrow && 'end' in grip) turn(line, grip.end, (arrow[0] + arrow[1]) * TURN[sizeOf(event)]);
  else if (arrow && 'index' in grip) move(line, grip.index, arrow, event, unit);
  else if (event.key === 'Delete' || event.key === 'Backspace') {
    if ('index' in grip) removeAt(line, grip.index);
    else commitEdit(line, setEndAngle(useDesign.getState().design, line, grip.end, undefined));
  } else if ('index' in grip && (event.key === 'Insert' || event.key === '+')) addBetween(line, grip.index);
  else if ('index' in grip && event.key.toLowerCase() === 'c') {
    const { design } = useDesign.getState();
    const { points } = design.lines[line];
    if (grip.index > 0 && grip.index < points.length - 1) commitEdit(line, setCorner(design, line, grip.index, !points[grip.index].corner));
  } else if (event.key === 'Escape') {
    if (useDesign.getState().draft) useDesign.getState().dropDraft();
    else if (event.currentTarget instanceof SVGElement) event.currentTarget.blur();
    useLines.getState().select(line, null);
  } else return false;
  return true;
}
