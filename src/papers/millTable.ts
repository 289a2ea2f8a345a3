/** What is ripped and planed to size before anything is cut to length, and from which plank. */
import { stripName } from '../../geometry/parts/stripWords';
import { plankRoom, PLANK_EDGES } from '../../geometry/parts/planks';
import type { MillPlan, MillStrip, Parts } from '../../geometry/parts/types';
import { list, mm, said, section, size, type Said } from '../../geometry/said';
import type { Plan } from '../../geometry/types';
import { cutStockLengths } from './listTables';
import { type Cell, count, length, type Table, text } from './tables';

/** The mill's plan with the cutting plan that it is of. */
const milled = ({ joints, milling }: Parts): Pick<MillPlan, 'strips' | 'planks'> => (joints && milling ? milling : { strips: [], planks: [] });

/** Items that are alike by a key, in the order they come. */
export function grouped<T>(items: readonly T[], keyOf: (item: T) => string): T[][] {
  const groups = new Map<string, T[]>();
  for (const item of items) groups.set(keyOf(item), [...(groups.get(keyOf(item)) ?? []), item]);
  return [...groups.values()];
}

/** Whole numbers in order, those that follow one another as what lies between: 1 to 3, 5. */
export function runs(numbers: readonly number[]): string {
  const sorted = [...numbers].sort((a, b) => a - b);
  const out: [number, number][] = [];
  for (const n of sorted) {
    const last = out.at(-1);
    if (last && n === last[1] + 1) last[1] = n;
    else out.push([n, n]);
  }
  return out.map(([a, b]) => (a === b ? `${a}` : b === a + 1 ? `${a}, ${b}` : `${a} to ${b}`)).join(', ');
}

/** What strips are for: their names, and the stock lengths of the cut list that they become; parts of a split piece by its number. */
function purpose(parts: Parts, strips: readonly MillStrip[]): Said {
  const { pieces = [] } = parts.joints ?? {};
  const numbers = new Map(cutStockLengths(parts).flatMap(({ pieces: cut }) => cut.map(({ piece, number }) => [piece, number] as const)));
  const whole = strips.filter(({ parts: n }) => n === undefined);
  const names = [...new Set(whole.flatMap((strip) => strip.pieces.map((i) => stripName(pieces[i].strip))))];
  const split = grouped(strips.filter(({ parts: n }) => n !== undefined), ({ pieces: [i] }) => String(i));
  return list([
    ...(whole.length > 0 ? [said('{names}: stock length {numbers}', { names: names.join(', '), numbers: runs([...new Set(whole.map(({ stockLength }) => stockLength + 1))]) })] : []),
    ...split.map(([{ pieces: [i], parts: n = 1 }]) => said('{name}, piece {number}, split in {n}', { name: stripName(pieces[i].strip), number: numbers.get(pieces[i]) ?? 0, n })),
  ], '; ');
}

type Line = [many: number, width: number, thickness: number, long: number, what: Said, ...Cell[]];

/** Strips ripped from the design's planks, plank by plank as the fence is set. */
function fromPlanks({ design: { timber } }: Plan, parts: Parts): Line[] {
  const { strips, planks } = milled(parts);
  return planks.flatMap(({ type, slices }, n) => {
    const plank = timber.planks?.[type];
    if (!plank) return [];
    const rips = slices.flatMap(({ fence, rips: here }, slice) => here.map(({ second, strips: own }) => ({ fence, slice, second, own: own.map((i) => strips[i]) })));
    return grouped(rips, ({ fence, second, own: [{ width, thickness }] }) => [fence, second, width, thickness].join('|')).map((alike): Line => {
      const [{ fence, second, own: [{ width, thickness }] }] = alike;
      const long = Math.max(...alike.map(({ own }) => own.reduce((sum, strip) => sum + strip.length, 0) + (own.length - 1) * timber.sawKerf));
      return [
        alike.length, width, thickness, long, purpose(parts, alike.flatMap(({ own }) => own)), n + 1, section(plank.thickness, plank.width, plank.length),
        fence, slices.filter((slice) => slice.fence === fence).length, second,
      ];
    });
  });
}

/** Strips that no plank of the design gives: by section and length. */
function fromStock(parts: Parts): Line[] {
  const { strips, planks } = milled(parts);
  const ripped = new Set(planks.flatMap(({ slices }) => slices.flatMap(({ rips }) => rips.flatMap((rip) => rip.strips))));
  const rest = strips.filter((_, i) => !ripped.has(i));
  return grouped(rest, ({ width, thickness, length: long, parts: n }) => [width, thickness, long.toFixed(1), n].join('|')).map((alike): Line =>
    [alike.length, alike[0].width, alike[0].thickness, alike[0].length, purpose(parts, alike)]);
}

/** Blanks that are planed to thickness: those of skins in layers, a block's layers, blocks for fittings. */
function planed({ blanks, blocks = [], fittings }: Parts): Line[] {
  const skins = blanks.flatMap((blank) => blank.pieces).flatMap((piece): Line[] => {
    const n = piece.layers;
    return n === 1 ? [] : [[
      n * piece.count, piece.boxWidth, piece.thickness, piece.boxLength, said('Outer skin {layer}, piece {number}, in {n} layers', { layer: piece.layer, number: piece.index + 1, n }),
    ]];
  });
  return [
    ...skins,
    ...blocks.map(({ end, length: along, width, layers: { count: layers, thickness, pieces } }): Line => [
      layers * (pieces?.count ?? 1), pieces?.board ?? width, thickness, pieces?.chord ?? along,
      said(pieces ? 'Block at the {end}: {pieces} pieces to each of {layers} layers' : 'Block at the {end}: {layers} layers', { end, pieces: pieces?.count ?? 1, layers }),
    ]),
    ...(fittings?.blocks ?? []).map((block): Line => [1, block.width, block.depth, block.length, said('{name}, block under the {under}', { name: block.name, under: block.under })]),
  ];
}

/** The mill list: how many of which section, what for, and where there are planks, from which and how. */
export function millTable(plan: Plan, parts: Parts): Table {
  return {
    id: 'mill-list', title: 'Mill list: strips to rip, layers to plane',
    columns: [
      count('strips', 'how many'), length('width', 2), length('thickness', 2), length('length', 1, 'length, at least'), text('for'),
      count('plank', 'from plank no.'), text('size', 'plank'), length('fence', 2, 'fence at, off the plank\'s width'), count('slices', 'slices at that fence'), length('second', 2, 'then rip each to'),
    ],
    rows: [...fromPlanks(plan, parts), ...fromStock(parts), ...planed(parts)],
  };
}

/** What is said with the mill list. */
export function millNotes(plan: Plan, { milling }: Parts): Said[] {
  const { sawKerf, planks: kinds } = plan.design.timber;
  if (!milling || milling.strips.length === 0) return [];
  const of = (field: 'whole' | 'kerf' | 'left'): Said => ({ of: 'mm3', value: milling.planks.reduce((sum, { volume }) => sum + volume[field], 0) });
  const rooms = (kinds ?? []).filter((_, type) => milling.planks.some((plank) => plank.type === type)).map((kind) => size(plankRoom(kind).width));
  return [
    milling.planks.length === 0 ? 'Bought ready, or ripped from what is at hand: with planks entered this list says from which, and how.' : list([
      said('Shoot the edges ({edges} in all, which leaves {rooms}), set the fence and rip the slices off the width; then rip each slice, as thick as the plank, to what is told; what is over it is an offcut.', {
        edges: mm(PLANK_EDGES, 0), rooms: list(rooms, ', '),
      }),
      said('Of {whole} of plank the saw takes {dust} and {left} is left over.', { whole: of('whole'), dust: of('kerf'), left: of('left') }),
      milling.optimal ? 'Proved: no choice of planks costs less.' : 'Not proved to be the cheapest.',
    ]),
    said('Saw kerf {kerf}: where faces are planed after the saw, enter what both take.', { kerf: size(sawKerf) }),
    'Mark each strip as it comes off the saw. Riving knife, guard, push sticks; mask and extraction for the dust.',
  ];
}
