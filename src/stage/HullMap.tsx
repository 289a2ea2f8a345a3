/** On the board fitted to a body: how far the body lies off it, place by place. */
import { useThree } from '@react-three/fiber';
import { useLayoutEffect, useMemo, useRef } from 'react';
import { BufferAttribute, BufferGeometry, Color, type Mesh, Vector3 } from 'three';
import type { OffMap } from '../../geometry/shape/hullIn/map';
import type { Plan } from '../../geometry/types';
import { offColour } from '../say/hullMap';
import { useShownHullMap } from '../state/hullMap';
import { usePainter } from '../ui/painter';
import { noRaycast } from './BodyMesh';
import { coatMaterial } from './materials';

/** After the other maps, before the cursor. */
const ORDER = 6;
/** How high over the board it lies, as a share of the way from its middle: a hair. */
const OVER = 1.004;

/** Where light comes from, in the board's axes; a face turned away from it has this share of its colour, one that lies level all of it, as in the key. Own choice. */
const LIGHT = new Vector3(-0.35, -0.45, 0.82);
const SHADE = 0.68;

function coloured({ positions, indices, off }: OffMap): BufferGeometry {
  const colours = new Float32Array(positions.length);
  const geometry = new BufferGeometry().setIndex(new BufferAttribute(indices, 1)).setAttribute('position', new BufferAttribute(positions, 3)).setAttribute('color', new BufferAttribute(colours, 3));
  // Without light a body that lies close all over is one flat shape of one colour.
  geometry.computeVertexNormals();
  const normals = geometry.getAttribute('normal');
  const normal = new Vector3();
  const [a, b, c] = [new Vector3(), new Vector3(), new Vector3()];
  // Outward, whichever way the file turns its triangles: the body's volume tells.
  let volume = 0;
  for (let i = 0; i < indices.length; i += 3) volume += a.fromArray(positions, 3 * indices[i]).dot(b.fromArray(positions, 3 * indices[i + 1]).cross(c.fromArray(positions, 3 * indices[i + 2])));
  const known = new Map<string, Color>();
  for (let i = 0; i < off.length; i++) {
    const css = offColour(off[i]);
    let colour = known.get(css);
    if (!colour) known.set(css, (colour = new Color(css)));
    colour.toArray(colours, 3 * i);
    const lit = Math.min(1, Math.max(0, (normal.fromBufferAttribute(normals, i).dot(LIGHT) * Math.sign(volume)) / LIGHT.z));
    for (let k = 3 * i; k < 3 * i + 3; k++) colours[k] *= SHADE + (1 - SHADE) * lit;
  }
  geometry.deleteAttribute('normal');
  return geometry;
}

/** What there is to draw of it while it is wanted, on the very board it was made with. */
export function HullMap({ plan }: { readonly plan: Plan }) {
  const map = useShownHullMap();
  return map && <Distances plan={plan} map={map} />;
}

function Distances({ plan, map }: { readonly plan: Plan; readonly map: OffMap }) {
  const invalidate = useThree((state) => state.invalidate);
  const geometry = useMemo(() => coloured(map), [map]);
  const mesh = useRef<Mesh>(null);
  // It is of the settled plan: while a hand drags another it stands aside.
  usePainter(plan, (shown) => {
    if (mesh.current) mesh.current.visible = shown === plan;
    invalidate();
  });
  useLayoutEffect(() => () => {
    geometry.dispose();
    invalidate();
  }, [geometry, invalidate]);
  const { x, z } = plan.hull.centre;
  return (
    <group name="hull-map" position={[x, 0, z]} scale={OVER}>
      <mesh ref={mesh} position={[-x, 0, -z]} geometry={geometry} material={coatMaterial} raycast={noRaycast} frustumCulled={false} renderOrder={ORDER} />
    </group>
  );
}
