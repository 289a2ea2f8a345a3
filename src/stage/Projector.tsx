/** Where a place of the board is on the page: set by the stage, asked by the test probe. */
import { useThree } from '@react-three/fiber';
import { useEffect } from 'react';
import { draftNow } from '../state/draft';
import { toStage } from './frame';

type Projector = (x: number, y: number, z: number) => { x: number; y: number };

let projector: Projector | null = null;

/** Page position, px, of a kernel point; null while there is no stage. */
export function onPage(x: number, y: number, z: number): { x: number; y: number } | null {
  return projector?.(x, y, z) ?? null;
}

/** Inside the canvas: keeps the projector up to date with the camera. */
export function ProjectorSetter({ length }: { readonly length: number }) {
  const camera = useThree((state) => state.camera);
  const gl = useThree((state) => state.gl);
  useEffect(() => {
    projector = (x, y, z) => {
      const frame = gl.domElement.getBoundingClientRect();
      const point = toStage(draftNow()?.plan.hull.length ?? length, x, y, z).project(camera);
      return { x: frame.left + ((point.x + 1) / 2) * frame.width, y: frame.top + ((1 - point.y) / 2) * frame.height };
    };
    return () => {
      projector = null;
    };
  }, [camera, gl, length]);
  return null;
}
