/** What of a body the lines of a board cannot hold, in words: where it stands out of them or falls short, and by how much. */
import { mm, said, type Said } from '../../said';
import { areaOf, type Triangles } from './body';
import type { Zone } from './distance';
import { cutSizes, slicesOf } from './slices';

/** Less than this is told in figures alone, mm; and less than this share of the surface is a corner, not a part. */
const TOLD = { off: 2, share: 0.0005 } as const;
/** Sides that differ by less are alike, mm. */
const ALIKE = 1;
/** Most remarks about places. */
const MOST = 5;

const ZONES: Readonly<Record<Zone, string>> = { deck: 'deck', bottom: 'bottom', rail: 'rails', end: 'square end' };

/** The remarks: whole things first, then places, the farthest off first. */
export function remarksOn(body: Triangles, off: Float32Array, zones: readonly Zone[], length: number): Said[] {
  return [...wholes(body, length), ...places(body, off, zones, length)];
}

function wholes(body: Triangles, length: number): Said[] {
  const cuts = slicesOf(body, Array.from({ length: 60 }, (_, i) => (length * (i + 0.5)) / 60)).map(cutSizes).filter(({ port }) => Number.isFinite(port));
  const askew = cuts.reduce((most, { port, starboard }) => Math.max(most, Math.abs(port + starboard) / 2), 0);
  const split = cuts.filter(({ low, port, starboard }) => !Number.isFinite(low) && port < 0 && starboard > 0);
  return [
    ...(askew > ALIKE ? [said('Its two sides are not alike: up to {x} off the middle. A board here has two equal sides; the lines lie between them.', { x: mm(askew) })] : []),
    ...(split.length > 0 ? [said('It is open on the centreline over about {x}: a split tail or a slot is closed in the lines.', { x: mm((split.length * length) / 60, 0) })] : []),
  ];
}

function places(body: Triangles, off: Float32Array, zones: readonly Zone[], length: number): Said[] {
  const { positions: p, indices } = body;
  const found = new Map<string, { zone: Zone; part: string; out: boolean; area: number; most: number }>();
  let whole = 0;
  for (let i = 0; i < indices.length; i += 3) {
    const [i0, i1, i2] = [indices[i], indices[i + 1], indices[i + 2]];
    const area = areaOf(body, i / 3);
    whole += area;
    const mean = (off[i0] + off[i1] + off[i2]) / 3;
    if (!(Math.abs(mean) > TOLD.off)) continue;
    const x = (p[3 * i0] + p[3 * i1] + p[3 * i2]) / 3 / length;
    const part = x < 0.25 ? 'toward the tail' : x > 0.75 ? 'toward the nose' : 'amidships';
    const zone = zones[i0];
    const id = `${zone} ${part} ${mean > 0}`;
    const one = found.get(id) ?? { zone, part, out: mean > 0, area: 0, most: 0 };
    one.area += area;
    one.most = Math.max(one.most, Math.abs(off[i0]), Math.abs(off[i1]), Math.abs(off[i2]));
    found.set(id, one);
  }
  return [...found.values()].filter(({ area }) => area > TOLD.share * whole).sort((a, b) => b.most - a.most).slice(0, MOST).map(({ zone, part, out, area, most }) =>
    said(out ? 'Its {zone} {part}: up to {x} outside the lines, over {share} of the surface. The lines have none of its fins or steps.' : 'Its {zone} {part}: up to {x} inside the lines, over {share} of the surface. The lines have none of its boxes, channels or holes.', {
      zone: ZONES[zone], part, x: mm(most), share: { of: 'share', value: area / whole, decimals: 1 },
    }));
}
