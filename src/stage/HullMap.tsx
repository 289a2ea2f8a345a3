/** On the board fitted to a body: how far the body lies off it, place by place. */
import { useThree } from '@react-three/fiber';
import { useLayoutEffect, useMemo, useRef } from 'react';
import { BufferAttribute, BufferGeometry, Color, type Mesh } from 'three';
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

function coloured({ positions, indices, off }: OffMap): BufferGeometry {
  const colours = new Float32Array(positions.length);
  const known = new Map<string, Color>();
  for (let i = 0; i < off.length; i++) {
    const css = offColour(off[i]);
    let colour = known.get(css);
    if (!colour) known.set(css, (colour = new Color(css)));
    colour.toArray(colours, 3 * i);
  }
  return new BufferGeometry().setIndex(new BufferAttribute(indices, 1)).setAttribute('position', new BufferAttribute(positions, 3)).setAttribute('color', new BufferAttribute(colours, 3));
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
