/** The bench under the board: a drawn grid, a rule along starboard, and the height at which the board's hatched shadow falls. */
import { useEffect, useMemo } from 'react';
import { BufferAttribute, BufferGeometry, type Matrix4 } from 'three';
import type { Plan } from '../../geometry/types';
import type { InkedBody } from '../state/jobKinds';
import { noRaycast } from './BodyMesh';
import { benchHeight } from './frame';
import { ruleMaterial, shadowMaterial } from './materials';

const GRID = 100;
/** How far the rule lies off the widest point, mm. */
export const RULE_OFF = 70;

type Segment = readonly [x0: number, y0: number, x1: number, y1: number];

/** Line segments on the bench at height z, kernel frame; freed when others take their place. */
function useLines(segments: readonly Segment[], z: number): BufferGeometry {
  const geometry = useMemo(() => {
    const out = new Float32Array(segments.length * 6);
    segments.forEach(([x0, y0, x1, y1], i) => out.set([x0, y0, z, x1, y1, z], 6 * i));
    return new BufferGeometry().setAttribute('position', new BufferAttribute(out, 3));
  }, [segments, z]);
  useEffect(() => () => geometry.dispose(), [geometry]);
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
  const squares = useMemo(() => {
    const out: Segment[] = [];
    for (let x = from; x <= to; x += GRID) out.push([x, -half, x, half]);
    for (let y = -half; y <= half; y += GRID) out.push([from, y, to, y]);
    return out;
  }, [from, to, half]);
  const ticks = useMemo(() => {
    const y = widest.halfBreadth + RULE_OFF;
    const out: Segment[] = [[0, y, length, y], [from, 0, to, 0]];
    for (let x = 0; x <= length; x += 10) out.push([x, y, x, y + (x % 500 === 0 ? 26 : x % 100 === 0 ? 16 : x % 50 === 0 ? 10 : 5)]);
    return out;
  }, [widest.halfBreadth, length, from, to]);
  const grid = useLines(squares, z);
  const rule = useLines(ticks, z);
  const inks = useMemo(() => [ruleMaterial(0.1), ruleMaterial(0.6)] as const, []);
  useEffect(() => () => inks.forEach((ink) => ink.dispose()), [inks]);
  const [faint, clear] = inks;
  shadowMaterial.uniforms.floorHeight.value = z - 0.5;
  return (
    <group matrix={matrix} matrixAutoUpdate={false}>
      <lineSegments geometry={grid} material={faint} raycast={noRaycast} renderOrder={-3} />
      <lineSegments geometry={rule} material={clear} raycast={noRaycast} renderOrder={-1} />
    </group>
  );
}
