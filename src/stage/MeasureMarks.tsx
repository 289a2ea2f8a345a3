/** What is measured, drawn on the board: along the rail where both places are on it, else straight. */
import { useThree } from '@react-three/fiber';
import { useEffect, useLayoutEffect, useMemo } from 'react';
import { BufferGeometry, Float32BufferAttribute } from 'three';
import type { MeasuredPlace } from '../../geometry/rail/measure';
import type { Plan } from '../../geometry/types';
import { placesOn, useMeasure } from '../state/measure';
import { noRaycast } from './BodyMesh';
import { accentLineMaterial } from './materials';

/** The line between two places as segments, kernel frame. */
function segments({ rail: { samples } }: Plan, a: MeasuredPlace, b: MeasuredPlace): number[] {
  if (a.s === undefined || b.s === undefined || a.side !== b.side) return [...a.at, ...b.at];
  const [from, until] = a.s < b.s ? [a, b] : [b, a];
  const mirror = a.side === 'port' ? -1 : 1;
  const inside = Array.from({ length: samples.n }, (_, i) => i)
    .filter((i) => samples.s[i] > (from.s ?? 0) && samples.s[i] < (until.s ?? 0))
    .map((i) => [samples.x[i], mirror * samples.y[i], Math.max(samples.capTop[i], samples.soleTop[i])]);
  const points = [from.at, ...inside, until.at];
  return points.slice(1).flatMap((point, i) => [...points[i], ...point]);
}

export function MeasureMarks({ plan }: { readonly plan: Plan }) {
  const invalidate = useThree((state) => state.invalidate);
  const measure = useMeasure();
  const [a, b] = placesOn(plan, measure);
  const geometry = useMemo(() => new BufferGeometry(), []);
  useEffect(() => () => geometry.dispose(), [geometry]);
  useLayoutEffect(() => {
    geometry.dispose();
    geometry.setAttribute('position', new Float32BufferAttribute(a && b ? segments(plan, a, b) : [], 3));
    invalidate();
  }, [geometry, plan, a, b, invalidate]);
  return b ? <lineSegments geometry={geometry} material={accentLineMaterial} raycast={noRaycast} frustumCulled={false} renderOrder={10} /> : null;
}
