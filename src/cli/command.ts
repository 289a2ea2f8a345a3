/** The plan command: arguments in, text out, an exit code back. Nothing here computes geometry. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { shorten } from '../../geometry/design/fields';
import { boardFileSchema } from '../../geometry/design/fileSchema';
import { BuildError, fieldErrorLine, whatOf } from '../../geometry/errors';
import { planParts } from '../../geometry/planParts';
import type { Parts } from '../../geometry/parts/types';
import { planBoard } from '../../geometry/plan';
import { allFindings } from '../../geometry/rail/findings';
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

/** What the command says when it ends. */
const EXIT = {
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

const HELP = `Plan the hollow box rail of a wooden board.

  npx railwright plan [options] BOARD.board.json     (or: npm run plan -- [options] BOARD.board.json)

Prints the rail summary: sizes, where each spacer row stops from tail and nose, the state of the box along
the rail, and by rib the gap, rows, bevel, planing depth and cover; then the findings. Millimetres, degrees.

  --json       print the whole plan as JSON instead (mm and radians; null where a figure is missing), with all
               findings in one list, worst first: those of the rail and of the parts, which take some seconds
  --parts      with --json: the parts for the bench too, as its member "parts"
  --out DIR    also write the papers into DIR, made if missing, in a folder for each who gets them: bench
               (summary, bench sheet, drawings by offsets), laser (SVG, DXF), print-shop (full-size PDF, wall
               sheet), lists (CSV), solids (assembly as glTF, STEP and 3MF, each as STL); all or none; replaces and
               removes those of an earlier plan there, and nothing else
  --date DAY   day the papers carry, YYYY-MM-DD; today if left out. The same board and day give identical files
  --paper SIZE A4 (the default), A3, Letter or roll, for bench sheet and templates
  --units UNIT mm (the default), in (decimal inches) or in16 (inches to the sixteenth), for lists and bench sheet
  --readings F readings (*.readings.json): trial bends in it become the batch's limits, and with caliper readings
               bench sheet and lists also give the board as built
  --shop F     how the shop that cuts wants SVG and DXF (*.shop.json, saved by the page): names and colours of the layers,
               which it gets, curves as arcs within a tolerance or as short lines
  --step MM    spacing of the bench sheet's steps along the rail; 100, or four inches, if left out
  --address URL  where the viewer is served: the bench sheet then carries codes that open the board on a phone
  --schema     the JSON Schema of a board file: each field with what it is, its unit and range
  --version    the version of this program
  --help       this text
  -            as the file's name: read the board from standard input
  --           what follows is a file name, even if it begins with a hyphen

Exit code 0 when the board can be planned, 2 when the file cannot be read as a board (each fault by field,
value and range), 3 when it reads but cannot be built (what and where), 1 when the command is used wrongly.

Try it:  npm run plan -- seeds/first-166.board.json
`;

/** Where the caller stands: npm runs a script in the project's own folder, and says where it was called. */
const fromCaller = (path: string): string => (path === '-' ? path : resolve(process.env.npm_lifecycle_event === 'plan' ? (process.env.INIT_CWD ?? '') : '', path));

const version = (): string => (JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8')) as { version: string }).version;

/** What is said, in millimetres, as all that this command prints. */
const mmText = (what: Said): string => textOf(what, 'mm');

/** A plan as JSON text, with the findings of plan and parts in one list, each with its plain text: typed arrays as plain lists. */
const planJson = (plan: Plan, parts: Parts, withParts: boolean): string =>
  `${JSON.stringify({
    ...plan, ...(withParts ? { parts } : {}), findings: allFindings(plan, parts).map((f) => ({ ...f, text: mmText(list([f.title, f.advice], '. ')) })),
  }, (_, value: unknown) => (value instanceof Float64Array ? [...value] : value))}\n`;

function readArguments(argv: readonly string[]) {
  const { values, positionals } = parseArgs({
    args: [...argv],
    allowPositionals: true,
    options: {
      json: { type: 'boolean' }, parts: { type: 'boolean' }, version: { type: 'boolean' }, schema: { type: 'boolean' }, out: { type: 'string' }, help: { type: 'boolean', short: 'h' },
      date: { type: 'string' }, paper: { type: 'string' }, units: { type: 'string' }, step: { type: 'string' }, address: { type: 'string' }, readings: { type: 'string' }, shop: { type: 'string' },
    },
  });
  // The program's one job may be named: "railwright plan FILE".
  return { ...values, files: positionals[0] === 'plan' ? positionals.slice(1) : positionals };
}

/** A shop's profile from a file; throws a PaperError for one that cannot be read. */
function shopOf(path: string): Shop {
  const read = readShopFile(fromCaller(path));
  if (!read.ok) throw new PaperError('--shop', shorten(path, 200), list(read.errors.map(fieldErrorLine), '; '));
  return read.shop;
}

/** How the papers are to be, from the command's words; throws a PaperError for one that cannot be used. */
function paperOptions(args: ReturnType<typeof readArguments>): PaperOptions {
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
    ...options,
    onFault: ({ title, error }) => faults.push(`${title}: ${mmText(whatOf(error))}`),
  });
  fillFolder(folder, [{ path: onShelf('bench', 'summary.txt'), bytes: summaryText(plan, parts) }, ...made]);
  return faults;
}

/** Run the command on its arguments (without node and script). Returns the exit code; rejects only on a fault of ours. */
export async function planCommand(argv: readonly string[], { out, err }: Output): Promise<number> {
  let args: ReturnType<typeof readArguments>;
  try {
    args = readArguments(argv);
  } catch (error) {
    if (!(error instanceof TypeError)) throw error;
    err(`${shorten(error.message, 300)}\nSee: npm run plan -- --help\n`);
    return EXIT.use;
  }
  if (args.help) {
    out(HELP);
    return EXIT.done;
  }
  if (args.schema) {
    out(`${JSON.stringify(boardFileSchema(), null, 2)}\n`);
    return EXIT.done;
  }
  if (args.version) {
    out(`${version()}\n`);
    return EXIT.done;
  }
  if (args.parts && !args.json) {
    err('--parts goes with --json.\nSee: npm run plan -- --help\n');
    return EXIT.use;
  }
  if (args.files.length !== 1) {
    err(`${args.files.length === 0 ? 'Name a board file.' : 'Name one board file at a time.'}\nSee: npm run plan -- --help\n`);
    return EXIT.use;
  }
  const [path] = args.files;
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
  out(args.json ? planJson(plan, await partsOf(), args.parts === true) : summaryText(plan, parts));
  const unbuildable = plan.findings.filter((f) => f.level === 'cannot');
  for (const fault of faults) err(`Not made: ${shorten(fault, 300)}\n`);
  if (unbuildable.length === 0) return faults.length === 0 ? EXIT.done : EXIT.unbuildable;
  const places = unbuildable.map((f) => `  ${mmText(f.title)}${f.place ? ` (${f.place.x.toFixed(1)} mm from the tail)` : ''}. ${mmText(f.advice)}\n`);
  err(`${shorten(path, 200)} reads, but cannot be built:\n${places.join('')}`);
  return EXIT.unbuildable;
}
