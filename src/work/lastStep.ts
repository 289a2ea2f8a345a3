/** The last step of the board's history, in words: what undo takes back. */
import { isFrameField, READING_FIELDS, readingOf, type Readings } from '../../geometry/trust/readings';
import { signed } from '../say/bands';
import { readingFigure } from '../say/readings';
import { textOf } from '../say/said';
import type { Unit } from '../say/units';
import { useDesign, useHistory } from '../state/design';
import { useTaken } from '../state/proposal';
import { useUnits } from '../state/unit';

interface LastStep {
  /** Empty where it has no name, or there is none. */
  readonly what: string;
  /** Whether it put a figure in the readings, or changed one. */
  readonly reading: boolean;
}

/** The figure by which a record has more than another has, or says it differently, and where it was read; empty where there is none. */
function readingAdded(past: Readings, now: Readings, unit: Unit): string {
  for (const read of now.readings) {
    const before = past.readings.find((r) => r.of === read.of && r.rib === read.rib && r.side === read.side);
    const field = READING_FIELDS.find((each) => readingOf(read, each) !== undefined && readingOf(read, each) !== (before && readingOf(before, each)));
    if (!field) continue;
    const { text } = readingFigure(field, unit);
    const value = readingOf(read, field) ?? 0;
    // Of its frames a batch says how far they are off.
    return read.of === 'batch' ? `${isFrameField(field) ? signed(value, text) : text(value)}, the batch` : `${text(value)} at rib ${read.rib}`;
  }
  return '';
}

/** What the last step was, whether there is one, and the call that takes it back. */
export function useLastStep(): LastStep & { readonly can: boolean; readonly undo: () => void } {
  const { undo, pastStates } = useHistory();
  const unit = useUnits((state) => state.unit);
  const design = useDesign((state) => state.design);
  const record = useDesign((state) => state.record);
  const taken = useTaken((state) => state.taken);
  const past = pastStates.at(-1);
  const step = (what: string, reading = false) => ({ what, reading, can: past !== undefined, undo: () => undo() });
  if (!past?.record || past.record === record) return step(taken?.design === design ? textOf(taken.title, unit) : '');
  const added = readingAdded(past.record, record, unit);
  if (added) return step(added, true);
  return step(past.record.readings !== record.readings ? 'reading' : past.record.ticks !== record.ticks || past.record.cut !== record.cut ? 'tick' : '');
}
