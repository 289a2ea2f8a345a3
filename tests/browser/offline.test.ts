/** Without a network: once seen, the page opens, plans, draws and makes papers' parts from what the browser kept. */
import { expect, inject, test } from 'vitest';
import { openRoom, seedText, settle, visitBoard } from './board';
import { onePage, shareBrowser } from './harness';

shareBrowser();

const atPage = onePage(async () => {
  const visit = await visitBoard('', { serviceWorkers: 'allow' });
  await visit.page.waitForFunction(() => navigator.serviceWorker.controller?.state === 'activated');
  return visit;
});

test('keeps every file of the build, and only its own', async () => {
  const { page } = await atPage();
  const kept = await page.evaluate(async () => {
    const out: string[] = [];
    for (const name of await caches.keys()) for (const { url } of await (await caches.open(name)).keys()) out.push(url);
    return out;
  });
  const origin = new URL(inject('origin')).origin;
  expect(kept.every((url) => url.startsWith(origin))).toBe(true);
  const names = kept.map((url) => new URL(url).pathname);
  for (const wanted of [/\/index\.html$/, /plan\.worker.*\.js$/, /highs.*\.wasm$/, /manifest\.webmanifest$/, /BuildRoom.*\.js$/, /BenchRoom.*\.js$/]) {
    expect(names.some((name) => wanted.test(name))).toBe(true);
  }
});

test('can be installed: manifest, icons of their stated sizes, one scope', async () => {
  const { page, errors } = await atPage();
  const href = await page.locator('link[rel="manifest"]').getAttribute('href');
  const manifest = await page.evaluate((path) => fetch(path ?? '').then((answer) => answer.json()), href) as {
    name: string; display: string; start_url: string; icons: { src: string; sizes: string; type: string; purpose: string }[]; file_handlers: { action: string; accept: Record<string, string[]> }[];
  };
  // W3C Web Application Manifest: what browsers ask for before they offer to install.
  expect(manifest).toMatchObject({ name: 'Railwright', display: 'standalone', start_url: './' });
  expect(manifest.file_handlers.map(({ action, accept }) => [action, Object.values(accept).flat()])).toEqual([['./', ['.board.json', '.json']]]);
  expect(manifest.icons.some(({ purpose }) => purpose === 'maskable')).toBe(true);
  for (const { src, sizes, type } of manifest.icons.filter((icon) => icon.type === 'image/png')) {
    const size = await page.evaluate(async (path) => {
      const answer = await fetch(path);
      const picture = await createImageBitmap(await answer.blob());
      return { type: answer.headers.get('content-type'), sizes: `${picture.width}x${picture.height}` };
    }, src);
    expect(size).toEqual({ type, sizes });
  }
  expect(errors).toEqual([]);
});

test('opens and plans after the network is gone, and after a reload', async () => {
  const visit = await atPage();
  const { page } = visit;
  // What the system would hand over (WICG, Web App Launch Handler API): headless there is no installed page.
  await page.addInitScript(() => Object.defineProperty(window, 'launchQueue', { value: { setConsumer: (take: unknown) => Object.assign(window, { launch: take }) } }));
  const stops = await page.evaluate(() => window.railwright?.state()?.stops);

  await page.context().setOffline(true);
  expect(await page.evaluate(() => fetch(`nothing-here-${Date.now()}`).then(() => 'came', () => 'no network'))).toBe('no network');
  await page.reload();
  await page.locator('canvas[data-drawn]').waitFor();
  await settle(page);
  expect(await page.evaluate(() => window.railwright?.state()?.stops)).toEqual(stops);

  // A change is planned, and a room that was never open before comes too.
  await openRoom(page, 'Sizes');
  const field = page.getByRole('textbox', { name: 'Strip width', exact: true });
  await field.fill('14');
  await field.press('Enter');
  await settle(page);
  expect(await page.evaluate(() => window.railwright?.state()?.stops)).not.toEqual(stops);
  await openRoom(page, 'Shape');
  await page.locator('.lines').first().waitFor();
  await openRoom(page, 'Build');
  await page.getByRole('heading', { name: 'Bottom skin on the bench' }).waitFor();

  // The installed page is given a board file: it opens, and is saved where it came from.
  const written = page.evaluate((text) => new Promise<string>((resolve) => {
    const { launch } = window as unknown as { launch(what: unknown): void };
    const createWritable = async () => ({ write: async (saved: string) => resolve(saved), close: async () => {} });
    launch({ files: [{ name: 'child.board.json', getFile: async () => new File([text], 'child.board.json'), createWritable }] });
  }), seedText('child-155'));
  await page.waitForFunction(() => window.railwright?.state()?.length === 1550);
  await settle(page);
  await page.keyboard.press('Control+s');
  expect(await written).toBe(seedText('child-155'));
  // One that is gone by then is told, and the board stays.
  await page.evaluate(() => (window as unknown as { launch(what: unknown): void }).launch({ files: [{ name: 'gone.board.json', getFile: () => Promise.reject(new DOMException('gone', 'NotFoundError')) }] }));
  expect(await page.getByRole('alertdialog').innerText()).toMatch(/“gone\.board\.json” was not opened[^]*it cannot be read/);
  expect(await page.evaluate(() => window.railwright?.state()?.length)).toBe(1550);
  expect(visit.strays).toEqual([]);
});
