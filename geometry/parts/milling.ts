/**
 * What is ripped before anything is cut to length: every stock length of the cutting plan, the parts of pieces that are
 * split on their width, and where the design has planks, which plank gives each.
 *
 * A plank is sawn in two ways: its width into slices as wide as the fence is set, then each slice, as thick as the plank,
 * into strips. So a strip lies on edge in the plank or flat. Which planks, which slices and what is ripped from each is one
 * exact programme for the least price, then the least timber: patterns of slices over the width, patterns of strips over
 * the thickness, as many slots at least as long as each strip as there are strips so long (as in cutting.ts).
 */
import type { Design } from '../design/schema';
import { numbered } from '../rail/decisions';
import { list, said, section, size, type Said } from '../said';
import type { Finding } from '../types';
import { stripName } from './stripWords';
import { cutStock, LENGTH_TOLERANCE, PATTERN_LIMIT } from './cutting';
import { bounded, type MilpLimits, type MilpRow, type MilpSolver } from './milp';
import { liesIn, plankRoom, PLANK_EDGES, PLANK_ENDS, ripLengths, ripsAcross, type Plank } from './planks';
import type { JointPlan, MilledPlank, MillPlan, MillStrip } from './types';

/** The parts of a split piece are this much longer than it, mm: they slide along each other as they bend, and are trimmed once glued. Own choice. */
const SPLIT_TRIM = 20;

/** Every strip to rip. A stock length whose pieces are split keeps its other pieces, and each split one is as many strips of its own. */
function stripsOf({ timber }: Design, { pieces, stockLengths }: JointPlan): MillStrip[] {
  return stockLengths.flatMap(({ width, thickness, length, ripped, pieces: cut }, stockLength): MillStrip[] => {
    const partsOf = (i: number) => Math.max(1, ...(pieces[i].partings ?? []).filter(({ method }) => method === 'split').map(({ n }) => n));
    const whole = cut.filter((i) => partsOf(i) === 1);
    const needed = whole.reduce((sum, i) => sum + pieces[i].length, 0) + Math.max(0, whole.length - 1) * timber.sawKerf;
    return [
      ...(whole.length > 0 ? [{ width, thickness, length: ripped ? Math.min(needed, length) : length, pieces: whole, stockLength }] : []),
      ...cut.filter((i) => partsOf(i) > 1).flatMap((i) => Array.from({ length: partsOf(i) }, () => ({
        width: width / partsOf(i), thickness, length: Math.min(pieces[i].length + SPLIT_TRIM, length), pieces: [i], stockLength, parts: partsOf(i),
      }))),
    ];
  });
}

/** What choosing planks may take unless the caller asks otherwise: less than joints, since a plan that is not proved is a few shavings worse. */
const MILL_LIMITS: MilpLimits = { nodes: 2000, seconds: 8 };

/** A strip as it comes off the saw: its section, and the strips cut from its length, indices into `MillPlan.strips`. */
interface Rip {
  readonly width: number;
  readonly thickness: number;
  readonly length: number;
  readonly strips: readonly number[];
}

const alike = (a: Pick<Rip, 'width' | 'thickness'>, b: Pick<Rip, 'width' | 'thickness'>): boolean =>
  Math.abs(a.width - b.width) < LENGTH_TOLERANCE && Math.abs(a.thickness - b.thickness) < LENGTH_TOLERANCE;

/** Strips of one section end to end in as little length as may be, as many as a plank is long for. */
function ripsOf(design: Design, strips: readonly MillStrip[], wanted: readonly number[], solver: MilpSolver): Rip[] {
  const kerf = design.timber.sawKerf;
  const first = wanted.filter((i, k) => wanted.findIndex((j) => alike(strips[j], strips[i])) === k);
  return first.flatMap((one) => {
    const { width, thickness } = strips[one];
    const mine = wanted.filter((i) => alike(strips[i], strips[one]));
    const cut = cutStock(mine.map((i) => strips[i].length), ripLengths(design, width, thickness) ?? [], kerf, solver);
    return (cut?.used.map(({ pieces }) => pieces.map((k) => mine[k])) ?? mine.map((i) => [i])).map((own): Rip => ({
      width, thickness, strips: own, length: own.reduce((sum, i) => sum + strips[i].length, 0) + (own.length - 1) * kerf,
    }));
  });
}

/** A plank being sawn: each slice by its fence, what is left of its thickness, and the rips that have their place in it. */
interface Sawn {
  readonly type: number;
  readonly slices: { readonly fence: number; readonly rips: { readonly second: number; readonly rip: number }[] }[];
}

/** All ways to fill `room` with sizes (largest first), as counts, none with room for the smallest left; undefined where there are more than `limit`. */
function fillings(sizes: readonly number[], room: number, kerf: number, most: readonly number[], limit: number): number[][] | undefined {
  const out: number[][] = [];
  const counts: number[] = [];
  const fill = (k: number, left: number): boolean => {
    if (k === sizes.length) {
      if (counts.some((n) => n > 0)) out.push([...counts]);
      return out.length <= limit;
    }
    const fits = Math.min(most[k], ripsAcross(left, sizes[k], kerf));
    for (let n = fits; n >= (k === sizes.length - 1 ? fits : 0); n--) {
      counts.push(n);
      const go = fill(k + 1, left - n * (sizes[k] + kerf));
      counts.pop();
      if (!go) return false;
    }
    return true;
  };
  return fill(0, room) ? out : undefined;
}

/** Slots of one plank: how its width is parted, and how a slice of each width is ripped. */
interface Patterns {
  readonly fences: readonly number[];
  readonly widths: readonly (readonly number[])[];
  readonly slices: readonly { readonly fence: number; readonly gives: readonly { readonly section: number; readonly second: number; readonly count: number }[] }[];
}

function patternsOf(plank: Plank, sections: readonly Rip[], counts: readonly number[], kerf: number): Patterns | undefined {
  const room = plankRoom(plank);
  const ways = sections.flatMap((one, k) => liesIn(plank, one.width, one.thickness).map((way) => ({ ...way, section: k })));
  const fences = [...new Set(ways.map(({ fence }) => fence))].sort((a, b) => b - a);
  const all = counts.reduce((sum, n) => sum + n, 0);
  const widths = fillings(fences, room.width, kerf, fences.map(() => all), PATTERN_LIMIT);
  const slices: Patterns['slices'][number][] = [];
  for (const fence of fences) {
    const here = ways.filter((way) => way.fence === fence).sort((a, b) => b.second - a.second);
    const found = fillings(here.map(({ second }) => second), room.thickness, kerf, here.map((way) => counts[way.section]), PATTERN_LIMIT - slices.length);
    if (!found) return undefined;
    slices.push(...found.map((filled) => ({ fence, gives: here.map((way, i) => ({ section: way.section, second: way.second, count: filled[i] })).filter(({ count }) => count > 0) })));
  }
  return widths && { fences, widths, slices };
}

/** What a plank costs in the programme: its price first, its timber where prices are alike. */
function weigh(planks: readonly Plank[]): number[] {
  const price = Math.max(...planks.map((plank) => plank.price));
  const volumes = planks.map(({ length, width, thickness }) => length * width * thickness);
  return planks.map((plank, i) => (price > 0 ? plank.price / price : 0) + (price > 0 ? 1e-3 : 1) * (volumes[i] / Math.max(...volumes)));
}

/** A slice costs as much as this share of the dearest plank: fewer cuts where planks are the same. Own choice. */
const CUT = 1e-5;

/** The cheapest planks that give every rip: 'short' where those on hand do not, undefined where the programme is too large or found nothing in time. */
function cheapest(planks: readonly Plank[], rips: readonly Rip[], kerf: number, solver: MilpSolver, useOnHand: boolean): { sawn: Sawn[]; optimal: boolean } | 'short' | undefined {
  const sections = rips.filter((rip, k) => rips.findIndex((one) => alike(one, rip)) === k);
  const byLength = (a: number, b: number) => rips[b].length - rips[a].length || a - b;
  const own = sections.map((one) => rips.map((_, i) => i).filter((i) => alike(rips[i], one)).sort(byLength));
  const patterns = planks.map((plank) => patternsOf(plank, sections, own.map(({ length }) => length), kerf));
  const known = patterns.flatMap((one) => one ?? []);
  const columns = known.reduce((sum, { widths, slices }) => sum + widths.length + slices.length, 0);
  if (known.length < planks.length || columns > PATTERN_LIMIT) return undefined;
  const [cost, upper, rows]: [number[], number[], MilpRow[]] = [[], [], []];
  const price = weigh(planks);
  const first = known.map(({ fences, widths, slices }, p) => {
    const [width, slice] = [cost.length, cost.length + widths.length];
    cost.push(...widths.map(() => price[p]), ...slices.map(() => CUT));
    upper.push(...widths.map(() => rips.length), ...slices.map(() => rips.length));
    fences.forEach((fence, f) => {
      const [out, within] = [slices.flatMap((one, i) => (one.fence === fence ? [slice + i] : [])), widths.flatMap((counts, i) => (counts[f] > 0 ? [i] : []))];
      rows.push({ columns: [...within.map((i) => width + i), ...out], values: [...within.map((i) => widths[i][f]), ...out.map(() => -1)], lower: 0, upper: Infinity });
    });
    const { onHand } = planks[p];
    if (useOnHand && onHand !== undefined && widths.length > 0) rows.push({ columns: widths.map((_, i) => width + i), values: widths.map(() => 1), lower: 0, upper: onHand });
    return { width, slice };
  });
  own.forEach((mine, k) => {
    mine.forEach((rip, n) => {
      // As many slots at least so long as there are rips at least so long.
      if (n + 1 < mine.length && rips[mine[n + 1]].length > rips[rip].length - LENGTH_TOLERANCE) return;
      const slots = known.flatMap(({ slices }, p) => (plankRoom(planks[p]).length < rips[rip].length - LENGTH_TOLERANCE ? [] : slices.flatMap(({ gives }, i) => {
        const count = gives.filter(({ section: of }) => of === k).reduce((sum, give) => sum + give.count, 0);
        return count > 0 ? [{ column: first[p].slice + i, count }] : [];
      })));
      rows.push({ columns: slots.map(({ column }) => column), values: slots.map(({ count }) => count), lower: n + 1, upper: Infinity });
    });
  });
  const result = solver.solve({ cost, lower: cost.map(() => 0), upper, rows });
  if (result.status === 'infeasible') return 'short';
  const { values } = result;
  if (!values) return undefined;
  const slots: { section: number; length: number; second: number; into: Sawn['slices'][number] }[] = [];
  const sawn = known.flatMap(({ fences, widths, slices }, p): Sawn[] => {
    const chosen = slices.flatMap((slice, i) => Array.from({ length: values[first[p].slice + i] }, () => slice));
    return widths.flatMap((counts, i) => Array.from({ length: values[first[p].width + i] }, (): Sawn => ({
      type: p,
      slices: fences.flatMap((fence, f) => Array.from({ length: counts[f] }, () => {
        const at = chosen.findIndex((one) => one.fence === fence);
        const into: Sawn['slices'][number] = { fence, rips: [] };
        const gives = at < 0 ? [] : chosen.splice(at, 1)[0].gives;
        slots.push(...gives.flatMap(({ section: of, second, count }) => Array.from({ length: count }, () => ({ section: of, second, into, length: plankRoom(planks[p]).length }))));
        return into;
      })),
    })));
  });
  own.forEach((mine, k) => {
    const room = slots.filter(({ section: of }) => of === k).sort((a, b) => b.length - a.length);
    mine.forEach((rip, n) => room[n].into.rips.push({ second: room[n].second, rip }));
  });
  return { sawn, optimal: result.status === 'optimal' };
}

/** Longest and largest rip first into the first slice with room, else a new slice, else a new plank, the cheapest that gives it; on hand in number first. */
function firstFit(planks: readonly Plank[], rips: readonly Rip[], kerf: number): Sawn[] {
  const price = weigh(planks);
  const types = planks.map((_, i) => i).sort((a, b) => price[a] - price[b] || a - b);
  const sawn: Sawn[] = [];
  const left = (room: number, taken: readonly number[]) => room - taken.reduce((sum, one) => sum + one + kerf, 0) + LENGTH_TOLERANCE;
  const order = rips.map((_, i) => i).sort((a, b) => rips[b].length - rips[a].length || rips[b].width * rips[b].thickness - rips[a].width * rips[a].thickness || a - b);
  for (const rip of order) {
    const { width, thickness, length } = rips[rip];
    const waysIn = (type: number) => (plankRoom(planks[type]).length > length - LENGTH_TOLERANCE ? liesIn(planks[type], width, thickness) : []);
    const slot = sawn.flatMap(({ type, slices }) => waysIn(type).flatMap(({ fence, second }) => slices.filter((slice) =>
      slice.fence === fence && second <= left(planks[type].thickness, slice.rips.map((one) => one.second))).map((slice) => ({ slice, second })))).at(0);
    if (slot) {
      slot.slice.rips.push({ second: slot.second, rip });
      continue;
    }
    const begun = sawn.flatMap((one) => waysIn(one.type).filter(({ fence }) => fence <= left(plankRoom(planks[one.type]).width, one.slices.map((slice) => slice.fence))).map((way) => ({ one, way }))).at(0);
    if (begun) {
      begun.one.slices.push({ fence: begun.way.fence, rips: [{ second: begun.way.second, rip }] });
      continue;
    }
    const able = types.filter((type) => waysIn(type).length > 0);
    const type = able.find((one) => sawn.filter((plank) => plank.type === one).length < (planks[one].onHand ?? Infinity)) ?? able[0];
    const [{ fence, second }] = waysIn(type);
    sawn.push({ type, slices: [{ fence, rips: [{ second, rip }] }] });
  }
  return sawn;
}

/**
 * Where a plank's timber goes, mm3, each counted for itself: pieces, what the saw takes (a rest thinner than a kerf with it),
 * and what is left: shot edges, trimmed ends, the rest of the width, of the thickness and of the length.
 */
function volumeOf(plank: Plank, { slices }: Sawn, rips: readonly Rip[], strips: readonly MillStrip[], kerf: number): MilledPlank['volume'] {
  const room = plankRoom(plank);
  let [pieces, dust] = [0, 0];
  let left = PLANK_EDGES * plank.thickness * plank.length + PLANK_ENDS * room.width * plank.thickness;
  /** The parts of a length of `whole`, sizes and cuts: adds the cuts and the rest, by the area of the cut. */
  const part = (whole: number, sizes: readonly number[], area: number) => {
    const rest = Math.max(0, whole - sizes.reduce((sum, one) => sum + one, 0) - (sizes.length - 1) * kerf);
    dust += ((sizes.length - 1) * kerf + Math.min(kerf, rest)) * area;
    left += (rest - Math.min(kerf, rest)) * area;
  };
  part(room.width, slices.map(({ fence }) => fence), room.thickness * room.length);
  for (const { fence, rips: here } of slices) {
    part(room.thickness, here.map(({ second }) => second), fence * room.length);
    for (const { second, rip } of here) {
      const cut = rips[rip].strips.flatMap((i) => {
        const n = strips[i].pieces.length;
        return Array.from({ length: n }, () => (strips[i].length - (n - 1) * kerf) / n);
      });
      pieces += cut.reduce((sum, one) => sum + one, 0) * second * fence;
      part(room.length, cut, second * fence);
    }
  }
  return { whole: plank.length * plank.width * plank.thickness, pieces, kerf: dust, left };
}

/** Strips by name, each once. */
const namesOf = ({ pieces }: JointPlan, strips: readonly MillStrip[]): Said =>
  list([...new Set(strips.flatMap((strip) => strip.pieces.map((i) => stripName(pieces[i].strip))))], ', ');

/**
 * What is to rip, and from which planks, of a cutting plan. Strips that no plank gives, and planks that are wanted beyond those
 * on hand, become findings; `limits` hold for the whole. Throws only what the solver throws.
 */
export function planMilling(design: Design, joints: JointPlan, solver: MilpSolver, limits: MilpLimits = MILL_LIMITS): { milling: MillPlan; findings: Finding[] } {
  const { planks = [], sawKerf } = design.timber;
  const strips = stripsOf(design, joints);
  if (planks.length === 0) return { milling: { strips, planks: [] }, findings: [] };
  const drafts: Omit<Finding, 'id'>[] = [];
  // A plank that gives a strip gives the parts it is split in too.
  const given = ({ stockLength }: MillStrip) => joints.stockLengths[stockLength].ripped === true;
  const not = strips.filter((strip) => !given(strip));
  for (const one of not.filter((strip, k) => not.findIndex((other) => alike(other, strip)) === k)) {
    const thickest = Math.max(...planks.map(({ thickness }) => thickness));
    drafts.push({
      code: 'mill-none', level: 'check', unit: 'mm', figure: Math.min(one.width, one.thickness), limit: thickest,
      title: said('No plank gives strips of {section} ({names}): the thickest is {thickest}', {
        section: section(one.width, one.thickness), names: namesOf(joints, not.filter((other) => alike(other, one))), thickest: size(thickest),
      }),
      advice: 'Enter a thicker, wider or longer plank; until then these strips are counted as bought ready.',
    });
  }
  const within = bounded(solver, limits);
  const rips = ripsOf(design, strips, strips.flatMap((strip, i) => (given(strip) ? [i] : [])), within);
  if (rips.length === 0) return { milling: { strips, planks: [] }, findings: numbered(drafts) };
  const onHand = cheapest(planks, rips, sawKerf, within, true);
  const found = onHand === 'short' ? cheapest(planks, rips, sawKerf, within, false) : onHand;
  const { sawn, optimal } = found === undefined || found === 'short' ? { sawn: firstFit(planks, rips, sawKerf), optimal: false } : found;
  const milled = sawn.map(({ type, slices }): Sawn => ({ type, slices: slices.filter((slice) => slice.rips.length > 0) })).filter(({ slices }) => slices.length > 0)
    .sort((a, b) => a.type - b.type);
  planks.forEach(({ onHand: have, length, width, thickness }, type) => {
    const needed = milled.filter((one) => one.type === type).length;
    if (have === undefined || needed <= have) return;
    drafts.push({
      code: 'planks-short', level: 'check', unit: 'count', figure: needed, limit: have,
      title: said('{needed} planks of {plank} are needed for strips and spacers, and {have} are on hand', { needed, plank: section(thickness, width, length), have }),
      advice: 'Buy the rest, or enter another plank.',
    });
  });
  return {
    milling: {
      strips, optimal,
      planks: milled.map((one): MilledPlank => ({
        type: one.type, volume: volumeOf(planks[one.type], one, rips, strips, sawKerf),
        slices: one.slices.map(({ fence, rips: here }) => ({ fence, rips: here.map(({ second, rip }) => ({ second, strips: rips[rip].strips })) })),
      })),
    },
    findings: numbered(drafts),
  };
}
