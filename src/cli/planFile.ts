/** One board file of the plan command: read, planned, printed, and its papers written. */
import { resolve } from 'node:path';
import { shorten } from '../../geometry/design/fields';
import { BuildError, fieldErrorLine, whatOf } from '../../geometry/errors';
import { planParts } from '../../geometry/planParts';
import type { Parts } from '../../geometry/parts/types';
import { planBoard } from '../../geometry/plan';
import { allFindings } from '../../geometry/rail/decisions';
import { applyReadings } from '../../geometry/trust/asBuilt';
import { isMeasured, type Readings } from '../../geometry/trust/readings';
import { planTolerance } from '../../geometry/trust/tolerance';
import { list, said, type Said } from '../../geometry/said';
import type { Plan } from '../../geometry/types';
import { withTrials } from '../../geometry/wood/trials';
import type { Shop } from '../papers/shop';
import { builtSides, checkOptions, makePapers, onShelf, PAPER_SIZES, PaperError, type PaperOptions, type Trust } from '../papers';
import { today } from '../say/today';
import { textOf } from '../say/said';
import { UNITS } from '../say/units';
import { readBoardFile, readReadingsFile, readShopFile } from './boardFile';
import { fillFolder, FolderError } from './folder';
import { summaryText } from './summary';
import { typefaces } from './typefaces';

/** What the command says when it ends. */
export const EXIT = {
  done: 0,
  /** Wrong use of the command, or a folder that cannot be written. */
  use: 1,
  /** The design cannot be read: field, value, range. */
  unreadable: 2,
  /** The design reads but cannot be built: what and where. */
  unbuildable: 3,
} as const;

/** Where the command's text goes. */
export interface Output {
  out(text: string): void;
  err(text: string): void;
}

/** The options as they were written, and the files named: plain data, so that another thread can be given them. */
export interface PlanArguments {
  readonly files: readonly string[];
  readonly json?: boolean;
  readonly parts?: boolean;
  readonly out?: string;
  readonly date?: string;
  readonly paper?: string;
  readonly units?: string;
  readonly step?: string;
  readonly address?: string;
  readonly readings?: string;
  readonly shop?: string;
}

/** Where the caller stands: npm runs a script in the project's own folder, and says where it was called. */
const fromCaller = (path: string): string => (path === '-' ? path : resolve(process.env.npm_lifecycle_event === 'plan' ? (process.env.INIT_CWD ?? '') : '', path));

/** What is said, in millimetres, as all that this command prints. */
const mmText = (what: Said): string => textOf(what, 'mm');

/** A plan as JSON text of one line, with its file's name where there are several, with the findings of plan and parts in one list, each with its plain text: typed arrays as plain lists. */
const planJson = (plan: Plan, parts: Parts, withParts: boolean, file?: string): string =>
  `${JSON.stringify({
    file, ...plan, ...(withParts ? { parts } : {}), findings: allFindings(plan, parts).map((f) => ({ ...f, text: mmText(list([f.title, f.advice], '. ')) })),
  }, (_, value: unknown) => (value instanceof Float64Array ? [...value] : value))}\n`;

/** A shop's profile from a file; throws a PaperError for one that cannot be read. */
function shopOf(path: string): Shop {
  const read = readShopFile(fromCaller(path));
  if (!read.ok) throw new PaperError('--shop', shorten(path, 200), list(read.errors.map(fieldErrorLine), '; '));
  return read.shop;
}

/** How the papers are to be, from the command's words; throws a PaperError for one that cannot be used. */
function paperOptions(args: PlanArguments): PaperOptions {
  const pick = <T extends string>(field: string, value: string, allowed: readonly T[]): T => {
    const found = allowed.find((one) => one === value);
    if (!found) throw new PaperError(field, shorten(value, 40), allowed.join(', '));
    return found;
  };
  return {
    date: args.date ?? today(),
    paper: pick('--paper', args.paper ?? 'A4', PAPER_SIZES),
    units: pick('--units', args.units ?? 'mm', UNITS.map(({ id }) => id)),
    ...(args.address === undefined ? {} : { address: args.address }),
    ...(args.step === undefined ? {} : { step: Number(args.step) }),
    ...(args.shop === undefined ? {} : { shop: shopOf(args.shop) }),
  };
}

/** What was measured and tried on the board, if the caller has a file of it; throws a PaperError for one that cannot be read. */
function recordOf(path: string | undefined): Readings | undefined {
  if (path === undefined) return undefined;
  const read = readReadingsFile(fromCaller(path));
  if (!read.ok) throw new PaperError('--readings', shorten(path, 200), list(read.errors.map(fieldErrorLine), '; '));
  return read.readings;
}

/** The sides as measured; throws a PaperError for readings that cannot be used. */
function measuredOf(plan: Plan, record: Readings): NonNullable<Trust['measured']> {
  const sides = (['starboard', 'port'] as const).filter((side) => isMeasured(record, side));
  try {
    return { record, sides: sides.map((side) => ({ side, built: applyReadings(plan, record, side) })) };
  } catch (error) {
    if (!(error instanceof BuildError)) throw error;
    throw new PaperError('--readings', 'this file', said('readings that leave room for a box: {why}', { why: error.what }));
  }
}

/** Write every paper into a folder. Returns what could not be made, a line each. */
async function writePapers(plan: Plan, partsOf: () => Promise<Parts>, folder: string, options: PaperOptions): Promise<string[]> {
  const faults: string[] = [];
  const parts = await partsOf();
  const made = await makePapers(plan, parts, {
    ...options, typefaces,
    onFault: ({ title, error }) => faults.push(`${title}: ${mmText(whatOf(error))}`),
  });
  fillFolder(folder, [{ path: onShelf('bench', 'summary.txt'), bytes: summaryText(plan, parts) }, ...made]);
  return faults;
}

/** Plans the one board file that the arguments name; exit code, and text as the command prints it. */
export async function planFile(args: PlanArguments, path: string, { out, err }: Output): Promise<number> {
  const read = readBoardFile(fromCaller(path));
  if (!read.ok) {
    err(`${shorten(path, 200)} cannot be read as a board:\n${read.errors.map((e) => `  ${mmText(fieldErrorLine(e))}\n`).join('')}`);
    return EXIT.unreadable;
  }
  for (const note of read.notes) err(`Note: ${shorten(note, 300)}\n`);
  let measured: Trust['measured'];
  let plan: Plan;
  try {
    const record = recordOf(args.readings);
    plan = planBoard(withTrials(read.design, record?.trials));
    if (record) measured = measuredOf(plan, record);
  } catch (error) {
    if (error instanceof PaperError) {
      err(`${mmText(error.what)}\n`);
      return EXIT.use;
    }
    if (!(error instanceof BuildError)) throw error;
    err(`${shorten(path, 200)} reads, but cannot be built:\n  ${mmText(error.what)}\n`);
    return EXIT.unbuildable;
  }
  const faults: string[] = [];
  let parts: Parts | undefined;
  const partsOf = async () => (parts ??= await planParts(plan, { built: builtSides(measured?.sides) }));
  if (args.out !== undefined) {
    try {
      const options = paperOptions(args);
      checkOptions(plan, options);
      const trust = { bands: await planTolerance(plan, { method: 'estimate' }), measured };
      faults.push(...(await writePapers(plan, partsOf, fromCaller(args.out), { ...options, trust })));
    } catch (error) {
      if (!(error instanceof PaperError || error instanceof FolderError)) throw error;
      err(`${error instanceof PaperError ? mmText(error.what) : `Nothing was changed there. ${shorten(error.message, 300)}`}\n`);
      return EXIT.use;
    }
  }
  out(args.json ? planJson(plan, await partsOf(), args.parts === true, args.files.length > 1 ? path : undefined) : summaryText(plan, parts));
  const unbuildable = plan.findings.filter((f) => f.level === 'cannot');
  for (const fault of faults) err(`Not made: ${shorten(fault, 300)}\n`);
  if (unbuildable.length === 0) return faults.length === 0 ? EXIT.done : EXIT.unbuildable;
  const places = unbuildable.map((f) => `  ${mmText(f.title)}${f.place ? ` (${f.place.x.toFixed(1)} mm from the tail)` : ''}. ${mmText(f.advice)}\n`);
  err(`${shorten(path, 200)} reads, but cannot be built:\n${places.join('')}`);
  return EXIT.unbuildable;
}
