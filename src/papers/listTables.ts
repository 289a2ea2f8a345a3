/** Lists for the saw and the shop, the order of work and the totals. */
import { speciesById } from '../../geometry/design/timber';
import { stripName } from '../../geometry/parts/stripWords';
import type { StockLength, Parts, Piece } from '../../geometry/parts/types';
import { allFindings } from '../../geometry/rail/decisions';
import { type Dimension, list, mm, said, section, size, type Said } from '../../geometry/said';
import type { Finding, Plan } from '../../geometry/types';
import { fixed, type Unit } from '../say/units';
import { SEVERITY_WORDS } from '../say/words';
import { angle, type Cell, cellFigure, type Column, columnUnit, count, force, length, mass, MASS, money, RUN, RUN_NOSE, share, stress, type Table, text, VOLUME, X } from './tables';

/** What a stock length is, in words: its section comes from the rail's sizes. */
export function stockName({ stock }: Pick<StockLength, 'stock'>): string {
  return stock === 'strips' ? 'flat strip' : 'spacer';
}

/** A piece's place on its stock length, in the order it is cut. */
export interface CutPiece {
  readonly piece: Piece;
  /** Number of the piece on all papers, 1 first, by stock length and place. */
  readonly number: number;
}

/** Stock lengths with their pieces in order, numbered through. */
export function cutStockLengths(parts: Parts): { stock: StockLength; number: number; pieces: CutPiece[] }[] {
  let number = 0;
  return (parts.joints?.stockLengths ?? []).map((stock, i) => ({
    stock, number: i + 1,
    pieces: stock.pieces.flatMap((at): CutPiece[] => {
      const piece = parts.joints?.pieces[at];
      if (!piece) return [];
      number += 1;
      return [{ piece, number }];
    }),
  }));
}

/** How good the joints and cuts are proved to be, in a sentence; '' where there is no cutting plan. */
export function proofOf(parts: Parts): Said {
  const proof = parts.joints?.proof;
  if (!proof) return '';
  const { pieces, pieceBound, stock, stockBound, limit } = proof;
  if (proof.optimal) return said('{pieces} pieces. Proved: no cutting plan has fewer pieces, and none with as few takes less stock.', { pieces });
  return said('{pieces} pieces (none can have fewer than {pieceBound}); stock used {stock}, at least {stockBound} is needed. Not proved to be the best{why}.', {
    pieces, pieceBound, stock: mm(stock, 0), stockBound: mm(stockBound, 0), why: limit === undefined ? '' : `: ${limit}`,
  });
}

/** Strips and spacers to cut to length, one stock length after another. */
export function cutTable(parts: Parts): Table {
  return {
    id: 'cut-list', title: 'Cut list: strips and spacers',
    columns: [
      count('piece'), text('strip'), text('side'), count('part from tail'), length('length to cut'), RUN, length('to'),
      count('split in'), length('split over, from an end', 0), count('stock length no.'), text('stock'), length('thickness'), length('stock length', 0), length('left over', 0),
    ],
    rows: cutStockLengths(parts).flatMap(({ stock, number, pieces }) => pieces.map(({ piece, number: n }) => [
      n, stripName(piece.strip), piece.side, piece.index, piece.length, piece.s0, piece.s1, piece.partings?.[0].n, piece.partings?.[0].length, number, stockName(stock), stock.thickness, stock.length, stock.waste,
    ])),
  };
}

/** Joints, tail to nose. */
export function jointTable(plan: Plan, parts: Parts): Table {
  const joints = [...(parts.joints?.joints ?? [])].sort((a, b) => a.s - b.s || (a.side < b.side ? -1 : 1));
  return {
    id: 'joints', title: 'Joints',
    columns: [
      text('strip'), text('side'), text('joint'), X, RUN, RUN_NOSE,
      count('rib', 'on the tab of rib'), length('scarf', 1, 'scarf length'), length('bearing', 1, 'butt bears on, each side'),
    ],
    rows: joints.map((joint) => [
      stripName(joint.strip), joint.side, joint.kind, joint.x, joint.s, plan.rail.face.length - joint.s,
      joint.rib === undefined ? undefined : joint.rib + 1, joint.scarf, joint.bearing,
    ]),
  };
}

/** Skin blanks, piece by piece: each is cut twice, the second turned over for port, and as often as it has layers. */
export function blankTable(plan: Plan, parts: Parts): Table {
  return {
    id: 'skin-blanks', title: 'Skin blanks',
    columns: [
      count('layer'), count('piece from tail'), count('how many'), length('length'), length('width'), length('from, on the skin blank'),
      length('to, on the skin blank'), text('joint to the next'), length('joint along the rail from tail'), length('board length', 0), length('board width', 0),
      length('whole layer is long'), length('longer than the box face'), length('thickness', 2), count('in layers'), length('layers over', 0, 'bent in layers over'),
    ],
    rows: parts.blanks.flatMap((blank) => blank.pieces.map((piece): Cell[] => {
      const board = piece.board === undefined ? undefined : plan.design.timber.boards[piece.board];
      return [
        blank.layer, piece.index + 1, piece.count * piece.layers, piece.boxLength, piece.boxWidth, piece.u0, piece.u1, piece.joint?.kind ?? 'none', piece.joint?.s,
        board?.length, board?.width, blank.length, blank.gain,
        piece.thickness, piece.layers === 1 ? undefined : piece.layers, piece.partings?.[0].length,
      ];
    })),
  };
}

/** What deck and bottom skin are glued up from: each piece, where it lies in the skin, and the plank it is cut from. */
export function skinPlankTable({ skins }: Parts): Table {
  return {
    id: 'skin-planks', title: 'Deck and bottom skin: planks',
    columns: [
      count('piece'), text('skin'), count('strake', 'plank from port'), length('length', 1, 'length to cut'), length('width', 1, 'width once shot'), length('thickness'),
      length('from', 1, 'from the tail, along the skin'), length('to'), length('joint', 1, 'port joint, off the centreline to starboard'), count('plank', 'cut from plank no.'), length('left', 0, 'left over of that plank'),
    ],
    rows: (skins?.panels ?? []).flatMap((panel) => panel.pieces.map((piece): Cell[] => [
      piece.number, panel.panel, piece.strake, piece.length, panel.wide, panel.thickness, piece.u0, piece.u1, piece.v0, piece.plank, skins?.planks[piece.plank - 1].left,
    ])),
  };
}

/** End blocks: what each is glued up from, and how large it comes out. */
export function blockTable({ blocks = [] }: Parts): Table {
  return {
    id: 'end-blocks', title: 'End blocks',
    columns: [
      text('end'), text('shape'), length('inner face', 1, 'inner face, station from tail'), length('length'), length('width'), length('stack', 1, 'depth along the rocker'), count('layers'), length('layer', 1, 'thickness of a layer'),
      count('pieces', 'pieces to a layer'), length('chord', 1, 'length of a piece'), length('board', 1, 'board for a piece, width'), VOLUME, text('glued when set'),
    ],
    rows: blocks.map(({ end, shape, inner, length: along, width, layers, volume, glued }): Cell[] => [
      end, shape, inner, along, width, layers.depth, layers.count, layers.thickness, layers.pieces?.count, layers.pieces?.chord, layers.pieces?.board, volume, { of: 'mm2', value: glued },
    ]),
  };
}

/** Vent and fitting blocks, and where they go. */
export function fittingTable({ fittings }: Parts): Table {
  const place = (x: number, y: number): Cell[] => [x, Math.abs(y), Math.abs(y) < 0.5 ? 'centreline' : y > 0 ? 'starboard' : 'port'];
  return {
    id: 'fittings', title: 'Vent and fitting blocks',
    columns: [text('what'), X, length('y', 1, 'off the centreline'), text('side'), text('under'), length('length'), length('width'), length('depth')],
    rows: fittings ? [
      [fittings.vent.proposed ? 'Vent, proposed' : 'Vent', ...place(fittings.vent.x, fittings.vent.y), fittings.vent.through, fittings.vent.diameter, fittings.vent.diameter, undefined],
      ...fittings.blocks.map((block): Cell[] => [block.name, ...place(block.x, block.y), block.whole ? said('{under}, from skin to skin', { under: block.under }) : block.under, block.length, block.width, block.depth]),
    ] : [],
  };
}

/** The rooms between the ribs, and whether their air gets to the vent. */
export function airTable({ fittings }: Parts): Table {
  return {
    id: 'bays', title: 'Bays and their air',
    columns: [count('bay', 'bay from tail'), text('side'), length('from', 1, 'from, station from tail'), length('to', 1, 'to, station from tail'), text('air')],
    rows: (fittings?.air ?? []).map(({ bay, side, from, until, vented }): Cell[] => [bay, side, from, until, vented ? 'gets to the vent' : 'shut in']),
  };
}

/** One line to buy. */
interface ShopLine {
  readonly item: Said;
  readonly needed: number;
  readonly onHand: number | undefined;
  readonly price: number;
}

/** What the plan uses, by kind of stock; on hand is taken first. */
function shopLines(plan: Plan, parts: Parts): ShopLine[] {
  const { design } = plan;
  const { rail, timber } = design;
  const wood = (id: string): string => speciesById(design, id).name;
  const bought = (parts.joints?.stockLengths ?? []).filter(({ ripped }) => !ripped);
  const ripped = (timber.planks ?? []).flatMap(({ length: long, width, thickness, onHand, price }, type): ShopLine[] => {
    const needed = (parts.milling?.planks ?? []).filter((plank) => plank.type === type).length;
    return needed === 0 ? [] : [{
      item: said('Plank {size}, {wood}, for strips and spacers', { size: section(long, width, thickness), wood: wood(timber.rail) }), needed, onHand, price,
    }];
  });
  const lengths = (['strips', 'spacers'] as const).flatMap((stock) => timber[stock].flatMap((type, i): ShopLine[] => {
    let left = type.onHand;
    // Bars of one length and of different thickness are different things to buy; what is on hand serves the first.
    return [...new Set(bought.filter((one) => one.stock === stock).map(({ thickness }) => thickness))].flatMap((thickness) => {
      const needed = bought.filter((one) => one.stock === stock && one.type === i && one.thickness === thickness).length;
      const onHand = left;
      if (left !== undefined) left -= Math.min(left, needed);
      const [what, width] = stock === 'strips' ? ['Flat strip', rail.stripWidth] : ['Spacer strip', rail.spacerWidth];
      return needed === 0 ? [] : [{
        item: said('{what} {section}, {length} long, {wood}', { what, section: section(width, thickness), length: size(type.length), wood: wood(timber.rail) }),
        needed, onHand, price: type.price,
      }];
    });
  }));
  const boards = timber.boards.flatMap((type, i): ShopLine[] => {
    const here = (parts.boards?.boards ?? []).filter((board) => board.type === i);
    let left = type.onHand;
    // Boards for layers are planed thinner, each from a board of its own: what is on hand serves the thickest first.
    return [...new Set(here.map(({ thickness }) => thickness))].map((thickness) => {
      const needed = here.filter((board) => board.thickness === thickness).length;
      const onHand = left;
      if (left !== undefined) left -= Math.min(left, needed);
      const slots = { size: section(type.length, type.width, Number(thickness.toFixed(2))), wood: wood(timber.outer) };
      return { item: thickness === rail.outerThickness ? said('Board {size}, {wood}, for the outer skins', slots) : said('Board {size}, {wood}, for outer skins in layers', slots), needed, onHand, price: type.price };
    });
  });
  const { skins: planked } = parts;
  const planks = planked ? [...new Set(planked.planks.map(({ thickness }) => thickness))].map((thickness, i): ShopLine => ({
    item: said('Plank {size}, {wood}, for deck and bottom skin', { size: section(planked.length, planked.width, thickness), wood: wood(timber.skins) }),
    needed: planked.planks.filter((plank) => plank.thickness === thickness).length, onHand: i === 0 ? timber.skinPlanks?.[planked.type].onHand : undefined, price: planked.price,
  })) : [];
  const skins = planked ? planks : (parts.totals?.parts ?? []).filter(({ part }) => part.endsWith('skin')).map(({ part, species, volume, cost }): ShopLine => {
    const thickness = part.startsWith('deck') ? design.skins.deck : design.skins.bottom;
    return {
      item: said('Panel for the {part}, {thickness} {wood}, {surface} finished; add for trimming', {
        part, thickness: size(thickness), wood: wood(species), surface: { of: 'mm2', value: volume / thickness },
      }),
      needed: 1, onHand: undefined, price: cost,
    };
  });
  const blockParts = parts.totals ? parts.blocks ?? [] : [];
  const blockCost = parts.totals?.parts.find(({ part }) => part === 'blocks')?.cost ?? 0;
  const blockVolume = blockParts.reduce((sum, { volume }) => sum + volume, 0);
  const blocks = blockParts.map(({ end, length: along, width, depth, volume, layers }): ShopLine => ({
    item: said('Piece for the {end} block, {size}, {wood}; {layers} layers of {thickness} glued up will do', {
      end, size: { ...section(along, width, depth), decimals: 1 }, wood: wood(timber.outer), layers: layers.count, thickness: size(layers.thickness),
    }),
    needed: 1, onHand: undefined, price: (blockCost * volume) / blockVolume,
  }));
  const { sheet } = design.frames;
  const thicknesses = (parts.nest?.sheets ?? []).map(({ thickness }) => thickness);
  const sheets = [...new Set(thicknesses)].map((thickness): ShopLine => ({
    item: said('Sheet {size}, {wood}', { size: section(sheet.length, sheet.width, thickness), wood: wood(timber.frames) }),
    needed: thicknesses.filter((each) => each === thickness).length, onHand: undefined, price: sheet.price,
  }));
  return [...ripped, ...lengths, ...boards, ...blocks, ...skins, ...sheets];
}

/** The shopping list with what it costs. */
export function shopTable(plan: Plan, parts: Parts): Table {
  const sign = plan.design.timber.currency;
  return {
    id: 'shopping', title: 'Shopping list',
    columns: [text('item'), count('needed'), count('on hand'), count('to buy'), money('price each', sign), money('cost', sign)],
    rows: shopLines(plan, parts).map(({ item, needed, onHand, price }) => {
      const buy = Math.max(0, needed - (onHand ?? 0));
      return [item, needed, onHand, buy, price, buy * price];
    }),
  };
}

/** What there is to buy, as money in a few words; undefined where nothing has a price. */
export function toPay(plan: Plan, parts: Parts): string | undefined {
  const sum = shopLines(plan, parts).reduce((total, { needed, onHand, price }) => total + Math.max(0, needed - (onHand ?? 0)) * price, 0);
  const { currency } = plan.design.timber;
  return sum > 0 ? `${currency === 'EUR' ? '€' : `${currency} `}${fixed(sum, 0)} to buy` : undefined;
}

/** How sole and cap lie between the ribs: each bay, and what each end needs. */
export function lieTable(parts: Parts): Table {
  return {
    id: 'strip-lies', title: 'How sole and cap lie between the ribs',
    columns: [
      text('strip'), RUN, length('to'), text('between'), length('stands off', 2, 'stands off the drawn line, inboard positive'), length('at', 1, 'most at, along the rail from tail'),
      force('first support', 'force at its tail end'), force('last support', 'force at its nose end'), force('close', 'force to close the end'),
      length('rib', 0, 'another rib at, station from tail'), length('rib leaves', 2, 'which leaves'), length('hold leaves', 2, 'its end held to the drawn direction leaves'),
      stress('lap shear', 'shear in a lap that holds it'), share('kept', 0, 'bending strength kept on its tightest curve'),
    ],
    rows: parts.lies.flatMap((lie) => lie.bays.map((bay, i): Cell[] => {
      const ends = [...(i === 0 ? [lie.ends[0]] : []), ...(i === lie.bays.length - 1 ? [lie.ends[1]] : [])];
      const name = (k: number) => {
        const { rib } = lie.supports[k];
        return rib === undefined ? (k === 0 ? 'tail end' : k === lie.supports.length - 1 ? 'nose end' : 'the block\'s tongue') : said('rib {rib}', { rib: rib + 1 });
      };
      const end = ends.at(-1);
      return [
        stripName(lie.strip), bay.from.s, bay.until.s, said('{from} to {until}', { from: name(i), until: name(i + 1) }), bay.standOff, bay.at.s,
        lie.supports[i].force, lie.supports[i + 1].force, end?.close, end?.rib?.x, end?.rib?.leaves, end?.hold?.leaves, end?.hold?.shear, i === 0 ? lie.kept : undefined,
      ];
    })),
  };
}

/** Order of work. */
export function workTable(parts: Parts): Table {
  return {
    id: 'order-of-work', title: 'Order of work',
    columns: [count('step'), text('title'), text('what to do'), text('measure'), length('should read (length)', 2), angle('should read (angle)'), X, RUN, text('cautions'), count('clamps'), text('clamps and glue'), mass('glue to mix')],
    rows: parts.steps.flatMap((step): Cell[][] => {
      const first: Cell[] = [step.index, step.title, step.text];
      const last: Cell[] = [step.cautions.join(' '), step.clamps.length, step.needs.length > 0 ? list(step.needs) : '', step.glue && step.glue.mix / 1000];
      if (step.checks.length === 0) return [[...first, undefined, undefined, undefined, undefined, undefined, ...last]];
      return step.checks.map((check) => [
        ...first, check.what, check.unit === 'mm' ? check.value : undefined, check.unit === 'rad' ? check.value : undefined,
        check.place?.x, check.place?.s, ...last,
      ]);
    }),
  };
}

/** What the totals tell beside the table: how the hollow is weighed against the solid, where the board balances, and the glue. */
export function totalNotes({ totals }: Parts): Said[] {
  if (!totals) return [];
  const { glue, sag, balance, own } = totals;
  const softer = sag - 1;
  return [
    said('Solid: {count} laminations as thick as the outer skins fill the same outline, those in the box of the strips\' timber, under the same outer skins. Under a load midway the hollow board sags {more} more than the solid one.', {
      count: totals.solidRail.laminations, more: { of: 'share', value: Math.max(0, softer), decimals: 1 },
    }),
    said('The bare timber balances {balance} from the tail.', { balance: mm(balance, 0) }),
    said('Glue: {area} to spread, {mix} to mix at {spread}{source}; {left} of it stays in the joints.', {
      area: { of: 'mm2', value: glue.area }, mix: { of: 'kg', value: glue.mix, decimals: 2 }, spread: { of: 'g/m2', value: glue.spread }, left: { of: 'kg', value: glue.left, decimals: 2 },
      source: glue.placeholder ? ', a placeholder until the glue\'s data sheet is entered' : '',
    }),
    own.finish > 0 ? 'Finish as entered.' : 'Finish is not weighed: enter your own figure.',
  ];
}

/** Volume, mass and cost by part; then the rail hollow against solid. */
export function totalTable(plan: Plan, parts: Parts): Table {
  const { totals } = parts;
  const rows: Cell[][] = totals ? [
    ...totals.parts.map((part): Cell[] => [part.part, part.species, part.volume, part.mass, part.cost]),
    ['all timber', '', totals.timberVolume, totals.mass, totals.cost],
    ...([['glue left in the board', totals.glue.left], ['finish, as entered', totals.own.finish], ['vent, as entered', totals.own.vent], ['fittings, as entered', totals.own.fittings]] as const)
      .filter(([, mass]) => mass > 0).map(([what, mass]): Cell[] => [what, '', undefined, mass, undefined]),
    ['board', '', undefined, totals.boardMass, undefined],
    ['rail, hollow', '', totals.hollowRail.volume, totals.hollowRail.mass, totals.hollowRail.cost],
    ['rail, solid, same timbers', '', totals.solidRail.volume, totals.solidRail.mass, totals.solidRail.cost],
    ['saved by the hollow rail', '', totals.saving.volume, totals.saving.mass, totals.saving.cost],
  ] : [];
  return {
    id: 'totals', title: 'Timber: volume, mass and money',
    columns: [text('part'), text('timber'), VOLUME, MASS, money('cost', plan.design.timber.currency)],
    rows,
  };
}

/** What a finding's figure is in a column of its own. */
const FIGURE_KINDS: Partial<Record<Dimension, Column['kind']>> = { mm: 'length', rad: 'angle', strain: 'share' };

/** A finding's figure and limit as a maker reads them, and their unit. */
function figureCells({ figure, limit, unit: of = 'count' }: Finding, unit: Unit): Cell[] {
  const column: Column = { id: of, title: '', kind: FIGURE_KINDS[of] ?? 'count', decimals: 2 };
  return [cellFigure(figure, column, unit), cellFigure(limit, column, unit), figure === undefined && limit === undefined ? '' : columnUnit(column, unit)];
}

/** Where a finding begins and ends; its station and run are where it is worst. */
const EXTENT = [
  length('begins, station from tail'), length('ends, station from tail'), length('begins, along the rail from tail'), length('ends, along the rail from tail'),
];

/** Everything the plan found, worst first. */
export function findingTable(plan: Plan, parts: Parts, unit: Unit): Table {
  const row = (f: Finding): Cell[] => [SEVERITY_WORDS[f.level], f.title, f.advice, f.place?.x, f.place?.s, f.extent?.from.x, f.extent?.until.x, f.extent?.from.s, f.extent?.until.s, ...figureCells(f, unit)];
  return {
    id: 'findings', title: 'Findings',
    columns: [text('severity'), text('finding'), text('advice'), X, RUN, ...EXTENT, { ...count('figure'), decimals: 4 }, { ...count('limit'), decimals: 4 }, text('unit of figure')],
    rows: allFindings(plan, parts).map(row),
  };
}
