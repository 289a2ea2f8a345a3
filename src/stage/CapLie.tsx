/** On the cap, bay by bay: how far it lies off its drawn line when it is pulled to the rib ends alone. */
import { useThree } from '@react-three/fiber';
import { useLayoutEffect, useMemo, useRef } from 'react';
import { BufferGeometry, Color, Float32BufferAttribute, type Group } from 'three';
import type { Parts } from '../../geometry/parts/types';
import { nearestSample } from '../../geometry/rail/samples';
import type { Plan } from '../../geometry/types';
import { capBays, LIE_CLASSES, LIE_INK, lieClass } from '../say/lies';
import { lengthText, type Unit } from '../say/units';
import { useUnits } from '../state/unit';
import { useView } from '../state/view';
import { usePainter } from '../ui/painter';
import type { Anchor } from './anchors';
import { noRaycast } from './BodyMesh';
import { useLieLabels } from './lieLabels';
import { coatMaterial } from './materials';

/** One stripe and its space, along the rail; and how high over the planed cap it lies, mm. */
const [STRIPE, OVER] = [12, 0.4];
/** After the maps, before the cursor. */
const ORDER = 6;

/** The cap's upper side between rib-end line and box face, each sample's stretch in its bay's colour or its stripes'. */
function surface({ rail: { samples: a } }: Plan, parts: Parts): BufferGeometry {
  const corners: number[] = [];
  const colours: number[] = [];
  const ink = new Color(LIE_INK);
  for (const { from, until, standOff } of capBays(parts)) {
    const { colour, striped } = lieClass(standOff);
    const plain = new Color(colour);
    for (let i = 0; i + 1 < a.n; i++) {
      const mid = (a.s[i] + a.s[i + 1]) / 2;
      if (mid < from || mid > until) continue;
      const { r, g, b } = (mid % STRIPE) / STRIPE < striped ? ink : plain;
      const place = (k: number, out: boolean) => (out ? [a.x[k], a.y[k], a.capTop[k] - Math.max(0, a.planing[k]) + OVER] : [a.ribX[k], a.ribY[k], a.capTop[k] + OVER]);
      for (const [k, out] of [[i, false], [i, true], [i + 1, true], [i, false], [i + 1, true], [i + 1, false]] as const) {
        corners.push(...place(k, out));
        colours.push(r, g, b);
      }
    }
  }
  return new BufferGeometry().setAttribute('position', new Float32BufferAttribute(corners, 3)).setAttribute('color', new Float32BufferAttribute(colours, 3));
}

/** A label at each bay that lies farther off than the first class: how far, and which way. */
function labels({ rail: { samples: a } }: Plan, parts: Parts, unit: Unit): Anchor[] {
  return capBays(parts).flatMap(({ at, standOff }, i): Anchor[] => {
    if (lieClass(standOff) === LIE_CLASSES[0]) return [];
    const k = nearestSample(a, at);
    return [{
      id: `lie-${i}`, kind: 'contour', form: 'flag', at: [(a.x[k] + a.ribX[k]) / 2, (a.y[k] + a.ribY[k]) / 2, a.capTop[k]], out: [-a.nx[k], -a.ny[k]],
      text: `${lengthText(Math.abs(standOff), unit)} ${standOff > 0 ? 'inboard' : 'outboard'}`,
    }];
  });
}

export function CapLie({ plan, parts }: { readonly plan: Plan; readonly parts: Parts }) {
  const invalidate = useThree((state) => state.invalidate);
  const capShown = useView(({ layers }) => layers.cap);
  const geometry = useMemo(() => surface(plan, parts), [plan, parts]);
  const unit = useUnits((state) => state.unit);
  useLayoutEffect(() => {
    useLieLabels.setState({ anchors: capShown ? labels(plan, parts, unit) : [] });
    return () => useLieLabels.setState({ anchors: [] });
  }, [plan, parts, unit, capShown]);
  const both = useRef<Group>(null);
  // It is of the settled plan: while a hand drags another it stands aside.
  usePainter(plan, (shown) => {
    if (both.current) both.current.visible = shown === plan && capShown;
    invalidate();
  });
  useLayoutEffect(() => () => {
    geometry.dispose();
    invalidate();
  }, [geometry, invalidate]);
  return (
    <group ref={both} name="cap-lie">
      {[1, -1].map((side) => (
        <group key={side} scale={[1, side, 1]}>
          <mesh geometry={geometry} material={coatMaterial} raycast={noRaycast} frustumCulled={false} renderOrder={ORDER} />
        </group>
      ))}
    </group>
  );
}
