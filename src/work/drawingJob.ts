/** A drawing read from its file: for a worker. The reader of either kind is fetched with the first drawing of it. */
import type { DrawingRead } from '../../geometry/shape/drawing';
import type { Given } from '../state/jobKinds';

export async function drawing({ file, kind }: Given<'drawing'>): Promise<DrawingRead> {
  if (kind === 'svg') return (await import('../../geometry/shape/drawingSvg')).readSvg(await file.text());
  const [{ readDxf }, { isBinaryDxf }] = await Promise.all([import('../../geometry/shape/drawingDxf'), import('../../geometry/shape/drawingTags')]);
  const bytes = new Uint8Array(await file.arrayBuffer());
  return readDxf(isBinaryDxf(bytes) ? bytes : new TextDecoder().decode(bytes));
}
