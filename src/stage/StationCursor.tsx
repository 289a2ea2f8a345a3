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

  add(x: number, y: number, z: number): void {
    if (this.count < CAPACITY) this.attribute.setXYZ(this.count++, x, y, z);
  }

  done(): void {
    // Only what there is goes to the card.
    this.attribute.clearUpdateRanges();
    this.attribute.addUpdateRange(0, 3 * this.count);
    this.attribute.needsUpdate = true;
    this.geometry.setDrawRange(0, this.count);
  }
}

/** How far inboard of the rib-end line the blade reaches, mm. */
const INBOARD = 14;

/** Fills line and blade buffers from a section, square to the rail and at its station. */
function draw({ finished, shapes, station, section: { x, ribX, ribY, nx, ny } }: SectionDrawing, lines: Buffer, blade: Buffer): void {
  lines.clear();
  blade.clear();
  const put = (to: Buffer, points: ArrayLike<number>, i: number) => to.add(ribX - points[2 * i] * nx, ribY - points[2 * i] * ny, points[2 * i + 1]);
  const near: number[] = [];
  for (let i = 0; i < finished.length; i += 2) if (finished[i] >= -INBOARD) near.push(finished[i], finished[i + 1]);
  const count = near.length / 2;
  for (let i = 0; i + 1 < count; i++) for (const k of [i, i + 1]) put(lines, near, k);
  // The outline runs bottom to deck: its i-th point from either end lie over one another.
  for (let i = 0; i < Math.floor(count / 2); i++) {
    const [a, b, c, d] = [i, i + 1, count - 2 - i, count - 1 - i];
    for (const k of [a, b, c, a, c, d]) put(blade, near, k);
  }
  for (const { kind, points } of shapes) {
    if (kind !== 'sole' && kind !== 'cap' && kind !== 'row') continue;
    const corners = points.length / 2;
    for (let i = 0; i < corners; i++) for (const k of [i, (i + 1) % corners]) put(lines, points, k);
  }
  for (let i = 0; i + 3 < station.length; i += 2) {
    lines.add(x, station[i], station[i + 1]);
    lines.add(x, station[i + 2], station[i + 3]);
  }
  lines.done();
  blade.done();
}

export function StationCursor({ plan }: { readonly plan: Plan }) {
  const invalidate = useThree((state) => state.invalidate);
  const [lines, blade] = useMemo(() => [new Buffer(), new Buffer()], []);
  const bladeMaterial = useMemo(() => {
    const material = new MeshBasicMaterial({ side: DoubleSide, forceSinglePass: true, transparent: true, opacity: 0.22, depthTest: false });
    material.color = accentLineMaterial.color;
    return material;
  }, []);
  const cut = useView((state) => state.cut);
  // Follows the cursor as it does the plan.
  useView((state) => state.s);
  usePainter(plan, (shown) => {
    const drawing = drawingAtCursor(shown);
    draw(drawing, lines, blade);
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
