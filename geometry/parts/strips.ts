/** The strips that are bent round the board: which there are, and where each one's middle line runs. */
import { innerAt, panelAt, panelProbe } from '../hull/panel';
import { creasedOf, kinksAlong, smoothBetween } from '../rail/kinks';
import { runOf } from '../rail/query';
import { skinSpan } from '../rail/laid';
import { sampleReader } from '../rail/samples';
import { flatLie, rowLie, type Lie, type StripProbes } from '../rail/strain';
import type { Plan, RailSection } from '../types';
import type { StripId } from './types';

/** A strip's place in the stack: extent on the run, section, and how it lies. */
export interface Strip extends Lie {
  readonly id: StripId;
  readonly s0: number;
  readonly s1: number;
  /** Size level across the rail (along the height of the board for outer skins), and square to that, mm. */
  readonly width: number;
  readonly thickness: number;
  /** Species id. */
  readonly timber: string;
}

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
  const run = runOf(plan);
  const { smooth } = creasedOf(run);
  const flat = (kind: 'sole' | 'cap', from: number, to: number) => {
    if (!(to > from)) return;
    betweenCorners(plan, from, to).forEach(({ s0, s1 }, i) => strips.push({
      ...flatLie(kind, r, smooth[kind]), id: { kind, order: 0, stretch: i + 1 }, s0, s1, width: r.stripWidth,
      thickness: kind === 'sole' ? r.soleThickness : r.capThickness, timber: design.timber.rail,
    }));
  };
  flat('sole', rail.sole.s0, rail.sole.s1);
  const nth = new Map<number, number>();
  for (const row of rail.rows) {
    const stretch = (nth.get(row.row) ?? 0) + 1;
    nth.set(row.row, stretch);
    strips.push({
      ...rowLie(row.row, r, smooth.sole), id: { kind: 'row', order: row.row, stretch }, s0: row.tail.s, s1: row.nose.s,
      width: r.spacerWidth, thickness: r.spacerHeight, timber: design.timber.rail,
    });
  }
  flat('cap', rail.cap.s0, rail.cap.s1);
  const covered = skinSpan(rail);
  for (let layer = 1; layer <= r.outerLayers; layer++) {
    const inset = -(layer - 0.5) * r.outerThickness;
    const kinks = [
      ...kinksAlong(run, plan.hull.bottom, -1, () => 0, () => inset), ...kinksAlong(run, plan.hull.deck, 1, () => design.skins.deck, () => inset),
    ];
    const skinSmooth = smoothBetween(run, kinks, 0, rail.face.length);
    betweenCorners(plan, covered.s0, covered.s1).forEach(({ s0, s1 }, i) => strips.push({
      id: { kind: 'outer-skin', order: layer, stretch: i + 1 }, s0, s1,
      width: skinHeight(plan, inset, s0, s1), thickness: r.outerThickness, inset, timber: design.timber.outer, skin: true, smooth: skinSmooth,
      height: (c, p) => {
        const [bottom, deck] = skinEdges(plan, c, inset, p);
        return (bottom + deck) / 2;
      },
    }));
  }
  return strips;
}

/** Rocker and deck edge (z) of an outer layer at a section: finished bottom to inner deck face. */
function skinEdges(plan: Plan, c: Pick<RailSection, 'x' | 'y' | 'nx' | 'ny'>, inset: number, probes: StripProbes): [number, number] {
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
  const probes: StripProbes = { deck: panelProbe(), bottom: panelProbe() };
  const read = sampleReader(samples);
  let most = 0;
  for (let i = 0; i < samples.n; i++) {
    if (samples.s[i] < s0 || samples.s[i] > s1) continue;
    const [bottom, deck] = skinEdges(plan, read.sample(i), inset, probes);
    most = Math.max(most, deck - bottom);
  }
  return most;
}
