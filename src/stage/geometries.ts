/** Geometries of the stage: faces and lines, in buffers that are updated in place. */
import { useEffect, useLayoutEffect, useMemo } from 'react';
import { BufferAttribute, BufferGeometry, Matrix4, type Object3D } from 'three';
import type { DrawnBody, Grid } from '../state/jobKinds';
import { ALONG_FROM } from '../work/bodies';

export type FacesAndLines = readonly [faces: BufferGeometry, lines: BufferGeometry];

function dispose(both: FacesAndLines): void {
  for (const geometry of both) geometry.dispose();
}

/** Two geometries of one part, kept from picture to picture and freed with the part. */
export function useFacesAndLines(): FacesAndLines {
  const both = useMemo(() => [new BufferGeometry(), new BufferGeometry()] as const, []);
  useEffect(() => () => dispose(both), [both]);
  return both;
}

/** The geometries of the bodies that are shown, by id, and what is in them. */
const kept = new Map<string, { readonly both: FacesAndLines; of: DrawnBody | null }>();

/** From the grid's steps to the board, starboard and port. */
const laid = [new Matrix4(), new Matrix4()] as const;

/** Lays what is drawn from bodies' buffers on the board, to starboard and mirrored to port. */
export const LAY = laid.map((matrix) => (part: Object3D | null) => {
  if (part) Object.assign(part, { matrix, matrixAutoUpdate: false, matrixWorldNeedsUpdate: true });
});

/** Has all that is so laid follow another grid, in the next picture for which the board's own matrix is worked out. */
export const layOn = ({ along, across }: Grid): void => laid.forEach((matrix, port) =>
  matrix.set(along, 0, 0, along * ALONG_FROM, 0, port ? -across : across, 0, 0, 0, 0, across, 0, 0, 0, 0, 1));

/** Puts an array into an attribute, in the buffer there is where the length agrees. */
function put(geometry: BufferGeometry, name: string, array: Float32Array | Int16Array | Int8Array | undefined, size: number): void {
  const old = geometry.getAttribute(name);
  if (!array) {
    if (old) geometry.deleteAttribute(name);
  } else if (old instanceof BufferAttribute && old.array.length === array.length) {
    if (old.array === array) return;
    old.array = array;
    old.needsUpdate = true;
  } else {
    geometry.setAttribute(name, new BufferAttribute(array, size, array instanceof Int8Array));
  }
}

/** Puts triangles or lines in place: from plan to plan they mostly are the same array, and nothing is sent to the card. */
function putIndex(geometry: BufferGeometry, index: Uint32Array): void {
  const old = geometry.getIndex();
  if (old?.array === index) return;
  if (old && old.array.length === index.length) {
    old.array = index;
    old.needsUpdate = true;
  } else {
    geometry.setIndex(new BufferAttribute(index, 1));
  }
}

/** Brings the geometries of a body up to it, where it is shown. Faces and lines share the position buffer. */
export function putBody(body: DrawnBody, rough: boolean): void {
  const here = kept.get(body.id);
  if (!here || here.of === body) return;
  const { both: [faces, lines], of: before } = here;
  const { mesh, ink } = body;
  here.of = body;
  // Buffers of another length take their place: those there are must go first, or the card would keep both.
  if (before && (before.mesh.corners.length !== mesh.corners.length || before.mesh.indices.length !== mesh.indices.length || before.ink.length !== ink.length)) dispose(here.both);
  put(faces, 'position', mesh.corners, 4);
  put(faces, 'normal', mesh.normals, 4);
  put(faces, 'bevel', mesh.bevel, 1);
  putIndex(faces, mesh.indices);
  const position = faces.getAttribute('position');
  if (lines.getAttribute('position') !== position) {
    lines.setAttribute('position', position);
    // The same once more, for what reads its fourth figure too.
    faces.setAttribute('corner', position);
  }
  putIndex(lines, ink);
  // For presses, and for what is drawn first; under a dragging hand the one there is is near enough. One for both: ink is drawn over its faces.
  if (rough && faces.boundingSphere) return;
  faces.computeBoundingSphere();
  lines.boundingSphere = faces.boundingSphere;
}

/** The geometries of a body while it is shown. */
export function useBodyGeometries(id: string): FacesAndLines {
  const both = useFacesAndLines();
  useLayoutEffect(() => {
    kept.set(id, { both, of: null });
    return () => {
      kept.delete(id);
    };
  }, [id, both]);
  return both;
}
