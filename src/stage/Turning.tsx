/** The board turned, moved and zoomed by mouse, finger and wheel. */
import { CameraControls } from '@react-three/drei';
import type { ComponentRef, ReactNode, Ref } from 'react';

export type Controls = ComponentRef<typeof CameraControls>;

interface TurningProps {
  readonly ref: Ref<Controls>;
  /** A hand has moved the eye. */
  readonly onControl: () => void;
}

export function Turning({ ref, onControl }: TurningProps): ReactNode {
  return <CameraControls ref={ref} makeDefault smoothTime={0.15} draggingSmoothTime={0} dollyToCursor dollySpeed={0.5} minZoom={0.08} maxZoom={60} onControl={onControl} />;
}
