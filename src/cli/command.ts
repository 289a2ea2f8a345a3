/** The plan command: arguments in, text out, an exit code back. Nothing here computes geometry. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { fieldErrorText, shorten } from '../../geometry/design/fields';
import { BuildError } from '../../geometry/errors';
import { planBoard } from '../../geometry/plan';
import type { Plan } from '../../geometry/types';
import { readBoardFile, systemText } from './boardFile';
import { railCsv } from './railCsv';
import { summaryText } from './summary';

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

const HELP = `Plan the hollow box rail of a wooden board.

  npm run plan -- [options] BOARD.board.json

Prints the rail summary: sizes, where each spacer row stops from tail and nose, the state of the box along
the run, and by rib the gap, rows, bevel, planing depth and cover; then the findings. Millimetres, degrees.

  --json       print the whole plan as JSON instead (mm and radians; null where there is no figure)
  --out DIR    also write the papers into DIR, made if missing: summary.txt, rail.csv (replaces those of an
               earlier plan there, and nothing else)
  --help       this text
  --           what follows is a file name, even if it begins with a hyphen

Ends with 0 when the board can be planned, 2 when the file cannot be read as a board (each fault by field,
value and range), 3 when it reads but cannot be built (what and where), 1 for a wrong use of this command.

Try it:  npm run plan -- seeds/round-tail-175.board.json
`;

/** The papers of a plan: file name and content. */
const papers = (plan: Plan): readonly (readonly [name: string, content: string])[] => [
  ['summary.txt', summaryText(plan)],
  ['rail.csv', railCsv(plan)],
];

/** A plan as JSON text: typed arrays as plain lists. */
export const planJson = (plan: Plan): string =>
  `${JSON.stringify(plan, (_, value: unknown) => (value instanceof Float64Array ? [...value] : value))}\n`;

function readArguments(argv: readonly string[]) {
  const { values, positionals } = parseArgs({
    args: [...argv],
    allowPositionals: true,
    options: { json: { type: 'boolean' }, out: { type: 'string' }, help: { type: 'boolean', short: 'h' } },
  });
  return { ...values, files: positionals };
}

/** Run the command on its arguments (without node and script). Returns the exit code; throws only on a fault of ours. */
export function planCommand(argv: readonly string[], { out, err }: Output): number {
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
  if (args.files.length !== 1) {
    err(`${args.files.length === 0 ? 'Name a board file.' : 'Name one board file at a time.'}\nSee: npm run plan -- --help\n`);
    return EXIT.use;
  }
  const [path] = args.files;
  const read = readBoardFile(path);
  if (!read.ok) {
    err(`${shorten(path, 200)} cannot be read as a board:\n${read.errors.map((e) => `  ${fieldErrorText(e)}\n`).join('')}`);
    return EXIT.unreadable;
  }
  for (const note of read.notes) err(`Note: ${shorten(note, 300)}\n`);
  let plan: Plan;
  try {
    plan = planBoard(read.design);
  } catch (error) {
    if (!(error instanceof BuildError)) throw error;
    err(`${shorten(path, 200)} reads, but cannot be built:\n  ${error.message}\n`);
    return EXIT.unbuildable;
  }
  if (args.out !== undefined) {
    try {
      mkdirSync(args.out, { recursive: true });
      for (const [name, content] of papers(plan)) writeFileSync(join(args.out, name), content);
    } catch (error) {
      err(`${shorten(args.out, 200)}: ${systemText(error)}\n`);
      return EXIT.use;
    }
  }
  out(args.json ? planJson(plan) : summaryText(plan));
  const stops = plan.findings.filter((f) => f.level === 'stop');
  if (stops.length === 0) return EXIT.done;
  const places = stops.map((f) => `  ${f.title}${f.place ? ` (${f.place.x.toFixed(1)} mm off the tail)` : ''}. ${f.advice}\n`);
  err(`${shorten(path, 200)} reads, but cannot be built:\n${places.join('')}`);
  return EXIT.unbuildable;
}
