/**
 * Joints of sole, rows and cap, and the stock lengths they are cut from. Joints lie over tabs, where there is something
 * to glue and clamp to, clear of every stretch that is more than bent cold; joints of neighbouring layers
 * keep their stagger, and sole and cap of one side are never joined at the same rib (common practice, no source). A scarf lies about a tab with its whole length in a dry
 * stretch, and each of its two pieces is longer by half of it.
 */
import { numbered } from '../rail/decisions';
import { offsetAt } from '../rail/planLine';
import { runOf, sectionAt } from '../rail/query';
import { rowsAt } from '../rail/laid';
import { mm, said, size, type Said } from '../said';
import { planeFrame } from '../curves/plane';
import type { Finding, Place, Plan } from '../types';
import { alongAt, partingsOf } from './bending';
import { bendsFreely, stripName } from './stripWords';
import { LENGTH_TOLERANCE, type Stock } from './cutting';
import { farthestNode, fewestPieces, solveJoints, type Arc, type Conflict, type JointModel, type JointLayer } from './jointModel';
import { bounded, MILP_LIMITS, type MilpLimits, type MilpSolver } from './milp';
import { ripLengths, type RipLength } from './planks';
import type { BuiltSide, StockLength, Joint, JointPlan, Piece, StripBending } from './types';

/** What is cut from one kind of stock length: its list of stock, how wide and thick it is, mm, and whether it is ripped from the design's planks. */
interface Family extends Pick<StockLength, 'stock' | 'width' | 'thickness' | 'ripped'> {
  readonly lengths?: readonly RipLength[];
}

/** The kinds of stock length of a board: sole and cap share theirs only where they are as thick. */
function familiesOf(design: Plan['design']): readonly Family[] {
  const { rail } = design;
  const family = (stock: Family['stock'], width: number, thickness: number): Family => {
    const lengths = ripLengths(design, width, thickness);
    return { stock, width, thickness, ...(lengths ? { ripped: true, lengths } : {}) };
  };
  const flat = [...new Set([rail.soleThickness, rail.capThickness])];
  return [...flat.map((thickness) => family('strips', rail.stripWidth, thickness)), family('spacers', rail.spacerWidth, rail.spacerHeight)];
}

/** A place a strip may be jointed: where its middle line crosses a rib's mid-plane. */
interface JointPlace {
  readonly rib: number;
  readonly s: number;
  readonly x: number;
}

/** Places where joints of one strip may lie, tail to nose; scarfed joints need their whole length dry. */
function jointPlaces(plan: Plan, bending: StripBending, scarf: number): JointPlace[] {
  const run = runOf(plan);
  const frame = planeFrame();
  const { strip } = bending;
  const inset = bending.width / 2;
  const s0 = bending.s[0];
  const s1 = bending.s[bending.s.length - 1];
  const row = strip.kind === 'row' ? plan.rail.rows.find((r) => r.row === strip.order && r.tail.s === s0) : undefined;
  const out: JointPlace[] = [];
  for (const rib of plan.rail.ribs) {
    if (!rib.hasTab || (row && !row.tabs.includes(rib.index))) continue;
    // Newton along the strip's middle line from the rib-end line's crossing to the rib's mid-plane.
    let s = rib.s;
    let miss = Infinity;
    for (let i = 0; i < 12 && Math.abs(miss) > 1e-9; i++) {
      offsetAt(plan.hull.outline, run.sizes.faceOffset + inset, run.map.parameterAt(s), frame);
      miss = frame.x - rib.x;
      s -= miss / (frame.tx * (1 - inset * rib.section.kappa));
    }
    if (!(Math.abs(miss) < 1e-6) || s <= s0 || s >= s1) continue;
    const at = alongAt(bending, s);
    const free = bending.zones.some((z) => bendsFreely(z)
      && alongAt(bending, z.s0) <= at - scarf / 2 && at + scarf / 2 <= alongAt(bending, z.s1));
    if (free) out.push({ rib: rib.index, s, x: rib.x });
  }
  return out;
}

interface StripModel {
  /** The plan of its side, and which, where the two differ. */
  readonly plan: Plan;
  readonly bending: StripBending;
  readonly family: number;
  readonly scarf: number;
  readonly places: readonly JointPlace[];
  readonly layer: JointLayer;
}

function modelStrip(plan: Plan, bending: StripBending, families: readonly Family[], longest: readonly number[], side?: 0 | 1): StripModel {
  const { design } = plan;
  const stock = bending.strip.kind === 'row' ? 'spacers' : 'strips';
  const family = families.findIndex((f) => f.stock === stock && f.thickness === bending.thickness);
  const scarf = design.rail.joint === 'scarf' ? design.rail.scarfRatio * bending.thickness : 0;
  const places = jointPlaces(plan, bending, scarf);
  const total = bending.along[bending.along.length - 1];
  const along = [0, ...places.map((p) => alongAt(bending, p.s)), total];
  const last = along.length - 1;
  const arcs: Arc[] = [];
  for (let from = 0; from < last; from++) {
    for (let to = from + 1; to <= last; to++) {
      const whole = from === 0 && to === last;
      const length = along[to] - along[from] + (from > 0 ? scarf / 2 : 0) + (to < last ? scarf / 2 : 0);
      const fits = length <= longest[family] + LENGTH_TOLERANCE;
      if (fits && (whole || length >= design.rail.leastPiece)) arcs.push({ from, to, length });
    }
  }
  return { plan, bending, family, scarf, places, layer: { family, nodes: along.length, arcs, ...(side === undefined ? {} : { side }) } };
}

/** Whether two strips of one side lie on each other at run s: neighbours in the stack there. */
function touching(plan: Plan, a: StripBending, b: StripBending, s: number): boolean {
  const top = rowsAt(plan.rail.rows, s);
  const level = (x: StripBending) => (x.strip.kind === 'sole' ? 0 : x.strip.kind === 'cap' ? top + 1 : x.strip.order);
  const stands = (x: StripBending) => s >= x.s[0] && s <= x.s[x.s.length - 1];
  return stands(a) && stands(b) && Math.abs(level(a) - level(b)) === 1;
}

/** Sole and cap are the flanges of the box, whatever rows stand between them: joined at one place, nothing there takes a pull. */
const isFlange = ({ bending: { strip } }: StripModel): boolean => strip.kind !== 'row';

/** Pairs of joints of one side that may not both be: both flanges at one rib; and neighbouring layers, or flanges, nearer than the stagger. */
function conflictsOf(strips: readonly StripModel[], jointStagger: number): { flanges: Conflict[]; stagger: Conflict[] } {
  const [flanges, stagger]: [Conflict[], Conflict[]] = [[], []];
  for (let a = 0; a < strips.length; a++) {
    for (let b = a + 1; b < strips.length; b++) {
      if (strips[a].layer.side !== strips[b].layer.side) continue;
      const { plan } = strips[a];
      const both = isFlange(strips[a]) && isFlange(strips[b]);
      strips[a].places.forEach((p, i) => strips[b].places.forEach((q, j) => {
        const pair = { layerA: a, nodeA: i + 1, layerB: b, nodeB: j + 1 };
        if (both && p.rib === q.rib) flanges.push(pair);
        else if (Math.abs(p.s - q.s) >= jointStagger) return;
        else if (both || [p.s, q.s].some((s) => touching(plan, strips[a].bending, strips[b].bending, s))) stagger.push(pair);
      }));
    }
  }
  return { flanges, stagger };
}

/** What there is to say of butts: how little of a rib each end has to bear on. */
function buttFindings({ design: { frames, rail } }: Plan, joints: readonly Joint[]): Omit<Finding, 'id'>[] {
  const butts = joints.filter(({ kind }) => kind === 'butt');
  if (butts.length === 0) return [];
  const { s, x } = butts.reduce((first, joint) => (joint.s < first.s ? joint : first));
  return [{
    code: 'butt-bearing', level: 'note', figure: frames.ribThickness / 2, unit: 'mm', place: { s, x },
    title: said('Butt joints over ribs {rib} thick bear on {half} each side: {count} of them', {
      count: butts.length, rib: size(frames.ribThickness), half: size(frames.ribThickness / 2),
    }),
    advice: said('Glue a block to the rib under each, as wide as the strip; or join with scarfs, {ratio} times as long as the strip is thick.', { ratio: rail.scarfRatio }),
  }];
}

/** Joints and cutting, with what is wrong. `joints` is left out where nothing at all could be cut. */
export interface JointOutcome {
  readonly joints?: JointPlan;
  readonly findings: readonly Finding[];
}

/**
 * Plan joints and cutting for both sides, from `planBending`'s strips; `port` where that side was measured and is not the
 * mirror of the other. Strips that no stock can make are left out and
 * become findings; so do a stagger that cannot be kept and stock on hand that does not reach, and the plan is made
 * without, so that the other papers come out. `limits` hold for the whole. Throws only what the solver throws.
 */
export function planJoints(
  plan: Plan, bending: readonly StripBending[], solver: MilpSolver, limits: MilpLimits = MILP_LIMITS, port?: BuiltSide,
): JointOutcome {
  const { design } = plan;
  const within = bounded(solver, limits);
  const drafts: Omit<Finding, 'id'>[] = [];
  const kinds = familiesOf(design);
  // Lists of their own, since families with one list share its stock lengths on hand.
  const lists = { strips: [...design.timber.strips], spacers: [...design.timber.spacers] };
  const families: readonly (readonly Stock[])[] = kinds.map(({ stock, lengths }) => lengths ?? lists[stock]);
  const longest = families.map((list) => Math.max(0, ...list.filter((s) => s.onHand !== 0).map((s) => s.length)));
  const modelled = ({ plan: of, bending: strips }: BuiltSide, side?: 0 | 1) =>
    strips.filter((b) => b.strip.kind !== 'outer-skin').map((b) => modelStrip(of, b, kinds, longest, side));
  const all = port ? [...modelled({ plan, bending }, 0), ...modelled(port, 1)] : modelled({ plan, bending });
  const strips = all.filter((m) => {
    if (Number.isFinite(fewestPieces(m.layer))) return true;
    const short = noPath(m.plan, m, kinds[m.family].stock, longest[m.family]);
    // Both sides of a strip say so once, where they say the same.
    if (!drafts.some(({ title }) => JSON.stringify(title) === JSON.stringify(short.title))) drafts.push(short);
    return false;
  });
  if (strips.length === 0) return { findings: numbered(drafts) };

  const { flanges, stagger } = conflictsOf(strips, design.rail.jointStagger);
  const model: JointModel = { layers: strips.map((m) => m.layer), conflicts: [...flanges, ...stagger], families, kerf: design.timber.sawKerf };
  const endless = families.map((list) => list.map(({ length }) => ({ length })));
  let used = model;
  let solution = solveJoints(used, within);
  // Each turn gives something up, and without stagger and with endless stock every layer has its path.
  while (typeof solution === 'string') {
    if (solution === 'stock' && used.families !== endless) {
      used = { ...used, families: endless };
    } else if (solution === 'stagger' && used === model) {
      drafts.push({
        code: 'stagger', level: 'check', title: said('Joints of neighbouring layers cannot all keep {stagger} between them', { stagger: size(design.rail.jointStagger) }),
        advice: 'Buy longer stock, ease the stagger, or add ribs; the joints below are planned without it.', figure: design.rail.jointStagger, unit: 'mm',
      });
      used = { ...used, conflicts: flanges };
    } else if (solution !== 'stock' && used.conflicts.length > 0) {
      drafts.push(solution === 'stagger' ? {
        code: 'flange-joints', level: 'check', title: 'Sole and cap of one side cannot be joined at different ribs',
        advice: 'Buy longer stock, or add ribs; until then back these joints with a block over the whole height of the box.',
      } : {
        code: 'joints-late', level: 'check', unit: 'mm', limit: design.rail.jointStagger,
        title: said('No joints that keep {stagger} between neighbouring layers were found before the search had to end', { stagger: size(design.rail.jointStagger) }),
        advice: 'The joints below are planned without it: check them, or buy longer stock, which leaves less to search.',
      });
      used = { ...used, conflicts: [] };
    } else {
      throw new Error(`joints: no plan (${solution}) for layers that each have one`);
    }
    solution = solveJoints(used, within);
  }
  if (used.families === endless) drafts.push(...shortages(design.timber, kinds, solution.used));

  const stockOf = new Map<number, number>();
  const ordered = solution.used.map((b) => ({ ...b, pieces: [...b.pieces].sort((p, q) => p - q) }))
    .sort((a, b) => a.family - b.family || a.stock - b.stock || a.pieces[0] - b.pieces[0]);
  const stockLengths = ordered.map((b, i): StockLength => {
    for (const p of b.pieces) stockOf.set(p, i);
    const { length } = families[b.family][b.stock];
    const { lengths, ...kind } = kinds[b.family];
    return {
      ...kind, type: lengths?.[b.stock].type ?? b.stock, length, pieces: b.pieces,
      waste: length - b.pieces.reduce((sum, p) => sum + chosenLength(p), 0),
    };
  });
  function chosenLength(p: number): number {
    return typeof solution === 'string' ? 0 : solution.pieces[p].length;
  }
  const counted = new Map<string, number>();
  const pieces = solution.pieces.map((p, i): Piece => {
    const m = strips[p.layer];
    const key = `${p.side}.${p.layer}`;
    const index = (counted.get(key) ?? 0) + 1;
    counted.set(key, index);
    const [s0, s1] = extent(m, p);
    const partings = partingsOf(m.bending, alongAt(m.bending, s0), alongAt(m.bending, s1));
    return {
      strip: m.bending.strip, side: p.side === 0 ? 'starboard' : 'port', index, s0, s1, length: p.length, stockLength: stockOf.get(i) ?? -1,
      ...(partings ? { partings } : {}),
    };
  });
  const joints = solution.pieces.filter((p) => p.to < strips[p.layer].layer.nodes - 1).map((p): Joint => {
    const m = strips[p.layer];
    const place = m.places[p.to - 1];
    const common = { strip: m.bending.strip, side: p.side === 0 ? 'starboard' as const : 'port' as const, s: place.s, x: place.x, rib: place.rib };
    return m.scarf > 0 ? { ...common, kind: 'scarf', scarf: m.scarf } : { ...common, kind: 'butt', bearing: design.frames.ribThickness / 2 };
  });
  drafts.push(...buttFindings(plan, joints));
  const { optimal, pieceBound, stock, stockBound, limit } = solution;
  return {
    joints: { pieces, joints, stockLengths, proof: { optimal, pieces: pieces.length, pieceBound, stock, stockBound, ...(limit === undefined ? {} : { limit }) } },
    findings: numbered(drafts),
  };
}

/** Extent of a piece on the run; a scarf reaches half its length past its place, converted to run by the strip's own rate there. */
function extent(m: StripModel, arc: Arc): [number, number] {
  const { s } = m.bending;
  const at = (node: number, by: number): number => {
    if (node === 0) return s[0];
    if (node === m.layer.nodes - 1) return s[s.length - 1];
    const place = m.places[node - 1].s;
    const rate = (alongAt(m.bending, place + 1) - alongAt(m.bending, place - 1)) / 2;
    return place + (by * m.scarf) / 2 / rate;
  };
  return [at(arc.from, -1), at(arc.to, 1)];
}

/** Why no stock can make a strip: the first stretch that no piece bridges. */
function noPath(plan: Plan, m: StripModel, stock: Family['stock'], longest: number): Omit<Finding, 'id'> {
  const from = farthestNode(m.layer);
  const end = (s: number, name: Said) => ({ s, x: sectionAt(plan, s).x, name });
  const spot = (node: number) => (node === 0
    ? end(m.bending.s[0], 'its tail end')
    : node === m.layer.nodes - 1
      ? end(m.bending.s[m.bending.s.length - 1], 'its nose end')
      : { ...m.places[node - 1], name: said('rib {rib}', { rib: m.places[node - 1].rib + 1 }) });
  const a = spot(from);
  const b = spot(from + 1);
  const at = ({ s, x }: Place & { readonly s: number }) => ({ s, x });
  const span = alongAt(m.bending, b.s) - alongAt(m.bending, a.s);
  const strip = stripName(m.bending.strip);
  const tooLong = span + (from > 0 ? m.scarf : 0) > longest;
  return {
    code: 'stock-short', level: 'check', unit: 'mm', figure: span, limit: longest, place: at(a), extent: { from: at(a), until: at(b), even: true }, strip: m.bending.strip,
    title: tooLong
      ? said('{strip} cannot be made: {span} from {from} to {to} has no place for a joint, and the longest stock length of {stock} is {longest}', {
        strip, span: mm(span, 0), from: a.name, to: b.name, stock, longest: size(longest),
      })
      : said('{strip} cannot be made: the tabs leave no pieces of at least {least} that the stock can give', { strip, least: size(plan.design.rail.leastPiece) }),
    advice: tooLong
      ? 'Buy longer stock, or add a rib there so that a joint finds a tab (joints keep off heated stretches).'
      : 'Buy longer stock, or allow shorter pieces.',
  };
}

/** What must be bought: more stock lengths of a type than on hand. */
function shortages(timber: Plan['design']['timber'], kinds: readonly Family[], used: readonly { family: number; stock: number }[]): Omit<Finding, 'id'>[] {
  return (['strips', 'spacers'] as const).flatMap((name) => timber[name].flatMap((stock, type) => {
    const need = used.filter((b) => kinds[b.family].stock === name && !kinds[b.family].ripped && b.stock === type).length;
    if (stock.onHand === undefined || need <= stock.onHand) return [];
    return [{
      code: 'on-hand', level: 'check' as const, unit: 'count' as const, figure: need, limit: stock.onHand,
      title: said('{need} {name} of {length} are needed and {onHand} are on hand', { need, name, length: size(stock.length), onHand: stock.onHand }),
      advice: 'The stock on hand does not make all strips: buy the rest, or add another length.',
    }];
  }));
}
