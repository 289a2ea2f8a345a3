/**
 * The papers of a plan, as files: lists, bench sheet, templates, solids. Pure: plan, parts and a day in, the same
 * bytes out every time, in a browser or in Node. The writers are loaded when they are first asked for.
 */
import type { Parts } from '../../geometry/parts/types';
import { layAgain } from '../../geometry/rail/query';
import { range, size } from '../../geometry/said';
import type { Plan } from '../../geometry/types';
import { checkBase } from '../link/boardLink';
import type { Unit } from '../say/units';
import { catalogue, type Entry } from './catalogue';
import { isForeign, type Typefaces } from './pdf/letters';
import type { Recipe } from './recipe';
import { onShelf } from './shelves';
import { PLAIN_SHOP, type Shop } from './shop';
import { checkPaper, type PaperSize } from './sizes';
import { PaperError, stampOf } from './stamp';
import type { Trust } from './trust';

export { PaperError } from './stamp';
export { onShelf, SHELVES } from './shelves';
export { PAPER_SIZES, type PaperSize } from './sizes';
export { builtSides, type Trust } from './trust';

/** A finished file. */
export interface Paper {
  readonly id: string;
  /** File name that every common file system takes, from the board's name, its revision and the paper. */
  readonly name: string;
  /** Its place in folder and zip: its shelf's folder, and its name. */
  readonly path: string;
  readonly title: string;
  readonly mime: string;
  readonly bytes: Uint8Array;
}

/** A paper that could be made. */
export interface PaperEntry {
  readonly id: string;
  readonly name: string;
  readonly title: string;
  readonly mime: string;
  readonly group: Entry['group'];
}

export interface PaperOptions {
  /** The day the papers carry, YYYY-MM-DD. */
  readonly date: string;
  readonly paper: PaperSize;
  readonly units: Unit;
  /** Papers wanted, by id; all but the zip of everything when absent. */
  readonly which?: readonly string[];
  /** Spacing of the bench sheet's steps, mm along the rail; 100, or four inches, when absent. */
  readonly step?: number;
  /** Lines of the laser's sheets: moved outward by half the kerf so that parts come out to size (the default), or as drawn. */
  readonly kerf?: 'compensated' | 'drawn';
  /** How the shop that cuts wants its files; absent: our own names and colours, curves as arcs. */
  readonly shop?: Shop;
  /** Address where the viewer is served: the bench sheet then carries codes that open the board on a phone. */
  readonly address?: string;
  /** Bands and readings to go into the bench sheet and the lists. */
  readonly trust?: Trust;
  /** Brings the files of the open typeface, asked for where a printed paper has letters that the standard fonts lack; absent, or where it fails: they are written out in plain letters, and the bench sheet says so. */
  readonly typefaces?: () => Promise<Typefaces>;
  /** Called before each paper. */
  readonly onProgress?: (progress: { readonly done: number; readonly total: number; readonly title: string }) => void;
  /** Called for a paper that failed; the others still come. Absent: the first failure is thrown. */
  readonly onFault?: (fault: { readonly id: string; readonly title: string; readonly error: unknown }) => void;
  readonly signal?: AbortSignal;
}

/** Id of the one zip that holds every other paper. */
export const EVERYTHING = 'everything';

const PDF = 'application/pdf';

const STEPS = { least: 10, most: 1000 };

/** How long papers are made at a stretch, ms: a turn of the event loop after each of a hundred small ones would cost a page as much as they do. */
const STRETCH = 40;

/** A turn of the event loop, so that a page can show progress and a cancel can arrive. */
const breathe = (): Promise<void> => new Promise((resolve) => {
  setTimeout(resolve, 0);
});

function recipeOf(plan: Plan, parts: Parts, options: Omit<PaperOptions, 'which'>): Recipe {
  const step = options.step ?? (options.units === 'mm' ? 100 : 4 * 25.4);
  if (!(step >= STEPS.least && step <= STEPS.most)) throw new PaperError('step', size(step), range(STEPS.least, STEPS.most));
  const base = checkBase(options.address ?? '');
  if (!base.ok) throw new PaperError('address', base.error.value, base.error.allowed);
  return {
    plan, parts, step, address: base.base, paper: checkPaper(options.paper), kerf: options.kerf ?? 'compensated', shop: options.shop ?? PLAIN_SHOP, stamp: stampOf(plan, options.date, options.units),
    trust: options.trust ?? {},
  };
}

/** Throws a PaperError where the options cannot be used; cheap, and needs no parts. */
export function checkOptions(plan: Plan, options: Omit<PaperOptions, 'which'>): void {
  recipeOf(plan, { bending: [], lies: [], blanks: [], frames: [], steps: [], findings: [] }, options);
}

/** The papers there are for this plan. Throws a PaperError for an option that cannot be used. */
export function listPapers(plan: Plan, parts: Parts, options: PaperOptions): PaperEntry[] {
  const entries = catalogue(recipeOf(plan, parts, options));
  return entries.map(({ id, name, title, mime, group }) => ({ id, name, title, mime, group }));
}

/** The recipe with the open typeface, where what the maker wrote needs it and it can be had. */
async function withTypefaces(recipe: Recipe, bring: PaperOptions['typefaces']): Promise<Recipe> {
  if (!bring || !isForeign(JSON.stringify([recipe.plan.design, recipe.trust.measured?.record]))) return recipe;
  const typefaces = await bring().catch(() => undefined);
  return { ...recipe, stamp: { ...recipe.stamp, ...(typefaces ? { typefaces } : {}) } };
}

/**
 * Make papers. Throws a PaperError for an option that cannot be used (or for an id that no paper has), and
 * the signal's reason when it is aborted.
 */
export async function makePapers(plan: Plan, parts: Parts, options: PaperOptions): Promise<Paper[]> {
  const { which, onProgress, onFault, signal } = options;
  const plain = recipeOf(plan, parts, options);
  const entries = catalogue(plain);
  const unknown = which?.find((id) => !entries.some((entry) => entry.id === id));
  if (unknown !== undefined) throw new PaperError('which', unknown, entries.map(({ id }) => id).join(', '));
  const wanted = entries.filter(({ id }) => (which ? which.includes(id) : id !== EVERYTHING));
  const whole = wanted.some(({ id }) => id === EVERYTHING);
  const made = new Map<string, Paper>();
  const list = whole ? entries : wanted;
  const plans = [plan, ...(options.trust?.measured?.sides ?? []).map(({ built }) => built.plan)];
  const recipe = list.some(({ mime }) => mime === PDF) ? await withTypefaces(plain, options.typefaces) : plain;
  let since = -Infinity;
  for (const [i, entry] of list.entries()) {
    signal?.throwIfAborted();
    onProgress?.({ done: i, total: list.length, title: entry.title });
    if (performance.now() - since > STRETCH) {
      await breathe();
      since = performance.now();
    }
    signal?.throwIfAborted();
    // Whatever was asked of these plans before: the same paper.
    for (const each of plans) layAgain(each);
    try {
      const { id, name, title, mime, group } = entry;
      made.set(id, { id, name, path: group === 'all' ? name : onShelf(group, name), title, mime, bytes: await entry.make(recipe, [...made.values()]) });
    } catch (error) {
      if (!onFault) throw error;
      onFault({ id: entry.id, title: entry.title, error });
    }
  }
  return wanted.flatMap(({ id }) => made.get(id) ?? []);
}
