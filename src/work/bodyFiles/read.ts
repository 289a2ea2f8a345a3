/** Reads a body of triangles from a file by its name and content. */
import { BuildError } from '../../../geometry/errors';
import { tidyBody, outerShells, type BodyFaults, type Triangles } from '../../../geometry/shape/hullIn/body';
import type { TableUnit } from '../../../geometry/shape/lengths';
import { range } from '../../../geometry/said';
import { readGltf } from './gltf';
import { readObj } from './obj';
import { readStl } from './stl';
import { readThreeMf } from './threeMf';

/** A body, what was wrong with it, how many shells within it were left out, and its unit where the file states one. */
interface ReadBody {
  readonly body: Triangles;
  readonly faults: BodyFaults;
  readonly inner: number;
  readonly unit?: TableUnit;
}

/** Largest file that is read, megabytes. */
const MEGABYTES = range(0, 500, 'count');

export async function readBody(name: string, bytes: Uint8Array): Promise<ReadBody> {
  if (bytes.length > 1e6 * MEGABYTES.value[1]) throw new BuildError({ field: name, value: `${Math.round(bytes.length / 1e6)} megabytes`, allowed: `at most ${MEGABYTES.value[1]} megabytes`, message: 'the file is too large' });
  const kind = /\.([a-z0-9]+)$/i.exec(name)?.[1].toLowerCase();
  const raw = kind === 'stl' ? { body: readStl(bytes) }
    : kind === 'obj' ? { body: readObj(bytes) }
    : kind === 'glb' || kind === 'gltf' ? { body: await readGltf(bytes), unit: 'm' as const }
    : kind === '3mf' ? readThreeMf(bytes)
    : null;
  if (!raw) throw new BuildError({ field: name, value: kind ? `.${kind}` : 'no ending', allowed: '.stl, .obj, .glb, .gltf, .3mf', message: 'this kind of file is not read as a body' });
  const { body, faults } = tidyBody(raw.body);
  return { ...outerShells(body), faults, ...('unit' in raw ? { unit: raw.unit } : {}) };
}
