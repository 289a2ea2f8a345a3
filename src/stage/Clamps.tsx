/** Where clamps go in a step of the build: a C over the box at each place on the run, a pin on the stringer elsewhere. */
import { useThree } from '@react-three/fiber';
import { useEffect, useLayoutEffect, useMemo } from 'react';
import { BoxGeometry, BufferGeometry, DoubleSide, Float32BufferAttribute, Matrix4, Mesh, MeshBasicMaterial } from 'three';
import { runOfPlace, sectionAt } from '../../geometry/rail/query';
import type { Place, Plan } from '../../geometry/types';
import { noRaycast } from './BodyMesh';
import { accentLineMaterial } from './materials';

/** Breadth of a clamp along the run, its thickness, how far it stands off the face, how far its jaws reach in, mm. */
const SIZE = { along: 12, thick: 7, off: 22, reach: 16, clear: 6 };

interface Bar {
  /** Middle, and extents along the tangent, outboard and up. */
  readonly o: number;
  readonly z: number;
  readonly wide: number;
  readonly high: number;
}

function bars(low: number, high: number): readonly Bar[] {
  const { thick, off, reach, clear } = SIZE;
  const [top, bottom] = [high + clear, low - clear];
  const jaw = { o: (off - reach) / 2, wide: off + reach, high: thick };
  return [{ ...jaw, z: top }, { ...jaw, z: bottom }, { o: off, z: (top + bottom) / 2, wide: thick, high: top - bottom + thick }];
}

/** Matrices of all bars, kernel frame. */
function matrices(plan: Plan, clamps: readonly Place[], sides: readonly (1 | -1)[]): Matrix4[] {
  const out: Matrix4[] = [];
  for (const { s, x } of clamps) {
    if (s === undefined) {
      const c = sectionAt(plan, runOfPlace(plan, { x }));
      out.push(new Matrix4().makeScale(SIZE.along, SIZE.along, 60).setPosition(x, 0, c.capTop + 40));
      continue;
    }
    const c = sectionAt(plan, s);
    for (const bar of bars(c.soleBottom, Math.max(c.capTop, c.soleTop))) {
      for (const sign of sides) {
        // Columns: along the run, outboard, up. The section's n points inboard.
        const basis = new Matrix4().set(
          c.tx * SIZE.along, -c.nx * bar.wide, 0, c.x - c.nx * bar.o,
          sign * c.ty * SIZE.along, -sign * c.ny * bar.wide, 0, sign * (c.y - c.ny * bar.o),
          0, 0, bar.high, bar.z,
          0, 0, 0, 1,
        );
        out.push(basis);
      }
    }
  }
  return out;
}

interface ClampsProps {
  readonly plan: Plan;
  readonly clamps: readonly Place[];
  readonly port: boolean;
}

export function Clamps({ plan, clamps, port }: ClampsProps) {
  const invalidate = useThree((state) => state.invalidate);
  const mesh = useMemo(() => {
    const { index, attributes: { position } } = new BoxGeometry(1, 1, 1);
    const placed = matrices(plan, clamps, port ? [1, -1] : [1]).map((matrix) => position.clone().applyMatrix4(matrix).array);
    const geometry = new BufferGeometry();
    geometry.setAttribute('position', new Float32BufferAttribute(placed.flatMap((places) => [...places]), 3));
    geometry.setIndex(placed.flatMap((_, k) => Array.from(index?.array ?? [], (corner) => k * position.count + corner)));
    const material = new MeshBasicMaterial({ side: DoubleSide });
    material.color = accentLineMaterial.color;
    const all = new Mesh(geometry, material);
    all.raycast = noRaycast;
    all.frustumCulled = false;
    all.renderOrder = 6;
    return all;
  }, [plan, clamps, port]);
  useLayoutEffect(() => invalidate(), [mesh, invalidate]);
  useEffect(() => () => {
    mesh.geometry.dispose();
    mesh.material.dispose();
  }, [mesh]);
  return <primitive object={mesh} />;
}
