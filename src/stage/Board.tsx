/** The whole board on the stage: every body with its layer, side, skin and map. */
import { type ThreeEvent, useThree } from '@react-three/fiber';
import { useCallback, useEffect, useLayoutEffect, useMemo } from 'react';
import { useBuild } from '../state/build';
import { nearestRun } from '../../geometry/rail/query';
import { onEachSide } from '../../geometry/solid/sides';
import type { PartKind, Plan } from '../../geometry/types';
import type { InkedBody } from '../state/jobKinds';
import { bevelScale } from '../say/ramp';
import { useView } from '../state/view';
import { Arriving } from './Arriving';
import { BodyBuffers, BodyMesh, noRaycast } from './BodyMesh';
import { Bench } from './Bench';
import { Clamps } from './Clamps';
import { liftHeight, stageMatrix } from './frame';
import { bevelMaterial, hollowBehindMaterial, hollowMaterial, inkMaterial, shadowMaterial, timberMaterial } from './materials';
import { showOf, standsOf } from './shown';

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

interface BoardProps {
  readonly plan: Plan;
  readonly bodies: readonly InkedBody[];
}

export function Board({ plan, bodies }: BoardProps) {
  const { layers, deck, bottom, openSide, bevelMap, moveTo } = useView();
  const standing = useBuild((state) => state.standing);
  const invalidate = useThree((state) => state.invalidate);
  const materials = useMaterials();
  const matrix = useMemo(() => stageMatrix(plan.hull.length), [plan.hull.length]);
  useEffect(() => () => materials.dispose(), [materials]);
  useLayoutEffect(() => {
    const { low, high, contour } = bevelScale(plan);
    bevelMaterial.uniforms.low.value = low;
    bevelMaterial.uniforms.high.value = high;
    bevelMaterial.uniforms.contour.value = contour;
    invalidate();
  }, [plan, invalidate]);
  useEffect(() => invalidate(), [layers, deck, bottom, openSide, bevelMap, standing, invalidate]);

  // Kept the same while the plan is: another handler would count as a change of the stage, and draw it again.
  const pick = useCallback((event: ThreeEvent<MouseEvent>) => {
    if (event.delta > CLICK_SLACK) return;
    event.stopPropagation();
    moveTo(nearestRun(plan, event.point.x + plan.hull.length / 2, event.point.z));
  }, [plan, moveTo]);

  return (
    <>
      <group matrix={matrix} matrixAutoUpdate={false} onClick={pick}>
        {bodies.map((body) => {
          const shown = onEachSide(body).flatMap((one) => {
            const stands = standing && standsOf(one, standing);
            const show = stands ? (stands === 'off' ? 'off' : 'on') : showOf(one.kind, one.side, { layers, deck, bottom, openSide });
            return show === 'off' ? [] : [{ one, show, arrives: stands === 'arrives' }];
          });
          const casts = body.kind === 'deck-skin' || body.kind === 'round';
          if (shown.length === 0 && !casts) return null;
          return (
            <BodyBuffers key={body.id} body={body}>
              {(buffers) => (
                <>
                  {shown.map(({ one, show, arrives }) => {
                    const faded = show === 'fade';
                    const mapped = (standing ? standing.bevels : bevelMap) && body.mesh.bevel !== undefined;
                    const lift = show === 'lift' ? liftHeight(plan) : 0;
                    const mesh = (
                      <group scale-y={one.side === 'port' ? -1 : 1}>
                        {body.kind === 'hollow' ? <BodyMesh name={one.id} buffers={buffers} material={hollowMaterial} behind={hollowBehindMaterial} order={GLOW_ORDER} /> : (
                          <BodyMesh
                            name={one.id}
                            buffers={buffers}
                            material={mapped ? bevelMaterial : materials.timber(body.kind, faded ? FADED : 1, lift > 0)}
                            ink={arrives ? materials.freshInk : faded ? materials.faintInk : materials.ink}
                            order={mapped ? MAP_ORDER : faded || lift > 0 ? FADED_ORDER : 0}
                          />
                        )}
                      </group>
                    );
                    return (
                      <group key={one.id} position={[0, 0, lift]}>
                        {standing && arrives ? <Arriving body={one} step={standing.step}>{mesh}</Arriving> : mesh}
                      </group>
                    );
                  })}
                  {casts && onEachSide(body).map(({ id, side }) => (
                    <mesh key={id} geometry={buffers[0]} material={shadowMaterial} scale-y={side === 'port' ? -1 : 1} renderOrder={SHADOW_ORDER} raycast={noRaycast} frustumCulled={false} />
                  ))}
                </>
              )}
            </BodyBuffers>
          );
        })}
        {standing && <Clamps plan={plan} clamps={standing.clamps} port={standing.box === 'both'} />}
      </group>
      <Bench plan={plan} bodies={bodies} matrix={matrix} />
    </>
  );
}
