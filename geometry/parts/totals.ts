/**
 * What the board weighs and costs, part by part, where it balances, and what the same rail would be as solid
 * laminations of the same timber. Glue stands apart, and what the maker puts on beside it is his own figure.
 */
import { speciesById } from '../design/timber';
import { loopMoment } from '../curves/polygon';
import { shapeArea } from '../frame/frames';
import { numbered } from '../rail/decisions';
import { said } from '../said';
import type { Finding, Plan } from '../types';
import type { FramePart, Nest } from '../frame/types';
import { allGlued, glueAreas, glueLeft, mixFor, plankJoints, spreadOf } from './glue';
import { sagRatio } from './stiffness';
import type { BoardLayout, JointPlan, MillPlan, PartTotal, SkinPlankPlan, StripBending, Totals } from './types';
import { weighTimber } from './volumes';

/** The other papers' answers that totals are made of; what is missing is priced by its own size, and reported. */
export interface TotalsInput {
  readonly bending: readonly StripBending[];
  readonly joints?: JointPlan;
  readonly milling?: MillPlan;
  readonly boards?: BoardLayout;
  readonly frames: readonly FramePart[];
  readonly nest?: Nest;
  /** Deck and bottom skin where they are glued up from planks; else they are priced as panels. */
  readonly skins?: SkinPlankPlan;
}

/** Price of the cheapest stock per mm of length. */
const perLength = (stock: readonly { length: number; price: number }[]): number => Math.min(...stock.map((s) => s.price / s.length));

/**
 * What sole, cap and rows cost: the planks that they are ripped from, each shared out over its strips by their volume; else the
 * stock lengths bought, each shared out over the pieces cut from it by their length. A strip that
 * no stock length makes is priced by its length at the cheapest rate, and it is told whether there is one.
 */
function stripCosts(plan: Plan, input: TotalsInput): { cost: Record<'sole' | 'cap' | 'row', number>; unplanned: boolean } {
  const { timber } = plan.design;
  const cost = { sole: 0, cap: 0, row: 0 };
  const { joints, milling } = input;
  for (const { type, slices } of milling?.planks ?? []) {
    const strips = slices.flatMap(({ rips }) => rips.flatMap((rip) => rip.strips)).flatMap((i) => milling?.strips[i] ?? []);
    const volumes = strips.map(({ width, thickness, length }) => width * thickness * length);
    const all = volumes.reduce((sum, volume) => sum + volume, 0);
    const price = timber.planks?.[type].price ?? 0;
    strips.forEach(({ pieces }, i) => {
      const own = pieces.flatMap((k) => joints?.pieces[k] ?? []);
      const length = own.reduce((sum, piece) => sum + piece.length, 0);
      for (const { strip: { kind }, length: mine } of own) if (kind !== 'outer-skin') cost[kind] += (price * volumes[i] * mine) / (all * length);
    });
  }
  const made = new Set<string>();
  for (const one of joints?.stockLengths ?? []) {
    if (one.ripped && !milling) continue;
    const cut = one.pieces.map((i) => joints?.pieces[i]).filter((p) => p !== undefined);
    const length = cut.reduce((sum, p) => sum + p.length, 0);
    for (const p of cut) {
      const { kind, order, stretch } = p.strip;
      made.add(`${kind} ${order} ${stretch}`);
      if (kind !== 'outer-skin' && !one.ripped) cost[kind] += (timber[one.stock][one.type].price * p.length) / length;
    }
  }
  let unplanned = false;
  for (const { strip, along } of input.bending) {
    if (strip.kind === 'outer-skin' || made.has(`${strip.kind} ${strip.order} ${strip.stretch}`)) continue;
    unplanned = true;
    cost[strip.kind] += 2 * along[along.length - 1] * perLength(strip.kind === 'row' ? timber.spacers : timber.strips);
  }
  return { cost, unplanned };
}

/** What a skin costs: its planks, each shared out over the pieces cut from it by their length; else its panel by surface. */
function skinCost({ design }: Plan, { skins }: TotalsInput, panel: 'deck' | 'bottom', area: number): number {
  if (!skins) return area * 1e-6 * design.timber.skinPricePerM2;
  const pieces = new Map(skins.panels.flatMap((one) => one.pieces.map((piece) => [piece.number, { own: one.panel === panel, length: piece.length }] as const)));
  return skins.planks.reduce((sum, plank) => {
    const cut = plank.pieces.flatMap((n) => pieces.get(n) ?? []);
    const all = cut.reduce((total, { length }) => total + length, 0);
    return sum + (skins.price * cut.filter(({ own }) => own).reduce((total, { length }) => total + length, 0)) / all;
  }, 0);
}

/** First moment of a rib or a piece of the stringer about the tail, mm4: a rib stands at its station, a stringer's shape runs along the board. */
function frameMoment(plan: Plan, { kind, rib, shape, thickness }: FramePart): number {
  if (kind === 'rib') return shapeArea(shape) * thickness * (rib === undefined ? 0 : plan.design.frames.ribs[rib]);
  return [shape.outline, ...shape.holes].reduce((sum, loop) => sum + loopMoment(loop), 0) * thickness;
}

/** Totals of a plan and what had to be estimated. Volumes mm3, mass kg, money in the design's currency. */
export function planTotals(plan: Plan, input: TotalsInput): { totals: Totals; findings: Finding[] } {
  const { design, hull } = plan;
  const { timber, rail, frames } = design;
  const { volumes, moments } = weighTimber(plan);
  const drafts: Omit<Finding, 'id'>[] = [];
  const estimated = (what: string, how: string) => drafts.push({
    code: 'cost-estimate', level: 'note', title: said('{what} could not be counted piece by piece and {how}', { what, how }),
    advice: 'See the finding that says why; the mass is not affected.',
  });
  const parts: PartTotal[] = [];
  const density = (species: string) => speciesById(design, species).density * 1e-9;
  const moment = { all: 0 };
  /** `first` is the part's first moment about the tail, mm4. */
  const add = (part: string, species: string, volume: number, cost: number, first: number): PartTotal => {
    const total = { part, species, volume, mass: volume * density(species), cost };
    moment.all += first * density(species);
    parts.push(total);
    return total;
  };

  const strips = stripCosts(plan, input);
  if (strips.unplanned) estimated('Some strips', 'are priced by length at the cheapest stock');
  const boardPrice = Math.min(...timber.boards.map((b) => b.price / (b.length * b.width * rail.outerThickness)));
  let outerCost = volumes.outerSkins * boardPrice;
  if (input.boards && input.boards.boards.length > 0) outerCost = input.boards.boards.reduce((sum, b) => sum + timber.boards[b.type].price, 0);
  else estimated('The outer skins\' boards', 'are priced by volume');

  const hollow = [
    add('sole', timber.rail, volumes.sole, strips.cost.sole, moments.sole),
    add('rows', timber.rail, volumes.rows, strips.cost.row, moments.rows),
    add('cap', timber.rail, volumes.cap, strips.cost.cap, moments.cap),
    add('outer skins', timber.outer, volumes.outerSkins, outerCost, moments.outerSkins),
  ];
  if (volumes.blocks > 1) add('blocks', timber.outer, volumes.blocks, volumes.blocks * boardPrice, moments.blocks);
  add('bottom skin', timber.skins, volumes.bottomSkin, skinCost(plan, input, 'bottom', volumes.bottomArea), moments.bottomSkin);
  add('deck skin', timber.skins, volumes.deckSkin, skinCost(plan, input, 'deck', volumes.deckArea), moments.deckSkin);

  if (input.frames.length === 0) estimated('Ribs and stringer', 'are left out of mass and cost');
  const areaOf = (parts: readonly FramePart[]) => parts.reduce((total, part) => total + shapeArea(part.shape), 0);
  let unnested = false;
  for (const [kind, name] of [['rib', 'ribs'], ['stringer', 'stringer']] as const) {
    const mine = input.frames.filter((part) => part.kind === kind);
    if (mine.length === 0) continue;
    const [{ thickness }] = mine;
    const area = areaOf(mine);
    // A sheet is shared by the parts of its own thickness.
    const sheets = (input.nest?.sheets ?? []).filter((sheet) => sheet.thickness === thickness).length;
    const share = area / areaOf(input.frames.filter((part) => part.thickness === thickness));
    if (sheets === 0) unnested = true;
    const bought = sheets === 0 ? area / (frames.sheet.length * frames.sheet.width) : sheets * share;
    add(name, timber.frames, area * thickness, bought * frames.sheet.price, mine.reduce((sum, part) => sum + frameMoment(plan, part), 0));
  }
  if (unnested) estimated('The laser\'s sheets', 'are priced by the frames\' area');

  const sum = (list: readonly PartTotal[], field: 'volume' | 'mass' | 'cost') => list.reduce((total, p) => total + p[field], 0);
  const hollowRail = {
    volume: sum(hollow, 'volume') + volumes.tabs + volumes.tongues,
    // A tongue counts as what it stands in for: no saving is that of another timber.
    mass: sum(hollow, 'mass') + volumes.tabs * density(timber.frames) + volumes.tongues * density(timber.rail), cost: sum(hollow, 'cost'),
  };
  // Solid: laminations as thick as the outer skins, as many more as the box is wide; each costs what an outer layer does.
  // Those that fill the box are of the strips' timber, and the outer skins are the same: no saving is a lighter timber's.
  const laminations = rail.outerLayers + Math.ceil(rail.stripWidth / rail.outerThickness - 1e-9);
  const solidVolume = volumes.box + volumes.outerSkins;
  const solidRail = {
    volume: solidVolume, mass: volumes.box * density(timber.rail) + volumes.outerSkins * density(timber.outer), cost: (outerCost / rail.outerLayers) * laminations, laminations,
  };
  const glued = allGlued(glueAreas(plan, input.bending)) + plankJoints(input.skins);
  const { spread, placeholder } = spreadOf(design);
  const glue = { area: glued, left: glueLeft(design, glued), mix: mixFor(design, glued) * 1e-3, spread, placeholder };
  const { finish = 0, vent = 0, fittings = 0 } = design.weights ?? {};
  const mass = sum(parts, 'mass');
  return {
    totals: {
      parts, timberVolume: sum(parts, 'volume'), mass, cost: sum(parts, 'cost'), currency: timber.currency,
      boardVolume: hull.volume, centre: { x: hull.centre.x, z: hull.centre.z },
      glue, own: { finish, vent, fittings }, boardMass: mass + glue.left + finish + vent + fittings, balance: moment.all / mass,
      hollowRail, solidRail, sag: sagRatio(plan),
      saving: {
        volume: solidRail.volume - hollowRail.volume, mass: solidRail.mass - hollowRail.mass, cost: solidRail.cost - hollowRail.cost,
      },
    },
    findings: numbered(drafts),
  };
}
