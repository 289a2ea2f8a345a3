/** The bench sheet: one PDF with all that is read at the bench, large enough to read with dusty glasses. */
import { noReadings } from '../../../../geometry/trust/emptyRecord';
import type { Plan } from '../../../../geometry/types';
import type { Recipe } from '../../recipe';
import { sheetSize } from '../../sizes';
import { Flow } from '../flow';
import { finishDocument, newDocument } from '../pen';
import { buyChapter, millChapter } from './buying';
import { codesChapter } from './codes';
import { coverChapter } from './cover';
import { cuttingChapter, laserChapter } from './cutting';
import type { Kit } from './kit';
import { panelChapter } from './panels';
import { cardChapter, ribChapter, stepChapter } from './rail';
import { bendChapter, unrolledChapter } from './unrolled';
import { builtSides, type MeasuredSide } from '../../trust';
import { builtChapters, toleranceChapter } from './trust';
import { totalChapter, workChapter } from './work';

/** The rail's pages once for both sides where they are alike, else a side each; a side that was not measured is as drawn. */
function kitsOf(kit: Kit, measured: readonly MeasuredSide[] = []): Kit[] {
  const built = builtSides(measured);
  const [starboard, port] = [built.starboard, built.port];
  if (!starboard && !port) return [kit];
  if (starboard && port && areAlike(starboard, port)) return [{ ...kit, plan: starboard, side: 'both sides, as built' }];
  return [
    { ...kit, plan: starboard ?? kit.plan, side: starboard ? 'starboard, as built' : 'starboard, as drawn' },
    { ...kit, plan: port ?? kit.plan, side: port ? 'port, as built' : 'port, as drawn' },
  ];
}

/** Whether two rails were measured alike: the same deviations at the same places. */
const areAlike = (a: Plan, b: Plan): boolean => {
  const text = ({ rail: { made } }: Plan) => JSON.stringify(made && [[...made.s], Object.entries(made.by).map(([field, by]) => [field, [...by]])]);
  return text(a) === text(b);
};

/** All chapters, in the order of the shop: buy, mill, cut, laser, the rail's figures, the work. A3 is the A4 sheet enlarged, sections still full size; a roll gets A4 pages. */
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
  millChapter(kit);
  totalChapter(kit);
  cuttingChapter(kit);
  panelChapter(kit);
  laserChapter(kit);
  const sides = kitsOf(kit, trust.measured?.sides);
  sides.forEach(ribChapter);
  unrolledChapter(kit);
  sides.forEach(stepChapter);
  bendChapter(kit);
  if (trust.bands) toleranceChapter(kit, trust.bands);
  workChapter(kit);
  sides.forEach(cardChapter);
  if (trust.measured) builtChapters(kit, trust.measured);
  codesChapter(kit);
  flow.finish();
  return finishDocument(pdf);
}
