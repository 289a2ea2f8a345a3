/** What is swept along the rail: each part's ring and reach, its rings' places on the board, and where a square end's saw cuts them. */
import { blockAt } from '../frame/ends';
import { runOf } from '../rail/query';
import { hollowSpan, rowsAt, skinSpan, stopsOf } from '../rail/laid';
import { boxRings, type BoxRings, type SectionRing } from '../rail/rings';
import { boxSizes, gapFor } from '../rail/sizes';
import type { PartKind, Plan, RailSection } from '../types';

/** A part of the starboard rail: its ring at any section of [s0, s1]. */
export interface SweptPart {
  /** Its name less the side. */
  readonly name: string;
  readonly kind: PartKind;
  /** As of `Body`. */
  readonly order: number;
  readonly s0: number;
  readonly s1: number;
  readonly ring: (c: RailSection, s: number) => SectionRing;
  /** Runs at which the ring steps. */
  readonly steps?: readonly number[];
  /** Gap that the part needs, mm: where the gap closes below that on the way to a square end's plane, its end stays square to the rail. */
  readonly gap?: number;
  /** Whether the part lies outside the box, over the bottom skin's edge. */
  readonly outer?: boolean;
}

/** Strips, hollow, what stands beside the blocks, rows and outer skins, and the rings that shape them. */
export function sweptParts(plan: Plan): { readonly rings: BoxRings; readonly parts: readonly SweptPart[] } {
  const { design, rail } = plan;
  const rings = boxRings(runOf(plan), design.rail.outerThickness);
  const parts: SweptPart[] = [{ name: 'sole', kind: 'sole', order: 0, ...rail.sole, ring: rings.sole }];
  if (rail.cap.s1 > rail.cap.s0) {
    parts.push({ name: 'cap', kind: 'cap', order: 0, ...rail.cap, ring: rings.cap });
    const span = hollowSpan(rail);
    if (span.s1 > span.s0) parts.push({ name: 'hollow', kind: 'hollow', order: 0, ...span, ring: (c, s) => rings.hollow(c, rowsAt(rail.rows, s)), steps: stopsOf(rail).map(({ s }) => s) });
  }
  for (const [order, end] of (['tail', 'nose'] as const).entries()) {
    for (const { kind, s0, s1 } of blockAt(plan, end)?.beside ?? []) parts.push({ name: `block-${end}-${kind}`, kind: 'block', order, s0, s1, ring: rings[kind] });
  }
  const count = new Map<number, number>();
  for (const { row, tail, nose } of rail.rows) {
    const nth = (count.get(row) ?? 0) + 1;
    count.set(row, nth);
    parts.push({ name: `row-${row}-${nth}`, kind: 'row', order: row, s0: tail.s, s1: nose.s, ring: (c) => rings.row(c, row), gap: gapFor(boxSizes(design), row) });
  }
  for (let layer = 1; layer <= design.rail.outerLayers; layer++) {
    parts.push({ name: `outer-skin-${layer}`, kind: 'outer-skin', order: layer, ...skinSpan(rail), ring: (c) => rings.outerSkin(c, layer), outer: true });
  }
  return { rings, parts };
}

/** What ends this near the end of the run, or of the board, ends with it, mm. */
const END_HAIR = 1e-6;

/** Writes a ring's corners as (x, y, z) from `to` on. Where the two sides' boxes meet each is cut off on the centreline. */
export function placeRing(shape: SectionRing, { ribX, ribY, nx, ny }: RailSection, into: Float32Array | Float64Array, to = 0): void {
  for (const [o, z] of shape) {
    into[to] = ribX - o * nx;
    into[to + 1] = Math.max(0, ribY - o * ny);
    into[to + 2] = z;
    to += 3;
  }
}

/**
 * The part's ring at run s where that is a square end of the board: sawn off in the end's plane, whichever way the rail
 * leans, carried on straight and planed to the skins that it comes to there. Undefined where nothing is sawn. `at` reads
 * sections, the same object each time.
 */
export function sawnRing(plan: Plan, rings: BoxRings, at: (s: number) => RailSection, { ring, gap: need, outer }: SweptPart, s: number): Float64Array | undefined {
  const { hull, rail: { face: { tail, nose, length } } } = plan;
  const way = tail.kind === 'open' && tail.x < END_HAIR && s < END_HAIR ? 1 : nose.kind === 'open' && nose.x > hull.length - END_HAIR && s > length - END_HAIR ? -1 : 0;
  if (way === 0) return undefined;
  const x = way === 1 ? 0 : hull.length;
  const next = at(s + way);
  const closing = next.gap;
  const shape = ring(next, s + way);
  const [end, beside] = [new Float64Array(3 * shape.length), new Float64Array(3 * shape.length)];
  placeRing(shape, next, beside);
  const c = at(s);
  const across = ring(c, s);
  placeRing(across, c, end);
  const shares = across.map((_, j) => (x - end[3 * j]) / (beside[3 * j] - end[3 * j]));
  if (need !== undefined && c.gap + Math.min(0, ...shares) * (closing - c.gap) < need) return undefined;
  return Float64Array.from(shares.flatMap((t, j) => {
    const [straight, z] = [1, 2].map((d) => end[3 * j + d] + t * (beside[3 * j + d] - end[3 * j + d]));
    const y = Math.max(0, straight);
    const inside = (face: 1 | -1) => rings.inside(c, face, across[j][0], [x, y]);
    return [x, y, t >= 0 ? z : Math.min(inside(1), outer ? z : Math.max(inside(-1), z))];
  }));
}
