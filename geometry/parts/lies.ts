/**
 * How sole and cap lie between the ribs when they are pulled to the drawn line at the rib ends alone, and what is to be
 * done about it: at an end that nothing holds to its direction the strip stands off the line in the last bay.
 */
import { speciesById } from '../design/timber';
import { list, mm, said, type Said } from '../said';
import type { Finding, Place, Plan } from '../types';
import { keptOnCurve, lapShear } from '../wood/bent';
import { lieOn, type Bay, type DrawnBend, type Held, type Lying } from '../wood/lie';
import { placeOn } from '../rail/samples';
import { alongAt } from './bending';
import { stripName } from './stripWords';
import { ribEndBears } from './needs';
import type { LieEnd, StripBending, StripLie } from './types';

/** A strip that lies farther off the drawn line shows in the finished rail, mm: own choice. */
export const STAND_OFF = 0.5;
/** Supports nearer to each other than this are one, mm: a rib end is about as thick. */
const APART = 6;
/** Places tried for another rib in a last bay, from a fifth of it to four fifths. */
const TRIES = 25;
/** A lap that holds an end's direction is so many thicknesses long: own choice. */
const LAP = 8;

/** The run at a length along a strip, straight between its nodes. */
function runAt({ s, along }: StripBending, at: number): number {
  let low = 0;
  let high = along.length - 1;
  if (at <= along[low]) return s[low];
  if (at >= along[high]) return s[high];
  while (high - low > 1) {
    const mid = (low + high) >> 1;
    if (along[mid] <= at) low = mid;
    else high = mid;
  }
  return s[low] + ((s[high] - s[low]) * (at - along[low])) / (along[high] - along[low]);
}

/** Greatest stand-off of some bays, sign aside. */
const mostOf = (bays: readonly Bay[]): Bay => bays.reduce((most, bay) => (Math.abs(bay.standOff) > Math.abs(most.standOff) ? bay : most));

/** What of a strip's lie belongs to one of its ends: that end's two bays. */
const endBays = (lying: Lying, end: 'tail' | 'nose', count = 2): readonly Bay[] => (end === 'tail' ? lying.bays.slice(0, count) : lying.bays.slice(-count));

/** How one strip lies. Forces in N, lengths in mm, shear in MPa. */
function lieOfStrip(plan: Plan, b: StripBending): StripLie {
  const { rail, design } = plan;
  const { samples } = rail;
  const whole = b.along[b.along.length - 1];
  // All of it: a stretch bent wet dries on the ribs, and sets as it lies there.
  const drawn: DrawnBend = { along: b.along, curvature: b.planCurvature };
  const stiffness = (speciesById(plan.design, design.timber.rail).moe * b.thickness * b.width ** 3) / 12;
  const inner: { readonly at: number; readonly rib?: number }[] = [];
  for (const rib of [...rail.ribs].sort((p, q) => p.s - q.s)) {
    const at = alongAt(b, rib.s);
    if (at >= (inner[inner.length - 1]?.at ?? 0) + APART && at <= whole - APART) inner.push({ at, rib: rib.index });
  }
  // In a block's rebate the strip lies on the tongue from its inner end on, and is glued along the drawn line there.
  const tongues = [rail.ends.tail, rail.ends.nose].flatMap((end) => (end && end.rowsTo !== end.s ? [{ end: end.end, at: alongAt(b, end.rowsTo) }] : []));
  for (const { at } of tongues) if (at >= APART && at <= whole - APART && inner.every((own) => Math.abs(own.at - at) >= APART)) inner.push({ at });
  inner.sort((p, q) => p.at - q.at);
  const supports = [0, ...inner.map(({ at }) => at), whole];
  const place = (at: number): Place => placeOn(samples, runAt(b, at));
  // Round an end the strip runs on into its twin of the other side, and the two hold each other's direction.
  const onTongue = (end: 'tail' | 'nose') => tongues.some((tongue) => tongue.end === end && Math.abs((end === 'tail' ? b.s[0] : b.s[b.s.length - 1]) - (rail.ends[end]?.s ?? Infinity)) < 1);
  const held: Held = {
    tail: onTongue('tail') || (rail.face.tail.kind === 'round' && b.s[0] <= 1e-6),
    nose: onTongue('nose') || (rail.face.nose.kind === 'round' && b.s[b.s.length - 1] >= rail.face.length - 1e-6),
  };
  const lying = lieOn(drawn, supports, held);
  const endOf = (end: 'tail' | 'nose'): LieEnd => {
    const worst = mostOf(endBays(lying, end));
    const near = { end, held: held[end], place: place(end === 'tail' ? 0 : whole), standOff: worst.standOff, at: place(worst.at) };
    const tried = [...supports, worst.at].sort((p, q) => p - q);
    const close = worst.standOff === 0 ? 0 : Math.abs(lieOn(drawn, tried, held).jumps[tried.indexOf(worst.at)]) * stiffness;
    if (held[end]) {
      // Its lap on the tongue bears the couple that the strip has where it runs on to it.
      const tongue = onTongue(end) ? tongues.find((own) => own.end === end) : undefined;
      const lap = tongue ? Math.abs(tongue.at - (end === 'tail' ? 0 : whole)) : 0;
      const couple = Math.abs(lying.curvature[end === 'tail' ? 1 : supports.length - 2]) * stiffness;
      return { ...near, close, ...(lap > APART ? { hold: { leaves: Math.abs(worst.standOff), lap, shear: lapShear(couple, lap, b.width) } } : {}) };
    }
    const fixed = lieOn(drawn, supports, { ...held, [end]: true });
    const couple = Math.abs(fixed.curvature[end === 'tail' ? 0 : supports.length - 1]) * stiffness;
    return {
      ...near, close, rib: anotherRib(plan, b, drawn, supports, held, end),
      hold: { leaves: Math.abs(mostOf(endBays(fixed, end)).standOff), lap: LAP * b.thickness, shear: lapShear(couple, LAP * b.thickness, b.width) },
    };
  };
  const tightest = b.planCurvature.reduce((most, k) => Math.max(most, Math.abs(k)), 0);
  return {
    strip: b.strip, ends: [endOf('tail'), endOf('nose')],
    bays: lying.bays.map(({ from, to, standOff, at }) => ({ from: place(from), until: place(to), standOff, at: place(at) })),
    supports: supports.map((at, i) => ({ place: place(at), ...(inner[i - 1]?.rib === undefined ? {} : { rib: inner[i - 1].rib }), force: -lying.jumps[i] * stiffness })),
    kept: tightest > 0 ? keptOnCurve(1 / (tightest * b.width)) : 1,
  };
}

/** Where one more rib in the last bay leaves least, found by trying; undefined where there is no room for one. */
function anotherRib(plan: Plan, b: StripBending, drawn: DrawnBend, supports: readonly number[], held: Held, end: 'tail' | 'nose'): LieEnd['rib'] {
  const { samples } = plan.rail;
  const { ribs, ribThickness, notchFit } = plan.design.frames;
  const [from, to] = end === 'tail' ? supports : supports.slice(-2);
  let best: { x: number; leaves: number } | undefined;
  for (let i = 0; i <= TRIES; i++) {
    const at = from + (to - from) * (0.2 + (0.6 * i) / TRIES);
    // A rib's place is its own plane's station, where it crosses the rib-end line.
    const k = runAt(b, at) / samples.step;
    const lower = Math.min(samples.n - 2, Math.floor(k));
    const x = Math.round(samples.ribX[lower] + (samples.ribX[lower + 1] - samples.ribX[lower]) * (k - lower));
    if (ribs.some((rib) => Math.abs(rib - x) <= ribThickness + notchFit + APART)) continue;
    const lying = lieOn(drawn, [...supports, at].sort((p, q) => p - q), held);
    const leaves = Math.abs(mostOf(endBays(lying, end, 3)).standOff);
    if (!best || leaves < best.leaves) best = { x, leaves };
  }
  return best;
}

/** How every stretch of sole and cap lies. */
export function planLies(plan: Plan, bending: readonly StripBending[]): StripLie[] {
  return bending.filter(({ strip }) => strip.kind === 'sole' || strip.kind === 'cap').map((b) => lieOfStrip(plan, b));
}

/** What would do about a strip end, as the maker chooses. */
function remedies(lie: StripLie, { rib, hold, standOff, close }: LieEnd, bears: number): Said {
  const ways: Said[] = [];
  const force = (value: number): Said => ({ of: 'N', value, decimals: 0 });
  if (rib && rib.leaves < Math.abs(standOff)) ways.push(said('another rib at {x} from the tail leaves {leaves}', { x: mm(rib.x, 0), leaves: mm(rib.leaves) }));
  if (hold && hold.leaves < Math.abs(standOff)) ways.push(said('its end held to the drawn direction until the glue has set leaves {leaves}', { leaves: mm(hold.leaves) }));
  const line: Said[] = lie.strip.kind === 'sole' ? ['Draw the line on the skin and glue the sole to it.'] : [];
  if (ways.length === 0) return list([...line, 'Move the ribs beside it closer.']);
  const hard = close > bears ? [said('It takes {close} to close, more than the {bears} a rib end bears.', { close: force(close), bears: force(bears) })] : [];
  return list([...line, ...hard, said('Choose: {ways}.', { ways: list(ways, '; or ') })]);
}

/**
 * A finding for each strip end whose bays stand off the drawn line, and one for a strip that does so between ribs in
 * mid-board. What a rib end bears is pulled home by hand and a note; more is to be decided. A strip that is too tight
 * to bend beside its end does not lie there at all: that has its own finding.
 */
export function lieFindings(plan: Plan, bending: readonly StripBending[], lies: readonly StripLie[]): Omit<Finding, 'id'>[] {
  const found: Omit<Finding, 'id'>[] = [];
  const side = (standOff: number) => (standOff > 0 ? 'inboard of' : 'outboard of');
  for (const lie of lies) {
    const { strip, bays, ends } = lie;
    const named = { strip: { kind: strip.kind, order: strip.order }, limit: STAND_OFF, unit: 'mm' as const };
    const off = (value: number) => ({ strip: stripName(strip), off: mm(Math.abs(value)), side: side(value) });
    const bent = bending.find((b) => b.strip === strip);
    const never = ({ end }: LieEnd) => bent?.zones.some(({ method, s0, s1 }) =>
      method === 'block' && (end === 'tail' ? s0 < (bays[Math.min(1, bays.length - 1)].until.s ?? 0) : s1 > (bays[Math.max(0, bays.length - 2)].from.s ?? 0)));
    const bears = ribEndBears(plan, bent?.thickness ?? 0);
    const far = ends.filter((end) => Math.abs(end.standOff) > STAND_OFF);
    const told = far.filter((end) => !never(end));
    for (const end of told) {
      found.push({
        ...named, code: 'last-bay', level: strip.kind === 'cap' && end.close > bears ? 'check' : 'note',
        title: said('{strip} lies {off} {side} the drawn line before its {end} end', { ...off(end.standOff), end: end.end }),
        advice: remedies(lie, end, bears), place: end.at, figure: Math.abs(end.standOff),
      });
    }
    const middle = bays.filter((_, i) => !(i < 2 && far.includes(ends[0])) && !(i >= bays.length - 2 && far.includes(ends[1])));
    const wide = middle.filter((bay) => Math.abs(bay.standOff) > STAND_OFF);
    if (wide.length === 0) continue;
    const worst = wide.reduce((most, bay) => (Math.abs(bay.standOff) > Math.abs(most.standOff) ? bay : most));
    found.push({
      ...named, code: 'wide-bay', level: 'note',
      title: said('{strip} lies {off} {side} the drawn line between ribs', off(worst.standOff)),
      advice: strip.kind === 'sole' ? 'Draw the line on the skin and glue the sole to it.' : 'Set the ribs there closer, or pull the strip to the drawn line with a batten across it.',
      place: worst.at, extent: { from: wide[0].from, until: wide[wide.length - 1].until }, figure: Math.abs(worst.standOff),
    });
  }
  return found;
}
