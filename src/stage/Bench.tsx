/** The bench under the board: a drawn grid, a rule along starboard, and the height at which the board's hatched shadow falls. */
import { useThree } from '@react-three/fiber';
import { useEffect, useMemo, useRef } from 'react';
import { type BufferAttribute, type BufferGeometry, Float32BufferAttribute, type Group } from 'three';
import type { Plan } from '../../geometry/types';
import type { Draft } from '../state/draft';
import { useBodiesPainter } from '../ui/painter';
import { noRaycast } from './BodyMesh';
import { benchHeight } from './frame';
import { useFacesAndLines } from './geometries';
import { ruleMaterial, shadowMaterial } from './materials';
import { useFinished } from './shown';

const GRID = 100;
/** How far the rule lies off the widest point, mm. */
export const RULE_OFF = 70;

type Segment = readonly [x0: number, y0: number, x1: number, y1: number];

/** Puts line segments on the bench into a geometry, kernel frame, at height 0. */
function fill(geometry: BufferGeometry, segments: readonly Segment[]): void {
  const places = segments.flatMap(([x0, y0, x1, y1]) => [x0, y0, 0, x1, y1, 0]);
  const old = geometry.getAttribute('position') as BufferAttribute | undefined;
  if (old?.array.length === places.length) {
    old.copyArray(places).needsUpdate = true;
    return;
  }
  geometry.dispose();
  geometry.boundingSphere = null;
  geometry.setAttribute('position', new Float32BufferAttribute(places, 3));
}

/** How far the squares reach, mm: whole ones, so that they mostly stay while the board changes. */
interface Reach {
  readonly from: number;
  readonly to: number;
  readonly half: number;
}

const reachOf = ({ length, widest }: Plan['hull']): Reach => ({
  from: -GRID * 2, to: Math.ceil(length / GRID + 2) * GRID, half: Math.ceil((widest.halfBreadth + RULE_OFF + 60) / GRID) * GRID,
});

function squares({ from, to, half }: Reach): Segment[] {
  const out: Segment[] = [];
  for (let x = from; x <= to; x += GRID) out.push([x, -half, x, half]);
  for (let y = -half; y <= half; y += GRID) out.push([from, y, to, y]);
  return out;
}

/** The rule at starboard, and the centreline. */
function ticks({ length, widest }: Plan['hull'], { from, to }: Reach): Segment[] {
  const y = widest.halfBreadth + RULE_OFF;
  const out: Segment[] = [[0, y, length, y], [from, 0, to, 0]];
  for (let x = 0; x <= length; x += 10) out.push([x, y, x, y + (x % 500 === 0 ? 26 : x % 100 === 0 ? 16 : x % 50 === 0 ? 10 : 5)]);
  return out;
}

export function Bench({ plan, bodies }: Draft) {
  const invalidate = useThree((state) => state.invalidate);
  const [grid, rule] = useFacesAndLines();
  const drawn = useRef({ grid: '', rule: '' });
  const bench = useRef<Group>(null);
  const finished = useFinished();
  useBodiesPainter({ plan, bodies }, ({ plan: { hull }, bodies: shown }) => {
    const reach = reachOf(hull);
    const now = { grid: Object.values(reach).join(' '), rule: `${hull.length} ${hull.widest.halfBreadth} ${reach.to}` };
    if (now.grid !== drawn.current.grid) fill(grid, squares(reach));
    if (now.rule !== drawn.current.rule) fill(rule, ticks(hull, reach));
    drawn.current = now;
    const z = benchHeight(shown);
    bench.current?.position.setZ(z);
    shadowMaterial.uniforms.floorHeight.value = z - 0.5;
    invalidate();
  });
  const inks = useMemo(() => [ruleMaterial(0.1), ruleMaterial(0.6)] as const, []);
  useEffect(() => () => inks.forEach((ink) => ink.dispose()), [inks]);
  const [faint, clear] = inks;
  return (
    <group ref={bench}>
      {!finished && <lineSegments geometry={grid} material={faint} raycast={noRaycast} renderOrder={-3} frustumCulled={false} />}
      {!finished && <lineSegments geometry={rule} material={clear} raycast={noRaycast} renderOrder={-1} frustumCulled={false} />}
    </group>
  );
}
