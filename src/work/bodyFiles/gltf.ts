/** Reads the triangles of a glTF 2.0 file, binary (.glb) or with all it needs inside (.gltf), every node in its place. Metres, as the format has it. */
import { GLB_BUFFER, Primitive, WebIO, type GLTF, type JSONDocument } from '@gltf-transform/core';
import { BuildError } from '../../../geometry/errors';
import type { Triangles } from '../../../geometry/shape/hullIn/body';
import { Growing } from './lines';

const wrong = (field: string, value: string, allowed: string, message: string): never => {
  throw new BuildError({ field, value, allowed, message });
};

/** The file's JSON, to be looked at before anything is made of it, and of a binary one what comes with it (glTF 2.0, section 4.4: chunks, each with its length and kind). */
function partsOf(bytes: Uint8Array): JSONDocument {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const binary = bytes.length >= 20 && view.getUint32(0, true) === 0x46546c67;
  if (binary && view.getUint32(8, true) > bytes.length) wrong('glTF file', `${bytes.length} bytes`, `the ${view.getUint32(8, true)} bytes that it announces`, 'the file ends too soon');
  const end = binary ? 20 + view.getUint32(12, true) : bytes.length;
  try {
    const json = JSON.parse(new TextDecoder().decode(binary ? bytes.subarray(20, end) : bytes)) as GLTF.IGLTF;
    const more = binary && end + 8 <= bytes.length;
    return { json, resources: more ? { [GLB_BUFFER]: bytes.slice(end + 8, end + 8 + view.getUint32(end, true)) } : {} };
  } catch {
    return wrong('glTF file', 'text that cannot be read', 'JSON', 'is not a glTF file');
  }
}

/** Adds the corners of each triangle of a primitive, by how it strings them. */
function string(mode: number, corners: ArrayLike<number>, from: number, out: Growing<Uint32Array>): void {
  const put = (...each: readonly number[]) => each.forEach((k) => out.push(corners[k] + from));
  if (mode === Primitive.Mode.TRIANGLES) for (let i = 0; i + 2 < corners.length; i += 3) put(i, i + 1, i + 2);
  if (mode === Primitive.Mode.TRIANGLE_STRIP) for (let i = 2; i < corners.length; i++) put(i - 2, i - 1, i);
  if (mode === Primitive.Mode.TRIANGLE_FAN) for (let i = 2; i < corners.length; i++) put(0, i - 1, i);
}

export async function readGltf(bytes: Uint8Array): Promise<Triangles> {
  const { json, resources } = partsOf(bytes);
  if (json.asset?.version?.[0] !== '2') wrong('asset.version', json.asset?.version ?? 'nothing', '2.0', 'this version of glTF is not read');
  for (const name of json.extensionsRequired ?? []) wrong('extensionsRequired', name, 'none', 'the triangles are packed in a way that is not read: save the file without compression');
  for (const { uri } of json.buffers ?? []) if (uri !== undefined && !uri.startsWith('data:')) wrong('buffers', uri, 'data within the file', 'the shape is in another file: save it as one file (.glb)');
  // A picture beside the file stays there: nothing is fetched.
  const document = await new WebIO().readJSON({ json, resources })
    .catch((error: unknown) => wrong('glTF file', error instanceof Error ? error.message : String(error), 'glTF 2.0', 'cannot be read'));
  const positions = new Growing(new Float32Array(3 * 4096));
  const indices = new Growing(new Uint32Array(3 * 4096));
  const p = [0, 0, 0];
  for (const node of document.getRoot().listNodes()) {
    const m = node.getWorldMatrix();
    for (const one of node.getMesh()?.listPrimitives() ?? []) {
      const at = one.getAttribute('POSITION');
      if (!at) continue;
      string(one.getMode(), one.getIndices()?.getArray() ?? Uint32Array.from({ length: at.getCount() }, (_, i) => i), positions.length / 3, indices);
      for (let i = 0; i < at.getCount(); i++) {
        at.getElement(i, p);
        for (let d = 0; d < 3; d++) positions.push(m[d] * p[0] + m[4 + d] * p[1] + m[8 + d] * p[2] + m[12 + d]);
      }
    }
  }
  return { positions: positions.taken(), indices: indices.taken() };
}
