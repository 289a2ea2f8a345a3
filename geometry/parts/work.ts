/**
 * The order of work at the bench, what to measure at each step and what it should read, where clamps go, and
 * the usual cautions. The order is common practice of the trade and has no source; figures are the plan's own.
 */
import { blockAt } from '../frame/ends';
import { fittingPlaces, fittingWords, ventOf } from '../frame/fittings';
import { supportLift } from '../frame/jigs';
import { panelAt, panelProbe } from '../hull/panel';
import { sectionAt } from '../rail/query';
import { skinSpan } from '../rail/laid';
import { list, mm, range, said, size, type Said } from '../said';
import type { PartKind, Place, Plan, RibAtRail, Side } from '../types';
import { alongAt } from './bending';
import { isHeated, stripName } from './stripWords';
import { glueAreas, mixFor, plankJoints, type GlueAreas } from './glue';
import { planLies } from './lies';
import { CLAMP_STEP, clampCount, clampsOnRibs, glueWords, lineWords, springWords } from './needs';
import { glueUpWords } from './skinPlanks';
import { twoSided, type PortSide, type StepsOfSide } from './twoSides';
import type { Blank, BuiltSide, JointPlan, SkinPlankPlan, StripBending, StripLie, WorkStep } from './types';

/** Short cautions, by hazard. Makers' data sheets, local codes and licensed practice come first. */
const CAUTIONS = {
  dust: 'Wood dust harms the lungs, and cedar dust can cause asthma: extract it at the tool and wear a fitted mask.',
  resin: 'Uncured resin and hardener can sensitise the skin for good: nitrile gloves, fresh air, and the maker\'s data sheet first.',
  steam: 'Steam and hot irons scald: gloves and long sleeves, and never seal a steam box.',
  blades: 'Edge tools cut toward what they point at: keep both hands behind the edge, and clamp the work.',
  laser: 'Extract a laser\'s fumes at the source, never leave it unattended, and never cut PVC.',
  clamps: 'A bent strip springs: stand clear of its line and let it go slowly.',
  water: 'A board is not a lifesaving device.',
} as const;

/** A caution in a word: its hazard. */
export const cautionName = (caution: string): string => Object.entries(CAUTIONS).find(([, text]) => text === caution)?.[0] ?? caution;

type Check = WorkStep['checks'][number];
/** A step before it is numbered: what of the glued surfaces is its own, and what it needs beside clamps and glue. */
type Draft = Omit<WorkStep, 'index' | 'places' | 'port' | 'needs' | 'glue'> & {
  readonly adds: readonly PartKind[];
  readonly glues?: keyof GlueAreas | 'bottom';
  readonly needs?: readonly Said[];
};

/** Glued surfaces that are told for one side. */
const EACH_SIDE: readonly Draft['glues'][] = ['sole', 'cap', 'rows'];

/**
 * All steps, tail to nose within each. `joints` and `blanks` may be missing: their figures are then left out. `port`:
 * where the sides were not measured alike, port's own; `plan` and `bending` are starboard's then.
 */
export function workSteps(
  plan: Plan, bending: readonly StripBending[], joints?: JointPlan, blanks: readonly Blank[] = [], lies: readonly StripLie[] = planLies(plan, bending), skins?: SkinPlankPlan,
  port?: PortSide,
): WorkStep[] {
  const stepsOf = (side: Side, of: BuiltSide): StepsOfSide<Draft> => ({
    frames: frameSteps(of.plan, skins), box: boxSteps(of.plan, of.bending, lies, joints, side), finish: finishSteps(of.plan, bending, blanks, skins),
  });
  const starboard = stepsOf('starboard', { plan, bending });
  const { frames, box, finish } = port ? twoSided(starboard, stepsOf('port', port), port.measured) : starboard;
  const surfaces = glueAreas(plan, bending);
  const drafts = [...frames, ...box, ...finish];
  const otherSide = frames.length + box.length - 1;
  const places: PartKind[] = [];
  return drafts.map(({ adds, glues, needs, ...draft }, i) => {
    for (const kind of adds) if (!places.includes(kind)) places.push(kind);
    const area = glues === undefined ? 0 : glues === 'bottom' ? plankJoints(skins, 'bottom') : surfaces[glues] + (glues === 'deck' ? plankJoints(skins, 'deck') : 0);
    const each = glues !== undefined && EACH_SIDE.includes(glues);
    return {
      index: i + 1, ...draft,
      needs: [
        ...(needs ?? (draft.clamps.length > 0 ? [clampCount(draft.clamps.length, draft.clamps[0].s !== undefined)] : [])),
        ...(area > 0 ? glueWords(plan, area, each) : []),
      ],
      ...(area > 0 ? { glue: { area, mix: mixFor(plan.design, area) } } : {}),
      places: [...places], port: i < frames.length || i >= otherSide,
    };
  });
}

const length = (what: Said, value: number, place?: Place): Check => ({ what, value, unit: 'mm', ...(place ? { place } : {}) });
const angle = (what: Said, value: number, place: Place): Check => ({ what, value, unit: 'rad', place });
/** A rib's place where the measure lies in its own plane, and where it lies square to the rail, with its run. */
const plane = ({ x }: RibAtRail): Place => ({ x });
const square = ({ s, x }: RibAtRail): Place => ({ s, x });
/** What is measured at a rib. */
const atRib = (what: `${string}{rib}${string}`, { index }: { readonly index: number }): Said => said(what, { rib: index + 1 });

/** Places on [s0, s1] no farther apart than the clamp step, ends a little in. */
function clampsAlong(plan: Plan, s0: number, s1: number): Place[] {
  const n = Math.max(1, Math.ceil((s1 - s0) / CLAMP_STEP));
  return Array.from({ length: n }, (_, i) => {
    const s = s0 + ((i + 0.5) * (s1 - s0)) / n;
    return { s, x: sectionAt(plan, s).x };
  });
}

/** How a strip is brought to its curve, a sentence a stretch; none where it bends cold. */
function bendWords(b: StripBending): Said[] {
  return b.zones.flatMap(({ method, n, s0, s1, wrap }): Said[] => {
    const stretch = range(s0, s1, 'mm', 0);
    const heated = mm(wrap, 0);
    switch (method) {
      case 'cold': return [];
      case 'forced': return [said('Force it cold from {stretch} along the rail: straight grain, a trial offcut first, spares at hand.', { stretch })];
      case 'wet': return [said('Wet heat from {stretch} along the rail: wrap {heated} of the strip.', { stretch, heated })];
      case 'split': return [said('Glue it up from its {n} strips side by side, bent in wet heat from {stretch} along the rail (wrap {heated}); trim its ends after.', { n, stretch, heated })];
      case 'layers': return [said('Glue it up from its {n} thin blanks one on another, bent in wet heat from {stretch} along the rail (wrap {heated}).', { n, stretch, heated })];
      case 'strap': return [said('Wet heat with a metal strap on its back from {stretch} along the rail (wrap {heated}): a trial bend first.', { stretch, heated })];
      default: return [said('Tighter than any method you accept from {stretch} along the rail: ease the curve, or block it.', { stretch })];
    }
  });
}

/** How each of several strips is brought to its curve, by name. */
const bendByName = (strips: readonly StripBending[]): Said[] => strips.flatMap((b) => {
  const words = bendWords(b);
  return words.length === 0 ? [] : [said('{strip}: {words}', { strip: stripName(b.strip), words: list(words) })];
});

const cautionsFor = (strips: readonly StripBending[]): string[] =>
  (strips.some((b) => b.zones.some(isHeated)) ? [CAUTIONS.steam, CAUTIONS.clamps] : [CAUTIONS.clamps]);

/** Distances at which a strip's joints and its ends lie along itself, from its tail end. */
function stripChecks(b: StripBending, joints: JointPlan | undefined, side: Side): Check[] {
  const name = stripName(b.strip);
  const total = b.along[b.along.length - 1];
  const mine = joints?.joints.filter((j) => j.side === side && sameStrip(j.strip, b.strip)) ?? [];
  return [
    length(said('{name}: length along its own middle', { name }), total),
    ...mine.map((j) => length(said('{name}: {kind} joint, from its tail end', { name, kind: j.kind }), alongAt(b, j.s), { s: j.s, x: j.x })),
  ];
}

/** What butts of one kind of strip bear on, where there are any. */
function bearing(joints: JointPlan | undefined, kind: StripBending['strip']['kind']): Said[] {
  const butt = joints?.joints.find((j) => j.strip.kind === kind && j.bearing !== undefined);
  return butt?.bearing === undefined ? [] : [said('Each end of a butt bears on {bearing} of the rib: glue a block beside the rib under it.', { bearing: size(butt.bearing) })];
}

/** How sole or cap is made of its pieces; nothing where it is one. */
const joined = (joints: JointPlan | undefined, kind: 'sole' | 'cap'): Said[] =>
  (joints?.joints.some((j) => j.strip.kind === kind) ? [`Join the ${kind}'s pieces end to end.`, ...bearing(joints, kind)] : []);

const sameStrip = (a: StripBending['strip'], b: StripBending['strip']): boolean =>
  a.kind === b.kind && a.order === b.order && a.stretch === b.stretch;

function frameSteps(plan: Plan, skins: SkinPlankPlan | undefined): Draft[] {
  const { design, rail, hull } = plan;
  const probe = panelProbe();
  const height = (x: number) => panelAt(hull.bottom, x, 0, probe).z;
  const ribs = design.frames.ribs;
  const lift = supportLift(plan);
  const stations = [...new Set([0, ...ribs, hull.length])].sort((a, b) => a - b);
  return [
    {
      id: 'bottom-skin-on-the-bench', title: 'Bottom skin on the bench', adds: ['bottom-skin'], glues: 'bottom', clamps: [], cautions: [CAUTIONS.blades, CAUTIONS.dust],
      text: list([...glueUpWords(skins, 'bottom'), ...(skins ? [] : ['Cut the bottom skin to the outline, well oversize.']), 'Draw the centreline and every rib on it. Set the rocker supports on the bench, each at its station, lay the skin on them and hold it down on the centreline.']),
      checks: stations.map((x) => length('Bench to the underside on the centreline', height(x) + lift, { x })),
    },
    {
      id: 'stringer-and-ribs', title: 'Stringer and ribs', adds: ['stringer', 'rib'], glues: 'frames', clamps: ribs.map((x) => ({ x })), cautions: [CAUTIONS.laser, CAUTIONS.resin],
      text: 'Dry-fit the stringer and all ribs in their notches, labels to the tail. Take them apart, glue stringer and ribs to the skin, and weight them down. Every rib stands square to the centreline and plumb.',
      checks: rail.ribs.flatMap((rib) => [
        length(atRib('Tail to rib {rib}', rib), rib.x, plane(rib)),
        length(atRib('Width over the rib ends of rib {rib}, tabs not counted', rib), 2 * rib.ribY, plane(rib)),
      ]),
    },
    ...blockSteps(plan),
    {
      id: 'clean-the-rib-ends', title: 'Clean the rib ends', adds: [], clamps: [], cautions: [CAUTIONS.blades],
      text: 'Pare away squeezed-out glue at the rib ends and under the tabs while it is still soft: the sole must lie flat on the skin and home against the rib ends.',
      checks: rail.ribs.filter((rib) => rib.hasTab).map((rib) =>
        length(atRib('Height of the tab of rib {rib}', rib), rib.gap, square(rib))),
    },
  ];
}

function boxSteps(plan: Plan, bending: readonly StripBending[], lies: readonly StripLie[], joints: JointPlan | undefined, side: Side): Draft[] {
  const { design, rail } = plan;
  const of = (kind: StripBending['strip']['kind']) => bending.filter((b) => b.strip.kind === kind);
  const [soles, caps, rows] = [of('sole'), of('cap'), of('row')];
  const tabs = rail.ribs.filter((rib) => rib.hasTab);
  const atTabs: Place[] = tabs.map(square);
  const width = design.rail.stripWidth;
  const lie = (kind: 'sole' | 'cap') => lies.filter(({ strip }) => strip.kind === kind);
  const { soleThickness, capThickness } = design.rail;
  const soleClamps = [...atTabs, ...clampsAlong(plan, rail.sole.s0, rail.sole.s1)].sort((a, b) => (a.s ?? 0) - (b.s ?? 0));
  const midBays = tabs.slice(1).map((rib, i) => sectionAt(plan, (rib.s + tabs[i].s) / 2));
  const drafts: Draft[] = [
    {
      id: 'sole-dry', title: 'Sole, dry', adds: [], clamps: atTabs, cautions: cautionsFor(soles),
      needs: [...clampsOnRibs(plan, lie('sole'), atTabs.length, soleThickness), ...lineWords(lie('sole')), ...springWords(soles)],
      text: list([
        ...joined(joints, 'sole'),
        'Slide the sole under the tabs, relieving it where it binds. Bend it home against every rib end.',
        ...soles.flatMap(bendWords),
      ]),
      checks: [
        ...soles.flatMap((b) => stripChecks(b, joints, side)),
        ...tabs.map((rib) => length(atRib('Rib {rib}: rib end to the outer edge of the sole', rib), width, square(rib))),
      ],
    },
    {
      id: 'sole-glued', title: 'Sole, glued', adds: ['sole'], glues: 'sole', clamps: soleClamps,
      cautions: [CAUTIONS.resin, CAUTIONS.clamps],
      text: 'When it is dry again, glue the sole to skin and rib ends. Clamp it down to the skin and in to the ribs, and clean the squeeze-out from the hollow.',
      checks: tabs.map((rib) => length(atRib('Rib {rib}: sole to the top of the tab', rib), rib.gap, square(rib))),
    },
  ];
  if (caps.length > 0) {
    drafts.push({
      id: 'cap', title: 'Cap', adds: ['cap'], glues: 'cap', clamps: atTabs, cautions: [...cautionsFor(caps), CAUTIONS.resin],
      needs: [...clampsOnRibs(plan, lie('cap'), atTabs.length, capThickness), ...springWords(caps)],
      text: list([
        ...joined(joints, 'cap'), 'Bend the cap and glue it on the tabs.', ...caps.flatMap(bendWords),
        'Clamp only behind the ribs, at the tabs: between them the gap is open, and a clamp that overhangs it would pinch the strips together. The gap must stay open for the rows.',
      ]),
      checks: [
        ...caps.flatMap((b) => stripChecks(b, joints, side)),
        ...midBays.map((c) => length('Gap between sole and cap, midway between ribs', c.gap, { s: c.s, x: c.x })),
      ],
    });
  }
  if (rows.length > 0) {
    drafts.push({
      id: 'spacer-rows', title: 'Spacer rows', adds: ['row'], glues: 'rows', needs: springWords(rows), clamps: [], cautions: [...cautionsFor(rows), CAUTIONS.resin],
      text: list(['From the sole up: cut each row square at its stops (the stop is the upper edge of the cut), butts over tabs, and slide it in flush with the outer edges of sole and cap.', ...bearing(joints, 'row'), ...bendByName(rows)]),
      checks: rows.flatMap((b) => {
        const row = rail.rows.find((r) => r.row === b.strip.order && r.tail.s === b.s[0]);
        const stops = row ? [row.tail, row.nose].flatMap(({ end, upper, lower }) => ([['upper', upper], ['lower', lower]] as const).map(([edge, at]) =>
          length(said('{strip}: {end} stop, {edge} edge of the cut, along the rail from the tail', { strip: stripName(b.strip), end, edge }), at.s, { s: at.s, x: at.x }))) : [];
        return [...stops, ...stripChecks(b, joints, side)];
      }),
    });
  }
  const listed = (joints?.joints.length ?? 0) > 0;
  const first = rail.rows.reduce((least, r) => Math.min(least, r.tail.s), Infinity);
  const last = rail.rows.reduce((most, r) => Math.max(most, r.nose.s), -Infinity);
  drafts.push(
    {
      id: 'clamps-moved-to-hold-the-whole-box', title: 'Clamps moved to hold the whole box', adds: [], clamps: last > first ? clampsAlong(plan, first, last) : atTabs, cautions: [CAUTIONS.clamps],
      text: 'With the rows in, move the clamps out over the box so that they hold sole, rows and cap together, and the face is flush. Leave open what the plan leaves open.',
      checks: tabs.filter((rib) => rib.slot > 0.05).map((rib) =>
        length(atRib('Rib {rib}: slot left above the top row', rib), rib.slot, square(rib))),
    },
    {
      id: 'the-other-side', title: 'The other side', adds: [], clamps: [], cautions: [CAUTIONS.clamps, CAUTIONS.resin], ...(listed ? { papers: ['joints.csv'] } : {}),
      text: said('Port is the mirror of starboard: the same steps{joints}. Work both sides in turn, so that the springing strips pull no twist into the board.', {
        joints: listed ? ', the joints where the list of joints puts them' : '',
      }),
      checks: tabs.map((rib) => length(atRib('Width over both box faces at rib {rib}', rib), widthAt(plan, rib.x), plane(rib))),
    },
  );
  return drafts;
}

/** Width of the board over both box faces in the station plane of a rib. */
function widthAt(plan: Plan, x: number): number {
  const { samples } = plan.rail;
  for (let i = 0; i + 1 < samples.n; i++) {
    const [a, b] = [samples.x[i], samples.x[i + 1]];
    if ((a - x) * (b - x) <= 0 && a !== b) return 2 * (samples.y[i] + ((samples.y[i + 1] - samples.y[i]) * (x - a)) / (b - a));
  }
  return 2 * samples.y[samples.y.length - 1];
}

/** Blocks at the ends that need one; no step where the box closes both ends itself. */
function blockSteps(plan: Plan): Draft[] {
  const { hull, rail } = plan;
  const blocks = (['tail', 'nose'] as const).flatMap((end) => blockAt(plan, end) ?? []);
  if (blocks.length === 0) return [];
  const butted = blocks.filter(({ landing }) => landing);
  const one = blocks.length === 1 ? blocks[0].end : undefined;
  return [{
    id: one === undefined ? 'nose-and-tail-blocks' : `${one}-block`,
    title: one === undefined ? 'Nose and tail blocks' : one === 'nose' ? 'Nose block' : 'Tail block',
    adds: ['block'], glues: 'blocks', clamps: [], cautions: [CAUTIONS.resin, CAUTIONS.blades, CAUTIONS.dust],
    text: list([
      `Shape ${one === undefined ? 'the blocks' : 'the block'} to the plan, top and bottom to the inside of the skins, and glue ${one === undefined ? 'them' : 'it'} to the bottom skin and the stringer.`,
      ...(blocks.some(({ beside }) => beside.some(({ kind }) => kind === 'tongue')) ? ['Cut the rebates for sole and cap over and under each tongue before that: end grain holds no strip, the lap does.'] : []),
      ...(butted.length > 0 ? [said('{which} to the finished outline from the landing on, a step across its side as deep as all outer layers: cut it square to the rail.', { which: `Leave the ${butted.map(({ end }) => end).join(' and the ')} block full` })] : []),
      ...(blocks.some(({ beside }) => beside.some(({ kind }) => kind === 'over')) ? ['Rebate it over the sole where that runs on under it.'] : []),
    ]),
    checks: blocks.flatMap(({ end, inner, landing }) => {
      const fromEnd = (x: number) => (end === 'nose' ? hull.length - x : x);
      const meets = rail.meets[end];
      return [
        ...(meets ? [length(said('The two boxes meet, from the {end}', { end }), fromEnd(meets.x), meets)] : []),
        length(said('Inner face of the {end} block, from the {end}', { end }), fromEnd(inner), { x: inner }),
        ...(landing ? [
          length(said('Landing of the outer skins on the {end} block, at the box face, from the {end}', { end }), fromEnd(landing.face), { s: landing.s, x: landing.face }),
          length('Depth of that landing', rail.face.offset, { s: landing.s, x: landing.face }),
        ] : []),
      ];
    }),
  }];
}

function finishSteps(plan: Plan, bending: readonly StripBending[], blanks: readonly Blank[], planked: SkinPlankPlan | undefined): Draft[] {
  const { design, rail, hull } = plan;
  const skins = bending.filter((b) => b.strip.kind === 'outer-skin');
  const tabs = rail.ribs.filter((rib) => rib.hasTab);
  const probe = panelProbe();
  const { cover } = rail.range;
  const covered = skinSpan(rail);
  const skinClamps = clampsAlong(plan, covered.s0, covered.s1);
  const butted = rail.ends.tail?.skinsTo !== undefined || rail.ends.nose?.skinsTo !== undefined;
  const stops: Place[] = [{ x: 0 }, { x: hull.length / 2 }, { x: hull.length }];
  return [
    {
      id: 'fair-the-box-to-the-deck', title: 'Fair the box to the deck', adds: [], clamps: [], cautions: [CAUTIONS.blades, CAUTIONS.dust],
      text: 'Plane the cap to the deck line, bevel by bevel, from rib to rib, and try it with an offcut of deck skin laid across rib and cap. The inner arris stays; the outer edge comes down by the planing depth.',
      checks: tabs.flatMap((rib) => {
        const place = square(rib);
        return [
          angle(atRib('Bevel at rib {rib}, square to the rail', rib), rib.section.bevel, place),
          length(atRib('Planing depth at rib {rib}', rib), rib.section.planing, place),
        ];
      }),
    },
    {
      id: 'trim-the-bottom-skin', title: 'Trim the bottom skin', adds: [], clamps: [], cautions: [CAUTIONS.blades],
      text: list(['Trim the bottom skin flush with the box face all round, square to the bench.', ...(butted ? ['Under a block that the outer skins butt on, trim it flush with the block\'s own outline.'] : [])]),
      checks: tabs.map((rib) => length(atRib('Width of the bottom skin at rib {rib}', rib), widthAt(plan, rib.x), plane(rib))),
    },
    {
      id: 'outer-skins', title: 'Outer skins', adds: ['outer-skin'], glues: 'outerSkins', clamps: skinClamps, cautions: [...cautionsFor(skins), CAUTIONS.resin, CAUTIONS.dust],
      needs: [clampCount(skinClamps.length, true), ...springWords(skins)],
      text: list(['Cut the skin blanks oversize, bend and glue them layer by layer, joints apart.', ...(butted ? ['Cut their ends square to butt on the block\'s landing, and glue each butt.'] : []), ...bendByName(skins)]),
      checks: blanks.flatMap((b) => [
        length(said('Outer skin {layer}: developed length, one side', { layer: b.layer }), b.length),
        length(said('Outer skin {layer}: longer than the box face by', { layer: b.layer }), b.gain),
      ]),
    },
    {
      id: 'trim-and-fair-the-outer-skins', title: 'Trim and fair the outer skins', adds: [], clamps: [], cautions: [CAUTIONS.blades, CAUTIONS.dust],
      text: list(['Trim the outer skins flush with the bottom below and with the planed cap above, and carry the bevel on over them.', ...(butted ? ['Fair the block and the skins that butt on it into one line.'] : [])]),
      checks: [length('Thickness of all outer layers', design.rail.outerLayers * design.rail.outerThickness)],
    },
    {
      id: 'deck-supports-vent-and-fittings', title: 'Deck supports, vent and fittings', adds: design.vent || design.fittings?.length ? ['fitting'] : [], clamps: [], cautions: [CAUTIONS.resin, CAUTIONS.blades, CAUTIONS.dust],
      text: list([
        'Glue in what the deck needs under it: supports, the vent\'s block, fin and leash blocks.', ...fittingWords(plan), ...ventHole(plan, 'bottom'),
        'Seal the inside. A closed hollow board needs a vent, since its air swells in the sun and shrinks in the water: blow through it and feel that every bay breathes.',
      ]),
      checks: [...fittingPlaces(plan).flatMap(({ name, x, y }) => [
        length(said('{name}: middle from the tail', { name }), x, { x }), length(said('{name}: middle from the centreline, to {side}', { name, side: y < 0 ? 'port' : 'starboard' }), Math.abs(y), { x }),
      ]), ...tabs.map((rib) => length(atRib('Deck height inside, on the centreline at rib {rib}', rib),
        panelAt(hull.deck, rib.x, 0, probe).z - design.skins.deck, plane(rib)))],
    },
    {
      id: 'deck-skin', title: 'Deck skin', adds: ['deck-skin'], glues: 'deck', clamps: clampsAlong(plan, rail.cap.s0, rail.cap.s1), cautions: [CAUTIONS.resin, CAUTIONS.blades],
      text: list([...glueUpWords(planked, 'deck'), 'Dry-fit the deck skin, then glue it to stringer, ribs, cap and outer skins. Strap or weight it down from the middle out. Trim it flush.', ...ventHole(plan, 'deck')]),
      checks: stops.map((place) => length('Depth of the board on the centreline', depthAt(plan, place.x), place)),
    },
    {
      id: 'shape-the-rail-round', title: 'Shape the rail round', adds: ['round'], clamps: [], cautions: [CAUTIONS.blades, CAUTIONS.dust],
      ...(rail.ribs.length > 0 ? { papers: ['bench-sheet', 'rail-rounds.svg'] } : {}),
      text: said('Shape the outer skins{blocks} to the rail round{cards}. Go slowest where the cover is thinnest. A small hollow laid bare does no harm: fill it with thickened glue.', {
        blocks: butted ? ' and the blocks they butt on' : '',
        cards: rail.ribs.length > 0 ? ': slide its templates on square to the rail at ribs and stops; the bench sheet\'s rib cards draw the same sections full size' : '',
      }),
      checks: [length('Least cover over the hollow', cover.min, sectionPlace(plan, cover.sMin))],
    },
    {
      id: 'seal', title: 'Seal', adds: [], clamps: [], cautions: [CAUTIONS.resin, CAUTIONS.dust, CAUTIONS.water],
      text: 'Seal and finish by the maker\'s data sheet, with the vent open. Weigh the board: the totals tell what its timber, its glue and the weights you entered come to.',
      checks: [],
    },
  ];
}

/** When the vent's hole is drilled: once its skin lies over its block. */
function ventHole(plan: Plan, through: 'deck' | 'bottom'): Said[] {
  const vent = ventOf(plan);
  return vent.through === through ? [said('Drill the vent\'s hole, {diameter}, from outside through the {through} and its block.', { diameter: size(vent.diameter), through })] : [];
}

const sectionPlace = (plan: Plan, s: number): Place => ({ s, x: sectionAt(plan, s).x });

/** Depth on the centreline, finished outside to finished outside. */
function depthAt(plan: Plan, x: number): number {
  const probe = panelProbe();
  const deck = panelAt(plan.hull.deck, x, 0, probe).z;
  return deck - panelAt(plan.hull.bottom, x, 0, panelProbe()).z;
}
