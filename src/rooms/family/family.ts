/** A strip of boards of one family: what each is scaled to, and its plan. The open board is not changed. */
import { create } from 'zustand';
import type { Design } from '../../../geometry/design/schema';
import { BuildError, whatOf } from '../../../geometry/errors';
import type { Said } from '../../../geometry/said';
import { boardSize } from '../../../geometry/search/family';
import { withTrials } from '../../../geometry/wood/trials';
import { beginBoard } from '../../state/keep';
import { lengthWithUnit } from '../../say/units';
import { useDesign } from '../../state/design';
import type { Member } from '../../state/jobKinds';
import { type Job, jobNow } from '../../state/jobs';
import { propose } from '../../state/proposal';
import { useUnits } from '../../state/unit';
import { useView } from '../../state/view';
import { dropJob, runJob } from '../../work/jobs';

export type Size = Member['size'];
export type SizeName = keyof Size;
export const SIZE_NAMES: readonly SizeName[] = ['length', 'width', 'thickness'];

/** How the other sizes change with the one that is varied. */
export type Follow = 'alone' | 'width' | 'both';

interface FamilyState {
  /** The board the strip was laid out from, and its own sizes. */
  readonly of: Design | null;
  readonly own: Size | null;
  readonly vary: SizeName;
  /** Difference from one board to the next, mm. */
  readonly step: number;
  readonly count: number;
  readonly follow: Follow;
  /** Why there is no strip. */
  readonly failure: Said | null;
}

export const useFamily = create<FamilyState>()(() => ({
  of: null, own: null, vary: 'length', step: 100, count: 5, follow: 'alone', failure: null,
}));

/** Steps that suit each size, mm. */
export const STEPS: Readonly<Record<SizeName, number>> = { length: 100, width: 20, thickness: 4 };

/** The boards of the strip as far as they are worked out. */
export const boardsOf = ({ progress, given }: Job<'family'>): readonly Member[] => progress ?? given?.boards ?? [];

/** Works out every board of the strip that is not worked out yet. */
export function workOut(boards = boardsOf(jobNow('family'))): void {
  const { of: design } = useFamily.getState();
  if (design) void runJob('family', { design: withTrials(design, useDesign.getState().record.trials), boards });
}

/** The sizes of the strip's boards: the present one in the middle, others a step apart. */
function strip({ vary, step, count, follow }: Pick<FamilyState, 'vary' | 'step' | 'count' | 'follow'>, own: Size): Size[] {
  return Array.from({ length: count }, (_, i) => {
    const value = own[vary] + (i - (count - 1) / 2) * step;
    const ratio = value / own[vary];
    const along = (name: SizeName) => name !== vary && (follow === 'both' || (follow === 'width' && name === 'width'));
    return Object.fromEntries(SIZE_NAMES.map((name) => [name, name === vary ? value : along(name) ? own[name] * ratio : own[name]])) as unknown as Size;
  });
}

/** Lays the strip out again from the open board. */
export function layOut(change: Partial<Pick<FamilyState, 'vary' | 'step' | 'count' | 'follow'>> = {}): void {
  const { design } = useDesign.getState();
  try {
    const own = boardSize(design);
    const sizes = strip({ ...useFamily.getState(), ...change }, own);
    useFamily.setState({ ...change, of: design, own, failure: null });
    workOut(sizes.map((size) => ({ size, variant: null })));
  } catch (error) {
    if (!(error instanceof BuildError)) throw error;
    dropJob('family');
    useFamily.setState({ ...change, of: design, own: null, failure: whatOf(error) });
  }
}

/** Gives one board of the strip another size. */
export function resize(index: number, name: SizeName, value: number): void {
  workOut(boardsOf(jobNow('family')).map((board, i) => (i === index ? { size: { ...board.size, [name]: value }, variant: null } : board)));
}

const MOST_NAME = 80;
const rounded = (mm: number) => Math.round(mm * 10) / 10;

/** A name for a board of the family: a length in it is replaced, other sizes are added. */
export function familyName(name: string, own: Size, size: Size): string {
  const metres = `${(size.length / 1000).toFixed(2)} m`;
  const longer = Math.abs(size.length - own.length) > 0.05;
  const stem = !longer ? name : /\d+(?:\.\d+)? m\b/.test(name) ? name.replace(/\d+(?:\.\d+)? m\b/, metres) : `${name}, ${metres}`;
  const more = [
    ...(Math.abs(size.width - own.width) > 0.05 ? [`${rounded(size.width)} wide`] : []),
    ...(Math.abs(size.thickness - own.thickness) > 0.05 ? [`${rounded(size.thickness)} thick`] : []),
  ];
  const tail = more.length > 0 ? `, ${more.join(', ')}` : '';
  return `${stem.slice(0, MOST_NAME - tail.length)}${tail}`;
}

/** Begins a new board on the shelf from one of the strip; the open board stays there as it is. */
export async function beginVariant({ size, variant }: Member): Promise<void> {
  const { own } = useFamily.getState();
  if (!variant?.ok || !own) return;
  const { design } = variant;
  await beginBoard({ ...design, name: familyName(design.name, own, size) });
}

/** Proposes one of the strip in the open board's place, in Shape: its lines scaled, its name kept. */
export function proposeVariant({ size, variant }: Member): void {
  const { own } = useFamily.getState();
  if (!variant?.ok || !own) return;
  const { unit } = useUnits.getState();
  useView.getState().open(null);
  const told = SIZE_NAMES.filter((name) => Math.abs(size[name] - own[name]) > 0.05).map((name) => `${name} ${lengthWithUnit(size[name], unit)}`);
  propose(`Scaled: ${told.join(', ')}`, variant.design);
}
