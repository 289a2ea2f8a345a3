/** Tells the page where a place of the board is on it. */
import { useThree } from '@react-three/fiber';
import { useEffect } from 'react';
import { draftNow } from '../state/draft';
import { toStage } from './frame';
import { setProjector } from './onPage';

/** Inside the canvas: keeps the projector up to date with the camera. */
export function ProjectorSetter({ length }: { readonly length: number }) {
  const camera = useThree((state) => state.camera);
  const gl = useThree((state) => state.gl);
  useEffect(() => {
    setProjector((x, y, z) => {
      const frame = gl.domElement.getBoundingClientRect();
      const point = toStage(draftNow()?.plan.hull.length ?? length, x, y, z).project(camera);
      return { x: frame.left + ((point.x + 1) / 2) * frame.width, y: frame.top + ((1 - point.y) / 2) * frame.height };
    });
    return () => setProjector(null);
  }, [camera, gl, length]);
  return null;
}
