/** A STEP file as OCCT (replicad-opencascadejs) reads it. */
import type { OpenCascadeInstance, TopoDS_Shape } from 'replicad-opencascadejs';

/** What of OCCT's file system is used; its own typings have none. */
interface Files {
  readonly FS: { writeFile(path: string, bytes: Uint8Array): void; unlink(path: string): void };
}

export interface ReadSolid {
  /** Whether BRepCheck_Analyzer finds no fault, each face's loops and each edge's curve in its surfaces among what it looks at. */
  readonly valid: boolean;
  readonly faces: number;
  /** mm3, integrated face by face to a relative error of `near`. */
  readonly volume: number;
}

/** Every solid of the file in its order; throws where a shape is not one. */
export function readStep(occt: OpenCascadeInstance, bytes: Uint8Array, near = 1e-5): ReadSolid[] {
  const { FS } = occt as unknown as Files;
  FS.writeFile('/read.step', bytes);
  const reader = new occt.STEPControl_Reader();
  const status = reader.ReadFile('/read.step');
  FS.unlink('/read.step');
  if (status !== occt.IFSelect_ReturnStatus.IFSelect_RetDone) throw new Error('OCCT cannot read the file');
  reader.TransferRoots(new occt.Message_ProgressRange());
  const { TopAbs_SOLID, TopAbs_FACE, TopAbs_SHAPE } = occt.TopAbs_ShapeEnum;
  const each = (shape: TopoDS_Shape, kind: typeof TopAbs_FACE | typeof TopAbs_SOLID): TopoDS_Shape[] => {
    const found: TopoDS_Shape[] = [];
    const explorer = new occt.TopExp_Explorer(shape, kind, TopAbs_SHAPE);
    for (; explorer.More(); explorer.Next()) found.push(explorer.Current());
    return found;
  };
  return each(reader.OneShape(), TopAbs_SOLID).map((solid) => {
    const properties = new occt.GProp_GProps();
    occt.BRepGProp.VolumeProperties(solid, properties, near, false, false);
    return { valid: new occt.BRepCheck_Analyzer(solid, true, false, false).IsValid(), faces: each(solid, TopAbs_FACE).length, volume: properties.Mass() };
  });
}
