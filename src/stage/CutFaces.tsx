/** The faces of the cut at the station, starboard and port: the end grain of every part shown, and the air between. */
import { useThree } from '@react-three/fiber';
import { useShallow } from 'zustand/react/shallow';
import { BufferGeometry, Float32BufferAttribute, ShapeUtils, Vector2 } from 'three';
import type { PartKind, Plan, SectionDrawing, Side } from '../../geometry/types';
import { drawingAtCursor } from '../state/station';
import { useView } from '../state/view';
import { usePainter } from '../ui/painter';
import { noRaycast } from './BodyMesh';
import { accentLineMaterial, cutColour, cutFaceMaterial } from './materials';
import { useFacesAndLines } from './geometries';
import { partsShown, showOf } from './shown';

type Shown = (kind: PartKind, side: Side) => boolean;

const SIDES = [['starboard', 1], ['port', -1]] as const;

/** Puts faces and outlines of a section's shown parts into two geometries. */
function fill({ section: c, shapes }: SectionDrawing, shown: Shown, faces: BufferGeometry, lines: BufferGeometry): void {
  const corners: number[] = [];
  const colours: number[] = [];
  const edges: number[] = [];
  for (const [side, way] of SIDES) for (const { kind, points } of shapes) {
    if (!shown(kind, side)) continue;
    const place = (p: Vector2) => [c.ribX - p.x * c.nx, way * (c.ribY - p.x * c.ny), p.y];
    const outline = Array.from({ length: points.length / 2 }, (_, i) => new Vector2(points[2 * i], points[2 * i + 1]));
    const { r, g, b } = cutColour(kind);
    for (const triangle of ShapeUtils.triangulateShape(outline, [])) {
      for (const i of triangle) {
        corners.push(...place(outline[i]));
        colours.push(r, g, b);
      }
    }
    outline.forEach((p, i) => edges.push(...place(p), ...place(outline[(i + 1) % outline.length])));
  }
  for (const geometry of [faces, lines]) geometry.dispose();
  faces.setAttribute('position', new Float32BufferAttribute(corners, 3));
  faces.setAttribute('color', new Float32BufferAttribute(colours, 3));
  lines.setAttribute('position', new Float32BufferAttribute(edges, 3));
}

export function CutFaces({ plan }: { readonly plan: Plan }) {
  const view = useView(useShallow(partsShown));
  useView((state) => state.theme);
  const invalidate = useThree((state) => state.invalidate);
  const [faces, lines] = useFacesAndLines();
  usePainter(plan, (shown) => {
    fill(drawingAtCursor(shown), (kind, side) => !['off', 'lift'].includes(showOf(kind, side, view)), faces, lines);
    invalidate();
  });
  return (
    <>
      <mesh geometry={faces} material={cutFaceMaterial} raycast={noRaycast} frustumCulled={false} renderOrder={6} />
      <lineSegments geometry={lines} material={accentLineMaterial} raycast={noRaycast} frustumCulled={false} renderOrder={7} />
    </>
  );
}
