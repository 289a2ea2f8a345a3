/**
 * Opening links: a board in the address is put on the shelf as a board of its own (or opened again if it is there
 * already), at its station and step. A link that is broken says so, and the open board is unchanged.
 */
import { readDesign } from '../../../geometry/design/read';
import { writeDesign } from '../../../geometry/design/write';
import type { Design } from '../../../geometry/design/schema';
import type { FieldError } from '../../../geometry/design/fields';
import { range, size } from '../../../geometry/said';
import { holdsRecord, type Readings } from '../../../geometry/trust/readings';
import { isEmptyRecord } from '../../../geometry/trust/emptyRecord';
import { besideOf } from '../../state/beside';
import { useBuild } from '../../state/build';
import { listBoards } from '../../state/database';
import { beginBoard, openFromShelf } from '../../state/keep';
import { useFile } from '../../state/boardFile';
import { useDesign } from '../../state/design';
import { jobNow, useJobs } from '../../state/jobs';
import { useView } from '../../state/view';
import { readLink } from '../../link/boardLink';

const refuse = (errors: readonly FieldError[]) => useFile.setState({ refused: { name: 'The link', errors }, notes: [] });

/** Whether a record has a link's in it, or nothing that the link's would write over. */
const takes = (own: Readings | undefined, linked: Readings | undefined): boolean =>
  linked === undefined || own === undefined || isEmptyRecord(own) || holdsRecord(own, linked);

/** The kept board that would be written as exactly this file, with a record that takes the link's, if there is one. */
async function keptAs(name: string, text: string, record: Readings | undefined): Promise<string | undefined> {
  try {
    for (const board of await listBoards()) {
      // The shelf's own text is not the file's: it is written in haste, and has been laid out otherwise before.
      const read = board.name === name ? readDesign(board.text) : null;
      if (read?.ok && writeDesign(read.design) === text && takes((await besideOf(board.id)).record, record)) return board.id;
    }
  } catch {
    // The browser keeps nothing; the shelf says so itself.
  }
  return undefined;
}

/** Puts a link's record beside the board that is open, if that has none. */
function lay(record: Readings | undefined): void {
  const { record: own, note } = useDesign.getState();
  if (record && isEmptyRecord(own)) note(record);
}

async function bring(design: Design, record: Readings | undefined): Promise<void> {
  const text = writeDesign(design);
  const present = useDesign.getState();
  if (writeDesign(present.design) === text && takes(present.record, record)) {
    lay(record);
    return;
  }
  const kept = await keptAs(design.name, text, record);
  if (kept !== undefined && (await openFromShelf(kept))) lay(record);
  else await beginBoard(design, record);
}

/** Does something once, when the design that is present now has been planned. */
function whenPlanned(act: (run: number) => void): void {
  const { design } = useDesign.getState();
  const done = () => {
    const { result, of } = jobNow('plan');
    if (!result || of?.design !== design) return false;
    act(result.plan.rail.face.length);
    return true;
  };
  if (done()) return;
  const stop = useJobs.subscribe(() => {
    if (done() || useDesign.getState().design !== design) stop();
  });
}

/** Opens what the page's address asks for, and takes the board out of the address, so that a reload does not ask again. */
async function openLink(): Promise<void> {
  const read = readLink(location.hash);
  if (!read.ok) {
    refuse(read.errors);
    history.replaceState(null, '', location.pathname + location.search);
    return;
  }
  const { design, record, s, step, notes } = read;
  if (design) {
    await bring(design, record);
    history.replaceState(null, '', location.pathname + location.search + (step === undefined ? '' : `#step=${step}`));
    useFile.setState({ refused: null, notes });
  }
  if (s !== undefined) {
    useView.getState().moveTo(s);
    whenPlanned((run) => {
      // The cursor stands at the rail's end; the link asked for more.
      if (s > run + 0.05) refuse([{ field: 's', value: size(s), allowed: range(0, run, 'mm', 1), message: 'is beyond the end of this rail' }]);
    });
  }
  if (step !== undefined) {
    useBuild.getState().goTo(step);
    useView.getState().goTo('build');
  }
}

/** Opens what the address asks for now and whenever it changes. */
export async function startLinks(): Promise<void> {
  window.addEventListener('hashchange', () => void openLink());
  await openLink();
}
