/** A strip of boards of one family: what each is scaled to, and what it comes to. The board in hand is not touched. */
import { create } from 'zustand';
import type { Design } from '../../../geometry/design/schema';
import { BuildError, whatOf } from '../../../geometry/errors';
import { type BoardSize, boardSize } from '../../../geometry/search/family';
import type { Said } from '../../../geometry/said';
import { beginBoard } from '../../state/keep';
import { useDesign } from '../../state/design';
import { Stopped } from '../../work/thread';
import { studyThread } from '../../work/trials';
import type { Variant } from '../../work/trialJobs';

export type Size = Required<BoardSize>;
export type SizeName = keyof Size;
export const SIZE_NAMES: readonly SizeName[] = ['length', 'width', 'thickness'];

/** How the other sizes go along with the one that is varied. */
export type Follow = 'alone' | 'width' | 'both';

/** One board of the strip. */
export interface Member {
  readonly size: Size;
  /** Null while it is not worked out. */
  readonly variant: Variant | null;
}

interface FamilyState {
  /** The board the strip was laid out from, and its own sizes. */
  readonly of: Design | null;
  readonly own: Size | null;
  readonly vary: SizeName;
  /** Difference from one board to the next, mm. */
  readonly step: number;
  readonly count: number;
  readonly follow: Follow;
  readonly columns: readonly Member[];
  readonly working: boolean;
  readonly stopped: boolean;
  readonly failure: Said | null;
}

export const useFamily = create<FamilyState>()(() => ({
  of: null, own: null, vary: 'length', step: 100, count: 5, follow: 'alone', columns: [], working: false, stopped: false, failure: null,
}));

const thread = studyThread();

/** Steps that suit each size, mm. */
export const STEPS: Readonly<Record<SizeName, number>> = { length: 100, width: 20, thickness: 4 };

/** Works out every board of the strip that is not yet. */
export async function workOut(): Promise<void> {
  thread.stop();
  useFamily.setState({ working: true, stopped: false, failure: null });
  try {
    for (;;) {
      const { of: design, columns } = useFamily.getState();
      const next = columns.find(({ variant }) => variant === null);
      if (!design || !next) break;
      const variant = await thread.run('variant', { design, size: next.size });
      useFamily.setState((state) => ({ columns: state.columns.map((column) => (column === next ? { ...column, variant } : column)) }));
    }
    useFamily.setState({ working: false });
  } catch (error) {
    // A strip laid out anew has stopped this one, and says itself that it works.
    if (!(error instanceof Stopped)) useFamily.setState({ working: false, failure: whatOf(error) });
  }
}

export function stopWork(): void {
  thread.stop();
  useFamily.setState({ working: false, stopped: true });
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

/** Lays the strip out anew from the board in hand. */
export function layOut(change: Partial<Pick<FamilyState, 'vary' | 'step' | 'count' | 'follow'>> = {}): void {
  const { design } = useDesign.getState();
  try {
    const own = boardSize(design);
    const sizes = strip({ ...useFamily.getState(), ...change }, own);
    useFamily.setState({ ...change, of: design, own, columns: sizes.map((size) => ({ size, variant: null })) });
    void workOut();
  } catch (error) {
    if (!(error instanceof BuildError)) throw error;
    thread.stop();
    useFamily.setState({ ...change, of: design, own: null, columns: [], working: false, failure: whatOf(error) });
  }
}

/** Gives one board of the strip another size. */
export function resize(index: number, name: SizeName, value: number): void {
  useFamily.setState(({ columns }) => ({
    columns: columns.map((column, i) => (i === index ? { size: { ...column.size, [name]: value }, variant: null } : column)),
  }));
  void workOut();
}

const MOST_NAME = 80;
const rounded = (mm: number) => Math.round(mm * 10) / 10;

/** A name for a board of the family: a length that stands in it is renewed, other sizes are added. */
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

/** Begins a new board on the shelf from one of the strip; the board in hand stays there as it is. */
export async function takeVariant(column: Member): Promise<void> {
  const { own } = useFamily.getState();
  if (!column.variant?.ok || !own) return;
  const { design } = column.variant;
  await beginBoard({ ...design, name: familyName(design.name, own, column.size) });
}
