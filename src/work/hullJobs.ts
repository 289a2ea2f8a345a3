/** A board read from a file of triangles, and lines fitted to it: for a worker, which fetches it when it is first asked. */
import { BuildError } from '../../geometry/errors';
import { silhouetteOf } from '../../geometry/shape/hullIn/cuts';
import { fitBody, type HullFit } from '../../geometry/shape/hullIn/hullIn';
import { poseOf } from '../../geometry/shape/hullIn/pose';
import type { Given, HullRead, StageOfWork } from '../state/jobKinds';
import { readBody } from './bodyFiles/read';

type Read = Awaited<ReturnType<typeof readBody>>;
/** The body read last, while there is room for it: it is read to be confirmed, and again to be fitted. */
let lately: { readonly id: string; readonly read: WeakRef<Read> } | null = null;

async function readOnce(file: File): Promise<Read> {
  const id = `${file.name} ${file.size} ${file.lastModified}`;
  const known = lately?.id === id ? lately.read.deref() : undefined;
  if (known) return known;
  const read = await readBody(file.name, new Uint8Array(await file.arrayBuffer()));
  lately = { id, read: new WeakRef(read) };
  return read;
}

async function posed({ file, ...asked }: Given<'hullRead'>) {
  const read = await readOnce(file);
  return { ...read, ...poseOf(read.body, asked, read.unit), stated: read.unit };
}

/** Reads and lays it. */
export async function hullRead(given: Given<'hullRead'>): Promise<HullRead> {
  const { body, unit, stated, length, width, depth, faults, inner } = await posed(given);
  return { unit, ...(stated ? { stated } : {}), length, width, depth, faults, inner, triangles: body.indices.length / 3, silhouette: silhouetteOf(body, length) };
}

/** Fits lines to it; `lent` takes the buffers of the map. */
export async function fittedHull({ design, ...given }: Given<'hullFit'>, tell: (progress: StageOfWork) => void, lent: Set<ArrayBufferLike>): Promise<HullFit> {
  tell({ share: 0, title: 'Reading the file' });
  const { body } = await posed(given);
  const steps = fitBody(body, design);
  for (let next = steps.next(); ; next = steps.next()) {
    if (!next.done) {
      tell(next.value);
      continue;
    }
    const fit = next.value;
    if ('errors' in fit) throw new BuildError(fit.errors[0]);
    for (const { buffer } of [fit.map.positions, fit.map.indices, fit.map.off]) lent.add(buffer);
    return fit;
  }
}
