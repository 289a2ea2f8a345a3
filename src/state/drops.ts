/** Files dropped on the page: a room that is open may take its own kinds; what none takes is a board file. */
import { type ChosenFile, openBoard } from './boardFile';

/** Takes a file (true) or leaves it to the next. */
export type Taker = (file: File) => boolean;

const takers = new Set<Taker>();

/** Lets a room take dropped files while it is open. Returns the call that ends it. */
export function addTaker(taker: Taker): () => void {
  takers.add(taker);
  return () => void takers.delete(taker);
}

/** Hands a dropped file to the room that takes it, or opens it as a board; `at` is where a board is saved again. */
export function takeFile(file: File, at?: ChosenFile): void {
  for (const taker of takers) if (taker(file)) return;
  void openBoard(file, at);
}
