/**
 * Skin blanks against closed forms, brute force and an independent polygon library (polyclip-ts).
 * Developments: a cylinder unrolls to a rectangle, an oblique cut to a sine of amplitude r tan(angle); the
 * length of a parallel differs by distance times turning angle (textbook differential geometry; provable).
 * The skins stand plumb on a plan curve, so no cone ever occurs and no cone is checked.
 */
import fc from 'fast-check';
import { intersection, union, type Geom } from 'polyclip-ts';
import { describe, expect, it } from 'vitest';
import { boundsOf, convexHull, leastWidthBox, loopArea, turned } from '../../geometry/curves/polygon';
import { planBlanks } from '../../geometry/parts/blanks';
import { developLayer, layerInset } from '../../geometry/parts/develop';
import { domainsOf, pieceLoop, reachOf, splitDomain } from '../../geometry/parts/split';
import { planBoard } from '../../geometry/plan';
import type { Design } from '../../geometry/design/schema';
import { seedDesign, seedNames } from './boards';
import { mmText } from '../support/said';
import { DISC_DEPTH, DISC_RADIUS, discDesign } from './disc';

/** Ring of a polygon for polyclip-ts. */
const ring = (loop: ArrayLike<number>): Geom => {
  const points: [number, number][] = [];
  for (let i = 0; i < loop.length; i += 2) points.push([loop[i], loop[i + 1]]);
  return [points];
};
const areaOf = (geom: ReturnType<typeof union>): number =>
  geom.flat().reduce((sum, r) => sum + loopArea(r.flat()), 0);

/** Least width over many directions: the slow twin of the calipers. */
function scannedWidth(points: ArrayLike<number>, steps: number): number {
  let least = Infinity;
  for (let i = 0; i < steps; i++) {
    const b = boundsOf(turned(points, (Math.PI * i) / steps));
    least = Math.min(least, b.y1 - b.y0);
  }
  return least;
}

describe('developments of a disc', () => {
  it('unroll a level layer to a rectangle pi r long and as high as deck over bottom', () => {
    const plan = planBoard(discDesign());
    for (const blank of planBlanks(plan).blanks) {
      const r = DISC_RADIUS - layerInset(plan, blank.layer);
      expect(blank.length).toBeCloseTo(Math.PI * r, 3);
      for (let i = 0; i < blank.rockerEdge.length; i += 2) {
        expect(blank.rockerEdge[i + 1]).toBeCloseTo(0, 6);
        expect(blank.deckEdge[i + 1]).toBeCloseTo(DISC_DEPTH - plan.design.skins.deck, 6);
      }
    }
  });

  it('turn an oblique cut into a sine of amplitude r tan(angle), deck edge true to the skin thickness square to it', () => {
    const tilt = (8 * Math.PI) / 180;
    const plan = planBoard(discDesign(tilt));
    const tan = Math.tan(tilt);
    for (const blank of planBlanks(plan).blanks) {
      const r = DISC_RADIUS - layerInset(plan, blank.layer);
      for (let i = 0; i < blank.rockerEdge.length; i += 2) {
        const wave = tan * (DISC_RADIUS - r * Math.cos(blank.rockerEdge[i] / r));
        expect(blank.rockerEdge[i + 1]).toBeCloseTo(wave, 3);
        expect(blank.deckEdge[i + 1]).toBeCloseTo(wave + DISC_DEPTH - plan.design.skins.deck / Math.cos(tilt), 3);
      }
    }
  });

  it('lengthen from layer to layer by thickness times the turning angle, half a turn here', () => {
    const plan = planBoard(discDesign());
    const t = plan.design.rail.outerThickness;
    const { blanks } = planBlanks(plan);
    expect(blanks.length).toBeGreaterThan(1);
    for (const blank of blanks) expect(blank.gain).toBeCloseTo((blank.layer - 0.5) * t * Math.PI, 4);
  });

  it('run unbroken round both round ends: each end piece is its own mirror image and is cut once', () => {
    const plan = planBoard(discDesign());
    for (const { pieces, length } of planBlanks(plan).blanks) {
      expect(pieces.length).toBeGreaterThan(1);
      expect([pieces[0].wraps, pieces[pieces.length - 1].wraps]).toEqual(['tail', 'nose']);
      expect(pieces[0].u0).toBe(-pieces[0].u1);
      const last = pieces[pieces.length - 1];
      expect(last.u1 - length).toBeCloseTo(length - last.u0, 9);
      // All round: what is cut for both sides makes up twice the half's length.
      expect(pieces.reduce((sum, p) => sum + p.count * (p.u1 - p.u0), 0)).toBeCloseTo(2 * length, 6);
    }
  });
});

describe('length gain of a starter board', () => {
  // A parallel that is carried on to the plane of an end that leans by a is longer by its distance times tan(a); provable.
  it('is the layer thickness times the turning angle from a square tail to a round nose, less what the inner runs on to the tail', () => {
    const design = seedDesign('long-275.board.json');
    const [tail, nose] = [design.lines.outline.tailAngleDeg ?? 0, design.lines.outline.noseAngleDeg ?? 0].map((deg) => (deg * Math.PI) / 180);
    const turning = tail + nose - Math.tan(tail);
    const { blanks } = planBlanks(planBoard(design));
    for (let i = 0; i + 1 < blanks.length; i++) {
      expect(blanks[i + 1].length - blanks[i].length).toBeCloseTo(design.rail.outerThickness * turning, 3);
    }
  });
});

describe('the least-width box', () => {
  it('is never wider than any direction scanned, and is a box of the polygon', () => {
    const coordinate = fc.double({ min: -500, max: 500, noNaN: true });
    fc.assert(fc.property(fc.array(fc.tuple(coordinate, coordinate), { minLength: 3, maxLength: 40 }), (pairs) => {
      const points = pairs.flat();
      fc.pre(Math.abs(loopArea(convexHull(points))) > 1);
      const box = leastWidthBox(points);
      const b = boundsOf(turned(points, box.turn));
      expect(b.y1 - b.y0).toBeCloseTo(box.width, 6);
      expect(b.x1 - b.x0).toBeCloseTo(box.length, 6);
      const scanned = scannedWidth(points, 720);
      expect(box.width).toBeLessThanOrEqual(scanned + 1e-9);
      // The width changes by at most the diameter per radian: the scan cannot miss by more.
      expect(scanned - box.width).toBeLessThan((Math.PI / 720) * 1500);
    }), { seed: 3, numRuns: 300 });
  });

  it('keeps the grain along the board when asked, though across would be narrower', () => {
    const stub = [0, 0, 10, 1, 10, 46, 0, 45];
    expect(leastWidthBox(stub).width).toBeLessThan(11);
    const box = leastWidthBox(stub, Math.PI / 4);
    // Laid along its lower edge: 45 high, seen square to a slope of 1 in 10.
    expect(box.width).toBeCloseTo(45 * Math.cos(Math.atan(0.1)), 9);
    expect(Math.abs(box.turn)).toBeLessThan(Math.PI / 4);
    expect(() => leastWidthBox([0, 0, 10, 1, 20, 2])).toThrow(RangeError);
  });

  it('finds a turned rectangle', () => {
    const box = leastWidthBox(turned([0, 0, 300, 0, 300, 40, 0, 40], 0.3, 11, -7));
    expect(box.width).toBeCloseTo(40, 9);
    expect(box.length).toBeCloseTo(300, 9);
    expect(box.turn).toBeCloseTo(-0.3, 9);
  });
});

/** Starter boards as they are, and with shorter boards and both kinds of joint. */
const cases: [string, Design][] = seedNames.flatMap((name) => {
  const design = seedDesign(name);
  const shorter = structuredClone(design);
  shorter.timber.boards = [{ length: 1100, width: 120, price: 5 }, { length: 1500, width: 150, price: 9, onHand: 2 }];
  const scarfed = structuredClone(shorter);
  scarfed.rail.joint = design.rail.joint === 'butt' ? 'scarf' : 'butt';
  return [[name, design], [`${name}, short boards`, shorter], [`${name}, short boards, ${scarfed.rail.joint}`, scarfed]];
});

describe.each(cases)('blanks of %s', (_, design) => {
  const plan = planBoard(design);
  const { blanks, boards, findings } = planBlanks(plan);
  const scarf = design.rail.joint === 'scarf' ? design.rail.scarfRatio * design.rail.outerThickness : 0;

  it('fit their boards, and each board holds its pieces apart', () => {
    for (const piece of blanks.flatMap((b) => b.pieces)) {
      const board = design.timber.boards[piece.board ?? -1];
      expect(piece.boxLength).toBeLessThanOrEqual(board.length + 1e-6);
      expect(piece.boxWidth).toBeLessThanOrEqual(board.width + 1e-6);
      const b = boundsOf(piece.shape.outline);
      expect([b.x0, b.y0].every((v) => Math.abs(v) < 1e-9)).toBe(true);
      expect(b.x1).toBeCloseTo(piece.boxLength, 6);
      expect(b.y1).toBeCloseTo(piece.boxWidth, 6);
      expect(piece.boxWidth).toBeLessThanOrEqual(scannedWidth(piece.shape.outline, 360) + 1e-9);
    }
    const wanted = blanks.flatMap((b) => b.pieces).reduce((sum, p) => sum + p.count, 0);
    expect(boards?.boards.reduce((sum, b) => sum + b.pieces.length, 0)).toBe(wanted);
    for (const board of boards?.boards ?? []) {
      const rects = board.pieces.map((p) => {
        const { boxLength, boxWidth } = blanks[p.layer - 1].pieces[p.index];
        return { x0: p.x, y0: p.y, x1: p.x + boxLength, y1: p.y + boxWidth };
      });
      for (const [i, r] of rects.entries()) {
        expect(r.x1).toBeLessThanOrEqual(board.length + 1e-6);
        expect(r.y1).toBeLessThanOrEqual(board.width + 1e-6);
        for (const q of rects.slice(0, i)) {
          const kerf = design.timber.sawKerf - 1e-6;
          expect(r.x0 >= q.x1 + kerf || q.x0 >= r.x1 + kerf || r.y0 >= q.y1 + kerf || q.y0 >= r.y1 + kerf).toBe(true);
        }
      }
    }
  });

  it('make up the whole layer: union of the pieces, put back, against the whole, by an independent library', () => {
    for (const blank of blanks) {
      const wrapped = blank.pieces.some((p) => p.wraps !== undefined);
      const back = blank.pieces.map((p) => {
        const loop = turned(p.shape.outline, -p.turn);
        // Lay the piece's rocker edge back on the layer's: its lowest tail corner is known in (u, v).
        const dev = developLayer(plan, blank.layer);
        const domain = domainsOf(dev)[0];
        const i = dev.u.findIndex((v) => Math.abs(v - Math.max(0, p.u0)) < 1e-6);
        const j = dev.u.findIndex((v) => Math.abs(v - Math.min(blank.length, p.u1)) < 1e-6);
        const placed = pieceLoop(dev, domain, p.wraps === 'tail' ? 0 : i, p.wraps === 'nose' ? dev.u.length - 1 : j, {
          oversize: design.rail.blankOversize, scarf,
        });
        const dx = placed[0] - loop[0];
        const dy = placed[1] - loop[1];
        for (let k = 0; k < loop.length; k += 2) {
          expect(loop[k] + dx).toBeCloseTo(placed[k], 6);
          expect(loop[k + 1] + dy).toBeCloseTo(placed[k + 1], 6);
        }
        return placed;
      });
      const joined = areaOf(union(ring(back[0]), ...back.slice(1).map(ring)));
      const single = back.reduce((sum, loop) => sum + loopArea(loop), 0);
      if (scarf === 0) expect(joined).toBeCloseTo(single, 2);
      else if (back.length > 1) expect(single - joined).toBeGreaterThan(0);
      if (!wrapped) expect(joined).toBeCloseTo(loopArea(blank.whole.outline), scarf === 0 ? 2 : 0);
      else expect(joined).toBeGreaterThan(loopArea(blank.whole.outline) - 2 * design.rail.blankOversize * 200);
    }
  });

  it('bear a grain arrow along the board, on their own timber', () => {
    for (const { shape } of blanks.flatMap((b) => b.pieces)) {
      const { points } = shape.marks.find((m) => m.kind === 'grain') ?? { points: [] };
      expect(points[3]).toBeCloseTo(points[1], 9);
      expect(points[2]).toBeGreaterThan(points[0]);
      const shaft: Geom = [[[points[0], points[1] - 0.5], [points[2], points[1] - 0.5], [points[2], points[1] + 0.5], [points[0], points[1] + 0.5]]];
      expect(areaOf(intersection(ring(shape.outline), shaft))).toBeCloseTo(points[2] - points[0], 4);
    }
  });

  it('keep their joints staggered, or say that they cannot', () => {
    const joints = blanks.map((b) => b.pieces.flatMap((p) => (p.joint ? [p.joint.s] : [])));
    const apart = joints.flatMap((mine, i) => mine.flatMap((s) => joints.slice(0, i).flat().map((other) => Math.abs(s - other))));
    const gaveUp = findings.some((f) => f.code === 'blank-joints');
    expect(gaveUp || Math.min(Infinity, ...apart) >= design.rail.jointStagger - 1e-6).toBe(true);
  });

  it('are as few as a greedy walk finds when joints may lie anywhere', () => {
    const dev = developLayer(plan, 1);
    const allowance = { oversize: design.rail.blankOversize, scarf };
    for (const domain of domainsOf(dev)) {
      const reach = reachOf(dev, domain, design.timber.boards, allowance);
      const split = splitDomain(dev, domain, reach, {
        boards: design.timber.boards, allowance, leastPiece: 0, away: [], stagger: 0, lean: 0,
      });
      const fits = (i: number, j: number) => {
        const loop = pieceLoop(dev, domain, i, j, allowance);
        // The fit itself by scanning directions, not by the calipers.
        return Array.from({ length: 201 }, (_, k) => boundsOf(turned(loop, (Math.PI / 6) * (k / 100 - 1))))
          .some((b) => design.timber.boards.some((x) => b.x1 - b.x0 <= x.length && b.y1 - b.y0 <= x.width));
      };
      let at = 0;
      let count = 0;
      const { nodes } = reach;
      while (at < nodes.length - 1) {
        const both = at === 0 && domain.wrapTail && domain.wrapNose;
        let next = nodes.length - (both ? 2 : 1);
        while (next > at + 1 && !fits(nodes[at], nodes[next])) next--;
        at = next;
        count++;
      }
      expect(split?.nodes.length).toBe(count + 1);
    }
  });

  it('carry a line for every rib and a tick for every 100 mm, standing on the rocker edge', () => {
    for (const blank of blanks) {
      const named = blank.whole.marks.filter((m) => m.kind === 'line' || m.kind === 'tick');
      for (let i = 0; i < design.frames.ribs.length; i++) expect(named.some((m) => m.text === `R${i + 1}`)).toBe(true);
      const ticks = named.filter((m) => m.kind === 'tick' && m.text !== undefined);
      expect(ticks.length).toBeGreaterThanOrEqual(Math.floor(plan.hull.length / 100) - 1);
      const dev = developLayer(plan, blank.layer);
      for (const tick of ticks) expect(dev.xAt(tick.points[0])).toBeCloseTo(Number(tick.text), 3);
    }
  });
});

describe('boards that do not serve', () => {
  it('say where, how much, and what to change', () => {
    const short = structuredClone(seedDesign('child-155.board.json'));
    short.timber.boards = [{ length: 100, width: 300, price: 1 }];
    const { blanks, findings } = planBlanks(planBoard(short));
    const told = findings.filter(({ code }) => code === 'blank-joints');
    expect(told.map(({ strip }) => strip?.order)).toEqual(blanks.map(({ layer }) => layer));
    for (const [i, { figure, limit, place, extent, advice }] of told.entries()) {
      const least = Math.min(...blanks[i].pieces.map((piece) => (piece.wraps ? (piece.u1 - piece.u0) / 2 : piece.u1 - piece.u0)));
      expect(figure).toBeCloseTo(least, 6);
      expect(limit).toBe(short.rail.leastPiece);
      expect(place).toEqual(extent?.from);
      expect(extent && (extent.until.s ?? 0) - (extent.from.s ?? 0)).toBeGreaterThan(0);
      expect(mmText(advice)).toContain('longer');
    }
    // No board file allows one so short, but nothing else is said in its place.
    short.timber.boards = [{ length: 1, width: 300, price: 1 }];
    expect(() => planBlanks(planBoard(short))).toThrow(/takes a piece of [\d.]+ mm at least, [\d.]+ mm from the tail, and the longest board is 1 mm: add a longer board/);
  });
});

describe('boards that will not do', () => {
  it('are named with place and width, and everything else still comes out', () => {
    const design = seedDesign('child-155.board.json');
    design.timber.boards = [{ length: 1820, width: 36, price: 3 }];
    const { blanks, findings } = planBlanks(planBoard(design));
    const wide = findings.filter((f) => f.code === 'blank-wide');
    expect(wide.length).toBeGreaterThan(0);
    for (const f of wide) {
      expect(f.limit).toBe(36);
      expect(f.figure).toBeGreaterThan(36);
      expect(f.place?.x).toBeGreaterThan(0);
    }
    expect(blanks.length).toBe(design.rail.outerLayers);
    const pieces = blanks.flatMap((b) => b.pieces);
    expect(pieces.some((p) => p.board === undefined)).toBe(true);
    // Toward the ends the rail is shallow enough for the narrow board.
    expect(pieces.some((p) => p.board === 0)).toBe(true);
    for (const blank of blanks) {
      expect(blank.pieces[0].u0).toBe(0);
      expect(blank.pieces[blank.pieces.length - 1].u1).toBeCloseTo(blank.length, 6);
    }
  });

  it('too few on hand are counted', () => {
    const design = seedDesign('child-155.board.json');
    design.timber.boards = [{ length: 1820, width: 145, price: 8.5, onHand: 1 }];
    const { boards, findings } = planBlanks(planBoard(design));
    const short = findings.find((f) => f.code === 'boards-short');
    expect(short?.limit).toBe(1);
    expect(short?.figure).toBe(boards?.boards.length);
  });
});
