/** Bench in the browser's tests: a page with a board's lists made, its pages, and what it hands over. */
import type { Page } from 'playwright-core';
import { boardPage, openRoom } from './board';
import type { Visit } from './harness';

/** Until the parts of the plan shown are made. */
export async function settleBench(page: Page): Promise<void> {
  await page.waitForFunction(() => {
    const state = window.railwright?.state();
    return state?.busy === false && state.parts;
  });
}

/** The page of a board that the tests of a file share, in Bench. */
export function benchPage(board: string): () => Promise<Visit> {
  const atBoard = boardPage({ bench: true }, board);
  return async () => {
    const visit = await atBoard();
    await openRoom(visit.page, 'Bench');
    await settleBench(visit.page);
    return visit;
  };
}

export const turnTo = (page: Page, name: string) =>
  page.getByRole('navigation', { name: 'Pages of the bench' }).getByRole('button', { name, exact: true }).click();

/** The bytes of the download that a press starts. */
export async function downloaded(page: Page, press: () => Promise<void>): Promise<{ name: string; bytes: Uint8Array }> {
  const [file] = await Promise.all([page.waitForEvent('download'), press()]);
  const pieces: Buffer[] = [];
  for await (const piece of await file.createReadStream()) pieces.push(piece);
  return { name: file.suggestedFilename(), bytes: new Uint8Array(Buffer.concat(pieces)) };
}
