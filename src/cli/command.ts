/** The plan command: arguments in, text out, an exit code back. Nothing here computes geometry. */
import { readFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { shorten } from '../../geometry/design/fields';
import { boardFileSchema } from '../../geometry/design/fileSchema';
import { planEach } from './many';
import { EXIT, type Output, type PlanArguments, planFile } from './planFile';

const HELP = `Plan the hollow box rail of a wooden board.

  npx railwright plan [options] BOARD.board.json...     (or: npm run plan -- [options] BOARD.board.json...)

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
  several files  are planned side by side, as many at once as there are cores; each is printed under its name, in the
               order given, or with --json as a line with its "file"; --out then holds a folder for each file, named after it
  --           what follows is a file name, even if it begins with a hyphen

Exit code 0 when the board can be planned, 2 when the file cannot be read as a board (each fault by field,
value and range), 3 when it reads but cannot be built (what and where), 1 when the command is used wrongly. Of
several files the first of 1, 2, 3 that any of them gave.

Try it:  npm run plan -- seeds/first-166.board.json
`;

const version = (): string => (JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8')) as { version: string }).version;

function readArguments(argv: readonly string[]): PlanArguments & { readonly help?: boolean; readonly schema?: boolean; readonly version?: boolean } {
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

/** Run the command on its arguments (without node and script). Returns the exit code; rejects only on a fault of ours. */
export async function planCommand(argv: readonly string[], output: Output): Promise<number> {
  const { out, err } = output;
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
  const { files } = args;
  if (files.length === 0) {
    err('Name a board file.\nSee: npm run plan -- --help\n');
    return EXIT.use;
  }
  return files.length === 1 ? planFile(args, files[0], output) : planEach(args, output);
}
