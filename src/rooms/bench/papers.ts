/** The papers' state: how they are wanted, and those made so far, until plan or choices change. */
import { create } from 'zustand';
import type { Parts } from '../../../geometry/parts/types';
import type { Plan } from '../../../geometry/types';
import type { Paper, PaperEntry, Trust } from '../../papers';
import { sharedBase } from '../../state/address';
import type { Given, PaperWish } from '../../state/jobKinds';
import { useShop } from '../../state/shop';
import { jobNow } from '../../state/jobs';
import { today } from '../../say/today';
import type { Unit } from '../../say/units';
import { dropJob, runJob, sameGiven } from '../../work/jobs';

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
  /** Papers made of what the list was made of, by id. */
  readonly made: ReadonlyMap<string, Made>;
}

export const usePapers = create<PapersState>()(() => ({ wanted: { paper: 'A4', date: today(), kerf: 'compensated' }, made: new Map() }));

let listing: Promise<readonly PaperEntry[] | null> = Promise.resolve(null);

/** Lists the papers of a plan as they are wanted; papers made of anything else are dropped. Resolves with the list; null where there is none. */
export function lookAtPapers(plan: Plan, parts: Parts, shown: Unit, trust: Trust): Promise<readonly PaperEntry[] | null> {
  const { wanted, made } = usePapers.getState();
  const given = { plan, parts, trust, ...wanted, units: wanted.units ?? shown, address: sharedBase(), shop: useShop.getState().shop };
  const before = jobNow('paperList').given;
  if (before && sameGiven<'paperList'>(before, given)) return listing;
  for (const { url } of made.values()) URL.revokeObjectURL(url);
  usePapers.setState({ made: new Map() });
  dropJob('papers');
  listing = runJob('paperList', given);
  return listing;
}

/** Makes papers by id, those made already left out. Resolves with what there is then. */
export async function makeThese(which: readonly string[]): Promise<ReadonlyMap<string, Made>> {
  const { made } = usePapers.getState();
  const missing = which.filter((id) => !made.has(id));
  if (missing.length > 0) await work({ which: missing });
  return usePapers.getState().made;
}

/** Makes papers and packs them into one file named so, kept under the id 'chosen'. */
export async function packThese(which: readonly string[], name: 'chosen' | 'laser'): Promise<Made | undefined> {
  const whole = jobNow('paperList').result?.find(({ group }) => group === 'all');
  await work({ which, zip: (whole?.name ?? 'everything.zip').replace(/everything\.zip$/, `${name}.zip`) });
  return usePapers.getState().made.get('chosen');
}

/** Makes those again that were stopped or failed. */
export function makeAgain(): void {
  const { given } = jobNow('papers');
  if (given) void work(given);
}

async function work({ which, zip }: Pick<Given<'papers'>, 'which' | 'zip'>): Promise<void> {
  const basis = jobNow('paperList').given;
  const result = basis && (await runJob('papers', { ...basis, which, zip }));
  if (!result) return;
  const made = new Map(usePapers.getState().made);
  for (const paper of result.papers) {
    const before = made.get(paper.id);
    if (before) URL.revokeObjectURL(before.url);
    made.set(paper.id, { paper, url: URL.createObjectURL(new Blob([paper.bytes as BlobPart], { type: paper.mime })) });
  }
  usePapers.setState({ made });
}

/** Hands a finished paper to the maker as a file. */
export function download({ paper, url }: Made): void {
  const link = document.createElement('a');
  link.href = url;
  link.download = paper.name;
  link.click();
}
