/**
 * The stepped tab at a rib's end, as cut: a plate with square edges between a sole and a cap that slope along
 * the board. It is as high as fits over its whole thickness, touching a strip at one face and clear of it at
 * the other. That is exact, not cautious: a square-edged plate holds two parallel strips g apart when it is
 * g / cos(a) - t tan(a) high, and that is what comes out.
 */
import { loopArea } from '../curves/polygon';
import type { Design } from '../design/schema';
import type { LineOver, PlateOver, RailSamples, RailSection, RibAtRail } from '../types';
import { floorAt, roofAt } from './passes';
import { sampleReader } from './samples';
import { LEAST_FINGER, type BoxSizes } from './sizes';

/** The stepped tab of a rib, starboard: half-breadths and heights in the station plane, as cut. */
export interface TabShape {
  /** Half-breadth of the rib end, of the lower finger's end, and of the box face. */
  readonly end: number;
  readonly back: number;
  readonly face: number;
  /** Heights at the rib end: underside of the tab on the sole, top under the cap. */
  readonly low: number;
  readonly high: number;
  /** Underside of the finger that reaches over the rows; absent where none does. */
  readonly step?: number;
  /** Corners from the sole side of the rib end round to the cap side, (y, z) pairs. */
  readonly corners: readonly (readonly [number, number])[];
}

/**
 * What a plate of this half thickness, its mid-plane at station x in section `c`, meets of the box. Between its two
 * faces every sample counts, and the faces themselves, straight between samples; where a line does not reach a face it ends.
 * `corners` are the runs of corners in the lines: a strip that turns there within the plate's reach is met there too.
 */
export function plateOver(
  samples: RailSamples, rowsBetween: (s0: number, s1: number) => number, corners: readonly number[], c: RailSection, x: number, half: number, sizes: TabSizes,
): PlateOver {
  const { n, ribX, ribY, nx, ny } = samples;
  const read = sampleReader(samples);
  // Pairs of samples whose section reaches over the plate between rib-end line and box face: the lines' own are among them.
  const near: number[] = [];
  const w = sizes.stripWidth;
  // From one sample to the next the rib-end line goes no farther than this: as many are passed over as lie between it and the plate.
  let most = 0;
  for (let i = 0; i + 1 < n; i++) most = Math.max(most, Math.abs(ribX[i + 1] - ribX[i]));
  for (let i = 0; i + 1 < n; i++) {
    const a0 = ribX[i], a1 = ribX[i + 1];
    // The box face is no farther than the strip is wide.
    const away = Math.abs(a0 - x) - half - w;
    if (away > most) {
      i += Math.floor(away / most) - 1;
      continue;
    }
    const b0 = a0 - w * nx[i], b1 = a1 - w * nx[i + 1];
    if (Math.max(a0, a1, b0, b1) >= x - half && Math.min(a0, a1, b0, b1) <= x + half) near.push(i);
  }
  let [s0, s1] = [c.s, c.s];
  const line = (o: number): LineOver => {
    const met: { y: number; sole: number; cap: number; soleRise: number; capRise: number }[] = [];
    const take = (at: RailSection) => {
      const { s, ty } = at;
      met.push({
        y: at.ribY - o * at.ny, sole: Math.max(at.soleTop, floorAt(at, w, o)), cap: Math.min(at.capBottom, roofAt(at, w, o)), soleRise: at.soleSlope * ty, capRise: at.capSlope * ty,
      });
      s0 = Math.min(s0, s);
      s1 = Math.max(s1, s);
    };
    for (const i of near) {
      const a = ribX[i] - o * nx[i], b = ribX[i + 1] - o * nx[i + 1];
      const from = Math.min(a, b), to = Math.max(a, b);
      if (to < x - half || from > x + half || ribY[i] - o * ny[i] < 0) continue;
      const share = (at: number) => (a === b ? 0 : (at - a) / (b - a));
      take(read.sample(i + share(Math.max(from, x - half))));
      take(read.sample(i + share(Math.min(to, x + half))));
    }
    if (met.length === 0) take(c);
    let y = Infinity;
    for (const at of met) y = Math.min(y, at.y);
    // The corner lies at one half-breadth over the whole plate: a millimetre of it inboard of the line is ty along the rail.
    let [sole, cap] = [-Infinity, Infinity];
    for (const at of met) {
      sole = Math.max(sole, at.sole + at.soleRise * (y - at.y));
      cap = Math.min(cap, at.cap + at.capRise * (y - at.y));
    }
    return { y, sole, cap };
  };
  const end = line(0);
  const face = line(sizes.stripWidth);
  const back = line(sizes.stripWidth - sizes.spacerWidth);
  const turns = corners.filter((s) => s > s0 && s < s1).map((s) => {
    const { soleTop, capBottom } = read.at(s);
    return { soleTop, capBottom };
  });
  const past = (over: LineOver): LineOver => ({
    y: over.y, sole: Math.max(over.sole, ...turns.map(({ soleTop }) => soleTop)), cap: Math.min(over.cap, ...turns.map(({ capBottom }) => capBottom)),
  });
  return { end: past(end), mid: past(line(sizes.stripWidth / 2)), back: past(back), face: past(face), rows: rowsBetween(s0, s1) };
}

/** Sizes that a tab is cut to, mm: those of the design, or as made. */
type TabSizes = Pick<BoxSizes, 'stripWidth' | 'spacerWidth' | 'spacerHeight'>;

/** The tab of a rib, starboard; undefined where the rib has none. */
export function tabOf({ rail }: Design, rib: RibAtRail, sizes: TabSizes = rail): TabShape | undefined {
  if (!rib.hasTab) return undefined;
  const { section, over: { mid, face, rows, ...over } } = rib;
  const rowsBack = rows > 0 ? over.back : face;
  /** How far a straight edge from the rib's end out to `to` would stand in a strip midway, whose face is hollow that way: both its corners give way by it. */
  const poke = (of: 'sole' | 'cap', to: LineOver) => {
    const straight = over.end[of] + ((to[of] - over.end[of]) * (mid.y - over.end.y)) / (to.y - over.end.y);
    return to.y > over.end.y ? Math.max(0, of === 'cap' ? straight - mid.cap : mid.sole - straight) : 0;
  };
  const [up, down] = [Math.max(poke('cap', rowsBack), poke('cap', face)), poke('sole', rowsBack)];
  const [end, back, outer] = [over.end, rowsBack, face].map((at): LineOver => ({ y: at.y, sole: at.sole + down, cap: at.cap - up }));
  const rise = Math.sqrt(1 + section.soleSlope * section.soleSlope) * sizes.spacerHeight * rows;
  const finger = rows > 0 && !rail.fillSlot && Math.min(outer.cap - outer.sole, back.cap - back.sole) - rise >= LEAST_FINGER;
  if (!(end.cap > end.sole && back.cap > back.sole && back.y > end.y)) return undefined;
  const corners: (readonly [number, number])[] = [[end.y, end.sole], [back.y, back.sole]];
  if (finger) corners.push([back.y, back.sole + rise], [outer.y, outer.sole + rise], [outer.y, outer.cap]);
  else corners.push([back.y, back.cap]);
  corners.push([end.y, end.cap]);
  return { end: end.y, back: back.y, face: outer.y, low: end.sole, high: end.cap, ...(finger ? { step: back.sole + rise } : {}), corners };
}

/** Timber of one rib's tab in the box of one side, mm3: its shape as cut, less what is left inboard of the rib-end line. */
export function tabVolume(design: Design, rib: RibAtRail, sizes: TabSizes = design.rail): number {
  const tab = tabOf(design, rib, sizes);
  if (!tab) return 0;
  const inboard = (rib.ribY - tab.end) * (tab.high - tab.low);
  return Math.max(0, Math.abs(loopArea(tab.corners.flat())) - inboard) * design.frames.ribThickness;
}
