/** Every paper by id: its name, its kind of file, and the writer that makes it. */
import { textOf } from '../say/said';
import { once, stacked, type Drawing } from './drawing';
import { airTable, blankTable, blockTable, cutTable, findingTable, fittingTable, jointTable, lieTable, shopTable, skinPlankTable, totalTable, workTable } from './listTables';
import { bendTable, eventTable, ribTable, stepTable, stopTable } from './railTables';
import { laserTable } from './laserTable';
import { millTable } from './millTable';
import type { Recipe } from './recipe';
import type { Shelf } from './shelves';
import { solidIds } from './solids';
import { fileStem } from './stamp';
import type { Table } from './tables';
import { trustTables } from './trust';
import { panelDrawings, sheetDrawings, templateSets, testDrawings, type TemplateSet } from './templates';

export interface Entry {
  readonly id: string;
  readonly name: string;
  readonly title: string;
  readonly mime: string;
  /** Who gets it; `all` is the one zip of all shelves. */
  readonly group: Shelf | 'all';
  /** The file's bytes; `others` are the papers made before it, by their places in the zip. */
  readonly make: (recipe: Recipe, others: readonly { readonly path: string; readonly bytes: Uint8Array }[]) => Promise<Uint8Array>;
}

const MIME = {
  pdf: 'application/pdf', svg: 'image/svg+xml', dxf: 'image/vnd.dxf', csv: 'text/csv;charset=utf-8',
  glb: 'model/gltf-binary', stl: 'model/stl', step: 'model/step', '3mf': 'model/3mf', zip: 'application/zip',
} as const;

/** Width that SVG and DXF lay parts out in, where a part is no wider itself, mm. */
const LAY_WIDTH = 1200;

type Make = Entry['make'];

/** Tables that stay as drawn where a side was measured: what a reading changes of them stands in the bench sheet and in the lists as built. */
const AS_DRAWN: ReadonlySet<string> = new Set(['ribs', 'steps', 'stops', 'bending', 'strip-lies', 'skin-blanks']);

/** All tables that have a row. */
function tablesOf({ plan, parts, step, trust, stamp }: Pick<Recipe, 'plan' | 'parts' | 'step' | 'trust' | 'stamp'>): Table[] {
  return [
    ribTable(plan, parts), stepTable(plan, parts, step), stopTable(plan), eventTable(plan, parts), bendTable(plan, parts), lieTable(parts),
    millTable(plan, parts), jointTable(plan, parts), cutTable(parts), blankTable(plan, parts), skinPlankTable(parts), laserTable(plan, parts), blockTable(parts), fittingTable(parts), airTable(parts), shopTable(plan, parts),
    workTable(parts), totalTable(plan, parts), findingTable(plan, parts, stamp.unit), ...trustTables(plan, trust),
  ].filter((table) => table.rows.length > 0);
}

const svg = (drawing: () => Drawing): Make => async ({ stamp, shop }) => (await import('./svg')).writeSvg(drawing(), stamp, shop);
const dxf = (drawing: () => Drawing): Make => async ({ stamp, shop }) => (await import('./dxf')).writeDxf(drawing(), stamp, shop);
const csv = (table: Table): Make => async ({ stamp }) => (await import('./csv')).writeCsv(table, stamp);

/** A set on paper: full size, or by offsets where it is long and the paper is not off a roll. */
const printed = ({ id, title, sketches, onPaper, byOffsets }: TemplateSet): Make => async ({ paper, stamp }) => (byOffsets === undefined || paper === 'roll'
  ? (await import('./pdf/tiled')).writeTiledPdf(id, onPaper ? `${title}: ${onPaper.say}` : title, (onPaper?.sketches ?? sketches)(), paper, stamp)
  : (await import('./pdf/offsets')).writeOffsetsPdf(title, byOffsets, sketches(), paper, stamp));

/** A template set laid out on one endless sheet. */
function laidOut({ id, title, sketches }: TemplateSet): Drawing {
  const list = sketches();
  return stacked(id, title, list, Math.max(LAY_WIDTH, ...list.map((sketch) => sketch.width)));
}

/** Names of the solids. Where they cannot be meshed, one name stands for all, and making it says why. */
function solidsHere({ plan, parts }: Recipe): { id: string; title: string }[] {
  try {
    return solidIds(plan, parts.frames);
  } catch {
    return [{ id: 'solids', title: 'Solids' }];
  }
}

/** All papers of a plan, in the order in which a builder needs them. */
export function catalogue(recipe: Recipe): Entry[] {
  const { plan, parts, paper, stamp } = recipe;
  const stem = fileStem(stamp);
  const entry = (id: string, ext: keyof typeof MIME, group: Entry['group'], title: string, make: Make): Entry =>
    ({ id, name: `${stem}-${id.replace(/[./]/g, '-').replace(/-(svg|dxf|pdf|csv|stl|step|3mf|glb|zip)$/, '')}.${ext}`, title, mime: MIME[ext], group, make });
  /** For a machine, twice from one drawing. */
  const cut = (id: string, title: string, draw: () => Drawing): Entry[] => {
    const drawn = once(draw);
    return [entry(`${id}.svg`, 'svg', 'laser', title, svg(drawn)), entry(`${id}.dxf`, 'dxf', 'laser', title, dxf(drawn))];
  };
  const sized = paper === 'roll' ? 'one roll sheet' : paper;
  return [
    entry('bench-sheet', 'pdf', 'bench', 'Bench sheet', async (whole) =>
      (await import('./pdf/bench/benchSheet')).writeBenchSheet(whole)),
    entry('wall-sheet', 'pdf', 'print-shop', 'Wall sheet, A3', async (whole) => (await import('./pdf/wallSheet')).writeWallSheet(whole)),
    ...templateSets(parts).flatMap((set) => [
      // By offsets it is drawn out at the bench; full size it is printed.
      ...(set.rollOnly && paper !== 'roll' ? [] : [set.byOffsets === undefined || paper === 'roll'
        ? entry(`${set.id}.pdf`, 'pdf', 'print-shop', `${set.title}, full size on ${sized}`, printed(set))
        : entry(`${set.id}.pdf`, 'pdf', 'bench', `${set.title}, by offsets on ${sized}`, printed(set))]),
      ...cut(set.id, `${set.title}, full size`, () => laidOut(set)),
    ]),
    ...[...(parts.frames.length > 0 ? testDrawings(recipe) : []), ...panelDrawings(parts), ...sheetDrawings(recipe)].flatMap(({ id, title, draw }) => cut(id, title, draw)),
    ...tablesOf(recipe).map((table) => {
      const made = entry(`${table.id}.csv`, 'csv', 'lists', textOf(table.title, stamp.unit), csv(table));
      const drawn = recipe.trust.measured !== undefined && AS_DRAWN.has(table.id);
      // A list bears no heading: its file's name says so too.
      return drawn ? { ...made, title: `${made.title}, as drawn`, name: made.name.replace(/\.csv$/, '-as-drawn.csv') } : made;
    }),
    entry('assembly', 'glb', 'solids', 'The whole board, glued up', async () => {
      const [{ assembly }, { writeGlb }] = await Promise.all([import('./solids'), import('./glb')]);
      return writeGlb(assembly(plan), stamp);
    }),
    entry('assembly.3mf', '3mf', 'solids', 'Every part in its place, to print', async () => {
      const [{ assembly }, { writeThreeMf }] = await Promise.all([import('./solids'), import('./threeMf')]);
      return writeThreeMf(assembly(plan), 'Parts', stamp);
    }),
    entry('finished-hull.step', 'step', 'solids', 'Finished hull, its own surfaces', async () => {
      const [{ hullBrep }, { writeStep }] = await Promise.all([import('../../geometry/solid/brep/hull'), import('./step')]);
      return writeStep([hullBrep(plan.hull)], 'Finished hull', stamp);
    }),
    entry('assembly.step', 'step', 'solids', 'Every part in its place, bounded by curves', async () => {
      const [{ boardBreps }, { writeStep }] = await Promise.all([import('../../geometry/solid/brep/board'), import('./step')]);
      const { solids, short } = boardBreps(plan);
      return writeStep(solids, short.length === 0 ? 'Parts' : `Parts, without ${short.join(', ')}`, stamp);
    }),
    ...solidsHere(recipe).map(({ id, title }) => entry(`${id}.stl`, 'stl', 'solids', title, async () => {
      const { solidOf, writeStl } = await import('./solids');
      return writeStl(solidOf(plan, parts.frames, id), stamp);
    })),
    entry('everything', 'zip', 'all', 'Every paper in one file', async (_, others) => (await import('./zip')).writeZip(others, stamp.date)),
  ];
}
