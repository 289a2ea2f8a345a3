/** The eye: turns, pans and zooms with mouse, finger and wheel, and goes to the views asked for. */
import { CameraControls } from '@react-three/drei';
import { useThree } from '@react-three/fiber';
import { type ComponentRef, useEffect, useEffectEvent, useLayoutEffect, useRef } from 'react';
import { Vector3 } from 'three';
import { sectionAt } from '../../geometry/rail/query';
import { type Draft, draftNow } from '../state/draft';
import { cursorRun } from '../state/station';
import { useView, type ViewName } from '../state/view';
import { useBodiesPainter } from '../ui/painter';
import { boardBounds, toStage } from './frame';

/** Way from the board to the eye, stage frame. A hair off the vertical, so that the nose stays to the right. */
const WAY: Readonly<Record<Exclude<ViewName, 'fit'>, readonly [number, number, number]>> = {
  'three-quarter': [0.34, 0.6, 0.8],
  above: [0, 1, 1e-4],
  side: [0, 0, 1],
  end: [1, 0, 0],
  station: [0.8, 0.34, 0.5],
};
/** Eye's distance from its target, mm: an orthographic eye sees the same from anywhere outside the board. */
const DISTANCE = 6000;
/** What the close view of a station spans, mm. */
const STATION_SPAN = 210;
const MARGIN = { x: 0.93, y: 0.84 };

export function CameraRig(settled: Draft) {
  const { size, clock, invalidate } = useThree();
  const controls = useRef<ComponentRef<typeof CameraControls>>(null);
  /** The view the eye stands at; null once a hand has moved it. */
  const standing = useRef<ViewName | null>(null);
  const view = useView((state) => state.view);
  const lifted = useView((state) => state.deck === 'lift');

  const stationPlace = () => {
    const { plan } = draftNow() ?? settled;
    const c = sectionAt(plan, cursorRun(plan, useView.getState().s));
    return toStage(plan.hull.length, c.x, c.y, (c.soleBottom + c.capTop) / 2);
  };
  /** Target, and zoom in px per mm, at which a view along `eye` holds what it should. */
  const held = (name: ViewName, eye: Vector3): readonly [target: Vector3, zoom: number] => {
    if (name === 'station') return [stationPlace(), Math.min(size.width, size.height) / STATION_SPAN];
    const { plan, bodies } = draftNow() ?? settled;
    const bounds = boardBounds(plan, bodies, lifted);
    const right = new Vector3(0, 1, 0).cross(eye).normalize();
    const up = eye.clone().cross(right);
    const half = bounds.getSize(new Vector3()).multiplyScalar(0.5);
    const span = (axis: Vector3) => 2 * (Math.abs(axis.x) * half.x + Math.abs(axis.y) * half.y + Math.abs(axis.z) * half.z);
    return [bounds.getCenter(new Vector3()), Math.min((size.width * MARGIN.x) / span(right), (size.height * MARGIN.y) / span(up))];
  };
  const stand = (name: ViewName, moving: boolean) => {
    const rig = controls.current;
    if (!rig) return;
    standing.current = name;
    const eye = name === 'fit' ? rig.getPosition(new Vector3()).sub(rig.getTarget(new Vector3())) : new Vector3(...WAY[name]);
    const [target, zoom] = held(name, eye.normalize());
    // The first frame of a move must not count the time since the last picture.
    clock.getDelta();
    rig.normalizeRotations();
    void rig.setLookAt(...target.clone().addScaledVector(eye, DISTANCE).toArray(), ...target.toArray(), moving);
    void rig.zoomTo(zoom, moving);
    invalidate();
  };

  // A view is gone to when it is asked for, not when the board changes under it.
  const go = useEffectEvent(() => stand(view.name, view.count > 0 && !window.matchMedia('(prefers-reduced-motion: reduce)').matches));
  useEffect(() => go(), [view]);

  // The close view goes along with the cursor.
  const s = useView((state) => state.s);
  const follow = useEffectEvent(() => {
    if (standing.current !== 'station' || !controls.current) return;
    void controls.current.moveTo(...stationPlace().toArray(), controls.current.active);
    invalidate();
  });
  useLayoutEffect(() => follow(), [s]);
  // To the millimetre: a length that is dragged is followed, without a new look for what cannot be seen.
  const fitted = useRef('');
  useBodiesPainter(settled, ({ plan }) => {
    const now = `${size.width} ${size.height} ${Math.round(plan.hull.length)} ${lifted}`;
    if (now === fitted.current) return;
    fitted.current = now;
    if (standing.current !== null && standing.current !== 'station') stand(standing.current, false);
  });

  return (
    <CameraControls
      ref={controls} makeDefault smoothTime={0.15} draggingSmoothTime={0} dollyToCursor dollySpeed={0.5} minZoom={0.08} maxZoom={60}
      onControl={() => {
        standing.current = null;
      }}
    />
  );
}
