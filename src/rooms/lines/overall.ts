/** The overall sizes of the board as fields: each scales what it names, and a volume is proposed by thickness. */
import { BuildError, type FieldError } from '../../../geometry/errors';
import { said } from '../../../geometry/said';
import type { Design } from '../../../geometry/design/schema';
import { type BoardSize, overallSize, scaleBoard, sizeFaults } from '../../../geometry/search/family';
import { withTrials } from '../../../geometry/wood/trials';
import { fixed } from '../../say/units';
import { useDesign } from '../../state/design';
import { propose } from '../../state/proposal';
import { runJob } from '../../work/jobs';
import { takeEdit } from './lines';

export type OverallName = keyof BoardSize;

const known = new WeakMap<Design['lines'], ReturnType<typeof overallSize> | null>();

/** The overall sizes of lines, found once; null where the outline folds. */
export function overallOf({ lines }: Design): ReturnType<typeof overallSize> | null {
  const kept = known.get(lines);
  if (kept !== undefined) return kept;
  let found: ReturnType<typeof overallSize> | null = null;
  try {
    found = overallSize({ lines });
  } catch (error) {
    if (!(error instanceof BuildError)) throw error;
  }
  known.set(lines, found);
  return found;
}

/** Scales the board to a size, mm: one step of history, or what is wrong with it. */
export function putSize(name: OverallName, value: number | undefined): readonly FieldError[] {
  const faults = sizeFaults(name, value);
  if (value === undefined || faults.length > 0) return faults;
  try {
    // What no longer fits may be far from the field: it is named.
    return takeEdit(scaleBoard(useDesign.getState().design, { [name]: value })).map((fault) => ({ ...fault, message: said('({field}) {message}', { field: fault.field, message: fault.message }) }));
  } catch (error) {
    if (!(error instanceof BuildError)) throw error;
    return [error.fault];
  }
}

/** What a volume may be, litres. */
export const LITRES = { min: 1, max: 1000 } as const;

/** Looks for the thickness that gives a volume, litres, and proposes that board. */
export function putVolume(litres: number | undefined): readonly FieldError[] {
  if (litres === undefined || litres < LITRES.min || litres > LITRES.max) {
    return [{ field: 'volume', value: litres === undefined ? 'nothing' : String(litres), allowed: `${LITRES.min} to ${LITRES.max} litres`, message: 'is out of range' }];
  }
  void proposeVolume(litres);
  return [];
}

async function proposeVolume(litres: number): Promise<void> {
  const { design, record } = useDesign.getState();
  const found = await runJob('targets', {
    design: withTrials(design, record.trials), targets: [{ kind: 'volume', value: litres * 1e6, sense: 'about' }], levers: [{ id: 'thickness' }],
  });
  // A board changed meanwhile is not the one that was asked about.
  if (!found || useDesign.getState().design !== design || found.verdict === 'already') return;
  propose(`${fixed(litres, 1)} litres, by thickness${found.verdict === 'none' ? ': not reached, the closest' : ''}`, found.design);
}
