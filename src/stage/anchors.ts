/** What is labelled on the stage, and where: stops, contour degrees, ends, the rule, the cursor. */
import type { Plan, SectionDrawing } from '../../geometry/types';
import { type BevelScale, contours } from '../say/ramp';
import { nearerEnd, stopReason } from '../say/words';
import { angleText, lengthText, type Unit } from '../say/units';
import { RULE_OFF } from './Bench';

/** `call`: on a leader below; `flag`: on a leader above; `plain`: centred on its place. */
export type LabelForm = 'call' | 'flag' | 'plain';

export interface Anchor {
  readonly id: string;
  readonly kind: 'stop' | 'cursor' | 'contour' | 'end' | 'rule';
  readonly form: LabelForm;
  /** Kernel frame. */
  readonly at: readonly [number, number, number];
  readonly text: string;
  readonly title?: string;
  /** Where a click leads, run. */
  readonly s?: number;
}

const RULE_STEP: Readonly<Record<Unit, number>> = { mm: 500, in: 508, in16: 508 };

/** Where the box stands at run s, between the samples: a label's place is good to a pixel, and a section would lay the hull again. */
function placeAt({ rail: { samples } }: Plan, s: number) {
  const i = Math.max(0, Math.min(samples.n - 2, Math.floor(s / samples.step)));
  const t = (s - samples.s[i]) / (samples.s[i + 1] - samples.s[i]);
  const at = (field: 'x' | 'y' | 'soleTop') => samples[field][i] + (samples[field][i + 1] - samples[field][i]) * t;
  return { x: at('x'), y: at('y'), soleTop: at('soleTop') };
}

/** A label a stop; `drawn`: what they say as drawn, where these are as built. */
function stops(plan: Plan, unit: Unit, drawn?: ReadonlySet<string>): Anchor[] {
  const height = plan.design.rail.spacerHeight;
  return plan.rail.rows.flatMap((row, i) =>
    [row.tail, row.nose].map((stop): Anchor => {
      const c = placeAt(plan, stop.s);
      const text = `Row ${row.row} · ${nearerEnd(plan, stop.x, unit)}`;
      return {
        id: `stop-${i}-${stop.end}`, kind: 'stop', form: 'call', s: stop.s,
        at: [c.x, c.y, c.soleTop + (row.row - 0.5) * height],
        text: drawn && !drawn.has(text) ? `${text} as built` : text,
        title: stopReason(stop, unit),
      };
    }),
  );
}

/** Places on the cap where the bevel passes a contour line. */
function contourLabels(plan: Plan, scale: BevelScale): Anchor[] {
  const { samples, cap } = plan.rail;
  const out: Anchor[] = [];
  contours(scale).forEach((level) => {
    let nth = 0;
    for (let i = 0; i + 1 < samples.n; i++) {
      const [a, b] = [samples.bevel[i] - level, samples.bevel[i + 1] - level];
      if (samples.s[i] < cap.s0 || samples.s[i + 1] > cap.s1 || a === b || a * b > 0) continue;
      const at = (field: 'x' | 'y' | 'ribX' | 'ribY' | 'capTop') => samples[field][i] + ((samples[field][i + 1] - samples[field][i]) * a) / (a - b);
      out.push({
        id: `contour-${Math.round((level * 1800) / Math.PI)}-${nth++}`, kind: 'contour', form: 'flag',
        at: [(at('x') + at('ribX')) / 2, (at('y') + at('ribY')) / 2, at('capTop')],
        text: angleText(level, 0),
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

/** The cursor's flag. `built`: the bevel there as built, which leads where it is known, radians. */
export function cursorAnchor(plan: Plan, drawing: SectionDrawing, unit: Unit, built?: number): Anchor {
  const { section, x } = drawing;
  return {
    id: 'cursor', kind: 'cursor', form: 'flag', at: [section.x, section.y, section.capTop],
    text: `${nearerEnd(plan, x, unit)} · bevel ${built === undefined ? angleText(section.bevel) : `${angleText(built)} as built`}`,
  };
}
