/** Vent and fitting blocks: where they are to go, what stands in their way, and the nearest place that is clear. */
import { innerAt, panelProbe } from '../hull/panel';
import { list, mm, said, section, size, type Said } from '../said';
import type { Finding, Plan } from '../types';
import { blockAt, holeAt, ribHalf, stringerEnds } from './ends';
import type { FittingPart, VentPart } from './types';

type Draft = Omit<Finding, 'id'>;

/** Timber kept round the vent's hole for its plug, and between a block and what stands beside it, mm: own choice. */
export const VENT_LAND = 10;
/** Steps and reach in which a clear place is looked for, along the board and across, mm: own choice. */
const STEP = 5;
/** Steps along a block at which it is held against the edge of a ring's hole. */
const HOLE_PLACES = 12;
const REACH = 400;
/** Where a vent is proposed: the bay at this share of the length, beside the stringer by so much, mm. Own choice. */
const VENT_AT = 0.6;
const VENT_BESIDE = 30;
const VENT_DIAMETER = 10;

/** A rectangle in plan: its middle, and its sides along the board and across, mm; y to starboard. */
interface Spot {
  readonly x: number;
  readonly y: number;
  readonly length: number;
  readonly width: number;
}

/** What can be in the way, as it is said. */
type Fault = 'the end of the board' | `the ${'tail' | 'nose'} block` | 'the rail box' | 'the stringer' | Said;

const isStringer = (fault: Fault) => fault === 'the stringer';

/** What stands in the way of a spot; none where it is clear. */
function faultsAt(plan: Plan, { x, y, length, width }: Spot): Fault[] {
  const { hull, design } = plan;
  const { ribs, ribThickness, stringerThickness } = design.frames;
  const [x0, x1] = [x - length / 2, x + length / 2];
  const [near, far] = [Math.max(0, Math.abs(y) - width / 2), Math.abs(y) + width / 2];
  if (x0 < 0 || x1 > hull.length) return ['the end of the board'];
  const found: Fault[] = [];
  for (const end of ['tail', 'nose'] as const) {
    const block = blockAt(plan, end);
    if (!block || (end === 'tail' ? x0 >= block.inner : x1 <= block.inner)) continue;
    // What stands whole in a ring's hole stands free.
    const reach = [Math.max(x0, Math.min(block.x0, block.inner)), Math.min(x1, Math.max(block.x1, block.inner))];
    const free = Array.from({ length: HOLE_PLACES + 1 }, (_, i) => holeAt(block, reach[0] + ((reach[1] - reach[0]) * i) / HOLE_PLACES)).every((half) => far <= half);
    if (!free) found.push(`the ${end} block`);
  }
  if (found.length === 0 && [x0, x, x1].some((at) => far > ribHalf(plan, at))) found.push('the rail box');
  ribs.forEach((rib, i) => {
    if (!plan.rail.ribsInBlock.includes(i) && x0 < rib + ribThickness / 2 && x1 > rib - ribThickness / 2) found.push(said('rib {rib}', { rib: i + 1 }));
  });
  const stringer = stringerEnds(plan);
  if (near < stringerThickness / 2 && x0 < stringer.x1 && x1 > stringer.x0) found.push('the stringer');
  return found;
}

/** The nearest spot as large that nothing stands in the way of, on the side asked for, or undefined. */
function clearSpot(plan: Plan, spot: Spot): Spot | undefined {
  const side = spot.y < 0 ? -1 : 1;
  let best: { spot: Spot; off: number } | undefined;
  for (let dx = -REACH; dx <= REACH; dx += STEP) {
    for (let y = 0; y <= 300; y += STEP) {
      const off = Math.hypot(dx, side * y - spot.y);
      if (best && off >= best.off) continue;
      const tried = { ...spot, x: spot.x + dx, y: side * y };
      if (faultsAt(plan, tried).length === 0) best = { spot: tried, off };
    }
  }
  return best?.spot;
}

/** A place in plan in words. */
function placeWords({ x, y }: Pick<Spot, 'x' | 'y'>): Said {
  if (Math.abs(y) < 0.5) return said('{x} from the tail on the centreline', { x: mm(x, 0) });
  return said('{x} from the tail, {y} to {side}', { x: mm(x, 0), y: mm(Math.abs(y), 0), side: y > 0 ? 'starboard' : 'port' });
}

/** A finding of what is in the way of a spot, with the nearest place that is clear. */
function wayFinding(plan: Plan, code: string, name: string, spot: Spot): Draft[] {
  const faults = faultsAt(plan, spot);
  if (faults.length === 0) return [];
  const clear = clearSpot(plan, spot);
  const halves = faults.every(isStringer);
  return [{
    code, level: halves ? 'note' : 'check', place: { x: spot.x },
    title: said('{name} stands in {what}', { name, what: list(faults, ' and ') }),
    advice: list([
      ...(clear ? [said('Move it to {place}.', { place: placeWords(clear) })] : ['There is no room as large within an arm\'s length: make it smaller, or move ribs.']),
      ...(halves ? ['Or make it in two halves, one on either side of the stringer.'] : []),
    ]),
  }];
}

/** Heights of the inner faces at a point. */
function roomAt(plan: Plan, x: number, y: number): { low: number; high: number } {
  const { hull, design: { skins } } = plan;
  return { low: innerAt(hull.bottom, -1, skins.bottom, x, y, panelProbe()).z, high: innerAt(hull.deck, 1, skins.deck, x, y, panelProbe()).z };
}

const KINDS = { leash: 'Leash block', fin: 'Fin block', handle: 'Handle block' } as const;

/** The vent, the maker's or where one is proposed. */
export function ventOf(plan: Plan): VentPart {
  const { design, hull } = plan;
  if (design.vent) return { ...design.vent, proposed: false };
  const { ribs, stringerThickness } = design.frames;
  const edges = [0, ...ribs, hull.length];
  const at = VENT_AT * hull.length;
  const bay = edges.findIndex((x, i) => i > 0 && x > at);
  return {
    x: Math.round((edges[bay - 1] + edges[bay]) / 2), y: Math.round(stringerThickness / 2 + VENT_BESIDE), through: 'deck', diameter: VENT_DIAMETER, proposed: true,
  };
}

/** Heights of the room between the inner faces over a block's corners and its middle: least and greatest. */
function roomOver(plan: Plan, { x, y, length, width }: Spot): { least: number; most: number } {
  const rooms = [-1, 0, 1].flatMap((a) => [-1, 0, 1].map((b) => roomAt(plan, x + (a * length) / 2, y + (b * width) / 2)));
  const heights = rooms.map(({ low, high }) => Math.max(0, high - low));
  return { least: Math.min(...heights), most: Math.max(...heights) };
}

/** The fitting blocks as the maker places them. */
export function fittingsOf(plan: Plan): FittingPart[] {
  const wanted = plan.design.fittings ?? [];
  return wanted.map((fitting, i): FittingPart => {
    const { kind, x, y, length, width, under, depth } = fitting;
    const alike = wanted.filter((other) => other.kind === kind).length > 1;
    const name = fitting.name || `${KINDS[kind]}${alike ? ` ${wanted.slice(0, i + 1).filter((other) => other.kind === kind).length}` : ''}`;
    return { kind, name, x, y, length, width, under, depth: depth ?? roomOver(plan, fitting).most, whole: depth === undefined };
  });
}

/** Vent and fitting blocks as they are placed, and what is wrong with them. */
export function planFittings(plan: Plan): { vent: VentPart; fittings: FittingPart[]; findings: Draft[] } {
  const vent = ventOf(plan);
  const fittings = fittingsOf(plan);
  const findings: Draft[] = [];
  if (vent.proposed) {
    findings.push({
      code: 'vent-none', level: 'note', title: 'No vent is placed: the air of a closed hollow board swells in the sun', place: { x: vent.x },
      advice: said('Put one through the deck {place}.', { place: placeWords(vent) }),
    });
  } else {
    const side = vent.diameter + 2 * VENT_LAND;
    findings.push(...wayFinding(plan, 'vent-in-way', 'The vent', { ...vent, length: side, width: side }));
  }
  fittings.forEach((fitting, i) => {
    const { name, x, depth, whole } = fitting;
    findings.push(...wayFinding(plan, 'fitting-in-way', name, fitting));
    const { least } = roomOver(plan, fitting);
    if (!whole && depth > least) {
      findings.push({
        code: 'fitting-deep', level: 'check', place: { x }, figure: depth, limit: least, unit: 'mm',
        title: said('{name} is deeper than the room between the skins', { name }),
        advice: said('Make it {least} deep, or from skin to skin.', { least: mm(Math.floor(least), 0) }),
      });
    }
    const plug = vent.proposed ? [] : [{ ...vent, name: 'the vent', length: vent.diameter + 2 * VENT_LAND, width: vent.diameter + 2 * VENT_LAND }];
    const under = [...fittings.slice(0, i), ...plug].find((other) => Math.abs(other.x - x) < (other.length + fitting.length) / 2 && Math.abs(other.y - fitting.y) < (other.width + fitting.width) / 2);
    if (under) {
      findings.push({
        code: 'fitting-overlap', level: 'check', place: { x }, title: said('{a} and {b} overlap', { a: name, b: under.name }),
        advice: 'Move one of them, or make one block of both.',
      });
    }
  });
  return { vent, fittings, findings };
}

/** Names and middles of the vent and the fittings that the maker placed, mm. */
export const fittingPlaces = (plan: Plan): { readonly name: string; readonly x: number; readonly y: number }[] =>
  [...(plan.design.vent ? [{ name: 'Vent', x: plan.design.vent.x, y: plan.design.vent.y }] : []), ...fittingsOf(plan)];

/** What to glue in and where, for the order of work. */
export function fittingWords(plan: Plan): Said[] {
  const vent = ventOf(plan);
  return [
    said('{vent} {diameter} wide through the {through}, {place}.', { vent: vent.proposed ? 'Vent, as proposed:' : 'Vent:', diameter: size(vent.diameter), through: vent.through, place: placeWords(vent) }),
    ...fittingsOf(plan).map((f) => said('{name}, {size}, under the {under}: middle {place}.', {
      name: f.name, size: { ...section(f.length, f.width, f.depth), decimals: 0 }, under: f.under, place: placeWords(f),
    })),
  ];
}
