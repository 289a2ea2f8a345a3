/** On the stage: the rail that the one shown is tried against, in thin dashes: the edges of its sole and cap, and its stops where they are elsewhere. */
import { useThree } from '@react-three/fiber';
import { useLayoutEffect, useMemo } from 'react';
import { BufferGeometry, Float32BufferAttribute } from 'three';
import { movedStops } from '../../geometry/rail/laid';
import { nearestSample } from '../../geometry/rail/samples';
import type { Plan } from '../../geometry/types';
import { useBoardBefore } from '../state/boardBefore';
import { noRaycast } from './BodyMesh';
import { inkMaterial } from './materials';

/** A dash and the space after it, along the rail, mm; and how far a stop's own marks reach past its row. */
const [DASH, PAST] = [14, 2];
/** Sole and cap in dashes, (x, y, z) in pairs: the edges that other sizes move, the room between the two on the box face, and both on the rib-end line. */
function edges({ rail: { samples: a, cap, sole } }: Plan): number[] {
  const out: number[] = [];
  const edge = (s0: number, s1: number, place: (i: number) => readonly number[]) => {
    for (let i = 0; i + 1 < a.n; i++) if (a.s[i] >= s0 && a.s[i + 1] <= s1 && Math.floor(a.s[i] / DASH) % 2 === 0) out.push(...place(i), ...place(i + 1));
  };
  edge(cap.s0, cap.s1, (i) => [a.x[i], a.y[i], a.capBottom[i]]);
  edge(cap.s0, cap.s1, (i) => [a.ribX[i], a.ribY[i], a.capTop[i]]);
  edge(sole.s0, sole.s1, (i) => [a.x[i], a.y[i], a.soleTop[i]]);
  edge(sole.s0, sole.s1, (i) => [a.ribX[i], a.ribY[i], a.soleTop[i]]);
  return out;
}

/** Stops that are elsewhere now, each as its row's height on the box face. */
function moved(was: Plan, now: Plan): number[] {
  const { rail: { samples }, design: { rail: { spacerHeight } } } = was;
  return movedStops(was.rail, now.rail).flatMap(({ row, s }) => {
    const i = nearestSample(samples, s);
    return [row - 1, row].flatMap((rows, k) => [samples.x[i], samples.y[i], samples.soleTop[i] + rows * spacerHeight + (k === 0 ? -PAST : PAST)]);
  });
}

const lines = (points: number[]): BufferGeometry => new BufferGeometry().setAttribute('position', new Float32BufferAttribute(points, 3));

function Rail({ was, plan }: { readonly was: Plan; readonly plan: Plan }) {
  const invalidate = useThree((state) => state.invalidate);
  const box = useMemo(() => lines(edges(was)), [was]);
  const stops = useMemo(() => lines(moved(was, plan)), [was, plan]);
  // Seen through the rail, and cut with it.
  const [ink, accent] = useMemo(() => [inkMaterial(0.9), inkMaterial(1, true)].map((material) => Object.assign(material, { depthTest: false })), []);
  useLayoutEffect(() => {
    invalidate();
    return invalidate;
  }, [box, stops, invalidate]);
  useLayoutEffect(() => () => box.dispose(), [box]);
  useLayoutEffect(() => () => stops.dispose(), [stops]);
  useLayoutEffect(() => () => [ink, accent].forEach((material) => material.dispose()), [ink, accent]);
  return [1, -1].map((side) => (
    <group key={side} scale={[1, side, 1]} name="earlier">
      <lineSegments geometry={box} material={ink} raycast={noRaycast} frustumCulled={false} renderOrder={7} />
      <lineSegments geometry={stops} material={accent} raycast={noRaycast} frustumCulled={false} renderOrder={8} />
    </group>
  ));
}

export function EarlierBox({ plan }: { readonly plan: Plan }) {
  const was = useBoardBefore((state) => state.plan);
  return was && was !== plan ? <Rail was={was} plan={plan} /> : null;
}
