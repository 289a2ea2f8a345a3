/**
 * npm run shots: takes the README's pictures again from the built viewer, so that they stay true. Each one does
 * what a person would do, waits until the board is planned and drawn, and fails on any error in the console.
 */
import { mkdir } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium, type Page } from 'playwright-core';
import { serveSite, startChromium } from './site';

const folder = join(dirname(fileURLToPath(import.meta.url)), 'shots');

interface Shot {
  readonly name: string;
  readonly pose: (page: Page) => Promise<void>;
  readonly viewport?: { readonly width: number; readonly height: number };
  readonly colorScheme?: 'light' | 'dark';
}

const press = (page: Page, name: string) => page.getByRole('button', { name, exact: true }).click();

/** Goes to a room. */
const room = (page: Page, name: string) => page.getByRole('navigation', { name: 'Rooms' }).getByRole('button', { name: new RegExp(`^${name}`) }).click();

/** Chooses an option of a labelled group in the layers panel. */
const choose = (page: Page, group: string, option: string) =>
  page.getByRole('group', { name: group }).getByRole('button', { name: option, exact: true }).click();

const shots: readonly Shot[] = [
  {
    name: 'stage',
    pose: async (page) => {
      await press(page, 'Layers');
      await choose(page, 'Deck skin', 'Lifted');
      await choose(page, 'Colour of the cap', 'Timber');
      await press(page, 'Layers');
    },
  },
  {
    name: 'bevel',
    pose: async (page) => {
      await press(page, 'Layers');
      await choose(page, 'Deck skin', 'Off');
      await choose(page, 'Cut-away rail', 'Both');
      await press(page, 'Layers');
    },
  },
  {
    name: 'station',
    pose: async (page) => {
      for (let rib = 0; rib < 2; rib++) await page.keyboard.press('ArrowDown');
    },
  },
  {
    name: 'bench',
    pose: async (page) => {
      await page.getByRole('button', { name: /^Board: / }).click();
      await page.getByRole('button', { name: /^Begin with .*long board/i }).click();
      await room(page, 'Bench');
      await press(page, 'Cut');
      await page.getByRole('list', { name: 'Stock lengths' }).waitFor();
    },
  },
  {
    name: 'sizes',
    pose: (page) => press(page, 'Sizes'),
  },
  {
    name: 'lines',
    pose: async (page) => {
      await room(page, 'Shape');
      await page.getByRole('region', { name: 'Shape' }).waitFor();
    },
  },
  {
    name: 'build',
    colorScheme: 'dark',
    pose: async (page) => {
      await room(page, 'Build');
      for (let step = 1; step < 7; step++) await page.getByRole('button', { name: 'Next step' }).click();
    },
  },
  {
    name: 'large',
    viewport: { width: 390, height: 780 },
    pose: (page) => page.getByRole('region', { name: 'At the bench' }).waitFor(),
  },
];

/** Two frames after the planner has gone quiet, what is seen is what was asked for. */
async function settle(page: Page): Promise<void> {
  await page.waitForFunction(() => window.railwright?.state()?.busy === false);
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
  await page.waitForTimeout(600);
}

const site = await serveSite();
const server = await startChromium();
try {
  await mkdir(folder, { recursive: true });
  const browser = await chromium.connect(server.wsEndpoint());
  for (const { name, pose, viewport = { width: 1200, height: 750 }, colorScheme = 'light' } of shots) {
    const page = await browser.newPage({ viewport, colorScheme });
    const errors: string[] = [];
    page.on('console', (message) => message.type() === 'error' && errors.push(message.text()));
    page.on('pageerror', (error) => errors.push(error.message));
    await page.goto(site.origin);
    // On a phone it lies under the bench.
    await page.locator('canvas[data-drawn="yes"]').waitFor({ state: 'attached' });
    await pose(page);
    await settle(page);
    await page.screenshot({ path: join(folder, `${name}.jpg`), type: 'jpeg', quality: 85 });
    await page.close();
    if (errors.length > 0) throw new Error(`${name}: the page said ${errors.join('; ')}`);
    console.log(`tests/browser/shots/${name}.jpg`);
  }
} finally {
  await server.close();
  await site.close();
}
