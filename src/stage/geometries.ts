/** Geometries of the stage: faces and lines, in buffers that are updated in place. */
import { useEffect, useLayoutEffect, useMemo } from 'react';
import { BufferAttribute, BufferGeometry } from 'three';
import type { InkedBody } from '../state/jobKinds';

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
const kept = new Map<string, { readonly both: FacesAndLines; of: InkedBody | null }>();

/** Puts an array into an attribute, in the buffer there is where the length agrees. */
function put(geometry: BufferGeometry, name: string, array: Float32Array | undefined, size: number): void {
  const old = geometry.getAttribute(name);
  if (!array) {
    if (old) geometry.deleteAttribute(name);
  } else if (old instanceof BufferAttribute && old.array.length === array.length) {
    if (old.array === array) return;
    old.array = array;
    old.needsUpdate = true;
  } else {
    geometry.setAttribute(name, new BufferAttribute(array, size));
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
export function putBody(body: InkedBody, rough: boolean): void {
  const here = kept.get(body.id);
  if (!here || here.of === body) return;
  const { both: [faces, lines], of: before } = here;
  const { mesh, ink } = body;
  here.of = body;
  // Buffers of another length take their place: those there are must go first, or the card would keep both.
  if (before && (before.mesh.positions.length !== mesh.positions.length || before.mesh.indices.length !== mesh.indices.length || before.ink.length !== ink.length)) dispose(here.both);
  put(faces, 'position', mesh.positions, 3);
  put(faces, 'normal', mesh.normals, 3);
  put(faces, 'run', mesh.run, 1);
  put(faces, 'bevel', mesh.bevel, 1);
  putIndex(faces, mesh.indices);
  const position = faces.getAttribute('position');
  if (lines.getAttribute('position') !== position) lines.setAttribute('position', position);
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
