/** The readings' file: opened, taken where it is dropped on any page, and written. */
import type { FieldError } from '../../geometry/errors';
import { useFile } from '../state/boardFile';
import { useDesign } from '../state/design';
import { addTaker } from '../state/drops';
import { NOT_FETCHED, recordText, theFiles } from '../state/files';
import { useView } from '../state/view';

/** Greatest readings file that is read at all, bytes. */
const GREATEST = 1_000_000;

/** Opens a readings file: it takes the place of the record there is, as one step that can be undone, or is refused with its errors. */
export async function openReadings(file: File): Promise<void> {
  const refuse = (errors: readonly FieldError[]) => useFile.setState({ refused: { name: file.name, errors }, notes: [] });
  if (file.size > GREATEST) {
    refuse([{ field: '', value: `${file.size} bytes`, allowed: `at most ${GREATEST} bytes`, message: 'the file is too large' }]);
    return;
  }
  const read = await Promise.all([theFiles(), file.text()]).then(([{ readReadings }, text]) => readReadings(text), () => ({ ok: false as const, errors: [NOT_FETCHED] }));
  if (read.ok) {
    useDesign.getState().note(read.readings);
    useFile.setState({ refused: null, notes: read.notes });
  } else refuse(read.errors);
}

/** The text of the record's file. */
export function readingsText(): Promise<string> {
  const { record } = useDesign.getState();
  return theFiles().then(({ writeReadings }) => writeReadings(record), () => recordText(record));
}

/** Takes readings files dropped on any page. Call once. */
export function takeReadingsFiles(): void {
  addTaker((file) => {
    if (!/\.readings\.json$/i.test(file.name)) return false;
    void openReadings(file).then(() => useView.getState().open('readings'));
    return true;
  });
}
