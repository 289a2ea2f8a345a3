/** Where there is something to decide: a numbered pin over each decision's worst place, and a line over each stretch of it. */
import { nothing, svg } from 'lit-html';
import type { Decision } from '../../geometry/rail/decisions';
import { runOfPlace } from '../../geometry/rail/query';
import type { Plan } from '../../geometry/types';
import { textOf } from '../say/said';
import type { Unit } from '../say/units';
import { px, type RibbonScale } from './scale';
import css from './DecisionPins.module.css';

const RADIUS = 10;
/** Least px from pin to pin. */
const APART = 2 * RADIUS + 4;

export interface Pin {
  readonly nth: number;
  readonly decision: Decision;
  readonly s: number;
  readonly x: number;
}

/** The pins of a plan's decisions that have a place, tail to nose, moved apart where they would cover one another. */
export function pinsOf(plan: Plan, decisions: readonly Decision[], scale: RibbonScale): readonly Pin[] {
  const pins = decisions
    .flatMap((decision, i) => {
      const place = decision.findings.find((finding) => finding.place)?.place;
      return place ? [{ nth: i + 1, decision, s: runOfPlace(plan, place) }] : [];
    })
    .map((pin) => ({ ...pin, x: Math.min(scale.right - RADIUS, Math.max(scale.left + RADIUS, scale.x(pin.s))) }))
    .sort((a, b) => a.x - b.x || a.nth - b.nth);
  for (let i = 1; i < pins.length; i++) pins[i].x = Math.max(pins[i].x, pins[i - 1].x + APART);
  for (let i = pins.length - 1, most = scale.right; i >= 0; most = pins[i].x - APART, i--) pins[i].x = Math.min(pins[i].x, most);
  return pins;
}

/** Whether a rib's number at x would stand under a pin. */
export const pinned = (pins: readonly Pin[], x: number): boolean => pins.some((pin) => Math.abs(pin.x - x) < RADIUS + 8);

/** The pins and stretches. `onPin`: a press on a pin, or on one of its stretches, with the run it leads to. */
export function decisionPins(plan: Plan, pins: readonly Pin[], scale: RibbonScale, unit: Unit, onPin: (pin: Pin, s: number) => void) {
  const stretch = scale.stackTop - 2;
  return svg`${pins.map((pin) => {
    const { decision: { findings }, nth, x } = pin;
    const [{ level, title }] = findings;
    const words = `Decision ${nth}: ${textOf(title, unit)}`;
    const y = RADIUS + 2;
    return svg`<g class=${css.decision} data-level=${level}>
      ${findings.map(({ extent, title: of }) => (extent ? svg`<path d="M${px(scale.x(runOfPlace(plan, extent.from)))} ${stretch}H${px(scale.x(runOfPlace(plan, extent.until)))}"><title>${textOf(of, unit)}</title></path>` : nothing))}
      <g class=${css.pin} data-leads="true" role="button" tabindex="0" aria-label=${words} @click=${() => onPin(pin, pin.s)}
        @keydown=${(event: KeyboardEvent) => {
          if (event.key !== 'Enter' && event.key !== ' ') return;
          event.preventDefault();
          onPin(pin, pin.s);
        }}>
        <title>${words}</title>
        <circle cx=${px(x)} cy=${y} r=${RADIUS}></circle>
        <text x=${px(x)} y=${y + 4.5}>${nth}</text>
      </g>
    </g>`;
  })}`;
}
