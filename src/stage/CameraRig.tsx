/** The eye: turns, pans and zooms with mouse, finger and wheel, and goes to the views asked for. */
import { useThree } from '@react-three/fiber';
import { lazy, Suspense, useEffect, useEffectEvent, useLayoutEffect, useRef, useState } from 'react';
import { Vector3 } from 'three';
import { heldRun, sectionAt } from '../../geometry/rail/query';
import type { Plan } from '../../geometry/types';
import { type Draft, draftNow } from '../state/draft';
import { useView, type ViewName } from '../state/view';
import { useBodiesPainter } from '../ui/painter';
import { nextPicture } from '../work/picture';
import { boardBounds, liftHeight, toStage } from './frame';
import { keptOut, watchKeptOut } from './keptOut';
import type { Box } from './placing';
import type { Controls, Turning } from './Turning';

/** What a hand turns the board by: nothing on the first picture. Where it cannot be fetched, the views are still gone to. */
const Hand = lazy(async () => {
  await nextPicture();
  return import('./Turning').then(({ Turning: there }) => ({ default: there }), () => ({ default: (() => null) as typeof Turning }));
});

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
/** Room between the board and the words over it; and under the board, for the labels that hang from it, px. */
const CLEAR = { over: 10, under: 34 };
/** What does not fit under the words is shown smaller by this at a time, down to the least; a stage too low for that shows all it can of the board, under its words. */
const SMALLER = { by: 0.96, least: 0.6 };

/** Of the rail's samples, 2 mm apart or 4, one in so many tells where the board ends, well within the room kept about it. */
const EVERY = 20;

/** The board's rim seen from anywhere, both sides, on the stage; with the deck's where that is lifted. */
function rimOf(plan: Plan, lifted: boolean): Vector3[] {
  const { hull: { length }, rail: { samples: { n, x, y, soleTop, capTop } } } = plan;
  const lift = lifted ? liftHeight(plan) : 0;
  return Array.from({ length: Math.ceil((n - 1) / EVERY) + 1 }, (_, k) => Math.min(n - 1, k * EVERY))
    .flatMap((i) => [y[i], -y[i]].flatMap((side) => [soleTop[i], capTop[i] + lift].map((z) => toStage(length, x[i], side, z))));
}

export function CameraRig(settled: Draft) {
  const { size, camera, clock, gl, invalidate } = useThree();
  const [rig, setRig] = useState<Controls | null>(null);
  /** The view the eye stands at; null once a hand has moved it. */
  const standing = useRef<ViewName | null>(null);
  const words = useRef<readonly Box[]>([]);
  const view = useView((state) => state.view);
  const lifted = useView((state) => state.deck === 'lift' && !state.finished);

  const stationPlace = () => {
    const { plan } = draftNow() ?? settled;
    const c = sectionAt(plan, heldRun(plan, useView.getState().s));
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
    const centre = bounds.getCenter(new Vector3());
    const whole = Math.min((size.width * MARGIN.x) / span(right), (size.height * MARGIN.y) / span(up));
    const rim = rimOf(plan, lifted).map((place) => place.sub(centre)).map((place) => [place.dot(right), place.dot(up)] as const);
    for (let zoom = whole; zoom > whole * SMALLER.least; zoom *= SMALLER.by) {
      // How far the board must go down to stand clear of all words over it, and how far it can without covering those under it.
      let [down, free] = [0, Infinity];
      for (const [across, high] of rim) {
        const [x, y] = [size.width / 2 + across * zoom, size.height / 2 - high * zoom];
        free = Math.min(free, size.height - CLEAR.under - y);
        for (const { left, right: end, top, bottom } of words.current) {
          if (x < left || x > end) continue;
          if (bottom < size.height / 2) down = Math.max(down, bottom + CLEAR.over - y);
          else if (top > size.height / 2) free = Math.min(free, top - CLEAR.under - y);
        }
      }
      // Along the board's upright, about which a hand turns it, where that is seen from the side.
      if (down <= Math.max(free, 0)) return [centre.addScaledVector(up.y > 0.3 ? new Vector3(0, 1 / up.y, 0) : up, down / zoom), zoom];
    }
    return [centre, whole];
  };
  const stand = (name: ViewName, moving: boolean) => {
    standing.current = name;
    // To look while a board is dragged would make the browser lay out the page for every move.
    if (!draftNow()) words.current = keptOut(gl.domElement);
    const eye = name === 'fit' ? camera.getWorldDirection(new Vector3()).negate() : new Vector3(...WAY[name]);
    const [target, zoom] = held(name, eye.normalize());
    const from = target.clone().addScaledVector(eye, DISTANCE);
    if (!rig) {
      camera.position.copy(from);
      camera.lookAt(target);
      camera.zoom = zoom;
      camera.updateProjectionMatrix();
      invalidate();
      return;
    }
    // The first frame of a move must not count the time since the last picture.
    clock.getDelta();
    rig.normalizeRotations();
    void rig.setLookAt(...from.toArray(), ...target.toArray(), moving);
    void rig.zoomTo(zoom, moving);
    invalidate();
  };

  // A view is gone to when it is asked for, not when the board changes under it.
  const go = useEffectEvent(() => stand(view.name, view.count > 0 && !window.matchMedia('(prefers-reduced-motion: reduce)').matches));
  useEffect(() => go(), [view]);

  // The close view goes along with the cursor.
  const s = useView((state) => state.s);
  const follow = useEffectEvent(() => {
    if (standing.current !== 'station') return;
    if (!rig) return stand('station', false);
    void rig.moveTo(...stationPlace().toArray(), rig.active);
    invalidate();
  });
  useLayoutEffect(() => follow(), [s]);
  // To the millimetre: a length that is dragged is followed, without a new look for what cannot be seen.
  const fitted = useRef('');
  useBodiesPainter(settled, ({ plan }) => {
    const now = `${size.width} ${size.height} ${Math.round(plan.hull.length)} ${lifted}`;
    if (now === fitted.current) return;
    fitted.current = now;
    if (standing.current !== null) stand(standing.current, false);
  });

  // Words that take another line, or go with their room, leave another room for the board.
  const reword = useEffectEvent(() => {
    if (standing.current === null || draftNow()) return;
    const bottoms = (boxes: readonly Box[]) => boxes.map(({ left, bottom }) => `${Math.round(left)} ${Math.round(bottom)}`).join();
    if (bottoms(keptOut(gl.domElement)) !== bottoms(words.current)) stand(standing.current, false);
  });
  useEffect(() => watchKeptOut(() => reword()), []);

  // What turns the board takes over where the eye stands.
  const take = useEffectEvent(() => {
    if (rig && standing.current !== null) stand(standing.current, false);
  });
  useLayoutEffect(() => take(), [rig]);
  return (
    <Suspense>
      <Hand
        ref={setRig}
        onControl={() => {
          standing.current = null;
          if (!useView.getState().turned) useView.getState().setTurned();
        }}
      />
    </Suspense>
  );
}
