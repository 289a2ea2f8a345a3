/** The papers' state: how they are wanted, which there are, and those made so far, until plan or wish change. */
import { create } from 'zustand';
import type { Parts } from '../../../geometry/parts/types';
import type { Plan } from '../../../geometry/types';
import { whatOf } from '../../../geometry/errors';
import type { Said } from '../../../geometry/said';
import type { Paper, PaperEntry, Trust } from '../../papers';
import { sharedBase } from '../../state/address';
import { today } from '../../say/today';
import { Stopped } from '../../work/thread';
import type { Unit } from '../../say/units';
import type { Fault, PaperWish, Progress } from '../../work/parts.worker';
import { benchThread } from '../../work/partsThread';

/** A finished paper and the address the page gives it. */
export interface Made {
  readonly paper: Paper;
  readonly url: string;
}

export interface Wanted {
  readonly paper: PaperWish['paper'];
  readonly date: string;
  readonly kerf: NonNullable<PaperWish['kerf']>;
  /** Absent: the unit the page shows. */
  readonly units?: Unit;
  /** Spacing of the bench sheet's steps, mm; absent: the papers' own. */
  readonly step?: number;
}

interface PapersState {
  readonly wanted: Wanted;
  readonly entries: readonly PaperEntry[];
  /** An option that cannot be used, or what went wrong. */
  readonly failure: Said | null;
  readonly progress: Progress | null;
  readonly made: ReadonlyMap<string, Made>;
  readonly faults: readonly Fault[];
}

export const usePapers = create<PapersState>()(() => ({
  wanted: { paper: 'A4', date: today(), kerf: 'compensated' }, entries: [], failure: null, progress: null, made: new Map(), faults: [],
}));

const thread = benchThread();

/** The job the made papers answer to: what they were made of, and how. */
interface Bench {
  readonly plan: Plan;
  readonly parts: Parts;
  readonly wish: PaperWish;
}

let bench: Bench | null = null;

function forget(): void {
  thread.stop();
  for (const { url } of usePapers.getState().made.values()) URL.revokeObjectURL(url);
  usePapers.setState({ made: new Map(), faults: [], progress: null, failure: null });
}

/** Lists the papers of a plan as they are wanted; papers made of anything else are put away. */
export function lookAtPapers(plan: Plan, parts: Parts, shown: Unit, trust: Trust): void {
  const { wanted } = usePapers.getState();
  const wish: PaperWish = { paper: wanted.paper, date: wanted.date, kerf: wanted.kerf, units: wanted.units ?? shown, step: wanted.step, address: sharedBase() };
  const same = bench && bench.plan === plan && bench.parts === parts && bench.wish.trust === trust
    && JSON.stringify({ ...bench.wish, trust: null }) === JSON.stringify({ ...wish, trust: null });
  if (same) return;
  forget();
  bench = { plan, parts, wish: { ...wish, trust } };
  thread.run('list', bench).then(
    (entries) => usePapers.setState({ entries }),
    (error: Error) => {
      if (!(error instanceof Stopped)) usePapers.setState({ failure: whatOf(error), entries: [] });
    },
  );
}

/** Makes papers by id, those made already left out. Resolves with what there is then. */
export async function makeThese(which: readonly string[]): Promise<ReadonlyMap<string, Made>> {
  const { made } = usePapers.getState();
  const missing = which.filter((id) => !made.has(id));
  if (missing.length > 0) await work(missing);
  return usePapers.getState().made;
}

/** Makes papers and packs them into one file, kept under the id 'chosen'. */
export async function packThese(which: readonly string[]): Promise<Made | undefined> {
  if (!bench) return undefined;
  const whole = usePapers.getState().entries.find(({ group }) => group === 'all');
  await work(which, (whole?.name ?? 'everything.zip').replace(/everything\.zip$/, 'chosen.zip'));
  return usePapers.getState().made.get('chosen');
}

async function work(which: readonly string[], zip?: string): Promise<void> {
  if (!bench) return;
  const { plan, parts, wish } = bench;
  usePapers.setState({ progress: { share: 0, title: '' }, failure: null, faults: [] });
  try {
    const { papers, faults } = await thread.run(
      'papers', { plan, parts, wish: { ...wish, which }, ...(zip === undefined ? {} : { zip }) },
      (progress) => usePapers.setState({ progress }),
    );
    const made = new Map(usePapers.getState().made);
    for (const paper of papers) {
      const before = made.get(paper.id);
      if (before) URL.revokeObjectURL(before.url);
      made.set(paper.id, { paper, url: URL.createObjectURL(new Blob([paper.bytes as BlobPart], { type: paper.mime })) });
    }
    usePapers.setState({ made, faults, progress: null });
  } catch (error) {
    if (error instanceof Stopped) usePapers.setState({ progress: null });
    else usePapers.setState({ progress: null, failure: whatOf(error) });
  }
}

/** Stops the papers being made; those made before stay. */
export function stopPapers(): void {
  thread.stop();
}

/** Hands a finished paper to the maker as a file. */
export function download({ paper, url }: Made): void {
  const link = document.createElement('a');
  link.href = url;
  link.download = paper.name;
  link.click();
}
