/** A generator of designs that the reader accepts, spread widely about the tests' boards, and a scaled copy of one. */
import fc from 'fast-check';
import { checkDesign } from '../../geometry/design/read';
import type { Design, LengthCurveDesign, LengthCurveName } from '../../geometry/design/schema';
import { seedDesign, seedNames } from '../geometry/boards';

const share = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** Everything that is drawn by chance; each is applied to a board of the tests in turn. */
const draw = fc.record({
  seed: fc.integer({ min: 0, max: seedNames.length - 1 }),
  long: share(0.75, 1.5),
  wide: share(0.7, 1.5),
  thick: share(0.75, 1.7),
  rocker: share(-0.3, 2.2),
  crown: share(0, 1.8),
  vee: share(0, 2.5),
  concave: share(0, 2),
  fullness: share(0, 1.6),
  apex: share(0.7, 1.4),
  wobble: fc.array(share(-0.04, 0.04), { minLength: 12, maxLength: 12 }),
  stripWidth: share(8, 24),
  spacerShare: share(0.3, 0.8),
  sole: share(3, 8),
  cap: share(3, 10),
  spacerHeight: share(4, 12),
  rows: fc.integer({ min: 1, max: 4 }),
  clearance: share(0, 1.5),
  glue: share(0, 0.4),
  layers: fc.integer({ min: 1, max: 3 }),
  outer: share(2, 8),
  skin: share(2, 6),
  ribs: fc.integer({ min: 0, max: 14 }),
  leastRow: share(20, 300),
});

function bend(curve: LengthCurveDesign, along: number, value: (v: number) => number): LengthCurveDesign {
  return { ...curve, points: curve.points.map((p) => ({ ...p, x: p.x * along, v: value(p.v) })) };
}

const seeds = seedNames.map(seedDesign);

/** One drawn design; the reader has not seen it yet. */
export const rawDesign: fc.Arbitrary<Design> = draw.map((d) => {
  const from = seeds[d.seed];
  const { lines, rail } = from;
  const wobble = (i: number) => 1 + d.wobble[i % d.wobble.length];
  const curve = (name: LengthCurveName, value: (v: number) => number) => bend(lines[name], d.long, value);
  const points = lines.outline.points.map((p, i) => ({ ...p, x: p.x * d.long, y: p.y * d.wide * wobble(i) }));
  const length = points[points.length - 1].x;
  // A slope in degrees keeps its curve's look when the axes stretch unequally.
  const steer = (deg: number | undefined, by: number) => (deg === undefined || deg === 90 ? deg : (Math.atan(Math.tan((deg * Math.PI) / 180) * by) * 180) / Math.PI);
  const slopes = (c: LengthCurveDesign, by: number): LengthCurveDesign => ({
    ...c, tailSlopeDeg: steer(c.tailSlopeDeg, by), noseSlopeDeg: steer(c.noseSlopeDeg, by),
  });
  return {
    ...from,
    lines: {
      outline: {
        points, tailAngleDeg: steer(lines.outline.tailAngleDeg, d.wide / d.long), noseAngleDeg: steer(lines.outline.noseAngleDeg, d.wide / d.long),
      },
      rocker: slopes(curve('rocker', (v) => v * d.rocker), d.rocker / d.long),
      thickness: slopes(curve('thickness', (v) => v * d.thick), d.thick / d.long),
      crown: curve('crown', (v) => v * d.crown),
      concave: curve('concave', (v) => v * d.concave),
      vee: curve('vee', (v) => v * d.vee),
      apex: curve('apex', (v) => v * d.apex),
      fullness: curve('fullness', (v) => v * d.fullness),
      tuck: curve('tuck', (v) => v),
      turn: curve('turn', (v) => v),
    },
    skins: { bottom: d.skin, deck: d.skin },
    frames: { ...from.frames, ribs: Array.from({ length: d.ribs }, (_, i) => ((i + 1) * length) / (d.ribs + 1)) },
    rail: {
      ...rail, stripWidth: d.stripWidth, spacerWidth: d.stripWidth * d.spacerShare, soleThickness: d.sole, capThickness: d.cap,
      spacerHeight: d.spacerHeight, rows: d.rows, clearance: d.clearance, glueLine: d.glue, outerLayers: d.layers,
      outerThickness: d.outer, leastRow: d.leastRow,
    },
  };
});

/** Designs the reader accepts. */
export const soundDesign: fc.Arbitrary<Design> = rawDesign.filter((design) => checkDesign(design).ok);

/** The same board k times as large: every length times k, every ratio and angle kept. */
export function scaled(design: Design, k: number): Design {
  const { lines, rail, frames } = design;
  const curve = (name: LengthCurveName, value: number): LengthCurveDesign => bend(lines[name], k, (v) => v * value);
  return {
    ...design,
    lines: {
      outline: { ...lines.outline, points: lines.outline.points.map((p) => ({ ...p, x: p.x * k, y: p.y * k })) },
      rocker: curve('rocker', k), thickness: curve('thickness', k), crown: curve('crown', 1), concave: curve('concave', 1),
      vee: curve('vee', 1), apex: curve('apex', 1), fullness: curve('fullness', 1), tuck: curve('tuck', k), turn: curve('turn', k),
    },
    skins: { bottom: design.skins.bottom * k, deck: design.skins.deck * k },
    frames: {
      ...frames, ribs: frames.ribs.map((x) => x * k), ribThickness: frames.ribThickness * k, stringerThickness: frames.stringerThickness * k,
    },
    rail: {
      ...rail, stripWidth: rail.stripWidth * k, soleThickness: rail.soleThickness * k, capThickness: rail.capThickness * k,
      spacerWidth: rail.spacerWidth * k, spacerHeight: rail.spacerHeight * k, clearance: rail.clearance * k, glueLine: rail.glueLine * k,
      leastRow: rail.leastRow * k, outerThickness: rail.outerThickness * k, shapingAllowance: rail.shapingAllowance * k, leastCover: rail.leastCover * k,
    },
  };
}
