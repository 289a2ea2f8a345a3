/** Bodies on the stage: their faces and their ink lines, in buffers that are updated in place. */
import { useThree } from '@react-three/fiber';
import { type ReactNode, useLayoutEffect } from 'react';
import { BufferAttribute, BufferGeometry, type Material } from 'three';
import type { Mesh } from '../../geometry/types';
import type { InkedBody } from '../state/jobKinds';
import { useFacesAndLines } from './useFacesAndLines';

/** Puts an array into an attribute, in the buffer there is where the length agrees. */
function put(geometry: BufferGeometry, name: string, array: Float32Array | undefined, size: number): void {
  const old = geometry.getAttribute(name);
  if (!array) {
    if (old) geometry.deleteAttribute(name);
  } else if (old instanceof BufferAttribute && old.array.length === array.length) {
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

/** Brings the geometries of faces and ink lines up to a body. They share the position buffer. */
function update(faces: BufferGeometry, lines: BufferGeometry, mesh: Mesh, ink: Uint32Array): void {
  put(faces, 'position', mesh.positions, 3);
  put(faces, 'normal', mesh.normals, 3);
  put(faces, 'run', mesh.run, 1);
  put(faces, 'bevel', mesh.bevel, 1);
  putIndex(faces, mesh.indices);
  // Found again by the next press that looks what lies under it.
  faces.boundingSphere = null;
  const position = faces.getAttribute('position');
  if (lines.getAttribute('position') !== position) lines.setAttribute('position', position);
  putIndex(lines, ink);
}

/** A body's geometries: faces and ink lines. */
export type Buffers = ReturnType<typeof useFacesAndLines>;

interface BodyBuffersProps {
  readonly body: InkedBody;
  readonly children: (buffers: Buffers) => ReactNode;
}

/** Keeps a body's buffers up to it, for all that is drawn from them: on both sides, and as a shadow. */
export function BodyBuffers({ body, children }: BodyBuffersProps) {
  const invalidate = useThree((state) => state.invalidate);
  const buffers = useFacesAndLines();
  useLayoutEffect(() => {
    update(...buffers, body.mesh, body.ink);
    invalidate();
  }, [buffers, body, invalidate]);
  return children(buffers);
}

interface BodyMeshProps {
  readonly name: string;
  readonly buffers: Buffers;
  readonly material: Material;
  /** A second pass over the same faces, drawn after the rest. */
  readonly behind?: Material;
  readonly ink?: Material;
  readonly order?: number;
}

export function BodyMesh({ name, buffers: [faces, lines], material, behind, ink, order = 0 }: BodyMeshProps) {
  return (
    <>
      <mesh geometry={faces} material={material} renderOrder={order} name={name} frustumCulled={false} />
      {behind && <mesh geometry={faces} material={behind} renderOrder={order + 1} raycast={noRaycast} frustumCulled={false} />}
      {ink && <lineSegments geometry={lines} material={ink} renderOrder={order} raycast={noRaycast} frustumCulled={false} />}
    </>
  );
}

/** Left out of picking. */
export const noRaycast = () => null;
