/** The camera: turns, pans and zooms with mouse, finger and wheel, and goes to the views asked for. */
import { OrbitControls } from '@react-three/drei';
import { useFrame, useThree } from '@react-three/fiber';
import { type ComponentRef, useEffect, useEffectEvent, useLayoutEffect, useRef } from 'react';
import { MathUtils, type OrthographicCamera, Spherical, Vector3 } from 'three';
import { sectionAt } from '../../geometry/rail/query';
import type { Plan } from '../../geometry/types';
import type { InkedBody } from '../state/jobKinds';
import { cursorRun } from '../state/station';
import { useView, type ViewName } from '../state/view';
import { boardBounds, toStage } from './frame';

/** Direction from the board to the camera, stage frame. A hair off the vertical, so that the nose stays to the right. */
const WAY: Readonly<Record<Exclude<ViewName, 'fit' | 'station'>, readonly [number, number, number]>> = {
  'three-quarter': [0.34, 0.6, 0.8],
  above: [0, 1, 1e-4],
  side: [0, 0, 1],
  end: [1, 0, 0],
};
const STATION_WAY = [0.8, 0.34, 0.5] as const;
/** The camera's distance from its target, mm: an orthographic camera sees the same from anywhere outside the board. */
const DISTANCE = 6000;
/** What the close view of a station spans, mm. */
const STATION_SPAN = 210;
const MARGIN = { x: 0.93, y: 0.84 };
const TURN_SECONDS = 0.45;

interface Pose {
  readonly way: Spherical;
  readonly target: Vector3;
  readonly zoom: number;
}

interface Turn {
  readonly from: Pose;
  to: Pose;
  done: number;
}

/** Zoom that holds the bounds seen along a way, px per mm, and their middle. */
function fitPose(way: Spherical, plan: Plan, bodies: readonly InkedBody[], lifted: boolean, width: number, height: number): Pose {
  const bounds = boardBounds(plan, bodies, lifted);
  const eye = new Vector3().setFromSpherical(way).normalize();
  const right = new Vector3(0, 1, 0).cross(eye).normalize();
  const up = eye.clone().cross(right);
  const half = bounds.getSize(new Vector3()).multiplyScalar(0.5);
  const span = (axis: Vector3) => 2 * (Math.abs(axis.x) * half.x + Math.abs(axis.y) * half.y + Math.abs(axis.z) * half.z);
  const zoom = Math.min((width * MARGIN.x) / span(right), (height * MARGIN.y) / span(up));
  return { way, target: bounds.getCenter(new Vector3()), zoom };
}

function sphericalOf(way: readonly [number, number, number]): Spherical {
  return new Spherical().setFromVector3(new Vector3(...way)).makeSafe();
}

interface CameraRigProps {
  readonly plan: Plan;
  readonly bodies: readonly InkedBody[];
}

export function CameraRig({ plan, bodies }: CameraRigProps) {
  const camera = useThree((state) => state.camera) as OrthographicCamera;
  const size = useThree((state) => state.size);
  const invalidate = useThree((state) => state.invalidate);
  const controls = useRef<ComponentRef<typeof OrbitControls>>(null);
  const turn = useRef<Turn | null>(null);
  /** The view the camera is at; null once the maker has moved it. */
  const standing = useRef<ViewName | null>(null);
  const view = useView((state) => state.view);
  const lifted = useView((state) => state.deck === 'lift');

  const pose = (): Pose => ({
    way: new Spherical().setFromVector3(camera.position.clone().sub(controls.current?.target ?? new Vector3())),
    target: controls.current?.target.clone() ?? new Vector3(),
    zoom: camera.zoom,
  });
  const stand = ({ way, target, zoom }: Pose) => {
    camera.position.setFromSpherical(new Spherical(DISTANCE, way.phi, way.theta)).add(target);
    camera.zoom = zoom;
    camera.lookAt(target);
    camera.updateProjectionMatrix();
    if (controls.current) {
      controls.current.target.copy(target);
      controls.current.update();
    }
    invalidate();
  };
  const wanted = (name: ViewName): Pose => {
    if (name === 'station') {
      const c = sectionAt(plan, cursorRun(plan, useView.getState().s));
      const target = toStage(plan.hull.length, c.x, c.y, (c.soleBottom + c.capTop) / 2);
      return { way: sphericalOf(STATION_WAY), target, zoom: Math.min(size.width, size.height) / STATION_SPAN };
    }
    const way = name === 'fit' ? pose().way : sphericalOf(WAY[name]);
    return fitPose(way, plan, bodies, lifted, size.width, size.height);
  };

  // A view is gone to when it is asked for, not when the board changes under it.
  const go = useEffectEvent(() => {
    standing.current = view.name;
    const to = wanted(view.name);
    if (view.count === 0 || window.matchMedia('(prefers-reduced-motion: reduce)').matches) {
      turn.current = null;
      stand(to);
    } else {
      turn.current = { from: pose(), to, done: 0 };
      invalidate();
    }
  });
  useEffect(() => go(), [view]);

  const refit = useEffectEvent(() => {
    if (standing.current === null || standing.current === 'station') return;
    turn.current = null;
    stand(wanted(standing.current));
  });
  // The close view follows the cursor.
  const s = useView((state) => state.s);
  const follow = useEffectEvent(() => {
    if (standing.current !== 'station') return;
    const { target } = wanted('station');
    if (turn.current) turn.current.to = { ...turn.current.to, target };
    else stand({ ...pose(), target });
  });
  useLayoutEffect(() => follow(), [s]);
  const length = Math.round(plan.hull.length);
  useLayoutEffect(() => refit(), [size.width, size.height, length, lifted]);

  useFrame((_, seconds) => {
    const now = turn.current;
    if (!now) return;
    now.done = Math.min(1, now.done + Math.min(seconds, 0.1) / TURN_SECONDS);
    const t = MathUtils.smootherstep(now.done, 0, 1);
    const swing = Math.atan2(Math.sin(now.to.way.theta - now.from.way.theta), Math.cos(now.to.way.theta - now.from.way.theta));
    stand({
      way: new Spherical(1, MathUtils.lerp(now.from.way.phi, now.to.way.phi, t), now.from.way.theta + swing * t),
      target: now.from.target.clone().lerp(now.to.target, t),
      zoom: now.from.zoom * (now.to.zoom / now.from.zoom) ** t,
    });
    if (now.done === 1) turn.current = null;
  });

  return (
    <OrbitControls
      ref={controls}
      makeDefault
      enableDamping={false}
      zoomToCursor
      minZoom={0.08}
      maxZoom={60}
      onStart={() => {
        turn.current = null;
        standing.current = null;
      }}
    />
  );
}
