/** What the laser cuts: sheet by sheet, those of one thickness together, each part with its grain and its holes. */
import { limbersOf } from '../../geometry/frame/holes';
import type { FramePart } from '../../geometry/frame/types';
import type { Parts } from '../../geometry/parts/types';
import { list, mm, said, type Said } from '../../geometry/said';
import type { Plan } from '../../geometry/types';
import { angle, type Cell, count, length, type Table, text } from './tables';

/** How the face grain lies in every part, in words. */
export const grainWords = ({ design }: Plan): string => (design.frames.grain === 'either' ? 'either way' : 'along the part');

/** Where the limber holes of a part are: ribs by their distance off the centreline, the stringer's by station. */
function limberPlaces(part: FramePart): Said {
  const holes = limbersOf(part.shape.holes);
  return holes.length === 0 ? '' : list(holes.map(({ at: [p] }) => (part.kind === 'stringer' ? said('{x} from the tail', { x: mm(p, 0) })
    : said('{y} to {side}', { y: mm(Math.abs(p), 0), side: p > 0 ? 'starboard' : 'port' }))), ', ');
}

/** How many limber holes a part has, and how wide they are. */
function limberSizes(part: FramePart): { readonly many: number; readonly diameter: Cell } {
  const sizes = limbersOf(part.shape.holes).map(({ diameter }) => diameter);
  return { many: sizes.length, diameter: sizes.length === 0 ? undefined : Math.min(...sizes) };
}

/** A frame part and where it lies: the sheet's number, and its turn there. */
interface Lain {
  readonly part: FramePart;
  readonly sheet?: number;
  readonly turn?: number;
}

/** All parts, sheet by sheet; those on no sheet last. */
function lain({ frames, nest }: Parts): Lain[] {
  const placed = (nest?.sheets ?? []).flatMap((sheet, n) => sheet.parts.flatMap(({ id, turn }) => frames.filter((part) => part.id === id).map((part): Lain => ({ part, sheet: n + 1, turn }))));
  return [...placed, ...frames.filter((part) => !placed.some((one) => one.part === part)).map((part): Lain => ({ part }))];
}

/** The laser list. A part's turn is of its own length off the sheet's, along which the face grain runs. */
export function laserTable(plan: Plan, parts: Parts): Table {
  return {
    id: 'laser-list', title: 'Laser list: ribs and stringer',
    columns: [
      count('sheet'), length('thickness'), text('part'), text('kind'), length('x', 1, 'station from tail'), text('grain', 'face grain'), angle('turn', 1, 'its length off the grain'),
      count('lightening', 'lightening holes'), count('limber', 'limber holes'), length('diameter', 1, 'least diameter of a limber hole'), text('limber at', 'limber holes at'),
    ],
    rows: lain(parts).map(({ part, sheet, turn }): Cell[] => {
      const { many, diameter } = limberSizes(part);
      return [
        sheet, part.thickness, part.label, part.kind, part.rib === undefined ? undefined : plan.design.frames.ribs[part.rib], grainWords(plan), turn,
        part.shape.holes.length - many, many, diameter, limberPlaces(part),
      ];
    }),
  };
}

/** All limber holes in a sentence, part by part; nothing where there are none. */
export function limberWords({ frames }: Parts): Said[] {
  const found = frames.flatMap((part) => {
    const { many, diameter } = limberSizes(part);
    return many === 0 || typeof diameter !== 'number' ? [] : [said('{part}: {many} of {diameter} at least, {where}', { part: part.label, many, diameter: mm(diameter), where: limberPlaces(part) })];
  });
  return found.length === 0 ? [] : [said('Limber holes. {all}.', { all: list(found, '; ') })];
}
