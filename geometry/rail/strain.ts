/**
 * How a strip bends along the run: curvature, twist and fibre strain of its middle line.
 *
 * Sole, cap and rows lie level across the rail, so their faces are known: T along the strip, n level and
 * square to the rail, N = T x n square to the strip's flat. With sigma the plan length of the middle line,
 * k its plan curvature and m = dz/dsigma its slope, the rates of turn of that frame per length of strip are
 *   about N (edgewise)  k / (1 + m^2)         resisted by the width,
 *   about n (flatwise)  m' / (1 + m^2)^(3/2)  resisted by the thickness,
 *   about T (twist)     k m / (1 + m^2)
 * (Darboux frame of a curve on a ruled strip; for a helix r, a: curvature r/(r^2+a^2), torsion a/(r^2+a^2)).
 * Fibre strain is half the size times the rate (Euler-Bernoulli); both add at the corner of the section.
 *
 * Outer skins are cylinders over a plan curve: bending one is an isometry of its blank, so no fibre of the
 * middle surface is stretched, and the shape its edges are cut to (geodesic curvature) costs no strain. What
 * is left is the flat bend: half the thickness times the cylinder's curvature, for a fibre level with the
 * bench; a fibre at an angle to it bends less (cos^2), so this is the upper bound whichever way the grain of a
 * piece lies. Their `profileCurvature` is that of the blank's middle line in the flat, their `twist` how much
 * that line winds, and `edgewise` is zero.
 */
import { panelProbe, type PanelProbe } from '../hull/panel';
import type { RailSamples } from '../types';
import { stripsOnRun, type Interval, type Run } from './run';
import type { StripsAt } from './section';
import { nearestSample, sampleReader } from './samples';

/** How a strip lies: where its middle line runs. */
export interface Lie {
  /** An outer skin, bent round a cylinder; else a strip that lies level across the rail. */
  readonly skin?: boolean;
  /** Inset of the middle line from the box face in plan, mm; negative outboard. */
  readonly inset: number;
  /** Height of the middle line, from a section and the probes of a walk along the run. */
  readonly height: (section: StripsAt, probes: StripProbes) => number;
  /** Stretches of run over which that line is smooth. */
  readonly smooth: readonly Interval[];
}

/** Scratch of one walk along the run. */
export interface StripProbes {
  readonly deck: PanelProbe;
  readonly bottom: PanelProbe;
}

/** A strip's middle line at one run: plan curvature of the box face, height, and their derivatives along the run. */
export interface StripPoint {
  kappa: number;
  kappa1: number;
  z: number;
  z1: number;
  z2: number;
}

/** Rates of turn of a strip's frame per mm of strip: on edge, on the flat, and twist; 1/mm and rad/mm. */
export interface StripRates {
  edge: number;
  flat: number;
  twist: number;
  /** Length of the middle line per mm of run. */
  speed: number;
  /** Curvature of the blank's middle line in the flat, for outer skins; else 0. */
  blank: number;
}

const noRates = (): StripRates => ({ edge: 0, flat: 0, twist: 0, speed: 0, blank: 0 });

/** Rates of turn of the strip's frame from a point of its walk; formulas at the head of this file. Fills and returns `out`. */
export function stripRates(strip: Pick<Lie, 'skin' | 'inset'>, p: StripPoint, out = noRates()): StripRates {
  const g = 1 - strip.inset * p.kappa;
  const k = p.kappa / g;
  const m = p.z1 / g;
  // d/dsigma of z1 / g, with dg/ds = -inset kappa'.
  const m1 = (p.z2 / g + (p.z1 * strip.inset * p.kappa1) / (g * g)) / g;
  const q2 = 1 + m * m;
  const profile = m1 / (q2 * Math.sqrt(q2));
  out.twist = (k * m) / q2;
  out.edge = strip.skin ? 0 : k / q2;
  out.flat = strip.skin ? k : profile;
  out.speed = strip.skin ? g : g * Math.sqrt(q2);
  out.blank = strip.skin ? profile : 0;
  return out;
}

/** The middle line of row k: rows lie on the sole. Sizes in mm. */
export function rowLie(k: number, sizes: { readonly spacerWidth: number; readonly spacerHeight: number }, smooth: readonly Interval[]): Lie {
  return {
    inset: sizes.spacerWidth / 2, smooth,
    height: (c) => c.soleTop + (k - 0.5) * sizes.spacerHeight * Math.sqrt(1 + c.soleSlope * c.soleSlope),
  };
}

/** The middle line of sole or cap. Sizes in mm. */
export function flatLie(kind: 'sole' | 'cap', { stripWidth }: { readonly stripWidth: number }, smooth: readonly Interval[]): Lie {
  return {
    inset: stripWidth / 2, smooth,
    height: kind === 'sole' ? (c) => (c.soleBottom + c.soleTop) / 2 : (c) => (c.capBottom + c.capTop) / 2,
  };
}

const point: StripPoint = { kappa: 0, kappa1: 0, z: 0, z1: 0, z2: 0 };
const turn = noRates();

/** Rates of turn on edge and on the flat at every sample, 1/mm. */
export interface SampledRates {
  readonly edge: Float64Array;
  readonly flat: Float64Array;
}

export const sampledRates = (n: number): SampledRates => ({ edge: new Float64Array(n), flat: new Float64Array(n) });

/**
 * Fill `out` with a strip's rates of turn at the samples that are `wanted`: what a walk finds there, several times
 * quicker. `z` are the heights of the strip's middle line at the samples, as its lie has them.
 */
export function fillRates(lie: Lie, walk: StripWalk, samples: RailSamples, z: Float64Array, wanted: (i: number) => boolean, out: SampledRates): void {
  const { n, s, step: h, kappa } = samples;
  let piece = 0;
  for (let i = 0; i < n; i++) {
    if (!wanted(i)) continue;
    while (piece + 1 < lie.smooth.length && s[i] > lie.smooth[piece].s1) piece++;
    const { s0, s1 } = lie.smooth[piece];
    if (s[i] - h < s0 || s[i] + h > s1) {
      ({ edge: out.edge[i], flat: out.flat[i] } = walk.rates(s[i]));
      continue;
    }
    point.kappa = kappa[i];
    point.kappa1 = (kappa[i + 1] - kappa[i - 1]) / (2 * h);
    point.z1 = (z[i + 1] - z[i - 1]) / (2 * h);
    point.z2 = (z[i + 1] - 2 * z[i] + z[i - 1]) / (h * h);
    stripRates(lie, point, turn);
    out.edge[i] = turn.edge;
    out.flat[i] = turn.flat;
  }
}

/**
 * Walks a strip. Derivatives are central differences over the samples' own spacing; near an end of a smooth stretch
 * the window is four points inside it, so that nothing is measured over a corner. Second order in the spacing either
 * way. They hang on the line alone, not on where a strip begins and ends: a row is judged by what it was stopped by.
 */
export class StripWalk {
  private readonly probes: StripProbes;
  /** Heights at the samples, filled as asked for. */
  private readonly heights: Float64Array;
  private readonly value = { kappa: 0, z: 0 };
  private readonly read?: ReturnType<typeof sampleReader>;
  private stretch: Interval;

  /** `samples` may be left out where there are none of this run; `step` is their spacing. */
  constructor(
    private readonly run: Run,
    private readonly lie: Lie,
    private readonly step: number,
    private readonly samples?: RailSamples,
  ) {
    this.probes = { deck: panelProbe(), bottom: panelProbe() };
    this.read = samples && sampleReader(samples);
    this.heights = new Float64Array(samples?.n ?? 0).fill(Number.NaN);
    [this.stretch] = lie.smooth;
  }

  /** Plan curvature of the face and height of the middle line at run s: from the samples where s is one. */
  private at(s: number): { kappa: number; z: number } {
    const { samples, read, value } = this;
    const i = samples ? nearestSample(samples, s) : 0;
    if (samples && read && samples.s[i] === s) {
      if (Number.isNaN(this.heights[i])) this.heights[i] = this.lie.height(read.sample(i), this.probes);
      value.kappa = samples.kappa[i];
      value.z = this.heights[i];
      return value;
    }
    const box = stripsOnRun(this.run, s);
    value.kappa = box.kappa;
    value.z = this.lie.height(box, this.probes);
    return value;
  }

  /** The neighbour of s one spacing away; the sample itself where s is a sample, so that its stored value serves. */
  private beside(s: number, by: 1 | -1): number {
    const { samples, step } = this;
    const i = samples ? nearestSample(samples, s) : 0;
    return samples?.s[i] === s ? samples.s[i + by] ?? s + by * step : s + by * step;
  }

  /** The smooth stretch that holds s, or lies nearest. */
  private stretchAt(s: number): Interval {
    if (s >= this.stretch.s0 && s <= this.stretch.s1) return this.stretch;
    const away = ({ s0, s1 }: Interval) => Math.max(0, s0 - s, s - s1);
    this.stretch = this.lie.smooth.reduce((best, next) => (away(next) < away(best) ? next : best));
    return this.stretch;
  }

  /** Fill `out` at run s; in a corner, with what stands at the nearer side of it. */
  point(run: number, out: StripPoint): StripPoint {
    const { s0, s1 } = this.stretchAt(run);
    const s = Math.min(s1, Math.max(s0, run));
    const { step: h } = this;
    if (s - h >= s0 && s + h <= s1) {
      const { kappa: kappa0, z: z0 } = this.at(this.beside(s, -1));
      const { kappa: kappa2, z: z2 } = this.at(this.beside(s, 1));
      const here = this.at(s);
      out.kappa = here.kappa;
      out.kappa1 = (kappa2 - kappa0) / (2 * h);
      out.z = here.z;
      out.z1 = (z2 - z0) / (2 * h);
      out.z2 = (z2 - 2 * here.z + z0) / (h * h);
      return out;
    }
    // Near an end: the cubic through four points inside, and its derivatives at s.
    const d = Math.min(h, (s1 - s0) / 3);
    const a = s - s0 < s1 - s ? s0 : s1 - 3 * d;
    const p = [0, 1, 2, 3].map((k) => ({ ...this.at(k === 3 && a !== s0 ? s1 : a + k * d) }));
    const t = (s - a) / d;
    const cubic = (f: (v: { kappa: number; z: number }) => number): [number, number] => {
      const [f0, f1, f2, f3] = p.map(f);
      const d1 = f1 - f0;
      const d2 = f2 - 2 * f1 + f0;
      const d3 = f3 - 3 * f2 + 3 * f1 - f0;
      return [
        (d1 + (d2 * (2 * t - 1)) / 2 + (d3 * (3 * t * t - 6 * t + 2)) / 6) / d,
        (d2 + d3 * (t - 1)) / (d * d),
      ];
    };
    const here = this.at(s);
    out.kappa = here.kappa;
    out.z = here.z;
    out.kappa1 = cubic((v) => v.kappa)[0];
    [out.z1, out.z2] = cubic((v) => v.z);
    return out;
  }

  private readonly here: StripPoint = { kappa: 0, kappa1: 0, z: 0, z1: 0, z2: 0 };

  /** Rates of turn at run s. */
  rates(s: number): StripRates {
    return stripRates(this.lie, this.point(s, this.here));
  }
}
