/** Opening and saving board files. A file that cannot be read leaves the present board as it is. */
import { create } from 'zustand';
import type { FieldError } from '../../geometry/design/fields';
import { readDesign } from '../../geometry/design/read';
import { writeDesign } from '../../geometry/design/write';
import { useDesign } from './design';

interface FileState {
  /** What was wrong with the last file; null where nothing was, or once it is put away. */
  readonly refused: { readonly name: string; readonly errors: readonly FieldError[] } | null;
  /** What the last file gave occasion to say. */
  readonly notes: readonly string[];
  putAway(): void;
}

/** What came of the last file. */
export const useFile = create<FileState>()((set) => ({
  refused: null,
  notes: [],
  putAway: () => set({ refused: null, notes: [] }),
}));

/** Greatest file that is read at all, bytes. */
const GREATEST = 4_000_000;

/** Opens a board file: the board takes the place of the present one, or the file is refused with its errors. */
export async function openBoard(file: File): Promise<void> {
  if (file.size > GREATEST) {
    const error = { field: '', value: `${file.size} bytes`, allowed: `at most ${GREATEST} bytes`, message: 'the file is too large' };
    useFile.setState({ refused: { name: file.name, errors: [error] }, notes: [] });
    return;
  }
  const read = readDesign(await file.text());
  if (read.ok) {
    useDesign.getState().commit(read.design);
    useFile.setState({ refused: null, notes: read.notes });
  } else {
    useFile.setState({ refused: { name: file.name, errors: read.errors }, notes: [] });
  }
}

/** Saves the board as a file for the maker to keep. */
export function saveBoard(): void {
  const { design } = useDesign.getState();
  const name = design.name.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '-').replace(/^-|-$/g, '') || 'board';
  const url = URL.createObjectURL(new Blob([writeDesign(design)], { type: 'application/json' }));
  const link = document.createElement('a');
  link.href = url;
  link.download = `${name}.board.json`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}
