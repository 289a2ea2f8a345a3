/** The bench sheet: one PDF with all that is read at the bench, large enough to read with dusty glasses. */
import { noReadings } from '../../../../geometry/trust/readings';
import type { Recipe } from '../../recipe';
import { sheetSize } from '../../sizes';
import { Flow } from '../flow';
import { finishDocument, newDocument } from '../pen';
import { buyChapter } from './buying';
import { codesChapter } from './codes';
import { coverChapter } from './cover';
import { cuttingChapter, laserChapter } from './cutting';
import type { Kit } from './kit';
import { cardChapter, ribChapter, stepChapter } from './rail';
import { bendChapter, unrolledChapter } from './unrolled';
import { builtChapters, toleranceChapter } from './trust';
import { totalChapter, workChapter } from './work';

/** All chapters, in the order of the shop: buy, cut, laser, the rail's figures, the work. A3 is the A4 sheet enlarged, sections still full size; a roll gets A4 pages. */
export async function writeBenchSheet({ plan, parts, paper, step, stamp, trust, address }: Recipe): Promise<Uint8Array> {
  const { pdf, fonts } = await newDocument('Bench sheet', stamp);
  const size = sheetSize(paper === 'Letter' ? 'Letter' : 'A4');
  const flow = new Flow(pdf, fonts, size, paper === 'A3' ? Math.SQRT2 : 1, stamp);
  // A code opens the board as on this sheet: by its trial bends and readings, but with nothing ticked.
  const { name, revision, trials } = plan.design;
  const record = { ...noReadings(name, revision), readings: trust.measured?.record.readings ?? [], ...(trials ? { trials } : {}) };
  const kit: Kit = { flow, plan, parts, stamp, step, address, record };
  coverChapter(kit);
  buyChapter(kit);
  totalChapter(kit);
  cuttingChapter(kit);
  laserChapter(kit);
  ribChapter(kit);
  unrolledChapter(kit);
  stepChapter(kit);
  bendChapter(kit);
  if (trust.bands) toleranceChapter(kit, trust.bands);
  workChapter(kit);
  cardChapter(kit);
  if (trust.measured) builtChapters(kit, trust.measured);
  codesChapter(kit);
  flow.finish();
  return finishDocument(pdf);
}
