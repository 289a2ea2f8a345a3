/** The bevel map's legend: its colours, its contour lines in degrees, and the bevel at the cursor. */
import { html, nothing, render } from 'lit-html';
import { useRef } from 'react';
import type { Plan } from '../../geometry/types';
import { bevelScale, contours, RAMP_SIZE, rampBytes } from '../say/ramp';
import { angleText } from '../say/units';
import { drawingAtCursor } from '../state/station';
import { useView } from '../state/view';
import { usePainter } from '../ui/painter';
import { Worded } from '../ui/Term';
import css from './Legend.module.css';

/** Puts the map's colours into their canvas. */
function colour(canvas: HTMLCanvasElement): void {
  canvas.getContext('2d')?.putImageData(new ImageData(new Uint8ClampedArray(rampBytes), RAMP_SIZE, 1), 0, 0);
}

function legend(plan: Plan) {
  const scale = bevelScale(plan);
  const { bevel } = drawingAtCursor(plan).section;
  const at = (value: number) => `left: ${(100 * (value - scale.low)) / (scale.high - scale.low)}%`;
  const levels = contours(scale);
  const every = Math.ceil(levels.length / 8);
  return html`
    <div class=${css.bar}>
      <canvas width=${RAMP_SIZE} height="1" data-low=${scale.low} data-high=${scale.high}></canvas>
      ${levels.slice(1, -1).map((level) => html`<i style=${at(level)}></i>`)}
      ${Number.isFinite(bevel) ? html`<b style=${at(bevel)} title=${angleText(bevel)}></b>` : nothing}
    </div>
    <div class=${css.scale} aria-hidden="true">
      ${levels.map((level, i) => (i % every === 0 ? html`<span style=${at(level)}>${angleText(level, 0)}</span>` : nothing))}
    </div>`;
}

export function Legend({ plan }: { readonly plan: Plan }) {
  const figure = useRef<HTMLElement>(null);
  const drawn = useRef<HTMLDivElement>(null);
  // Follows the cursor as it does the plan.
  useView((state) => state.s);
  usePainter(plan, (shown) => {
    if (!figure.current || !drawn.current) return;
    const { low, high } = bevelScale(shown);
    figure.current.ariaLabel = `Bevel map from ${angleText(low, 0)} to ${angleText(high, 0)}`;
    const bare = drawn.current.firstElementChild === null;
    render(legend(shown), drawn.current);
    const canvas = bare && drawn.current.querySelector('canvas');
    if (canvas) colour(canvas);
  });
  return (
    <figure ref={figure} className={css.legend} data-keep-out>
      <figcaption><Worded text="Bevel, cap to deck, square to the rail" /></figcaption>
      <div ref={drawn} />
    </figure>
  );
}
