/** What is labelled on the stage, and where: stops, contour degrees, ends, the rule, the cursor. */
import type { Decision } from '../../geometry/rail/decisions';
import type { MeasuredPlace } from '../../geometry/rail/measure';
import { ribAt, runOfPlace, stopsAt } from '../../geometry/rail/query';
import { stopsOf } from '../../geometry/rail/laid';
import type { Plan, SectionDrawing, Stop } from '../../geometry/types';
import { type BevelScale, contours } from '../say/ramp';
import { textOf } from '../say/said';
import { stopReason } from '../say/words';
import { angleText, lengthText, type Unit } from '../say/units';
import { RULE_OFF } from './Bench';

/** `call`: on a leader below; `flag`: on a leader above; `plain`: on its place. */
export type LabelForm = 'call' | 'flag' | 'plain';

export interface Anchor {
  readonly id: string;
  readonly kind: 'mark' | 'pin' | 'stop' | 'cursor' | 'contour' | 'end' | 'rule';
  readonly form: LabelForm;
  /** Kernel frame, starboard. */
  readonly at: readonly [number, number, number];
  /** It is on both sides alike, and shown on the one that faces the eye; the way out of the rail there, in plan. */
  readonly out?: readonly [number, number];
  readonly text: string;
  readonly title?: string;
  /** Where a click leads, run. */
  readonly s?: number;
  /** Of a pin: the cause of its decision. */
  readonly cause?: string;
}

const RULE_STEP: Readonly<Record<Unit, number>> = { mm: 500, in: 508, in16: 508 };

/** Where the box stands at run s, between the samples: a label's place is good to a pixel, and a section would lay the hull again. */
function placeAt({ rail: { samples } }: Plan, s: number) {
  const i = Math.max(0, Math.min(samples.n - 2, Math.floor(s / samples.step)));
  const t = (s - samples.s[i]) / (samples.s[i + 1] - samples.s[i]);
  const at = (field: 'x' | 'y' | 'soleTop' | 'capTop' | 'nx' | 'ny') => samples[field][i] + (samples[field][i + 1] - samples[field][i]) * t;
  return { x: at('x'), y: at('y'), soleTop: at('soleTop'), capTop: at('capTop'), out: [-at('nx'), -at('ny')] as const };
}

/** From the nearer end, as all places are told. */
const nearer = (plan: Plan, x: number, unit: Unit): string => lengthText(Math.min(x, plan.hull.length - x), unit, 0);
/** Rows that stop at one place, by their numbers; and that place. */
const stopText = (plan: Plan, stops: readonly Stop[], x: number, unit: Unit): string =>
  `${stops.length === 1 ? 'row' : 'rows'} ${stops.map(({ row }) => row).join(', ')} · ${nearer(plan, x, unit)}`;

/** A label each place where rows stop; `drawn`: what they say as drawn, where these are as built. */
function stops(plan: Plan, unit: Unit, drawn?: ReadonlySet<string>): Anchor[] {
  const height = plan.design.rail.spacerHeight;
  return stopsOf(plan.rail).flatMap((stop, i): Anchor[] => {
    const here = stopsAt(plan, stop.s);
    if (here[0] !== stop) return [];
    const c = placeAt(plan, stop.s);
    const text = stopText(plan, here, stop.x, unit);
    return [{
      id: `stop-${i}`, kind: 'stop', form: 'call', s: stop.s,
      at: [c.x, c.y, c.soleTop + (stop.row - 0.5) * height], out: c.out,
      text: drawn && !drawn.has(text) ? `${text} as built` : text,
      title: here.map((one) => stopReason(one, unit)).join('\n'),
    }];
  });
}

/** Places on the cap where the bevel passes a contour line. */
function contourLabels(plan: Plan, scale: BevelScale): Anchor[] {
  const { samples, cap } = plan.rail;
  const { n, s, bevel } = samples;
  const out: Anchor[] = [];
  contours(scale).forEach((level) => {
    let nth = 0;
    for (let i = 0; i + 1 < n; i++) {
      const a = bevel[i] - level;
      const b = bevel[i + 1] - level;
      if (s[i] < cap.s0 || s[i + 1] > cap.s1 || a === b || a * b > 0) continue;
      const at = (field: 'x' | 'y' | 'ribX' | 'ribY' | 'capTop') => samples[field][i] + ((samples[field][i + 1] - samples[field][i]) * a) / (a - b);
      out.push({
        id: `contour-${Math.round((level * 1800) / Math.PI)}-${nth++}`, kind: 'contour', form: 'flag',
        at: [(at('x') + at('ribX')) / 2, (at('y') + at('ribY')) / 2, at('capTop')],
        text: angleText(level, 0), out: [0, 1],
      });
    }
  });
  return out;
}

function ruleNumbers(plan: Plan, bench: number, unit: Unit): Anchor[] {
  const y = plan.hull.widest.halfBreadth + RULE_OFF + 42;
  const step = RULE_STEP[unit];
  return Array.from({ length: Math.floor(plan.hull.length / step) + 1 }, (_, i): Anchor => ({
    id: `rule-${i}`, kind: 'rule', form: 'plain', at: [i * step, y, bench], text: lengthText(i * step, unit, 0),
  }));
}

/** All labels but the cursor's. */
export function boardAnchors(plan: Plan, bench: number, unit: Unit, scale: BevelScale | null, built?: Plan): Anchor[] {
  const { length } = plan.hull;
  const mid = placeAt(plan, 0).soleTop;
  return [
    ...(built ? stops(built, unit, new Set(stops(plan, unit).map(({ text }) => text))) : stops(plan, unit)),
    ...(scale ? contourLabels(plan, scale) : []),
    { id: 'tail', kind: 'end', form: 'plain', at: [-60, 0, mid], text: 'Tail' },
    { id: 'nose', kind: 'end', form: 'plain', at: [length + 60, 0, placeAt(plan, plan.rail.face.length).soleTop], text: 'Nose' },
    ...ruleNumbers(plan, bench, unit),
  ];
}

/** A pin a decision that has a place, numbered as they are listed. */
export function pinAnchors(plan: Plan, decisions: readonly Decision[], unit: Unit): Anchor[] {
  return decisions.flatMap(({ cause, findings }, i): Anchor[] => {
    const place = findings.find((finding) => finding.place)?.place;
    if (!place) return [];
    const s = runOfPlace(plan, place);
    const { x, y, capTop, out } = placeAt(plan, s);
    return [{ id: `pin-${i + 1}`, kind: 'pin', form: 'plain', at: [x, y, capTop], out, text: String(i + 1), title: textOf(findings[0].title, unit), s, cause }];
  });
}

/** A ring at each place that is measured. */
export const markAnchors = (places: readonly MeasuredPlace[]): Anchor[] =>
  places.map(({ at }, i) => ({ id: `mark-${i}`, kind: 'mark', form: 'plain', at, text: '' }));

/** The cursor's tag: at a stop that stop's, at a rib the rib's, else the station alone. `lead`: the plan whose stops are labelled. */
export function cursorAnchor(plan: Plan, { section: { s, x, y, soleTop, nx, ny }, x: station }: SectionDrawing, unit: Unit, lead: Plan): Anchor {
  const stops = stopsAt(lead, s);
  const rib = ribAt(plan, s);
  const text = stops.length > 0 ? stopText(plan, stops, station, unit) : `${rib ? `rib ${rib.index + 1} · ` : ''}${nearer(plan, station, unit)}`;
  return { id: 'cursor', kind: 'cursor', form: 'call', at: [x, y, soleTop], out: [-nx, -ny], text };
}

/** Whether a stop's label says what the cursor's does. `lead`: the plan whose stops are labelled. */
export const isAtCursor = ({ kind, s }: Anchor, lead: Plan, cursor: number): boolean => kind === 'stop' && stopsAt(lead, cursor).some((stop) => stop.s === s);
