/** The bevel map's legend: its colours, its contour lines in degrees, and the bevel at the cursor. */
import { useEffect, useRef } from 'react';
import { type BevelScale, contours, RAMP_SIZE, rampBytes } from '../say/ramp';
import { angleText } from '../say/units';
import css from './Legend.module.css';

interface LegendProps {
  readonly scale: BevelScale;
  /** Bevel at the station cursor, radians. */
  readonly bevel: number;
}

export function Legend({ scale, bevel }: LegendProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    const context = canvas.current?.getContext('2d');
    context?.putImageData(new ImageData(new Uint8ClampedArray(rampBytes), RAMP_SIZE, 1), 0, 0);
  }, []);
  const at = (value: number) => `${(100 * (value - scale.low)) / (scale.high - scale.low)}%`;
  const levels = contours(scale);
  const every = Math.ceil(levels.length / 8);
  return (
    <figure className={css.legend} data-keep-out aria-label={`Bevel map from ${angleText(scale.low, 0)} to ${angleText(scale.high, 0)}`}>
      <figcaption>Bevel, cap to deck, square to the rail</figcaption>
      <div className={css.bar}>
        <canvas ref={canvas} width={RAMP_SIZE} height={1} data-low={scale.low} data-high={scale.high} />
        {levels.slice(1, -1).map((level) => <i key={level} style={{ left: at(level) }} />)}
        {Number.isFinite(bevel) && <b style={{ left: at(bevel) }} title={angleText(bevel)} />}
      </div>
      <div className={css.scale} aria-hidden="true">
        {levels.map((level, i) => (i % every === 0 ? <span key={level} style={{ left: at(level) }}>{angleText(level, 0)}</span> : null))}
      </div>
    </figure>
  );
}
