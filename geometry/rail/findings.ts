/** What the plan of the rail finds: each finding with place, figure, limit and advice. */
import type { Design } from '../design/schema';
import { mm, said } from '../said';
import { type FindingDraft, worstFirst } from './decisions';
import { hollowSpan } from './laid';
import { placeOn } from './samples';
import { limitsFor } from '../wood/limits';
import type { Hull, Place, RailPlan, RailSection, StripName } from '../types';

/** Closest a stop may come to a tab before it is worth telling, mm: common practice, no source. */
export const STOP_NEAR_TAB = 10;
/** A cap planed below this share of its thickness is called thin: the project's own choice. */
const THIN_CAP = 0.4;
/** A deck this hollow or round across the strip shows after one straight pass, mm: the project's own choice. */
const VISIBLE_HOLLOW = 0.3;
/** A deck that rises outboard by more shows under the skin, mm: the project's own choice. */
const VISIBLE_RISE = 0.2;
/** Loft error worth telling, mm. */
const LOFT_LIMIT = 0.05;

const CAP: StripName = { kind: 'cap', order: 0 };

/** All findings of hull and rail, worst first, then from tail to nose. */
export function railFindings(design: Design, hull: Hull, rail: RailPlan): FindingDraft[] {
  const found: FindingDraft[] = [];
  const { samples } = rail;
  const at = (i: number): Place => ({ s: samples.s[i], x: samples.x[i] });

  const over = ({ s0, s1 }: { readonly s0: number; readonly s1: number }) => {
    const [from, until] = [placeOn(samples, s0), placeOn(samples, s1)];
    return { place: from, extent: { from, until, even: true } } as const;
  };

  /** One finding per stretch of samples where `value` is under `limit`, at its worst place. */
  const below = (
    field: keyof RailSection, limit: number, from: number, to: number,
    make: (worst: number) => Omit<FindingDraft, 'place' | 'extent'>,
  ) => {
    const { n, s, [field]: value } = samples;
    let start = -1;
    let worst = -1;
    for (let i = 0; i <= n; i++) {
      const inside = i < n && value[i] < limit && s[i] >= from && s[i] <= to;
      if (inside) {
        if (start < 0) start = worst = i;
        if (value[i] < value[worst]) worst = i;
      } else if (start >= 0) {
        found.push({ place: at(worst), extent: { from: at(start), until: at(i - 1) }, figure: value[worst], limit, ...make(value[worst]) });
        start = -1;
      }
    }
  };

  if (!(rail.range.gap.max > 0)) {
    found.push({
      code: 'no-gap', level: 'cannot', title: 'The strips touch everywhere: there is no hollow',
      advice: 'Make the board thicker at its rail, or the sole and cap thinner.',
      figure: rail.range.gap.max, limit: 0, unit: 'mm', place: placeOn(samples, rail.range.gap.sMax),
    });
  } else if (rail.rows.length === 0) {
    found.push({
      code: 'no-row', level: 'cannot', title: 'No spacer row fits anywhere',
      advice: 'Use a lower spacer or a thinner sole and cap, ease the clearance, or deepen the board at its rail.',
      figure: rail.range.gap.max, limit: design.rail.spacerHeight + design.rail.clearance, unit: 'mm', place: placeOn(samples, rail.range.gap.sMax),
    });
  }

  below('capLeft', 1e-9, rail.cap.s0, rail.cap.s1, () => ({
    code: 'plane-through', level: 'check', title: 'Planing to the deck cuts through the cap', unit: 'mm',
    advice: 'Use a thicker cap or a narrower strip, or lower the crown here.', strip: CAP,
  }));
  below('capLeft', design.rail.capThickness * THIN_CAP, rail.cap.s0, rail.cap.s1, () => ({
    code: 'cap-thin', level: 'note', title: 'Little of the cap is left at its outer edge', unit: 'mm',
    advice: 'Plane with care, or use a thicker cap strip.', strip: CAP,
  }));
  below('soleLeft', design.rail.soleThickness * THIN_CAP, rail.sole.s0, rail.sole.s1, (worst) => ({
    code: 'sole-thin', level: worst > 0 ? 'note' : 'check', title: 'Little of the sole is left at its outer edge', unit: 'mm',
    advice: 'Use a thicker sole strip or less vee here.', strip: { kind: 'sole', order: 0 },
  }));
  const hollow = hollowSpan(rail);
  below('cover', design.rail.leastCover, hollow.s0, hollow.s1, (worst) => ({
    code: worst <= 0 ? 'break-through' : 'cover', level: 'check', unit: 'mm',
    title: worst <= 0 ? 'Final shaping breaks into the hollow' : 'Thin cover over the hollow after shaping',
    advice: 'Add an outer layer or thickness, use wider spacers, or make the rail round fuller here.',
  }));
  below('boxCover', 0, rail.cap.s0, rail.cap.s1, () => ({
    code: 'box-cut', level: 'note', title: 'Final shaping takes the corner off the box', unit: 'mm',
    advice: 'Harmless while the hollow keeps its cover; thicker outer skins would spare the strips.',
  }));

  for (const d of rail.dropped) {
    found.push({
      code: d.why === 'short' ? 'row-short' : 'row-no-tab', level: 'note',
      title: said(d.why === 'short' ? 'Row {row} would be too short here and is left out' : 'Row {row} would reach no tab here and is left out', { row: d.row }),
      advice: 'Leave it out, or fill by hand at the bench.',
      ...over(d), strip: { kind: 'row', order: d.row }, figure: d.s1 - d.s0, limit: design.rail.leastRow, unit: 'mm',
    });
  }
  for (const row of rail.rows) {
    for (const stop of [row.tail, row.nose]) {
      const place = { s: stop.s, x: stop.x };
      if (stop.cause === 'bend') {
        found.push({
          code: 'stop-bend', level: 'note', title: said('Row {row} stops toward the {end}: the curve is too tight for the spacer to bend', { row: row.row, end: stop.end }),
          advice: 'Use a narrower spacer, laminate it, or block here.', place, strip: { kind: 'row', order: row.row },
        });
      }
      const near = rail.ribs.find((r) => r.hasTab && Math.abs(r.s - stop.s) < STOP_NEAR_TAB);
      if (near) {
        found.push({
          code: 'stop-near-tab', level: 'note', title: said('Row {row} stops {away} from the tab of rib {rib}', { row: row.row, away: mm(Math.abs(near.s - stop.s)), rib: near.index + 1 }),
          advice: 'Move the rib a little, or stop the row on the tab.', place, strip: { kind: 'row', order: row.row },
          figure: Math.abs(near.s - stop.s), limit: STOP_NEAR_TAB, unit: 'mm',
        });
      }
    }
  }
  for (const stretch of rail.stretches) {
    if (stretch.state === 'closed') {
      found.push({
        code: 'closed', level: 'note', title: 'The strips touch: taper them or block from here',
        advice: 'Plan a solid block over this stretch, or plane sole and cap to a taper.', ...over(stretch),
      });
    } else if (stretch.state === 'none') {
      found.push({
        code: 'no-room', level: 'note', title: 'No room between the skins for the sole strip',
        advice: 'A solid block takes this stretch.', ...over(stretch),
      });
    }
  }
  for (const [end, place] of [['tail', rail.meets.tail], ['nose', rail.meets.nose]] as const) {
    if (!place) continue;
    found.push({
      code: 'boxes-meet', level: 'note', title: said('The two sides\' boxes meet on the centreline at the {end}', { end }),
      advice: said('The {end} block begins here.', { end }), place, figure: end === 'nose' ? hull.length - place.x : place.x, unit: 'mm',
    });
  }

  for (const corner of [...rail.face.corners, ...rail.ribEnd.corners]) {
    found.push({
      code: 'corner', level: 'check', title: 'The box line turns a corner: no strip bends round it',
      advice: 'Ease the outline here, use thinner outer skins, or butt the strips on a block.',
      place: { x: corner.x }, figure: corner.turn, unit: 'rad',
    });
  }
  const { cold } = limitsFor(design, 'rail');
  for (const [kind, kinks, extent, thickness] of [
    ['sole', rail.kinks.sole, rail.sole, design.rail.soleThickness], ['cap', rail.kinks.cap, rail.cap, design.rail.capThickness],
  ] as const) {
    for (const { s, x, angle } of kinks) {
      if (!(s > extent.s0 && s < extent.s1)) continue;
      // An arc of the tightest cold bend, tangent to both sides, passes the corner at this distance.
      const off = (thickness / (2 * cold)) * (1 / Math.cos(angle / 2) - 1);
      found.push({
        code: 'kink', level: off > VISIBLE_HOLLOW ? 'check' : 'note', title: said('The {strip} meets a corner of the lines: it bends past it, not into it', { strip: kind }),
        advice: said('Bent cold it stays {off} off the corner. Ease the corner in the lines, or cut the strip there and butt it.', { off: mm(off) }),
        place: { s, x }, strip: { kind, order: 0 }, figure: angle, unit: 'rad',
      });
    }
  }
  const fromEnd = (end: 'tail' | 'nose', x: number) => mm(end === 'nose' ? hull.length - x : x, 0);
  for (const end of [rail.ends.tail, rail.ends.nose]) {
    if (!end?.strip || !end.tightest) continue;
    const [from, until] = end.end === 'tail' ? [placeOn(samples, 0), { s: end.s, x: end.x }] : [{ s: end.s, x: end.x }, placeOn(samples, samples.s[samples.n - 1])];
    found.push({
      // A block that the maker has chosen is settled.
      code: 'end-block', level: design.ends?.[end.end] ? 'note' : 'check', unit: 'strain', figure: end.strain, limit: end.limit, strip: end.strip,
      title: said('The {end} is tighter than the {strip} bends: a block takes its last {x}', { end: end.end, strip: end.strip.kind, x: fromEnd(end.end, end.x) }),
      advice: 'Choose the block, a ring or solid; or ease the outline at this end, or use a narrower strip.', place: end.tightest, extent: { from, until },
    });
  }
  for (const end of [rail.ends.tail, rail.ends.nose]) {
    if (!end || design.ends?.[end.end]?.skins !== 'butted' || end.skinsTo !== undefined) continue;
    const [from, until] = end.end === 'tail' ? [placeOn(samples, 0), { s: end.s, x: end.x }] : [{ s: end.s, x: end.x }, placeOn(samples, samples.s[samples.n - 1])];
    found.push({
      code: 'skins-run-on', level: 'check', title: said('The {end} block is too short for the outer skins to lap it and butt on it', { end: end.end }),
      advice: 'Let them go round it, as planned here: with the sole under it or next to no rail beyond the lap, nothing is left to butt on.', place: { s: end.s, x: end.x }, extent: { from, until, even: true },
      figure: end.end === 'tail' ? end.s : samples.s[samples.n - 1] - end.s, unit: 'mm',
    });
  }
  if (rail.unbendable) {
    const { strip, first, at, strain, limit } = rail.unbendable;
    const [from, until] = first.x < at.x ? [first, at] : [at, first];
    found.push({
      code: 'unbendable', level: 'cannot', place: at, extent: { from, until }, strip, figure: strain, limit, unit: 'strain',
      title: said('The {strip} is too tight to bend so near mid-board that no box would be left between blocks', { strip: strip.kind }),
      advice: 'Ease the lines here, or use narrower or thinner strips, or a timber that bends tighter. The other papers are made as if it bent.',
    });
  }
  for (const rib of rail.ribsInBlock) {
    const x = design.frames.ribs[rib];
    found.push({
      code: 'rib-in-block', level: 'note', title: said('Rib {rib} stands in the {end} block and is left out', { rib: rib + 1, end: rail.ends.tail && x < hull.length / 2 ? 'tail' : 'nose' }),
      advice: 'Move it clear of the block, or remove it.', place: { x },
    });
  }
  for (let i = 0; i < design.frames.ribs.length; i++) {
    if (!rail.ribs.some((r) => r.index === i) && !rail.ribsInBlock.includes(i)) {
      found.push({
        code: 'rib-clear', level: 'note', title: said('Rib {rib} does not reach the box', { rib: i + 1 }),
        advice: 'It is where the boxes meet or beyond the rail, so it has no tab.', place: { x: design.frames.ribs[i] },
      });
    }
  }
  const rises = (worst: number) => ({
    code: 'deck-rises', level: 'note', title: 'The deck rises outboard: the cap is low at its outer edge', unit: 'mm', figure: -worst, limit: VISIBLE_RISE,
    advice: 'Plane the inner edge instead, or pack the outer edge.',
  } as const);
  below('planing', -VISIBLE_RISE, rail.cap.s0, rail.cap.s1, rises);
  const { min: lowest, sMin } = rail.range.planing;
  // It rises most where the cap ends, and there it may between two samples.
  if (lowest < -VISIBLE_RISE && !found.some(({ code }) => code === 'deck-rises')) found.push({ ...rises(lowest), place: placeOn(samples, sMin) });
  const inCap = (i: number) => samples.s[i] >= rail.cap.s0 && samples.s[i] <= rail.cap.s1;
  let hollowest = 0;
  for (let i = 0; i < samples.n; i++) {
    if (inCap(i) && Math.abs(samples.deckHollow[i]) > Math.abs(samples.deckHollow[hollowest])) hollowest = i;
  }
  if (Math.abs(samples.deckHollow[hollowest]) > VISIBLE_HOLLOW) {
    const [from, until] = [-1, 1].map((way) => {
      let i = hollowest;
      while (inCap(i + way) && Math.abs(samples.deckHollow[i + way]) > VISIBLE_HOLLOW) i += way;
      return i;
    });
    found.push({
      code: 'deck-round', level: 'note',
      title: said('The deck is {shape} across the strip: one straight plane pass does not meet it', { shape: samples.deckHollow[hollowest] < 0 ? 'hollow' : 'round' }),
      advice: 'Finish with a hollow or round plane, or fill with thickened glue.',
      place: at(hollowest), extent: { from: at(from), until: at(until) }, strip: CAP, figure: Math.abs(samples.deckHollow[hollowest]), limit: VISIBLE_HOLLOW, unit: 'mm',
    });
  }
  if (hull.fairness.loftError > LOFT_LIMIT) {
    found.push({
      code: 'loft', level: 'check', title: 'The surface strays from its sections between stations',
      advice: 'A line turns too fast between its points; ease it or add points.', figure: hull.fairness.loftError, limit: LOFT_LIMIT, unit: 'mm',
    });
  }
  for (const x of hull.fairness.inflections.outline) {
    found.push({
      code: 'inflection', level: 'note', title: 'The outline bends the other way from here',
      advice: 'Intended in some tails; if not, fair the outline.', place: { x },
    });
  }
  return worstFirst(found);
}
