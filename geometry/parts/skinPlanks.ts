/**
 * Deck and bottom skin glued up from planks, grain along the board: how many planks wide, where the joints run, what
 * each plank is cut to, how it lies on the stock, and the oversize outline that is sawn once the panel is glued.
 *
 * A skin is nearly flat: it is laid out by its girths, u the length along the centreline's profile from the tail, v the
 * way across the surface from the centreline. True where the skin bends one way only; the oversize takes the rest.
 */
import { evalSpline } from '../curves/bspline';
import { kerfCompensated } from '../frame/kerf';
import { labelIn, type Mark } from '../frame/label';
import type { FlatShape } from '../frame/types';
import { panelAt, panelProbe } from '../hull/panel';
import { numbered } from '../rail/decisions';
import { list, mm, said, section, size, type Said } from '../said';
import type { Finding, Plan } from '../types';
import { PLANK_EDGES, PLANK_ENDS } from './planks';
import type { PanelPlan, PanelPiece, SkinPlankPlan } from './types';

/** Left over all round a glued-up skin until it is trimmed, mm: own choice. */
export const PANEL_OVERSIZE = 15;
/** Stations tabled along a panel, and points across it. */
const ALONG = 240;
const ACROSS = 8;

type Stock = NonNullable<Plan['design']['timber']['skinPlanks']>[number];

/** Length along the centreline's profile up to a station, and the girth from the centreline out to y there. */
interface Flat {
  u(x: number): number;
  v(x: number, y: number): number;
}

function flatten(plan: Plan, panel: 'deck' | 'bottom'): Flat {
  const { hull } = plan;
  const face = hull[panel];
  const probe = panelProbe();
  const us = new Float64Array(ALONG + 1);
  const speed = (x: number) => Math.hypot(1, panelAt(face, x, 0, probe).zx);
  const h = hull.length / ALONG;
  for (let i = 1; i <= ALONG; i++) us[i] = us[i - 1] + (h / 6) * (speed((i - 1) * h) + 4 * speed((i - 0.5) * h) + speed(i * h));
  return {
    u: (x) => {
      const at = Math.min(ALONG - 1e-9, Math.max(0, x / h));
      const i = Math.floor(at);
      return us[i] + (us[i + 1] - us[i]) * (at - i);
    },
    v: (x, y) => {
      let sum = 0;
      let z = panelAt(face, x, 0, probe).z;
      for (let k = 1; k <= ACROSS; k++) {
        const next = panelAt(face, x, (y * k) / ACROSS, probe).z;
        sum += Math.hypot(y / ACROSS, next - z);
        z = next;
      }
      return sum;
    },
  };
}

/** A whole skin in the flat, both sides, out to the outline: counter-clockwise from the tail's starboard corner. */
function netOutline(plan: Plan, flat: Flat): Float64Array {
  const { outline } = plan.hull;
  const [u0, u1] = [outline.knots[0], outline.knots[outline.knots.length - 1]];
  const [out, basis] = [new Float64Array(6), new Float64Array(12)];
  const half: number[] = [];
  for (let i = 0; i <= ALONG; i++) {
    evalSpline(outline, u0 + ((u1 - u0) * i) / ALONG, out, basis);
    const [x, y] = [Math.min(plan.hull.length, Math.max(0, out[0])), Math.max(0, out[1])];
    half.push(flat.u(x), flat.v(x, y));
  }
  const loop: number[] = [];
  // Port first, so that the loop turns counter-clockwise; a tip on the centreline is one point.
  for (let i = 0; i < half.length; i += 2) loop.push(half[i], -half[i + 1]);
  for (let i = half.length - 2; i >= 0; i -= 2) if (half[i + 1] > 1e-6) loop.push(half[i], half[i + 1]);
  return Float64Array.from(loop);
}

/** Least and greatest u of a loop between two values of v; undefined where it has nothing there. */
function extentBetween(loop: Float64Array, v0: number, v1: number): { u0: number; u1: number } | undefined {
  let [u0, u1] = [Infinity, -Infinity];
  const take = (u: number) => {
    u0 = Math.min(u0, u);
    u1 = Math.max(u1, u);
  };
  for (let i = 0; i < loop.length; i += 2) {
    const j = (i + 2) % loop.length;
    const [a, p, b, q] = [loop[i], loop[i + 1], loop[j], loop[j + 1]];
    if (p >= v0 && p <= v1) take(a);
    for (const v of [v0, v1]) if ((p - v) * (q - v) < 0) take(a + ((b - a) * (v - p)) / (q - p));
  }
  return u1 > u0 ? { u0, u1 } : undefined;
}

/** Stretches of a strake that stock of a length makes, end to end over ribs; every second strake prefers the other way, so that butts lie apart. Undefined where no rib lies so. */
function stretches(u0: number, u1: number, most: number, ribs: readonly number[], fromNose: boolean): [number, number][] | undefined {
  if (u1 - u0 <= most) return [[u0, u1]];
  const within = ribs.filter((u) => u > u0 + 1 && u < u1 - 1);
  const joint = fromNose ? within.find((u) => u1 - u <= most) : within.filter((u) => u - u0 <= most).at(-1);
  if (joint === undefined) return undefined;
  const rest = fromNose ? stretches(u0, joint, most, ribs, fromNose) : stretches(joint, u1, most, ribs, fromNose);
  return rest && (fromNose ? [...rest, [joint, u1]] : [[u0, joint], ...rest]);
}

/** One skin from planks of one kind; undefined where they cannot make it. */
function layPanel(plan: Plan, panel: 'deck' | 'bottom', stock: Stock): Omit<PanelPlan, 'pieces'> & { readonly pieces: Omit<PanelPiece, 'plank' | 'number'>[] } | undefined {
  const flat = flatten(plan, panel);
  const net = netOutline(plan, flat);
  const shape = kerfCompensated({ outline: net, holes: [], marks: [] }, 2 * PANEL_OVERSIZE);
  const wide = stock.width - PLANK_EDGES;
  const half = Math.max(...shape.outline.filter((_, i) => i % 2 === 1));
  const strakes = Math.max(1, Math.ceil((2 * half) / wide - 1e-9));
  const ribs = plan.design.frames.ribs.map((x) => flat.u(x));
  const pieces: Omit<PanelPiece, 'plank' | 'number'>[] = [];
  const marks: Mark[] = [{ kind: 'line', points: Float64Array.from([...net, net[0], net[1]]) }];
  for (let k = 0; k < strakes; k++) {
    const [v0, v1] = [(k - strakes / 2) * wide, (k + 1 - strakes / 2) * wide];
    const extent = extentBetween(shape.outline, v0, v1);
    if (!extent) continue;
    // Alike on both sides of the middle.
    const out = Math.floor(Math.abs(k - (strakes - 1) / 2));
    const parts = stretches(extent.u0, extent.u1, stock.length - PLANK_ENDS, ribs, out % 2 === 1);
    if (!parts) return undefined;
    parts.forEach(([u0, u1], i) => {
      pieces.push({ strake: k + 1, u0, u1, v0, v1, length: u1 - u0 });
      if (i > 0) marks.push({ kind: 'line', points: Float64Array.from([u0, v0, u0, v1]) });
      const mid = (u0 + u1) / 2;
      marks.push(...labelIn([`${panel.toUpperCase()} ${k + 1}`], mid - 60, v0 + 2, mid + 60, v1 - 2));
    });
    const joint = k > 0 ? jointLine(shape.outline, v0) : undefined;
    if (joint) marks.push({ kind: 'line', points: Float64Array.from([joint.u0, v0, joint.u1, v0]) });
  }
  return { panel, thickness: plan.design.skins[panel], strakes, wide, shape: { ...shape, marks } as FlatShape, pieces };
}

/** Where a line of one v crosses a loop, first and last. */
const jointLine = (loop: Float64Array, v: number) => extentBetween(loop, v - 1e-6, v + 1e-6);

/** Planks that pieces are cut from, first fit by falling length: piece numbers of each. */
function cutFrom(lengths: readonly number[], stock: Stock, kerf: number): number[][] {
  const room = stock.length - PLANK_ENDS;
  const planks: { left: number; pieces: number[] }[] = [];
  for (const i of lengths.map((_, k) => k).sort((a, b) => lengths[b] - lengths[a] || a - b)) {
    const plank = planks.find(({ left }) => left >= lengths[i] + kerf);
    if (plank) {
      plank.left -= lengths[i] + kerf;
      plank.pieces.push(i);
    } else planks.push({ left: room - lengths[i], pieces: [i] });
  }
  return planks.map(({ pieces }) => pieces);
}

/**
 * Deck and bottom skin from the design's planks; undefined where it has none. Of several kinds of plank that one is
 * taken which costs least, those that are on hand in number first. Skins as thick as each other share planks.
 */
export function planSkinPlanks(plan: Plan): { skins?: SkinPlankPlan; findings: Finding[] } {
  const { timber, skins } = plan.design;
  const kinds = timber.skinPlanks;
  if (!kinds) return { findings: [] };
  const tried = kinds.flatMap((stock, type) => {
    const panels = (['bottom', 'deck'] as const).flatMap((panel) => layPanel(plan, panel, stock) ?? []);
    if (panels.length < 2) return [];
    const groups = skins.bottom === skins.deck ? [panels] : panels.map((panel) => [panel]);
    const planks = groups.flatMap((group) => {
      const all = group.flatMap(({ panel, pieces }) => pieces.map((piece) => ({ panel, piece })));
      return cutFrom(all.map(({ piece }) => piece.length), stock, timber.sawKerf).map((cut) => ({ thickness: group[0].thickness, cut: cut.map((i) => all[i]) }));
    });
    const missing = Math.max(0, planks.length - (stock.onHand ?? Infinity));
    return [{ type, stock, panels, planks, missing, cost: planks.length * stock.price }];
  });
  const best = tried.sort((a, b) => Number(a.missing > 0) - Number(b.missing > 0) || a.cost - b.cost || a.planks.length - b.planks.length).at(0);
  if (!best) {
    const longest = Math.max(...kinds.map(({ length }) => length));
    return {
      findings: numbered([{
        code: 'skin-planks', level: 'check', title: said('No plank makes a deck or bottom skin: the longest is {longest}', { longest: size(longest) }), figure: longest, limit: plan.hull.length, unit: 'mm',
        advice: 'Enter longer planks, or set ribs where shorter ones can butt; until then the skins are priced as panels.',
      }]),
    };
  }
  let number = 0;
  const panels = best.panels.map(({ pieces, ...panel }): PanelPlan => ({
    ...panel, pieces: pieces.map((piece): PanelPiece => ({ ...piece, number: ++number, plank: best.planks.findIndex(({ cut }) => cut.some((one) => one.piece === piece)) + 1 })),
  }));
  const of = (piece: object) => panels.flatMap((panel, k) => panel.pieces.filter((_, i) => best.panels[k].pieces[i] === piece)).map(({ number: n }) => n)[0];
  const planks = best.planks.map(({ thickness, cut }) => ({ thickness, pieces: cut.map(({ piece }) => of(piece)), left: best.stock.length - PLANK_ENDS - cut.reduce((sum, { piece }) => sum + piece.length, 0) - (cut.length - 1) * timber.sawKerf }));
  return {
    skins: { type: best.type, length: best.stock.length, width: best.stock.width, price: best.stock.price, panels, planks },
    findings: best.missing === 0 ? [] : numbered([{
      code: 'skin-planks-short', level: 'check', figure: best.stock.onHand ?? 0, limit: best.planks.length, unit: 'count',
      title: said('Deck and bottom skin need {needed} planks, and {have} are on hand', { needed: best.planks.length, have: best.stock.onHand ?? 0 }),
      advice: 'Buy the rest, or enter another width.',
    }]),
  };
}

/** How a skin is glued up, for the order of work: from the middle out, in pairs. Nothing where it is bought as a panel. */
export function glueUpWords(skins: SkinPlankPlan | undefined, panel: 'deck' | 'bottom'): Said[] {
  const laid = skins?.panels.find((one) => one.panel === panel);
  if (!skins || !laid) return [];
  const { strakes, wide, thickness, pieces } = laid;
  const middle = strakes % 2 === 1 ? [(strakes + 1) / 2] : [strakes / 2, strakes / 2 + 1];
  const order = [middle.join(' and '), ...Array.from({ length: Math.max(0, middle[0] - 1) }, (_, i) => `${middle[0] - 1 - i} and ${(middle.at(-1) ?? 0) + 1 + i}`)];
  return [
    said('Glue up the {panel} skin from {count} planks side by side, {section} once their edges are shot, numbered from port: from the middle out, {order}, every joint flush on top, clamps above and below in turn.', {
      panel, count: strakes, section: section(Number(wide.toFixed(1)), thickness), order: list(order, ', then '),
    }),
    ...(pieces.length > strakes ? [said('Pieces butted end to end ({butts}) meet over ribs, a block glued under each butt.', { butts: pieces.length - strakes })] : []),
    said('Saw it {oversize} outside the outline.', { oversize: mm(PANEL_OVERSIZE, 0) }),
  ];
}
