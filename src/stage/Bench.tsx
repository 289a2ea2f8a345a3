/** The bench under the board: a drawn grid, a rule along starboard, and the board's hatched shadow. */
import { useMemo } from 'react';
import { BufferAttribute, BufferGeometry, type Matrix4 } from 'three';
import type { Plan } from '../../geometry/types';
import type { InkedBody } from '../store/planner.worker';
import { BodyMesh, noRaycast } from './BodyMesh';
import { benchHeight } from './frame';
import { ruleMaterial, shadowMaterial } from './materials';

const GRID = 100;
/** How far the rule lies off the widest point, mm. */
export const RULE_OFF = 70;

/** Line segments on the bench, kernel frame. */
function lines(segments: readonly (readonly [number, number, number, number])[], z: number): BufferGeometry {
  const out = new Float32Array(segments.length * 6);
  segments.forEach(([x0, y0, x1, y1], i) => out.set([x0, y0, z, x1, y1, z], 6 * i));
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(out, 3));
  return geometry;
}

interface BenchProps {
  readonly plan: Plan;
  readonly bodies: readonly InkedBody[];
  readonly matrix: Matrix4;
}

export function Bench({ plan, bodies, matrix }: BenchProps) {
  const { length, widest } = plan.hull;
  const z = useMemo(() => benchHeight(bodies), [bodies]);
  const half = Math.ceil((widest.halfBreadth + RULE_OFF + 60) / GRID) * GRID;
  const from = -GRID * 2;
  const to = Math.ceil(length / GRID + 2) * GRID;
  const grid = useMemo(() => {
    const out: [number, number, number, number][] = [];
    for (let x = from; x <= to; x += GRID) out.push([x, -half, x, half]);
    for (let y = -half; y <= half; y += GRID) out.push([from, y, to, y]);
    return lines(out, z);
  }, [from, to, half, z]);
  const rule = useMemo(() => {
    const y = widest.halfBreadth + RULE_OFF;
    const out: [number, number, number, number][] = [[0, y, length, y], [from, 0, to, 0]];
    for (let x = 0; x <= length; x += 10) out.push([x, y, x, y + (x % 500 === 0 ? 26 : x % 100 === 0 ? 16 : x % 50 === 0 ? 10 : 5)]);
    return lines(out, z);
  }, [widest.halfBreadth, length, from, to, z]);
  const [faint, clear] = useMemo(() => [ruleMaterial(0.1), ruleMaterial(0.6)], []);
  const cast = bodies.filter(({ kind }) => kind === 'deck-skin' || kind === 'round');
  shadowMaterial.uniforms.floorHeight.value = z - 0.5;
  return (
    <group matrix={matrix} matrixAutoUpdate={false}>
      {cast.map((body) => <BodyMesh key={body.id} body={body} material={shadowMaterial} order={-2} />)}
      <lineSegments geometry={grid} material={faint} raycast={noRaycast} renderOrder={-3} />
      <lineSegments geometry={rule} material={clear} raycast={noRaycast} renderOrder={-1} />
    </group>
  );
}
