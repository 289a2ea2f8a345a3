/** Two geometries of one part, its faces and its lines, kept from picture to picture and freed with the part. */
import { useEffect, useMemo } from 'react';
import { BufferGeometry } from 'three';

export function useFacesAndLines(): readonly [faces: BufferGeometry, lines: BufferGeometry] {
  const both = useMemo(() => [new BufferGeometry(), new BufferGeometry()] as const, []);
  useEffect(
    () => () => {
      for (const geometry of both) geometry.dispose();
    },
    [both],
  );
  return both;
}
