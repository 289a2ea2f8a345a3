/** What is ticked off on the open board: steps of the work, side by side where each side has its own, their checks, and pieces cut. */
import type { WorkStep } from '../../geometry/parts/types';
import type { Side } from '../../geometry/types';
import { useDesign } from '../state/design';

/** Steps that are done side by side though the box stands on both: by their ids. */
const SIDED: ReadonlySet<string> = new Set(['clean-the-rib-ends', 'fair-the-box-to-the-deck', 'trim-the-bottom-skin', 'outer-skins', 'trim-and-fair-the-outer-skins', 'shape-the-rail-round']);
const SIDES: readonly Side[] = ['port', 'starboard'];

/** Whether each side has a step for itself. */
export const isSided = ({ id, port }: Pick<WorkStep, 'id' | 'port'>): boolean => !port || SIDED.has(id);

/** Whether a step is done on a side; a tick without a side, as older records have, is of both. */
export const isSideDone = ({ id }: Pick<WorkStep, 'id'>, side: Side, ticks: readonly string[] = []): boolean => ticks.includes(id) || ticks.includes(`${id}/${side}`);

/** Whether a step is done, on both sides where each has it. */
export const isDone = (step: Pick<WorkStep, 'id' | 'port'>, ticks: readonly string[] = []): boolean =>
  (isSided(step) ? SIDES.every((side) => isSideDone(step, side, ticks)) : ticks.includes(step.id));

/** Puts ticks in the record; the step that the work has reached by them, if it is farther than before. */
function put(next: (ticks: readonly string[]) => readonly string[], reached = 1): void {
  const { ticks: before = [], step: was = 1, ...rest } = useDesign.getState().record;
  const ticks = [...next(before)];
  const step = Math.max(was, reached);
  useDesign.getState().note({ ...rest, ...(ticks.length > 0 ? { ticks } : {}), ...(step > 1 ? { step } : {}) });
}

/** Ticks a check off, by its id, or takes its tick away. */
export function tick(id: string, done: boolean): void {
  put((before) => [...before.filter((one) => one !== id), ...(done ? [id] : [])]);
}

/** Ticks a step off on a side, or where it has no sides altogether, or takes that away; `of`: how many steps there are. */
export function tickStep(step: WorkStep, side: Side, done: boolean, of: number): void {
  const { id, index } = step;
  const own = SIDES.map((each) => `${id}/${each}`);
  put((before) => {
    const others = before.filter((one) => one !== id && !own.includes(one));
    if (!isSided(step)) return [...others, ...(done ? [id] : [])];
    return [...others, ...SIDES.filter((each) => (each === side ? done : isSideDone(step, each, before))).map((each) => `${id}/${each}`)];
  }, done ? Math.min(of, index + 1) : 1);
}

/** Ticks a piece of the cut list off as cut, by its id, or takes its tick away. */
export function tickCut(id: string, done: boolean): void {
  const { cut: before = [], ...rest } = useDesign.getState().record;
  const cut = [...before.filter((one) => one !== id), ...(done ? [id] : [])];
  useDesign.getState().note({ ...rest, ...(cut.length > 0 ? { cut } : {}) });
}
