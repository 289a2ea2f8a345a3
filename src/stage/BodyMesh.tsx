/** Bodies on the stage: their faces and their ink lines. */
import { useThree } from '@react-three/fiber';
import { type ReactNode, useLayoutEffect } from 'react';
import type { Material } from 'three';
import type { DrawnBody } from '../state/jobKinds';
import { type FacesAndLines, putBody, useBodyGeometries } from './geometries';

interface BodyBuffersProps {
  readonly body: DrawnBody;
  readonly children: (buffers: FacesAndLines) => ReactNode;
}

/** Keeps a body's buffers up to it, for all that is drawn from them: on both sides, and as a shadow. */
export function BodyBuffers({ body, children }: BodyBuffersProps) {
  const invalidate = useThree((state) => state.invalidate);
  const buffers = useBodyGeometries(body.id);
  useLayoutEffect(() => {
    putBody(body, false);
    invalidate();
  }, [body, invalidate]);
  return children(buffers);
}

interface BodyMeshProps {
  readonly name: string;
  readonly buffers: FacesAndLines;
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
