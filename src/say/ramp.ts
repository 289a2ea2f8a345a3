/**
 * The bevel map's colours, made once here and used by the shader (as a texture), the legend and the ribbon,
 * so that they agree. From a deep blue to a light yellow with lightness rising evenly in OKLab, and hue only
 * along blue and yellow, which people with red-green colour blindness tell apart.
 * OKLab matrices: B. Ottosson, "A perceptual color space for image processing", 2020 (from memory).
 */
import type { Plan } from '../../geometry/types';

/** Number of colours in the map. */
export const RAMP_SIZE = 256;

/** OKLab colours that the map passes through, evenly spaced; lightness lies on a straight line. */
const KNOTS: readonly (readonly [number, number, number])[] = [
  [0.3, -0.012, -0.1],
  [0.455, -0.02, -0.065],
  [0.61, -0.012, 0.0],
  [0.765, -0.008, 0.085],
  [0.92, -0.018, 0.14],
];

function srgb(linear: number): number {
  const v = Math.min(1, Math.max(0, linear));
  return Math.round(255 * (v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055));
}

function oklabToSrgb(L: number, a: number, b: number): [number, number, number] {
  const l = (L + 0.3963377774 * a + 0.2158037573 * b) ** 3;
  const m = (L - 0.1055613458 * a - 0.0638541728 * b) ** 3;
  const s = (L - 0.0894841775 * a - 1.291485548 * b) ** 3;
  return [
    srgb(4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s),
    srgb(-1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s),
    srgb(-0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s),
  ];
}

/** The map as sRGB bytes, RGBA, RAMP_SIZE colours. */
export const rampBytes: Uint8Array = (() => {
  const out = new Uint8Array(4 * RAMP_SIZE);
  for (let i = 0; i < RAMP_SIZE; i++) {
    const at = (i / (RAMP_SIZE - 1)) * (KNOTS.length - 1);
    const k = Math.min(KNOTS.length - 2, Math.floor(at));
    const t = at - k;
    const [p, q] = [KNOTS[k], KNOTS[k + 1]];
    out.set([...oklabToSrgb(p[0] + (q[0] - p[0]) * t, p[1] + (q[1] - p[1]) * t, p[2] + (q[2] - p[2]) * t), 255], 4 * i);
  }
  return out;
})();

/** What the map spans and where its contour lines lie, radians. */
export interface BevelScale {
  readonly low: number;
  readonly high: number;
  readonly contour: number;
}

const DEGREE = Math.PI / 180;

/** The scale for a plan's range of bevels: whole contour steps that hold the range. */
export function bevelScale(plan: Plan): BevelScale {
  const { min, max } = plan.rail.range.bevel;
  const span = (max - min) / DEGREE;
  const contour = (span <= 9 ? 1 : span <= 20 ? 2 : 5) * DEGREE;
  const low = Math.floor(min / contour) * contour;
  const high = Math.max(low + contour, Math.ceil(max / contour) * contour);
  return { low, high, contour };
}

/** The map's colour for a bevel, sRGB bytes. @param bevel radians; outside the scale the end colours */
export function bevelColour(scale: BevelScale, bevel: number): readonly [number, number, number] {
  const t = Math.min(1, Math.max(0, (bevel - scale.low) / (scale.high - scale.low)));
  const i = 4 * Math.round(t * (RAMP_SIZE - 1));
  return [rampBytes[i], rampBytes[i + 1], rampBytes[i + 2]];
}

/** The same as a CSS colour. */
export function bevelCss(scale: BevelScale, bevel: number): string {
  return `rgb(${bevelColour(scale, bevel).join(' ')})`;
}

/** Bevels of the contour lines within the scale, radians, low to high. */
export function contours({ low, high, contour }: BevelScale): number[] {
  const count = Math.round((high - low) / contour);
  return Array.from({ length: count + 1 }, (_, i) => low + i * contour);
}

/** The ink, black or white, that stands out more on the map's colour of a bevel: by WCAG 2.2's contrast 4.58 at least. */
export function inkOn(scale: BevelScale, bevel: number): string {
  const [r, g, b] = bevelColour(scale, bevel).map((byte) => (byte / 255 <= 0.04045 ? byte / 255 / 12.92 : ((byte / 255 + 0.055) / 1.055) ** 2.4));
  const luminance = 0.2126 * r + 0.7152 * g + 0.0722 * b;
  return (luminance + 0.05) / 0.05 > 1.05 / (luminance + 0.05) ? '#000' : '#fff';
}
