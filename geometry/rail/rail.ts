/** The box rail from a hull: plan lines, gap, rows, states, sections, hollow. */
import type { Design } from '../design/schema';
import { findRoot } from '../curves/roots';
import { BuildError } from '../errors';
import { mm, said, size } from '../said';
import type { Hull, MadeBox, Place, RailPlan, RailSamples, RailSection, RibAtRail, RowStretch } from '../types';
import { frameAt, planeFrame } from '../curves/plane';
import { emptySamples, sampleReader } from './samples';
import { hollowSpan, innerFace, rowsAt, solidAt } from './laid';
import { findEnds } from './railEnds';
import { fillBox, fillRows, fillSolid } from './section';
import { boxSizes } from './sizes';
import { creasedOf } from './kinks';
import { layRows } from './rows';
import { layRun, sectionOnRun, sizesOnRun, xOnRun, type Run } from './run';
import { boxExtents, boxStretches, longest } from './states';
import { plateOver, tabVolume } from './tab';
import { endRules } from '../wood/ladder';

/** Spacing of the run's samples, mm, unless the caller asks otherwise. */
export const RUN_STEP = 2;

/** A run that no figure shows, mm, but wider than a touch is found to. */
const HAIR = 1e-4;

/**
 * Plan the box rail. `step` is the greatest spacing of samples on the run, mm; `made` what differs in the box
 * as made, if it was measured. Throws a BuildError where the board has no room for outer skins and strip.
 */
export function planRail(design: Design, hull: Hull, step = RUN_STEP, made?: MadeBox): RailPlan {
  const run = layRun(hull, boxSizes(design), made);
  const n = Math.max(9, Math.ceil(run.total / step) + 1);
  const samples = emptySamples(n, run.total / (n - 1));
  for (let i = 0; i < n; i++) {
    const s = i === n - 1 ? run.total : (i * run.total) / (n - 1);
    fillBox(run.ev, run.map.parameterAt(s), s, samples, i);
  }
  const extents = boxExtents(run, samples);
  const room = longest(extents.room);
  if (!room) {
    const at = deepest(samples);
    throw new BuildError({
      field: 'lines.thickness',
      value: said('inner depth {depth} at most, {s} along the rail', { depth: mm(samples.depth[at]), s: mm(samples.s[at], 0) }),
      allowed: said('more than the sole strip\'s {sole}', { sole: size(run.sizes.sole) }), message: 'the board is too thin at its rail for any box',
    });
  }
  const { sole, cap, ends, unbendable } = findEnds(run, samples, room, longest(extents.open) ?? { s0: room.s0, s1: room.s0 }, { sole: endRules(design, 'sole'), cap: endRules(design, 'cap') }, design.ends);
  const hollow = hollowSpan({ cap, ends });
  const half = design.frames.ribThickness / 2;
  const inner = (end: 'tail' | 'nose') => innerFace({ ends, face: run.face, samples }, hull.length, end);
  const closed = (end: 'tail' | 'nose') => ends[end] !== undefined || run.face[end].kind === 'open';
  const crossings: RibCrossing[] = [];
  const ribsInBlock: number[] = [];
  for (const rib of ribCrossings(run, samples, design.frames.ribs)) {
    const stands = (closed('tail') && rib.x < inner('tail') + half) || (closed('nose') && rib.x > inner('nose') - half);
    if (stands) ribsInBlock.push(rib.index);
    else crossings.push(rib);
  }
  const read = sampleReader(samples);
  /** Stations between which tabs keep off the blocks' tongues, whose ends stand square to the rail from rib-end line to box face. */
  const tongues = (['tail', 'nose'] as const).map((name) => {
    const end = ends[name];
    if (!end || end.cause === 'touch') return name === 'tail' ? -Infinity : Infinity;
    const { ribX, nx } = read.at(end.rowsTo);
    const over = sizesOnRun(run, end.rowsTo).stripWidth * nx;
    return name === 'tail' ? Math.max(ribX, ribX - over) : Math.min(ribX, ribX - over);
  });
  /** Whether a rib's plate, half its thickness either way of its mid-plane, keeps its tab off them. */
  const clearOfTongues = ({ x }: RibCrossing) => x - half >= tongues[0] && x + half <= tongues[1];
  const { rows, dropped } = layRows(run, samples, {
    bend: endRules(design, 'rows'),
    leastRow: design.rail.leastRow,
    ends,
    tabs: crossings.filter((c) => extents.open.some((o) => c.s >= o.s0 && c.s <= o.s1) && clearOfTongues(c)),
  });
  const solid = (s: number) => solidAt(ends, s);
  for (let i = 0; i < n; i++) {
    fillRows(run.ev, rowsAt(rows, samples.s[i]), samples, i);
    if (solid(samples.s[i])) fillSolid(samples, i);
  }
  const { kinks } = creasedOf(run);
  const corners = [...kinks.sole, ...kinks.cap].map(({ s }) => s);
  const ribs = crossings.map((c): RibAtRail => {
    const at = sectionOnRun(run, c.s, rowsAt(rows, c.s), solid(c.s));
    const rowsBetween = (s0: number, s1: number) => rows.reduce((most, { row, tail, nose }) => (tail.s < s1 && nose.s > s0 ? Math.max(most, row) : most), at.rows);
    return {
      index: c.index, x: c.x, s: c.s, ribY: at.ribY, gap: at.gap, rows: at.rows, slot: at.slot,
      hasTab: at.gap > 0 && c.s >= cap.s0 && c.s <= cap.s1 && clearOfTongues(c), section: at,
      over: plateOver(samples, rowsBetween, corners, at, c.x, design.frames.ribThickness / 2, sizesOnRun(run, c.s)),
    };
  });
  const end = (s: number) => sectionOnRun(run, s, rowsAt(rows, s), solid(s));
  // A hair inside: where sole and cap touch, rounding must not say whether there is a hollow to cover.
  const hair = Math.min(HAIR, (hollow.s1 - hollow.s0) / 2);
  const capEnds = [end(cap.s0), end(cap.s1)] as const;
  return {
    face: run.face,
    ribEnd: run.ribEnd,
    samples,
    boxFrom: run.boxFrom,
    boxTo: run.boxTo,
    meets: {
      tail: run.ribEnd.tail.kind === 'meets' ? place(run, run.boxFrom) : undefined,
      nose: run.ribEnd.nose.kind === 'meets' ? place(run, run.boxTo) : undefined,
    },
    sole,
    cap,
    ends,
    unbendable,
    ribsInBlock,
    rows,
    dropped,
    kinks,
    stretches: boxStretches(run, rows, extents, ends),
    ribs,
    hollowVolume: hollowVolume(design, run, samples, rows, ribs, hollow),
    range: {
      bevel: rangeOf(samples, 'bevel', capEnds),
      planing: rangeOf(samples, 'planing', capEnds),
      cover: rangeOf(samples, 'cover', [end(hollow.s0 + hair), end(hollow.s1 - hair)]),
      gap: rangeOf(samples, 'gap', [end(run.boxFrom), end(run.boxTo)]),
    },
    made,
  };
}

function deepest(samples: RailSamples): number {
  let best = 0;
  for (let i = 1; i < samples.n; i++) if (samples.depth[i] > samples.depth[best]) best = i;
  return best;
}

const place = (run: Run, s: number): Place => ({ s, x: xOnRun(run, s) });

interface RibCrossing {
  readonly index: number;
  readonly x: number;
  readonly s: number;
}

/** Where the rib-end line crosses each rib's mid-plane, inside the box; ribs that miss the rail are left out. */
function ribCrossings(run: Run, samples: RailSamples, ribs: readonly number[]): RibCrossing[] {
  const frame = planeFrame();
  const offset = run.sizes.faceOffset + run.sizes.stripWidth;
  const ribXAt = (s: number) => {
    frameAt(run.hull.outline, run.map.parameterAt(s), frame);
    return frame.x + offset * frame.nx;
  };
  const out: RibCrossing[] = [];
  ribs.forEach((x, index) => {
    for (let i = 0; i + 1 < samples.n; i++) {
      const a = samples.ribX[i] - x;
      const b = samples.ribX[i + 1] - x;
      if ((a === 0 || a * b < 0) && samples.s[i + 1] >= run.boxFrom && samples.s[i] <= run.boxTo) {
        const s = findRoot((at) => ribXAt(at) - x, samples.s[i], samples.s[i + 1], 1e-7, a, b);
        if (s >= run.boxFrom && s <= run.boxTo) out.push({ index, x, s });
        break;
      }
    }
  });
  return out;
}

/**
 * Volume of the hollow, one side: the whole space between the strips less the rows and the tabs, each
 * carried along its own centroid line (Pappus: an element at inset e is 1 - e kappa long).
 */
function hollowVolume(
  design: Design, run: Run, samples: RailSamples, rows: readonly RowStretch[], ribs: readonly RibAtRail[], hollow: { s0: number; s1: number },
): number {
  const { sizes } = run;
  const { n, s, soleSlope, gap, kappa } = samples;
  const w = sizes.stripWidth;
  const between = (s0: number, s1: number, values: Float64Array) => {
    let sum = 0;
    for (let i = Math.max(0, Math.floor(s0 / samples.step) - 1); i + 1 < n && s[i] < s1; i++) {
      const a = Math.max(s0, s[i]);
      const b = Math.min(s1, s[i + 1]);
      if (b <= a) continue;
      const t = ((a + b) / 2 - s[i]) / (s[i + 1] - s[i]);
      sum += (b - a) * (values[i] * (1 - t) + values[i + 1] * t);
    }
    return sum;
  };
  /** Volume of the space between the strips and of one spacer row, for a millimetre of run. */
  const [space, spacer] = [new Float64Array(n), new Float64Array(n)];
  for (let i = 0; i < n; i++) {
    const { spacerHeight, spacerWidth } = sizesOnRun(run, s[i]);
    // Length along the sole: gap and rows are measured square to it.
    const slant = Math.sqrt(1 + soleSlope[i] * soleSlope[i]);
    space[i] = w * Math.max(0, gap[i]) * slant * (1 - (w / 2) * kappa[i]);
    spacer[i] = spacerHeight * spacerWidth * slant * (1 - (sizes.spacerWidth / 2) * kappa[i]);
  }
  let volume = between(hollow.s0, hollow.s1, space);
  for (const row of rows) volume -= between(Math.max(row.tail.s, hollow.s0), Math.min(row.nose.s, hollow.s1), spacer);
  for (const rib of ribs) volume -= tabVolume(design, rib, sizesOnRun(run, rib.s));
  return Math.max(0, volume);
}

/** Least and greatest of a field between two sections, which count themselves: figures run off fastest at an end. */
function rangeOf(
  samples: RailSamples, field: keyof RailSection, [from, to]: readonly [RailSection, RailSection],
): { min: number; max: number; sMin: number; sMax: number } {
  const values = samples[field];
  const out = { min: from[field], max: from[field], sMin: from.s, sMax: from.s };
  const take = (value: number, s: number) => {
    if (value < out.min) [out.min, out.sMin] = [value, s];
    if (value > out.max) [out.max, out.sMax] = [value, s];
  };
  for (let i = 0; i < samples.n; i++) if (samples.s[i] > from.s && samples.s[i] < to.s) take(values[i], samples.s[i]);
  take(to[field], to.s);
  return out;
}
