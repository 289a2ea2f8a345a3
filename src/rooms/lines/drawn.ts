/** A drawing from a file on the page: what its curves are said to be, its size, and the board fitted to them. */
import { create } from 'zustand';
import { shorten } from '../../../geometry/design/fields';
import { boxOf, DRAWING_LIMIT, PIXEL, type DrawnPlan } from '../../../geometry/shape/drawing';
import type { DrawnRole } from '../../../geometry/shape/drawingFit';
import { endsAlong, isUpright } from '../../../geometry/shape/drawingLines';
import { UNIT_MM } from '../../../geometry/shape/lengths';
import { FIT_TOLERANCE } from '../../../geometry/shape/offsetsFit';
import { useDesign } from '../../state/design';
import { jobNow, useJob } from '../../state/jobs';
import { discardProposal, propose } from '../../state/proposal';
import { dropJob, endJob, runJob } from '../../work/jobs';
import { forgetDrawing, keepDrawn, keepSaid, keptDrawing } from './drawnKept';
import type { DrawnScale, DrawnState } from './drawnState';
import { useLines } from './lines';

export const DRAWING_TITLE = 'Lines fitted to the drawing';
const FRESH = { refused: null, roles: {}, stations: {}, picked: 0, scale: null, places: null, apart: null } as const;

export const useDrawn = create<DrawnState>()(() => ({ ...FRESH, noseHigh: true, tolerance: FIT_TOLERANCE }));

useDrawn.subscribe((state) => {
  if (drawingNow()) keepSaid(state);
});

/** Time without a change after which the board is fitted, ms. */
const PAUSE = 350;

/** The drawing there is. */
const drawingNow = (): DrawnPlan | null => {
  const { result } = jobNow('drawing');
  return result?.ok ? result.drawing : null;
};

export function useDrawing(): DrawnPlan | null {
  const { result } = useJob('drawing');
  return result?.ok ? result.drawing : null;
}

/** Millimetres of the drawing's unit, or null where that is not known yet. */
export function millimetresOf({ scale, places, apart }: Pick<DrawnState, 'scale' | 'places' | 'apart'>, drawing: DrawnPlan): number | null {
  if (scale === null) return null;
  if (scale === 'file') return drawing.unit ?? null;
  if (scale === 'pixel') return PIXEL;
  if (scale !== 'places') return UNIT_MM[scale];
  const way = places ? Math.hypot(places[1].x - places[0].x, places[1].y - places[0].y) : 0;
  return apart !== null && way > 0 ? apart / way : null;
}

/** The curve by which the drawing's lie is told: the outline, else whatever is a line, else the largest. */
function leading(drawing: DrawnPlan, roles: DrawnState['roles']): number {
  const said = Object.keys(roles).map(Number);
  const outline = said.find((i) => roles[i] === 'outline') ?? said.find((i) => roles[i] !== 'section');
  if (outline !== undefined) return outline;
  const size = (i: number) => {
    const { low, high } = boxOf([drawing.curves[i]]);
    return Math.max(high.x - low.x, high.y - low.y);
  };
  return drawing.curves.reduce((best, _, i) => (size(i) > size(best) ? i : best), 0);
}

/** Whether the board is drawn up the page. */
export const isUprightHere = (drawing: DrawnPlan, roles: DrawnState['roles']): boolean => isUpright(drawing.curves[leading(drawing, roles)]);

/** Fits the present board to what is said of the drawing. */
async function fitNow(quiet: number): Promise<void> {
  const drawing = drawingNow();
  const state = useDrawn.getState();
  const mm = drawing && millimetresOf(state, drawing);
  const choices = drawing ? Object.entries(state.roles).map(([i, role]) => ({ curve: drawing.curves[Number(i)], role, ...(role === 'section' ? { station: state.stations[Number(i)] } : {}) })) : [];
  if (!drawing || mm === null || choices.length === 0) {
    dropJob('drawingFit');
    return;
  }
  const { design } = useDesign.getState();
  const result = await runJob('drawingFit', { design, choices, lie: { mm, noseHigh: state.noseHigh }, tolerance: state.tolerance }, { quiet });
  if (!result?.ok) return;
  // The board was changed meanwhile: the fit is made again, on the board as it is now.
  if (design !== useDesign.getState().design) await fitNow(0);
  else propose(DRAWING_TITLE, result.design);
}

export const fitDrawnAgain = (): void => void fitNow(0);

/** Changes what is said of the drawing; the board is fitted after a pause. */
export function changeDrawn(change: Partial<Omit<DrawnState, 'refused' | 'picked'>>): void {
  discardProposal();
  useDrawn.setState(change);
  void fitNow(PAUSE);
}

/** Says what a curve is; what was that line before is it no more, but for sections, of which there may be several: each begins midway. */
export function sayRole(curve: number, role: DrawnRole | null): void {
  const { roles, stations } = useDrawn.getState();
  const left = Object.entries(roles).filter(([i, was]) => Number(i) !== curve && (was !== role || role === 'section'));
  const length = useDesign.getState().design.lines.outline.points.at(-1)?.x ?? 0;
  changeDrawn({
    roles: Object.fromEntries(role === null ? left : [...left, [curve, role]]),
    ...(role === 'section' && stations[curve] === undefined ? { stations: { ...stations, [curve]: length / 2 } } : {}),
  });
}

export const pickCurve = (picked: number): void => useDrawn.setState({ picked });

/** Chooses how large the drawing is; two known places begin at the ends of its leading curve. */
export function chooseScale(scale: DrawnScale): void {
  const drawing = drawingNow();
  const { places, roles } = useDrawn.getState();
  changeDrawn({ scale, places: places ?? (drawing && scale === 'places' ? endsAlong(drawing.curves[leading(drawing, roles)]) : null) });
}

/** Ends reading and fitting, as when the tool is closed. */
export function stopDrawing(): void {
  endJob('drawing');
  endJob('drawingFit');
}

/** Whether a file is a drawing by its kind or name. */
export const isDrawing = (file: File): boolean => file.type === 'image/svg+xml' || /\.(svg|dxf)$/i.test(file.name);

const read = (file: File) => runJob('drawing', { name: shorten(file.name, 60), file, kind: file.type === 'image/svg+xml' || /\.svg$/i.test(file.name) ? 'svg' : 'dxf' });

/** Takes up the drawing that this tab had before it was loaded again, with what was said of it. */
export async function takeUpDrawing(): Promise<void> {
  if (jobNow('drawing').status !== 'idle' || useDrawn.getState().refused) return;
  const kept = keptDrawing();
  const result = kept && await read(kept.file);
  if (!result?.ok || !kept?.said) return;
  const { said } = kept;
  const there = (i: number) => i < result.drawing.curves.length;
  useDrawn.setState({ ...said, roles: Object.fromEntries(Object.entries(said.roles).filter(([i]) => there(Number(i)))), picked: there(said.picked) ? said.picked : 0 });
  await fitNow(0);
}

/** Takes a drawing from a file; the board stays as it is until a curve is said to be one of its lines. */
export async function loadDrawing(file: File): Promise<void> {
  useLines.getState().set({ tool: 'drawing' });
  discardProposal();
  dropJob('drawingFit');
  dropJob('drawing');
  forgetDrawing();
  const name = shorten(file.name, 60);
  const refuse = (value: string, allowed: string, message: string) => useDrawn.setState({ ...FRESH, refused: { field: name, value, allowed, message } });
  if (!isDrawing(file)) return refuse(file.type || 'a file of another kind', 'SVG or DXF', 'is not a drawing that can be read');
  if (file.size > 4 * DRAWING_LIMIT) return refuse(`${Math.round(file.size / 1e6)} megabytes`, `at most ${DRAWING_LIMIT / 1e6} million characters`, 'the file is far too long for a drawing of a board');
  useDrawn.setState(FRESH);
  const result = await read(file);
  if (!result?.ok) return;
  useDrawn.setState({ picked: leading(result.drawing, {}), scale: result.drawing.unit === undefined ? null : 'file' });
  await keepDrawn(file);
}
