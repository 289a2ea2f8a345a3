/**
 * A board cut by OCCT, from the same control nets but with none of our evaluators: B-spline surfaces, their
 * true offset surfaces, the outline's true offset curves, vertical lines and least distances are all OCCT's.
 * Bevels come from cross products of plane normals. Used by `npm run verify` and by a small test.
 */
import type { OpenCascadeInstance, TopoDS_Face } from 'replicad-opencascadejs';
import type { Design } from '../../geometry/design/schema';
import type { Hull } from '../../geometry/types';
import { occtKnots, occtSurface } from './kernels';
import { panelNet, roundNet } from './nets';

type V3 = readonly [number, number, number];
const sub = (a: V3, b: V3): V3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const dot = (a: V3, b: V3) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: V3, b: V3): V3 => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];

/** What OCCT finds where the rib-end line crosses a station. Millimetres and radians. */
export interface OcctStation {
  /** Outline parameter of the rail's normal through the crossing. */
  readonly u: number;
  readonly rib: readonly [number, number];
  readonly depth: number;
  readonly gap: number;
  readonly bevel: number;
  readonly stationBevel: number;
  /** Least distance from the hollow's corners to the finished outside, in space; negative outside. */
  readonly cover: number;
}

/** How far along the outline, mm, the windows reach in which lines are cut and distances searched. */
const REACH = 90;
/** Slivers at the tips, where surfaces have no width and no normal, mm. */
const TIP = 0.05;

export function occtBoard(occt: OpenCascadeInstance, hull: Hull, design: Design) {
  const { rail, skins } = design;
  const faceOffset = rail.outerLayers * rail.outerThickness + rail.shapingAllowance;
  const last = hull.outline.knots[hull.outline.knots.length - 1];
  const { values, counts } = occtKnots(occt, Array.from(hull.outline.knots));
  const poles = new occt.NCollection_Array1_gp_Pnt2d(1, hull.outline.points.length / 2);
  for (let i = 0; i < hull.outline.points.length / 2; i++) poles.SetValue(i + 1, new occt.gp_Pnt2d(hull.outline.points[2 * i], hull.outline.points[2 * i + 1]));
  const outline = new occt.Geom2d_BSplineCurve(poles, values, counts, 3, false);
  // OCCT offsets to the right of the heading for a positive distance; from tail to nose that is inward to starboard's y.
  const parallel = (d: number) => new occt.Geom2d_OffsetCurve(outline, d, true);
  const inward = parallel(1).Value(last / 2).Y() < outline.Value(last / 2).Y() ? 1 : -1;
  const ribLine = parallel(inward * (faceOffset + rail.stripWidth));
  const faceLine = parallel(inward * faceOffset);

  const finished = { deck: occtSurface(occt, panelNet(hull.deck)), bottom: occtSurface(occt, panelNet(hull.bottom)), round: occtSurface(occt, roundNet(hull.round)) };
  type Surface = (typeof finished)['deck'];
  const faceOf = (surface: Surface, u0 = TIP, u1 = last - TIP): TopoDS_Face =>
    new occt.BRepBuilderAPI_MakeFace(surface, Math.max(TIP, u0), Math.min(last - TIP, u1), 0, 1, 1e-7).Face();
  /** The true offset surface, at a distance along OCCT's own normal; `above` tells which way it must have gone. */
  const innerOf = (surface: Surface, thickness: number, above: boolean): Surface => {
    for (const sign of [1, -1]) {
      const maker = new occt.BRepOffsetAPI_MakeOffsetShape();
      maker.PerformBySimple(faceOf(surface), sign * thickness);
      const faces = new occt.TopExp_Explorer(maker.Shape(), occt.TopAbs_ShapeEnum.TopAbs_FACE, occt.TopAbs_ShapeEnum.TopAbs_SHAPE);
      const adaptor = new occt.BRepAdaptor_Surface(occt.TopoDS.Face(faces.Current()), true);
      if (adaptor.GetType() !== occt.GeomAbs_SurfaceType.GeomAbs_OffsetSurface) throw new Error('OCCT made no true offset surface');
      const offset = occt.BRep_Tool.Surface(occt.TopoDS.Face(faces.Current()));
      if (offset.EvalD0(last / 2, 0.5).Z() > surface.EvalD0(last / 2, 0.5).Z() === above) return offset as Surface;
    }
    throw new Error('OCCT offsets neither up nor down');
  };
  const inner = { deck: innerOf(finished.deck, skins.deck, false), bottom: innerOf(finished.bottom, skins.bottom, true) };

  /** Where the vertical line over a plan point meets a surface: height and unit normal (upward). */
  const cut = (surface: Surface, x: number, y: number, u: number): { z: number; normal: V3 } => {
    const face = faceOf(surface, u - REACH, u + REACH);
    const [low, high] = [new occt.gp_Pnt(x, y, -500), new occt.gp_Pnt(x, y, 1500)];
    const maker = new occt.BRepBuilderAPI_MakeEdge(low, high);
    const meeting = new occt.BRepExtrema_DistShapeShape(maker.Edge(), face);
    if (!meeting.IsDone() || meeting.Value() > 1e-7) throw new Error(`OCCT finds no cut at ${x}, ${y}: nearest ${meeting.Value()}`);
    const at = meeting.ParOnFaceS2(1);
    const { D1U, D1V, Point } = surface.EvalD1(at.u, at.v);
    const n = cross([D1U.X(), D1U.Y(), D1U.Z()], [D1V.X(), D1V.Y(), D1V.Z()]);
    const size = Math.sign(n[2]) * Math.sqrt(dot(n, n));
    for (const used of [low, high, maker, meeting, face]) used.delete();
    return { z: Point.Z(), normal: [n[0] / size, n[1] / size, n[2] / size] };
  };

  /** Signed least distance from a point to a surface near u: negative where the point lies outside of it. */
  const distance = (surface: Surface, p: V3, u: number, inside: V3): number => {
    const face = faceOf(surface, u - REACH, u + REACH);
    const point = new occt.gp_Pnt(p[0], p[1], p[2]);
    const maker = new occt.BRepBuilderAPI_MakeVertex(point);
    const nearest = new occt.BRepExtrema_DistShapeShape(maker.Vertex(), face);
    const foot = nearest.PointOnShape2(1);
    const q: V3 = [foot.X(), foot.Y(), foot.Z()];
    const value = nearest.Value();
    for (const used of [point, maker, nearest, face]) used.delete();
    return dot(sub(q, p), sub(q, inside)) >= 0 ? value : -value;
  };

  const line = (x: number) => new occt.Geom2d_Line(new occt.gp_Pnt2d(x, -10), new occt.gp_Dir2d(0, 1));

  /** Cut the board where the rib-end line crosses station x; undefined where it does not. `rows` stand there. */
  const station = (x: number, rowsAt: (u: number) => number): OcctStation | undefined => {
    const crossing = new occt.Geom2dAPI_InterCurveCurve(ribLine, line(x), 1e-9);
    let best: { u: number; y: number } | undefined;
    for (let i = 1; i <= crossing.NbPoints(); i++) {
      const p = crossing.Point(i);
      const foot = new occt.Geom2dAPI_ProjectPointOnCurve(p, outline);
      // A point of the parallel that lies nearer to the outline than the offset was to be trimmed away.
      const kept = foot.NbPoints() > 0 && Math.abs(foot.LowerDistance() - faceOffset - rail.stripWidth) < 1e-5;
      if (kept && p.Y() > 0 && (!best || p.Y() > best.y)) best = { u: foot.LowerDistanceParameter(), y: p.Y() };
    }
    crossing.delete();
    if (!best) return undefined;
    const { u } = best;
    const [r, f] = [ribLine.Value(u), faceLine.Value(u)];
    const heading = outline.EvalD1(u).D1;
    const speed = Math.hypot(heading.X(), heading.Y());
    const [tx, ty] = [heading.X() / speed, heading.Y() / speed];
    const rib = [r.X(), r.Y()] as const;
    const face = [f.X(), f.Y()] as const;
    const out = [(face[0] - rib[0]) / rail.stripWidth, (face[1] - rib[1]) / rail.stripWidth] as const;

    const deckRib = cut(inner.deck, ...rib, u);
    const deckFace = cut(inner.deck, ...face, u);
    const bottomRib = cut(inner.bottom, ...rib, u);
    const bottomFace = cut(inner.bottom, ...face, u);
    const slope = (n: V3) => -(n[0] * tx + n[1] * ty) / n[2];
    const perCap = Math.hypot(1, slope(deckRib.normal));
    const perSole = Math.hypot(1, slope(bottomRib.normal));
    const soleTop = bottomRib.z + (rail.glueLine + rail.soleThickness) * perSole;
    const capTop = deckRib.z - rail.glueLine * perCap;
    const capBottom = capTop - rail.capThickness * perCap;
    const gap = (capBottom - soleTop) / perSole;

    // The strip's top holds the rail's tangent and the level direction outboard; the deck the tangent and the chord.
    const tangent: V3 = [tx, ty, slope(deckRib.normal)];
    const level: V3 = [out[0], out[1], 0];
    const chord: V3 = [face[0] - rib[0], face[1] - rib[1], deckFace.z - deckRib.z];
    const [strip, deck] = [cross(tangent, level), cross(tangent, chord)];
    const between = (a: V3, b: V3, axis: V3) => Math.atan2(dot(cross(a, b), axis) / Math.sqrt(dot(axis, axis)), dot(a, b));
    const falls = (a: number) => (deckFace.z < deckRib.z ? Math.abs(a) : -Math.abs(a));
    // In the station plane the two planes leave their traces: directions square to both normals and to x.
    const across: V3 = [1, 0, 0];
    const station = between(cross(strip, across), cross(deck, across), across);

    const at = (o: number, z: number): V3 => [rib[0] + out[0] * o, rib[1] + out[1] * o, z];
    const inside: V3 = at(-10, (deckRib.z + bottomRib.z) / 2);
    const coverOf = (p: V3) => Math.min(...[finished.round, finished.deck, finished.bottom].map((s) => distance(s, p, u, inside)));
    const rows = gap > 0 ? rowsAt(u) : 0;
    const w = rail.stripWidth;
    const back = rows > 0 ? w - rail.spacerWidth : w;
    const corners: V3[] = gap > 0 ? [at(back, soleTop), at(back, capBottom), at(0, soleTop), at(0, capBottom)]
      : [at(w, Math.min(capTop, deckFace.z)), at(w, Math.max(bottomRib.z + rail.glueLine * perSole, bottomFace.z))];
    if (rows > 0 && gap - rows * rail.spacerHeight > 1e-3) corners.push(at(w, capBottom), at(w, soleTop + rows * rail.spacerHeight * perSole));
    return {
      u, rib, gap,
      depth: (deckRib.z - bottomRib.z) / perSole,
      bevel: falls(between(strip, deck, tangent)),
      stationBevel: falls(station),
      cover: Math.min(...corners.map(coverOf)),
    };
  };
  return { station };
}
