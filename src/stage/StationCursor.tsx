/** The station cursor in 3D: the section square to the rail on both sides, and the station's outline. */
import { useThree } from '@react-three/fiber';
import { useEffect, useMemo } from 'react';
import { BufferAttribute, BufferGeometry, DoubleSide, DynamicDrawUsage, MeshBasicMaterial, Vector3 } from 'three';
import type { Plan, SectionDrawing } from '../../geometry/types';
import { drawingAtCursor } from '../state/station';
import { useView } from '../state/view';
import { usePainter } from '../ui/painter';
import { noRaycast } from './BodyMesh';
import { CutFaces } from './CutFaces';
import { toStage } from './frame';
import { accentLineMaterial, setCut } from './materials';

/** Vertices kept for lines and for the blade; a section needs far fewer. */
const CAPACITY = 4096;

class Buffer {
  readonly geometry = new BufferGeometry();
  private readonly attribute = new BufferAttribute(new Float32Array(3 * CAPACITY), 3).setUsage(DynamicDrawUsage);
  private count = 0;

  constructor() {
    this.geometry.setAttribute('position', this.attribute);
  }

  clear(): void {
    this.count = 0;
  }

  add(...points: readonly (readonly [number, number, number])[]): void {
    for (const [x, y, z] of points) {
      if (this.count < CAPACITY) this.attribute.setXYZ(this.count++, x, y, z);
    }
  }

  done(): void {
    this.attribute.needsUpdate = true;
    this.geometry.setDrawRange(0, this.count);
  }
}

/** How far inboard of the rib-end line the blade reaches, mm. */
const INBOARD = 14;

type Place3 = (o: number, z: number) => readonly [number, number, number];

/** Fills line and blade buffers from a section; `place` puts (o, z) into the board. */
function draw(drawing: SectionDrawing, place: Place3, lines: Buffer, blade: Buffer): void {
  const { finished, shapes, station, section } = drawing;
  lines.clear();
  blade.clear();
  const near: number[] = [];
  for (let i = 0; i < finished.length; i += 2) if (finished[i] >= -INBOARD) near.push(finished[i], finished[i + 1]);
  const count = near.length / 2;
  const at = (i: number) => place(near[2 * i], near[2 * i + 1]);
  for (let i = 0; i + 1 < count; i++) lines.add(at(i), at(i + 1));
  // The outline runs bottom to deck: its i-th point from either end lie over one another.
  for (let i = 0; i < Math.floor(count / 2); i++) {
    const [a, b, c, d] = [at(i), at(i + 1), at(count - 2 - i), at(count - 1 - i)];
    blade.add(a, b, c, a, c, d);
  }
  for (const { kind, points } of shapes) {
    if (kind !== 'sole' && kind !== 'cap' && kind !== 'row') continue;
    for (let i = 0; i < points.length; i += 2) {
      const j = (i + 2) % points.length;
      lines.add(place(points[i], points[i + 1]), place(points[j], points[j + 1]));
    }
  }
  for (let i = 0; i + 3 < station.length; i += 2) {
    lines.add([section.x, station[i], station[i + 1]], [section.x, station[i + 2], station[i + 3]]);
  }
  lines.done();
  blade.done();
}

export function StationCursor({ plan }: { readonly plan: Plan }) {
  const invalidate = useThree((state) => state.invalidate);
  const [lines, blade] = useMemo(() => [new Buffer(), new Buffer()], []);
  const bladeMaterial = useMemo(() => {
    const material = new MeshBasicMaterial({ side: DoubleSide, transparent: true, opacity: 0.22, depthTest: false });
    material.color = accentLineMaterial.color;
    return material;
  }, []);
  const cut = useView((state) => state.cut);
  // Follows the cursor as it does the plan.
  useView((state) => state.s);
  usePainter(plan, (shown) => {
    const drawing = drawingAtCursor(shown);
    const { ribX, ribY, nx, ny } = drawing.section;
    draw(drawing, (o, z) => [ribX - o * nx, ribY - o * ny, z], lines, blade);
    const { x, y, tx, ty } = drawing.section;
    setCut(cut ? { point: toStage(shown.hull.length, x, y, 0), away: new Vector3(tx, 0, ty) } : null);
    invalidate();
  });
  useEffect(() => () => setCut(null), []);
  useEffect(
    () => () => {
      lines.geometry.dispose();
      blade.geometry.dispose();
      bladeMaterial.dispose();
    },
    [lines, blade, bladeMaterial],
  );
  const side = (
    <>
      <mesh geometry={blade.geometry} material={bladeMaterial} raycast={noRaycast} frustumCulled={false} renderOrder={8} />
      <lineSegments geometry={lines.geometry} material={accentLineMaterial} raycast={noRaycast} frustumCulled={false} renderOrder={9} />
    </>
  );
  return (
    <>
      {cut ? (
        <CutFaces plan={plan} />
      ) : (
        <>
          {side}
          <group scale={[1, -1, 1]}>{side}</group>
        </>
      )}
    </>
  );
}
