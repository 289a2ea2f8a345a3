/** Opening and saving board files. A file that cannot be read leaves the open board unchanged. */
import { create } from 'zustand';
import type { FieldError } from '../../geometry/design/fields';
import { useDesign } from './design';
import { boardText, NOT_FETCHED, theFiles } from './files';
import { beginBoard, useKeep } from './keep';
import { isEmptyRecord } from '../../geometry/trust/emptyRecord';
import { markSaved } from './saved';

interface FileState {
  /** What was wrong with the last file; null where nothing was, or once its notice is closed. */
  readonly refused: { readonly name: string; readonly errors: readonly FieldError[] } | null;
  /** What there was to say about the last file. */
  readonly notes: readonly string[];
  close(): void;
}

const NONE = { refused: null, notes: [] };

/** The outcome of the last file. */
export const useFile = create<FileState>()((set) => ({
  ...NONE,
  close: () => set(NONE),
}));

/** Greatest file that is read at all, bytes. */
const GREATEST = 4_000_000;

/** A file chosen by the maker, written again at the next save. Only some browsers offer one. */
export interface ChosenFile {
  readonly name: string;
  createWritable(): Promise<{ write(text: string): Promise<void>; close(): Promise<void> }>;
}
let chosen: { readonly file: ChosenFile; readonly board: string } | undefined;

/** Says why a file was not opened. */
export const refuseFile = (name: string, errors: readonly FieldError[]): void => useFile.setState({ refused: { name: `“${name}”`, errors }, notes: [] });

/** Opens a board file: the board takes the place of the present one, or the file is refused with its errors. It is saved `at` its place where that is known. */
export async function openBoard(file: File, at?: ChosenFile): Promise<void> {
  if (file.size > GREATEST) {
    return refuseFile(file.name, [{ field: '', value: `${file.size} bytes`, allowed: `at most ${GREATEST} bytes`, message: 'it is too large' }]);
  }
  const read = await Promise.all([theFiles(), file.text()]).then(([{ readDesign }, text]) => readDesign(text), () => ({ ok: false as const, errors: [NOT_FETCHED] }));
  if (!read.ok) return refuseFile(file.name, read.errors);
  await beginBoard(read.design);
  if (at) chosen = { file: at, board: useKeep.getState().id };
  useFile.setState({ ...NONE, notes: read.notes });
}

/** A file name from a board's name: letters and figures, dashes between; then what kind of file it is. */
const fileName = (board: string, kind = '.board.json'): string =>
  `${board.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '-').replace(/^-|-$/g, '') || 'board'}${kind}`;

/** Hands a text to the maker as a file of a board's own. `kind` is the end of the file's name. */
export function handOver(board: string, kind: string, text: string): void {
  const url = URL.createObjectURL(new Blob([text], { type: kind.endsWith('.csv') ? 'text/csv' : 'application/json' }));
  const link = document.createElement('a');
  link.href = url;
  link.download = fileName(board, kind);
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}

type FileChooser = (options: {
  suggestedName: string;
  types: { description: string; accept: Record<string, string[]> }[];
}) => Promise<ChosenFile>;

/** Said after a board was saved that has a record: it is not in the file. */
const BESIDE = 'What was measured, tried and ticked is in a file of its own: save it under As built.';

/**
 * Saves the board as a file for the maker to keep: into the file chosen before, or one chosen now where the
 * browser offers that (`again` asks for another), else as a download.
 */
export async function saveBoard(again = false): Promise<void> {
  const { design, record } = useDesign.getState();
  // Where the shelf keeps nothing either, a file less well laid out is better than none.
  const text = await theFiles().then(({ writeDesign }) => writeDesign(design), () => boardText(design));
  const beside = isEmptyRecord(record) ? [] : [BESIDE];
  const choose = (window as { showSaveFilePicker?: FileChooser }).showSaveFilePicker;
  if (choose) {
    try {
      if (again || chosen?.board !== useKeep.getState().id) {
        const types = [{ description: 'Board file', accept: { 'application/json': ['.json'] } }];
        chosen = { file: await choose({ suggestedName: fileName(design.name), types }), board: useKeep.getState().id };
      }
      const out = await chosen.file.createWritable();
      await out.write(text);
      await out.close();
      markSaved();
      useFile.setState({ refused: null, notes: [`Saved to ${chosen.file.name}.`, ...beside] });
      return;
    } catch (error) {
      // The maker cancelled.
      if (error instanceof DOMException && error.name === 'AbortError') return;
      // The browser refuses the file (moved, or not allowed): a download still saves the board.
    }
  }
  handOver(design.name, '.board.json', text);
  markSaved();
  if (beside.length > 0) useFile.setState({ refused: null, notes: beside });
}
