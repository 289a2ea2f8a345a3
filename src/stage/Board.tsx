/** The whole board on the stage: every body with its layer, side, skin and map. */
import { type ThreeEvent, useThree } from '@react-three/fiber';
import { useCallback, useEffect, useMemo, useRef } from 'react';
import type { Group } from 'three';
import { useShallow } from 'zustand/react/shallow';
import { useBuild } from '../state/build';
import { nearestRun } from '../../geometry/rail/query';
import { onEachSide } from '../../geometry/solid/sides';
import type { PartKind } from '../../geometry/types';
import { bevelScale } from '../say/ramp';
import { type Draft, paintedPlan } from '../state/draft';
import type { DrawnBody } from '../state/jobKinds';
import { pickPlace } from '../state/measure';
import { useView } from '../state/view';
import { useBodiesPainter } from '../ui/painter';
import { Arriving } from './Arriving';
import { BodyBuffers, BodyMesh, noRaycast } from './BodyMesh';
import { liftHeight } from './frame';
import { LAY, layOn, putBody } from './geometries';
import { bevelMaterial, hollowBehindMaterial, hollowMaterial, inkMaterial, shadowMaterial, timberMaterial } from './materials';
import { partsShown, showOf, standsOf, useCapColour, useFinished } from './shown';

const FADED = 0.2;
/** A pointer that travels farther than this between press and release was turning the view, px. */
const CLICK_SLACK = 5;

/** Drawing order: shadows first, glow over timber, faded and lifted skins over the glow, the map over all of these. */
const SHADOW_ORDER = -2;
const GLOW_ORDER = 2;
const FADED_ORDER = 4;
const MAP_ORDER = 5;

function useMaterials() {
  return useMemo(() => {
    const timber = new Map<string, ReturnType<typeof timberMaterial>>();
    return {
      timber: (kind: Exclude<PartKind, 'hollow'>, opacity: number, last: boolean) => {
        const key = `${kind} ${opacity} ${last}`;
        const known = timber.get(key) ?? timberMaterial(kind, opacity, last);
        timber.set(key, known);
        return known;
      },
      ink: inkMaterial(0.75),
      faintInk: inkMaterial(0.35),
      freshInk: inkMaterial(1, true),
      dispose: () => timber.forEach((material) => material.dispose()),
    };
  }, []);
}

/** A body wherever it is drawn: starboard's twice, and a half of what spans both sides; `port` where it is mirrored. */
const placesOf = (body: DrawnBody): { readonly one: DrawnBody; readonly port: boolean }[] =>
  body.half ? [false, true].map((port) => ({ one: body, port })) : onEachSide(body).map((one) => ({ one, port: one.side === 'port' }));

/** What a lifted skin hangs in. */
const LIFTED = 'lifted';

export function Board({ plan, bodies }: Draft) {
  const { layers, deck, bottom, openSide } = useView(useShallow(partsShown));
  const mapped = useCapColour() === 'bevel';
  const moveTo = useView((state) => state.moveTo);
  const standing = useBuild((state) => state.standing);
  const finished = useFinished();
  const invalidate = useThree((state) => state.invalidate);
  const camera = useThree((state) => state.camera);
  const get = useThree((state) => state.get);
  const materials = useMaterials();
  useEffect(() => () => materials.dispose(), [materials]);
  const whole = useRef<Group>(null);
  useBodiesPainter({ plan, bodies }, (shown) => {
    for (const body of shown.bodies) putBody(body, shown.bodies !== bodies);
    if (shown.bodies.length > 0) layOn(shown.bodies[0].mesh.grid);
    const { low, high, contour } = bevelScale(shown.plan);
    bevelMaterial.uniforms.low.value = low;
    bevelMaterial.uniforms.high.value = high;
    bevelMaterial.uniforms.contour.value = contour;
    for (const part of whole.current?.children ?? []) if (part.name === LIFTED) part.position.z = liftHeight(shown.plan);
    shadowMaterial.uniforms.soft.value = finished ? 1 : 0;
    invalidate();
  });
  useEffect(() => invalidate(), [layers, deck, bottom, openSide, mapped, standing, invalidate]);

  // Kept the same while the plan is: another handler would count as a change of the stage, and draw it again.
  const pick = useCallback((event: ThreeEvent<MouseEvent>) => {
    if (event.delta > CLICK_SLACK) return;
    event.stopPropagation();
    const shown = paintedPlan(plan);
    if (useView.getState().drawer === 'measure') {
      const { point } = event;
      void import('./placePicked').then(({ placePicked }) => pickPlace(plan, placePicked(plan, point, camera, get().size)), () => undefined);
      return;
    }
    moveTo(nearestRun(shown, event.point.x + shown.hull.length / 2, event.point.z));
  }, [plan, moveTo, camera, get]);

  return (
    <group ref={whole} onClick={pick}>
      {bodies.map((body) => {
        const shown = placesOf(body).flatMap(({ one, port }) => {
          const stands = standing && standsOf(one, standing);
          const show = stands ? (stands === 'off' ? 'off' : 'on') : showOf(one.kind, one.side, { layers, deck, bottom, openSide });
          return show === 'off' ? [] : [{ one, port, show, arrives: stands === 'arrives' }];
        });
        const casts = body.kind === 'deck-skin' || body.kind === 'round';
        if (shown.length === 0 && !casts) return null;
        return (
          <BodyBuffers key={body.id} body={body}>
            {(buffers) => (
              <>
                {shown.map(({ one, port, show, arrives }) => {
                  const faded = show === 'fade';
                  const asMap = mapped && body.mesh.bevel !== undefined;
                  const lifted = show === 'lift';
                  const mesh = (
                    <group ref={LAY[Number(port)]}>
                      {body.kind === 'hollow' ? <BodyMesh name={one.id} buffers={buffers} material={hollowMaterial} behind={hollowBehindMaterial} order={GLOW_ORDER} /> : (
                        <BodyMesh
                          name={one.id}
                          buffers={buffers}
                          material={asMap ? bevelMaterial : materials.timber(body.kind, faded ? FADED : 1, lifted)}
                          ink={arrives ? materials.freshInk : faded || finished ? materials.faintInk : materials.ink}
                          order={asMap ? MAP_ORDER : faded || lifted ? FADED_ORDER : 0}
                        />
                      )}
                    </group>
                  );
                  return (
                    <group key={`${one.id} ${port} ${lifted ? LIFTED : ''}`} name={lifted ? LIFTED : ''}>
                      {standing && arrives ? <Arriving body={one} step={standing.step}>{mesh}</Arriving> : mesh}
                    </group>
                  );
                })}
                {casts && placesOf(body).map(({ port }) => (
                  <mesh key={`shadow ${port}`} geometry={buffers[0]} material={shadowMaterial} ref={LAY[Number(port)]} renderOrder={SHADOW_ORDER} raycast={noRaycast} frustumCulled={false} />
                ))}
              </>
            )}
          </BodyBuffers>
        );
      })}
    </group>
  );
}
