/** Lines in a real browser: opening it, finding its handles and fields, and undoing. */
import type { Locator, Page } from 'playwright-core';
import type { PageState } from '../../src/app/probe';
import { boardPage, openRoom, settle, visitBoard } from './board';
import type { Visit, VisitOptions } from './harness';

/** Lines open on a page, with the outline's points. */
async function toLines({ page }: Visit): Promise<void> {
  await openRoom(page, 'Shape');
  await page.locator('[data-curve="outline"]').waitFor();
  await tool(page, 'Points');
  await curve(page, 'Outline');
  // On a phone the tool just opened stands in sight, the drawing above it.
  await page.locator('.sheet.active').evaluate((sheet) => sheet.scrollIntoView({ block: 'end' }));
  await settle(page);
}

/** The viewer with Lines open and its first picture drawn. */
export async function openLines(options: VisitOptions = {}): Promise<Visit> {
  const visit = await visitBoard('', options);
  await toLines(visit);
  return visit;
}

/** Lines on one page for the tests of a file: see `boardPage`. Comb, comparison and tables stay as they are. */
export function linesPage(): () => Promise<Visit> {
  const board = boardPage();
  return async () => {
    const visit = await board();
    await toLines(visit);
    return visit;
  };
}

export async function stateOf(page: Page): Promise<PageState> {
  const state = await page.evaluate(() => window.railwright?.state() ?? null);
  if (!state) throw new Error('the page has no plan');
  return state;
}

export const handle = (page: Page, id: string) => page.locator(`[data-handle="${id}"]`);
export const field = (page: Page, label: string) => page.getByLabel(label, { exact: true });
export const figure = async (page: Page, label: string) => Number(await field(page, label).inputValue());
export const undo = (page: Page) => page.getByRole('button', { name: 'Undo' });
export const redo = (page: Page) => page.getByRole('button', { name: 'Redo' });
export const path = (page: Page, line: string) => page.locator(`[data-curve="${line}"]`).getAttribute('d');
export const tool = (page: Page, name: string) => page.getByRole('navigation', { name: 'Tools' }).getByRole('button', { name, exact: true }).click();
export const curve = (page: Page, name: string) => page.getByRole('navigation', { name: 'Curves' }).getByRole('button', { name, exact: true }).click();
export const rowsOf = (page: Page) => page.locator('.tool .points tbody tr').count();

/** Middle of a handle on the page. */
export async function middle(target: Locator): Promise<{ x: number; y: number }> {
  const box = await target.locator('.knob').boundingBox();
  if (!box) throw new Error('the handle is not drawn');
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
}

export async function type(page: Page, label: string, text: string): Promise<void> {
  await field(page, label).fill(text);
  await field(page, label).press('Enter');
}

/** Counts the steps that can be undone by undoing them all. */
export async function undoAll(page: Page): Promise<number> {
  let steps = 0;
  while (await undo(page).isEnabled()) {
    await undo(page).click();
    steps += 1;
  }
  return steps;
}
