/**
 * A flat shape as a closed solid for printing and milling. The stage's plates may leave corners of a line inside
 * an edge of a triangle, which nobody sees; here every corner of every line is a corner of both faces.
 */
import cdt2d from 'cdt2d';
import { loopArea } from '../curves/polygon';
import type { FlatShape } from '../frame/types';
import type { Mesh } from '../types';
import { MeshBuilder } from './mesh';

/** The shape, outline counter-clockwise and holes taken out, as a plate between z = 0 and z = thickness (mm). */
export function flatSolid(shape: FlatShape, thickness: number): Mesh {
  const points: [number, number][] = [];
  const edges: [number, number][] = [];
  [shape.outline, ...shape.holes].forEach((loop, i) => {
    const first = points.length;
    points.push(...cornersOf(loop, i === 0));
    for (let a = first; a < points.length; a++) edges.push([a, a + 1 < points.length ? a + 1 : first]);
  });
  const triangles = cdt2d(points, edges, { exterior: false });
  const mesh = new MeshBuilder();
  for (const [top, z] of [[true, thickness], [false, 0]] as const) {
    const face = points.map(([x, y]) => mesh.vertex(x, y, z));
    for (const [a, b, c] of triangles) {
      if (loopArea([...points[a], ...points[b], ...points[c]]) > 0 === top) mesh.triangle(face[a], face[b], face[c]);
      else mesh.triangle(face[a], face[c], face[b]);
    }
  }
  for (const [a, b] of edges) {
    const [p, q] = [points[a], points[b]];
    mesh.quad(mesh.vertex(...p, 0), mesh.vertex(...q, 0), mesh.vertex(...q, thickness), mesh.vertex(...p, thickness));
  }
  return mesh.build();
}

/** A loop's corners as a 32-bit mesh keeps them, none twice in a row; outer loops counter-clockwise, holes clockwise. */
function cornersOf(loop: ArrayLike<number>, outer: boolean): [number, number][] {
  const corners: [number, number][] = [];
  const same = (p: readonly number[], q: readonly number[]): boolean => p[0] === q[0] && p[1] === q[1];
  for (let i = 0; i + 1 < loop.length; i += 2) {
    const p: [number, number] = [Math.fround(loop[i]), Math.fround(loop[i + 1])];
    if (corners.length === 0 || !same(corners[corners.length - 1], p)) corners.push(p);
  }
  if (corners.length > 1 && same(corners[0], corners[corners.length - 1])) corners.pop();
  return loopArea(corners.flat()) > 0 === outer ? corners : corners.reverse();
}
