/**
 * The strips that are bent round the board: which there are, where each one's middle line runs, and the
 * first and second derivatives of its height and its plan curvature along the run.
 */
import { innerAt, panelAt, panelProbe, type PanelProbe } from '../hull/panel';
import { runOf } from '../rail/query';
import { boxOnRun, type Run } from '../rail/run';
import { nearestSample, sampleReader } from '../rail/samples';
import type { Plan, RailSection } from '../types';
import type { StripId } from './types';

/** A strip's place in the stack: extent on the run, section, and its middle line's inset from the box face. */
export interface Strip {
  readonly id: StripId;
  readonly s0: number;
  readonly s1: number;
  /** Size level across the rail (along the height of the board for outer skins), and square to that, mm. */
  readonly width: number;
  readonly thickness: number;
  /** Inset of the middle line from the box face in plan, mm; negative outboard. */
  readonly inset: number;
  /** Species id. */
  readonly timber: string;
  /** Height of the middle line, from a section and the probes of a walk along the run. */
  readonly height: (section: RailSection, probes: StripProbes) => number;
}

/** Scratch of one walk along the run. */
export interface StripProbes {
  readonly run: Run;
  readonly deck: PanelProbe;
  readonly bottom: PanelProbe;
}

const stripProbes = (plan: Plan): StripProbes => ({ run: runOf(plan), deck: panelProbe(), bottom: panelProbe() });

/** A hair inside a corner of the box face, so that each side of it shows its own curvature, mm. */
const CORNER_HAIR = 1e-6;

/** Parts of [s0, s1] between the corners of the box face: no strip turns a corner. */
function betweenCorners(plan: Plan, s0: number, s1: number): { s0: number; s1: number }[] {
  const cuts = plan.rail.face.corners.map((c) => c.s).filter((s) => s > s0 && s < s1);
  const edges = [s0, ...cuts.flatMap((s) => [s - CORNER_HAIR, s + CORNER_HAIR]), s1];
  return Array.from({ length: edges.length / 2 }, (_, i) => ({ s0: edges[2 * i], s1: edges[2 * i + 1] }));
}

/** Every strip of one side: sole, rows from the sole up, cap, outer layers from the box out. Stretches tail first. */
export function stripsOf(plan: Plan): Strip[] {
  const { design, rail } = plan;
  const r = design.rail;
  const strips: Strip[] = [];
  const flat = (kind: 'sole' | 'cap', from: number, to: number) => {
    if (!(to > from)) return;
    betweenCorners(plan, from, to).forEach(({ s0, s1 }, i) => strips.push({
      id: { kind, order: 0, stretch: i + 1 }, s0, s1, width: r.stripWidth,
      thickness: kind === 'sole' ? r.soleThickness : r.capThickness, inset: r.stripWidth / 2, timber: design.timber.rail,
      height: kind === 'sole' ? (c) => (c.soleBottom + c.soleTop) / 2 : (c) => (c.capBottom + c.capTop) / 2,
    }));
  };
  flat('sole', rail.sole.s0, rail.sole.s1);
  const nth = new Map<number, number>();
  for (const row of rail.rows) {
    const stretch = (nth.get(row.row) ?? 0) + 1;
    nth.set(row.row, stretch);
    strips.push({
      id: { kind: 'row', order: row.row, stretch }, s0: row.tail.s, s1: row.nose.s, width: r.spacerWidth,
      thickness: r.spacerHeight, inset: r.spacerWidth / 2, timber: design.timber.rail,
      height: (c) => c.soleTop + (row.row - 0.5) * r.spacerHeight * Math.hypot(1, c.soleSlope),
    });
  }
  flat('cap', rail.cap.s0, rail.cap.s1);
  for (let layer = 1; layer <= r.outerLayers; layer++) {
    const inset = -(layer - 0.5) * r.outerThickness;
    betweenCorners(plan, 0, rail.face.length).forEach(({ s0, s1 }, i) => strips.push({
      id: { kind: 'outer-skin', order: layer, stretch: i + 1 }, s0, s1,
      width: skinHeight(plan, inset, s0, s1), thickness: r.outerThickness, inset, timber: design.timber.outer,
      height: (c, p) => {
        const [bottom, deck] = skinEdges(plan, c, inset, p);
        return (bottom + deck) / 2;
      },
    }));
  }
  return strips;
}

/** Rocker and deck edge (z) of an outer layer at a section: finished bottom to inner deck face. */
function skinEdges(plan: Plan, c: RailSection, inset: number, probes: StripProbes): [number, number] {
  const x = c.x + inset * c.nx;
  const y = Math.max(0, c.y + inset * c.ny);
  return [
    panelAt(plan.hull.bottom, x, y, probes.bottom).z,
    innerAt(plan.hull.deck, 1, plan.design.skins.deck, x, y, probes.deck).z,
  ];
}

/** Greatest height of an outer layer over its samples, mm. */
function skinHeight(plan: Plan, inset: number, s0: number, s1: number): number {
  const { samples } = plan.rail;
  const probes = stripProbes(plan);
  const read = sampleReader(samples);
  let most = 0;
  for (let i = 0; i < samples.n; i++) {
    if (samples.s[i] < s0 || samples.s[i] > s1) continue;
    const [bottom, deck] = skinEdges(plan, read.sample(i), inset, probes);
    most = Math.max(most, deck - bottom);
  }
  return most;
}

/** A strip's middle line at one run: plan curvature of the box face, height, and their derivatives along the run. */
export interface StripPoint {
  kappa: number;
  kappa1: number;
  z: number;
  z1: number;
  z2: number;
}

/**
 * Walks a strip. Derivatives are central differences over the samples' own spacing, so that every place of
 * the run lies in some window and no kink of a line can hide between two; near an end the window is four
 * points inside it. Second order in the spacing either way.
 */
export class StripWalk {
  private readonly read: ReturnType<typeof sampleReader>;
  private readonly probes: StripProbes;
  private readonly h: number;
  /** Heights at the samples, filled as asked for. */
  private readonly heights: Float64Array;
  private readonly value = { kappa: 0, z: 0 };

  constructor(
    private readonly plan: Plan,
    readonly strip: Strip,
  ) {
    this.probes = stripProbes(plan);
    this.read = sampleReader(plan.rail.samples);
    this.h = Math.min(plan.rail.samples.step, (strip.s1 - strip.s0) / 3);
    this.heights = new Float64Array(plan.rail.samples.n).fill(Number.NaN);
  }

  /** Runs at which the strip is tabled: its ends, and the samples between them. */
  nodes(): Float64Array {
    const { s, n } = this.plan.rail.samples;
    const out = [this.strip.s0];
    for (let i = 0; i < n; i++) if (s[i] > this.strip.s0 + 1e-3 && s[i] < this.strip.s1 - 1e-3) out.push(s[i]);
    out.push(this.strip.s1);
    return Float64Array.from(out);
  }

  /** Plan curvature of the face and height of the middle line at run s: from the samples where s is one. */
  private at(s: number): { kappa: number; z: number } {
    const { samples } = this.plan.rail;
    const i = nearestSample(samples, s);
    if (samples.s[i] === s) {
      if (Number.isNaN(this.heights[i])) this.heights[i] = this.strip.height(this.read.sample(i), this.probes);
      this.value.kappa = samples.kappa[i];
      this.value.z = this.heights[i];
      return this.value;
    }
    const box = boxOnRun(this.probes.run, s);
    this.value.kappa = box.kappa;
    this.value.z = this.strip.height(box, this.probes);
    return this.value;
  }

  /** The neighbour of s one spacing away; the sample itself where s is a sample, so that its stored value serves. */
  private beside(s: number, by: 1 | -1): number {
    const { samples } = this.plan.rail;
    const i = nearestSample(samples, s);
    return samples.s[i] === s && this.h === samples.step ? samples.s[i + by] : s + by * this.h;
  }

  /** Fill `out` at run s within the strip. */
  point(s: number, out: StripPoint): StripPoint {
    const { s0, s1 } = this.strip;
    const { h } = this;
    const slack = 1e-9;
    if (s - h >= s0 - slack && s + h <= s1 + slack) {
      const before = { ...this.at(this.beside(s, -1)) };
      const after = { ...this.at(this.beside(s, 1)) };
      const here = this.at(s);
      out.kappa = here.kappa;
      out.kappa1 = (after.kappa - before.kappa) / (2 * h);
      out.z = here.z;
      out.z1 = (after.z - before.z) / (2 * h);
      out.z2 = (after.z - 2 * here.z + before.z) / (h * h);
      return out;
    }
    // Near an end: the cubic through four points inside, and its derivatives at s.
    const a = s - s0 < s1 - s ? s0 : s1 - 3 * h;
    const p = [0, 1, 2, 3].map((k) => ({ ...this.at(k === 3 && a !== s0 ? s1 : a + k * h) }));
    const t = (s - a) / h;
    const cubic = (f: (v: { kappa: number; z: number }) => number): [number, number] => {
      const [f0, f1, f2, f3] = p.map(f);
      const d1 = f1 - f0;
      const d2 = f2 - 2 * f1 + f0;
      const d3 = f3 - 3 * f2 + 3 * f1 - f0;
      return [
        (d1 + (d2 * (2 * t - 1)) / 2 + (d3 * (3 * t * t - 6 * t + 2)) / 6) / h,
        (d2 + d3 * (t - 1)) / (h * h),
      ];
    };
    const here = this.at(s);
    out.kappa = here.kappa;
    out.z = here.z;
    out.kappa1 = cubic((v) => v.kappa)[0];
    [out.z1, out.z2] = cubic((v) => v.z);
    return out;
  }
}
