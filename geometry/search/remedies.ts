/** Changes worth trying for each kind of finding: a few per code, each as a ladder of growing amounts. */
import { BuildError } from '../errors';
import type { Design, LengthCurveName } from '../design/schema';
import { RING_WIDTH } from '../frame/ends';
import { STOP_NEAR_TAB } from '../rail/findings';
import { placeOn } from '../rail/samples';
import type { Finding, Plan, StripName } from '../types';
import { fairCurve } from '../shape/fair';
import { mm, said, size, type Said } from '../said';
import { amountOf, leverById, type LeverId } from './levers';

/** One change of a ladder: what it says and the design it makes (not checked yet). */
export interface Rung {
  readonly title: Said;
  readonly design: Design;
}

/** A ladder of changes for one finding of a plan, least first; empty where it does not apply. */
export type Remedy = (plan: Plan, finding: Finding) => Rung[];

const RUNGS = 8;

/** A lever pulled one way, in its sawn steps or in halves of a whole change. */
function pull(id: LeverId, way: 1 | -1): Remedy {
  const lever = leverById(id);
  const most = way > 0 ? lever.max : -lever.min;
  // Sizes go up by the half millimetre a planer is set by, or their own step where that is coarser.
  const step = lever.step === undefined ? lever.whole / 2 : Math.max(lever.step, 0.5);
  return ({ design }) =>
    Array.from({ length: Math.min(RUNGS, Math.floor(most / step + 1e-9)) }, (_, k) => {
      const amount = way * step * (k + 1);
      return { title: said('{lever} {amount}', { lever: lever.title, amount: amountOf(lever, amount) }), design: lever.apply(design, amount) };
    });
}

/** Sizes of one kind of strip, made less, for findings of such a strip alone. */
const forStrip = (kind: StripName['kind'], ...sizes: LeverId[]): Remedy[] => sizes.map((id) => {
  const less = pull(id, -1);
  return (plan, finding) => (finding.strip?.kind === kind ? less(plan, finding) : []);
});

/** A lever toward the end of the board at which the finding lies. */
const pullNearer = (which: 'thickness' | 'breadth', way: 1 | -1): Remedy => (plan, finding) =>
  pull(`${which}-${(finding.place?.x ?? 0) > plan.hull.length / 2 ? 'nose' : 'tail'}`, way)(plan, finding);

/** A length curve with every value raised by an amount. */
const raised = (design: Design, name: LengthCurveName, by: number): Design => ({
  ...design,
  lines: { ...design.lines, [name]: { ...design.lines[name], points: design.lines[name].points.map((p) => ({ ...p, v: p.v + by })) } },
});

const fuller: Remedy = ({ design }) =>
  [0.1, 0.2, 0.3, 0.4].map((by) => ({ title: said('Rail round fuller by {by}', { by }), design: raised(design, 'fullness', by) }));

const tighterRound: Remedy = ({ design }) =>
  [1, 2, 3, 4, 6].map((by) => ({ title: said('Rail round meets the deck {by} further out', { by: size(by) }), design: raised(design, 'turn', -by) }));

const anotherLayer: Remedy = ({ design }) => [
  { title: 'One more outer layer', design: { ...design, rail: { ...design.rail, outerLayers: design.rail.outerLayers + 1 } } },
];

const withRail = (design: Design, change: Partial<Design['rail']>): Design => ({ ...design, rail: { ...design.rail, ...change } });

const lessClearance: Remedy = ({ design }) =>
  [0.75, 0.5, 0.25, 0].map((share) => {
    const clearance = Number((design.rail.clearance * share).toFixed(2));
    return { title: said('Clearance {clearance}', { clearance: size(clearance) }), design: withRail(design, { clearance }) };
  });

/** A spacer low enough for the deepest gap, then lower still, so that a row of the least length fits. */
const spacerThatFits: Remedy = ({ design, rail }) =>
  [0, 0.5, 1, 2, 4, 8].flatMap((lower) => {
    const spacerHeight = Math.floor(2 * (rail.range.gap.max - design.rail.clearance)) / 2 - lower;
    return spacerHeight > 0 && spacerHeight < design.rail.spacerHeight
      ? [{ title: said('Spacer height {height}', { height: size(spacerHeight) }), design: withRail(design, { spacerHeight }) }]
      : [];
  });

/** Rows as short as the one left out are laid. */
const shorterRows: Remedy = ({ design }, finding) => {
  const leastRow = Math.floor(finding.figure ?? Number.NaN);
  return leastRow >= 0 ? [{ title: said('Rows of {least} and longer are laid', { least: size(leastRow) }), design: withRail(design, { leastRow }) }] : [];
};

const withRibs = (design: Design, ribs: readonly number[]): Design => ({ ...design, frames: { ...design.frames, ribs: [...ribs] } });

/** Index of the rib nearest a finding, or undefined without place or ribs. */
function ribAt({ design }: Plan, finding: Finding): number | undefined {
  const x = finding.place?.x;
  const { ribs } = design.frames;
  if (x === undefined || ribs.length === 0) return undefined;
  return ribs.reduce((best, at, i) => (Math.abs(at - x) < Math.abs(ribs[best] - x) ? i : best), 0);
}

/** The nearest rib moved away from the place, then toward and past it. */
const moveRib: Remedy = (plan, finding) => {
  const index = ribAt(plan, finding);
  if (index === undefined) return [];
  const { ribs } = plan.design.frames;
  const away = ribs[index] >= (finding.place?.x ?? 0) ? 1 : -1;
  return [5, 10, 15, 20, 30].filter((by) => by <= 2 * STOP_NEAR_TAB + 10).flatMap((by) =>
    [away, -away].map((sign) => ({
      title: said('Rib {rib} moved {by} toward the {end}', { rib: index + 1, by: size(by), end: sign > 0 ? 'nose' : 'tail' }),
      design: withRibs(plan.design, ribs.map((x, i) => (i === index ? x + sign * by : x))),
    })));
};

/** The nearest rib moved toward the middle of the board. */
const moveRibInward: Remedy = (plan, finding) => {
  const index = ribAt(plan, finding);
  if (index === undefined) return [];
  const { ribs } = plan.design.frames;
  const sign = ribs[index] > plan.hull.length / 2 ? -1 : 1;
  return [10, 20, 30, 45, 60, 80, 100].map((by) => ({
    title: said('Rib {rib} moved {by} toward the middle', { rib: index + 1, by: size(by) }),
    design: withRibs(plan.design, ribs.map((x, i) => (i === index ? x + sign * by : x))),
  }));
};

const leaveRibOut: Remedy = (plan, finding) => {
  const index = ribAt(plan, finding);
  return index === undefined ? [] : [{ title: said('Rib {rib} left out', { rib: index + 1 }), design: withRibs(plan.design, plan.design.frames.ribs.filter((_, i) => i !== index)) }];
};

/** A rib in the middle of the stretch. */
const addRib: Remedy = (plan, { extent }) => {
  if (!extent) return [];
  const x = Math.round((extent.from.x + extent.until.x) / 2);
  return [{ title: said('One more rib, {x} from the tail', { x: size(x) }), design: withRibs(plan.design, [...plan.design.frames.ribs, x].sort((a, b) => a - b)) }];
};

/** The outline faired, with ever more room to move. */
const fairOutline: Remedy = ({ design }) =>
  [1, 2, 5, 10].flatMap((limit) => {
    try {
      const { curve, greatestMove } = fairCurve(design.lines.outline, { limit });
      return [{
        title: said('Outline faired, no point moved more than {move}', { move: mm(greatestMove.amount) }),
        design: { ...design, lines: { ...design.lines, outline: curve } },
      }];
    } catch (error) {
      if (error instanceof BuildError) return [];
      throw error;
    }
  });

/** How far from a finding a corner of the lines may lie to be its cause, mm. */
const CORNER_REACH = 100;

/** The corner of the lines nearest to the finding made smooth, then all that lie near it. */
const easeCorner: Remedy = ({ design }, { place }) => {
  const names = Object.keys(design.lines) as (keyof Design['lines'])[];
  const away = (x: number) => Math.abs(x - (place?.x ?? Number.NaN));
  const near = names.flatMap((name) => design.lines[name].points.flatMap((p) => (p.corner && away(p.x) < CORNER_REACH ? [{ name, x: p.x }] : [])))
    .sort((a, b) => away(a.x) - away(b.x));
  const smoothed = (corners: typeof near) => ({
    ...design,
    lines: corners.reduce((lines, { name, x }) => ({
      ...lines, [name]: { ...lines[name], points: lines[name].points.map((p) => (p.x === x ? { ...p, corner: false } : p)) },
    }), design.lines),
  });
  const [nearest] = near;
  return [
    ...(nearest ? [{ title: said('Corner of the {line} at {x} made smooth', { line: nearest.name, x: size(nearest.x) }), design: smoothed([nearest]) }] : []),
    ...(near.length > 1 ? [{ title: said('Corners of the lines within {reach} of it made smooth', { reach: size(CORNER_REACH) }), design: smoothed(near) }] : []),
  ];
};

/** The end of the board that a finding lies at. */
const endOf = ({ hull }: Pick<Plan, 'hull'>, { place }: Finding): 'tail' | 'nose' => ((place?.x ?? 0) > hull.length / 2 ? 'nose' : 'tail');

/** An end's filling chosen: what the plan would put there anyway, now decided. */
const endFilled: Remedy = (plan, finding) => {
  const { design } = plan;
  const end = endOf(plan, finding);
  return (['ring', 'solid'] as const).map((block) => ({
    title: said(block === 'ring' ? 'A ring at the {end}, skins wrapped round it' : 'A solid block at the {end}, skins wrapped round it', { end }),
    design: { ...design, ends: { ...design.ends, [end]: { block, skins: 'wrapped' } } },
  }));
};

/** Outer skins that butt on an end's block, or go round it: where the strips stop on one. */
const skinsAtEnd = (skins: 'butted' | 'wrapped'): Remedy => (plan, finding) => {
  const { design, rail } = plan;
  const end = endOf(plan, finding);
  const ended = rail.ends[end];
  const chosen = design.ends?.[end];
  if (!ended || (chosen?.skins ?? 'wrapped') === skins) return [];
  return [{
    title: said(skins === 'butted' ? 'The outer skins butted on the {end} block' : 'The outer skins wrapped round the {end} block', { end }),
    design: { ...design, ends: { ...design.ends, [end]: { block: chosen?.block ?? (ended.cause === 'bend' ? 'ring' : 'solid'), skins } } },
  }];
};
/** A ring no wider than the boards its pieces come from. */
const narrowerRing: Remedy = ({ design }, finding) => {
  const { figure, limit } = finding;
  if (figure === undefined || limit === undefined) return [];
  const now = design.ends?.ringWidth ?? RING_WIDTH;
  return [0, 2, 5, 10].flatMap((more) => {
    const ringWidth = Math.floor(now - (figure - limit) - more);
    return ringWidth >= Math.max(10, 2 * design.rail.stripWidth) ? [{ title: said('Rings {width} wide', { width: size(ringWidth) }), design: { ...design, ends: { ...design.ends, ringWidth } } }] : [];
  });
};

/** The butt for a bend of the outer skins alone. */
const buttSkins: Remedy = (plan, finding) => (finding.strip?.kind === 'outer-skin' ? skinsAtEnd('butted')(plan, finding) : []);

/** What the maker might agree to where wet heat does not do. */
const agreed = (what: 'split' | 'strap'): Remedy => ({ design }) => (design.consents?.[what] ? [] : [{
  title: what === 'split' ? 'Strips split on their width, bent wet and glued side by side' : 'Strips bent wet with a strap on their back',
  design: { ...design, consents: { ...design.consents, [what]: true } },
}]);

/** One more rib in the last bay of the end at which the finding lies, halfway. */
const ribInLastBay: Remedy = ({ design, hull, rail }, { place }) => {
  const { ribs } = design.frames;
  if (!place || ribs.length === 0) return [];
  const tail = place.x < hull.length / 2;
  const last = tail ? ribs[0] : ribs[ribs.length - 1];
  const end = [rail.cap.s0, rail.cap.s1].map((s) => placeOn(rail.samples, s).x)[tail ? 0 : 1];
  const x = Math.round((last + end) / 2);
  return [{ title: said('One more rib, {x} from the tail', { x: size(x) }), design: withRibs(design, [...ribs, x].sort((a, b) => a - b)) }];
};

const looserNotch: Remedy = ({ design }) => [{ title: said('Notches {fit} loose', { fit: size(0.1) }), design: { ...design, frames: { ...design.frames, notchFit: 0.1 } } }];

/** What to try for each code; codes that are not here describe the board and need no change. */
export const REMEDIES: Readonly<Record<string, readonly Remedy[]>> = {
  'no-gap': [pull('thickness', 1), pull('sole-thickness', -1), pull('cap-thickness', -1)],
  'no-row': [spacerThatFits, pull('thickness', 1), pull('cap-thickness', -1), lessClearance],
  'plane-through': [pull('cap-thickness', 1), pull('crown', -1), pull('strip-width', -1)],
  'cap-thin': [pull('cap-thickness', 1), pull('crown', -1), pull('strip-width', -1)],
  'sole-thin': [pull('sole-thickness', 1), pull('vee', -1), pull('strip-width', -1)],
  'break-through': [pull('outer-thickness', 1), anotherLayer, pull('spacer-width', 1), fuller, tighterRound],
  cover: [pull('outer-thickness', 1), anotherLayer, pull('spacer-width', 1), fuller, tighterRound],
  'box-cut': [pull('outer-thickness', 1), anotherLayer, fuller, tighterRound],
  'row-short': [shorterRows, pullNearer('thickness', 1), pull('spacer-height', -1)],
  'row-no-tab': [addRib, moveRib],
  'stop-bend': [pull('spacer-width', -1)],
  'stop-near-tab': [moveRib, pullNearer('thickness', 1)],
  closed: [pullNearer('thickness', 1), pull('cap-thickness', -1), pull('sole-thickness', -1)],
  'no-room': [pullNearer('thickness', 1), pull('sole-thickness', -1)],
  'will-not-bend': [
    forStrip('sole', 'strip-width', 'sole-thickness'), forStrip('cap', 'strip-width', 'cap-thickness'),
    forStrip('row', 'spacer-width', 'spacer-height'), forStrip('outer-skin', 'outer-thickness'), buttSkins, agreed('split'), agreed('strap'),
  ].flat(),
  'skins-run-on': [skinsAtEnd('wrapped')],
  'ring-wide': [narrowerRing],
  'end-block': [endFilled, agreed('split'), agreed('strap'), forStrip('sole', 'strip-width'), forStrip('cap', 'strip-width')].flat(),
  'edge-buckle': [forStrip('sole', 'strip-width'), forStrip('cap', 'strip-width')].flat(),
  'last-bay': [ribInLastBay],
  kink: [easeCorner],
  corner: [easeCorner, pull('outer-thickness', -1), pull('strip-width', -1), fairOutline],
  'rib-clear': [moveRibInward, leaveRibOut],
  'rib-in-block': [moveRibInward, leaveRibOut],
  'tab-low': [moveRibInward, leaveRibOut],
  'deck-rises': [pull('crown', 1), pullNearer('thickness', -1)],
  'deck-round': [pull('crown', -1), pull('strip-width', -1)],
  loft: [fairOutline],
  inflection: [fairOutline],
  'notch-tight': [looserNotch],
};
