/** Tolerance and as built, as a maker meets them: bands in figures of the kernel, readings typed on a phone without a network. */
import { text as textOf } from 'node:stream/consumers';
import type { Page } from 'playwright-core';
import { describe, expect, inject, test } from 'vitest';
import { planBoard } from '../../geometry/plan';
import { planParts } from '../../geometry/planParts';
import { isFixed } from '../../geometry/rail/laid';
import { sectionAt } from '../../geometry/rail/query';
import { applyReadings, expectedReadings } from '../../geometry/trust/asBuilt';
import type { Readings } from '../../geometry/trust/readings';
import { noReadings } from '../../geometry/trust/emptyRecord';
import { readReadings } from '../../geometry/trust/readingsFile';
import { planTolerance } from '../../geometry/trust/tolerance';
import type { Design } from '../../geometry/design/schema';
import type { Plan } from '../../geometry/types';
import { boardName, boardPage, cursor, FIRST_BOARD, openRoom, ribAtCursor, seedDesign, seedText, settle, visitBoard } from './board';
import { expectClean, newVisit, shareBrowser } from './harness';

shareBrowser();

const atBoard = boardPage();
const PHONE = { viewport: { width: 390, height: 844 }, hasTouch: true };

/** Row, end: what the stop's line of the table says. */
const stopLine = (page: Page, stop: string) => page.locator(`[data-stop="${stop}"] td`).allInnerTexts();

async function type(page: Page, label: string, figure: string): Promise<void> {
  await page.getByLabel(label, { exact: true }).fill(figure);
  await page.getByLabel(label, { exact: true }).press('Enter');
}

/** Undoes by keys: on a phone the button is in a menu. */
async function undo(page: Page): Promise<void> {
  await page.evaluate(() => document.activeElement instanceof HTMLElement && document.activeElement.blur());
  await page.keyboard.press('Control+z');
}

/** Reads whether a reading is on the shelf, by the figure in its file. */
const onShelf = (page: Page) => page.evaluate(async () => (await indexedDB.databases()).length === 0 ? '' : new Promise<string>((resolve, reject) => {
  const open = indexedDB.open('railwright');
  open.onerror = () => reject(open.error);
  open.onsuccess = () => {
    const all = open.result.transaction('readings').objectStore('readings').getAll();
    all.onsuccess = () => {
      resolve((all.result as { text: string }[]).map(({ text }) => text).join('\n'));
      open.result.close();
    };
  };
}));

describe('tolerance', () => {
  const design = seedDesign(FIRST_BOARD);

  test('bands are the kernel’s, on ribbon and card too, and follow a spread that is changed', async () => {
    const visit = await atBoard();
    const { page } = visit;
    const bandsOf = (of: Design) => planTolerance(planBoard(of), { method: 'estimate' });
    const bands = await bandsOf(design);
    await openRoom(page, 'Spreads');
    await page.locator('[data-method="estimate"]').first().waitFor();
    const stop = bands.stops[bands.stops.length - 1];
    const line = `${stop.row} ${stop.end}`;
    const half = (stop.s.high - stop.s.value).toFixed(1);
    expect(await stopLine(page, line)).toEqual([stop.s.value.toFixed(1), `±${half}`, `${stop.s.low.toFixed(1)}, ${stop.s.high.toFixed(1)}`]);
    expect(await page.locator('.TrustLayer_bands').count()).toBe(0);

    await page.getByRole('switch', { name: /^Bands/ }).click();
    await page.locator('.TrustLayer_bands[data-method="estimate"]').waitFor();
    expect(await page.locator('.TrustLayer_range').count()).toBe(bands.stops.filter((one) => !isFixed(one)).length);
    // The card at a rib says that rib's own band.
    const rib = bands.ribs[3];
    await page.evaluate(() => document.activeElement instanceof HTMLElement && document.activeElement.blur());
    for (let i = 0; i < 12 && Math.abs((await cursor(page)) - rib.s) > 0.01; i++) await page.keyboard.press((await cursor(page)) > rib.s ? 'ArrowDown' : 'ArrowUp');
    expect(await cursor(page)).toBeCloseTo(rib.s, 6);
    const gap = Number((await page.locator('[data-band="gap"]').innerText()).replace('±', ''));
    expect(Math.abs(gap - (rib.bands.gap.high - rib.bands.gap.value))).toBeLessThan(0.02);

    // No spread in strips: narrower bands, as the kernel has them.
    await type(page, 'Strips and spacers', '0');
    const even = await bandsOf({ ...design, spread: { ...design.spread, strip: 0 } });
    const narrow = even.stops[even.stops.length - 1];
    await expect.poll(async () => (await stopLine(page, line))[1]).toBe(`±${(narrow.s.high - narrow.s.value).toFixed(1)}`);
    expect(narrow.s.high - narrow.s.value).toBeLessThan((stop.s.high - stop.s.value) * 0.7);
    expectClean(visit);
  });

  test('random trials say that it is shown, is the same for the same seed, and can be stopped', async () => {
    const visit = await atBoard();
    const { page } = visit;
    await openRoom(page, 'Spreads');
    await page.locator('[data-method="estimate"]').first().waitFor();
    await page.getByRole('button', { name: 'Random trials' }).click();
    await page.getByRole('button', { name: 'Stop', exact: true }).click();
    await page.getByText('Stopped.').waitFor();
    // What is shown keeps its own name.
    expect(await page.locator('.shown-method').innerText()).toMatch(/^Shown: quick estimate/);
    await type(page, 'Boards tried', '200');
    await type(page, 'Seed', '5');
    await page.locator('.shown-method[data-method="trials"]').waitFor();
    await expect.poll(() => page.locator('.shown-method').innerText()).toMatch(/200 boards with random sizes \(seed 5\)/);
    const drawn = await planTolerance(planBoard(design), { method: 'trials', runs: 200, seed: 5 });
    const stop = drawn.stops[0];
    expect((await stopLine(page, `${stop.row} ${stop.end}`))[2]).toBe(`${stop.s.low.toFixed(1)}, ${stop.s.high.toFixed(1)}`);
    expectClean(visit);
  });

  test('what matters leads to its rib', async () => {
    const visit = await atBoard();
    const { page } = visit;
    await openRoom(page, 'Spreads');
    const plan = planBoard(design);
    const first = (await planTolerance(plan, { method: 'estimate' })).whatMatters[0];
    const lead = page.locator('.matters button').first();
    await lead.waitFor();
    expect(await lead.innerText()).toContain(`the stop of row ${first.row} toward the ${first.end}`);
    await lead.click();
    const rib = plan.rail.ribs.find(({ index }) => index === first.rib);
    await expect.poll(() => cursor(page)).toBeCloseTo(rib?.s ?? Number.NaN, 6);
    expectClean(visit);
  });
});

describe('as built', () => {
  const plan = planBoard(seedDesign(FIRST_BOARD));

  test('readings typed on a phone without a network correct the plan, are kept, and leave the design alone', async () => {
    const visit = await visitBoard('', { ...PHONE, serviceWorkers: 'allow' });
    const { page } = visit;
    // At a rib with a stop beside it: a reading acts there.
    await page.evaluate((s) => {
      location.hash = `#s=${s}`;
    }, plan.rail.ribs[1].s);
    await expect.poll(() => cursor(page)).toBeCloseTo(plan.rail.ribs[1].s, 3);
    await openRoom(page, 'As built');
    await page.getByRole('heading', { name: 'As built' }).waitFor();
    await expect.poll(() => page.evaluate(() => navigator.serviceWorker.controller?.state === 'activated')).toBe(true);
    await page.context().setOffline(true);
    expect(await page.evaluate(() => fetch(`nothing-here-${Date.now()}`).then(() => 'came', () => 'no network'))).toBe('no network');
    const rib = await ribAtCursor(page, plan);
    const drawn = expectedReadings(plan, rib);
    const depth = Number((drawn.depth + 0.9).toFixed(2));
    await type(page, 'Depth', String(depth));
    // Enter goes to the next field.
    expect(await page.evaluate(() => document.activeElement?.closest('[data-reading]')?.getAttribute('data-reading'))).toBe('sole');
    await page.getByText('1 reading used, at 1 rib.').waitFor();
    const built = applyReadings(plan, { ...noReadings(plan.design.name, plan.design.revision), readings: [{ of: 'rib', rib: rib.index + 1, side: 'starboard', depth }] });
    for (const change of built.changes.filter(({ what }) => what === 'stop')) {
      const cells = await page.locator(`[data-corrected="${change.row} ${change.end}"] td`).allInnerTexts();
      expect(cells.slice(0, 2)).toEqual([change.was?.toFixed(1), change.is?.toFixed(1)]);
    }
    expect(await page.locator('[data-corrected]').count()).toBe(built.changes.filter(({ what }) => what === 'stop').length);
    expect(built.changes.some(({ what }) => what === 'stop')).toBe(true);
    await page.locator('.TrustLayer_drawn [data-moved]').first().waitFor({ state: 'attached' });

    // In large figures too the one as built leads, with what was drawn under it.
    const [was, is] = [plan, built.plan].map((of) => sectionAt(of, rib.s).gap.toFixed(1));
    expect(is).not.toBe(was);
    await openRoom(page, 'At the bench');
    const large = page.getByRole('region', { name: 'At the bench' });
    expect(await large.locator('[data-figure="gap"]').innerText()).toBe(`${is}\ndrawn ${was}`);
    await openRoom(page, 'As built');

    // A reading that cannot be right is named and left out of the count.
    await type(page, 'Cap', '14');
    expect(await page.locator('[data-reading="cap"] .reading-flag').innerText()).toMatch(/cannot be right/);
    await page.getByText('1 reading used, at 1 rib; 1 left out.').waitFor();
    await type(page, 'Cap', 'thick');
    expect(await page.locator('[data-reading="cap"] .field-error').innerText()).toMatch(/thick/);
    await page.getByLabel('Cap', { exact: true }).press('Escape');
    await type(page, 'Cap', '');
    await page.getByText('1 reading used, at 1 rib.').waitFor();

    // The other side has readings of its own.
    await page.locator('.readings').getByRole('button', { name: 'Port' }).click();
    await page.getByText('Nothing is measured on this side yet.').waitFor();
    await page.locator('.readings').getByRole('button', { name: 'Starboard' }).click();

    // The design is untouched: the plan has the stops it had.
    const stops = await page.evaluate(() => window.railwright?.state()?.stops ?? []);
    expect(stops).toHaveLength(2 * plan.rail.rows.length);
    plan.rail.rows.forEach((row, i) => expect(stops[2 * i + 1]).toBeCloseTo(row.nose.s, 6));

    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Save readings' }).click();
    const file = await download;
    expect(file.suggestedFilename()).toBe('reedmere-round-tail-1-75-m.readings.json');
    const read = readReadings(await textOf(await file.createReadStream()));
    expect(read.ok && read.readings.readings).toEqual([{ of: 'rib', rib: rib.index + 1, side: 'starboard', depth }]);

    await expect.poll(() => onShelf(page)).toContain(`"depth":${depth}`);
    await page.reload();
    await settle(page);
    await openRoom(page, 'As built');
    await page.getByText('1 reading used, at 1 rib.').waitFor();
    expect(visit.strays).toEqual([]);
  });

  test('a size of the batch, a bevel and a trial bend are taken on a phone, and undone like anything else', async () => {
    const visit = await visitBoard('', { ...PHONE, bench: true });
    const { page } = visit;
    await openRoom(page, 'As built');
    await page.getByRole('heading', { name: 'As built' }).waitFor();
    await expect.poll(async () => {
      const now = await cursor(page);
      return plan.rail.ribs.some(({ s }) => Math.abs(s - now) < 0.01);
    }).toBe(true);
    const rib = await ribAtCursor(page, plan);
    const bevelDeg = Number(((rib.section.bevel * 180) / Math.PI + 1.25).toFixed(2));
    await type(page, 'Bevel', String(bevelDeg));
    await page.getByText('1 reading used, at 1 rib.').waitFor();
    await page.getByRole('button', { name: 'The batch' }).click();
    await type(page, 'Cap', '12.4');
    await page.locator('[data-reading="cap"] .reading-flag').waitFor();
    const cap = Number((plan.design.rail.capThickness + 0.2).toFixed(2));
    await type(page, 'Cap', String(cap));
    await page.getByText('2 readings used, of the batch and at 1 rib.').waitFor();
    const built = applyReadings(plan, {
      ...noReadings(plan.design.name, plan.design.revision), readings: [{ of: 'batch', cap }, { of: 'rib', rib: rib.index + 1, side: 'starboard', bevelDeg }],
    });
    const row = page.locator(`[data-rib="${rib.index + 1}"] td`);
    const is = built.plan.rail.ribs.find(({ index }) => index === rib.index)?.section;
    expect(await row.nth(0).innerText()).toContain((is?.gap ?? 0).toFixed(1));
    expect(await row.nth(1).innerText()).toContain(`${bevelDeg.toFixed(1)}°`);
    // Port is cut from the same batch.
    await page.locator('.readings').getByRole('button', { name: 'Port' }).click();
    await page.getByText('1 reading used, of the batch.').waitFor();

    await page.locator('.trials summary').click();
    expect(await page.locator('.trials').innerText()).toMatch(/Steam scalds.*springs/s);
    const trial = page.getByRole('group', { name: 'New trial bend' });
    await trial.getByLabel('Radius, to its middle').fill('40');
    await trial.getByLabel('Radius, to its middle').press('Enter');
    await trial.getByRole('button', { name: 'Add the trial bend' }).click();
    await trial.getByText(/tighter than any timber bends/).waitFor();
    await trial.getByLabel('Radius, to its middle').fill('500');
    await trial.getByLabel('Radius, to its middle').press('Enter');
    await trial.getByRole('button', { name: 'Add the trial bend' }).click();
    const strain = ((plan.design.rail.stripWidth / 1000) * 100).toFixed(2);
    await page.locator('.trial-list').getByText(`on edge to 500 mm, cold: held at ${strain} %`).waitFor();
    // The Bending page says what its limits rest on, and Timbers what they come to.
    await openRoom(page, 'Bench');
    const pages = page.getByRole('navigation', { name: 'Pages of the bench' });
    await pages.getByRole('button', { name: 'Cut', exact: true }).click();
    await page.getByText(/^Limit by your trial bend: strips, .* on edge to 500 mm, cold: held at/).waitFor();
    await page.getByText('As drawn: readings of starboard and port change nothing here.').first().waitFor();
    await pages.getByRole('button', { name: 'Buy', exact: true }).click();
    await page.locator('.species .hint', { hasText: 'With the trial bend of your batch: strain it takes cold ' }).first().waitFor({ state: 'attached' });
    await openRoom(page, 'As built');
    await page.locator('.readings .buttons').getByRole('button', { name: 'Undo' }).click();
    await expect.poll(() => page.locator('.trial-list').count()).toBe(0);
    // The size that was left out was a step too.
    await undo(page);
    await undo(page);
    await page.getByText('Nothing is measured on this side yet.').waitFor();
    expect(visit.strays).toEqual([]);
  });

  test('a readings file of another board says so until it is claimed; a broken one changes nothing', async () => {
    const visit = await atBoard();
    const { page } = visit;
    const put = (name: string, text: string) => page.getByTestId('readings-file').setInputFiles({ name, mimeType: 'application/json', buffer: Buffer.from(text) });
    // Of the batch, which moves every stop.
    const readings: Readings['readings'] = [{ of: 'batch', sole: 6.9 }];
    const record = { ...noReadings('Some other board', 'B'), readings };
    // Dropped on whatever page is open it is taken, and As built opens.
    const files = await page.evaluateHandle((content) => {
      const transfer = new DataTransfer();
      transfer.items.add(new File([content], 'other.readings.json', { type: 'application/json' }));
      return transfer;
    }, JSON.stringify(record));
    await page.locator('main').dispatchEvent('drop', { dataTransfer: files });
    await page.getByRole('heading', { name: 'As built' }).waitFor();
    await page.getByText('1 reading used, of the batch.').waitFor();
    await page.getByText(/taken on another board or revision/).first().waitFor();
    await page.getByRole('button', { name: 'They belong to this board' }).click();
    await expect.poll(() => page.getByText(/taken on another board or revision/).count()).toBe(0);
    await openRoom(page, 'Plan');

    // The figures as built lead on card and ribbon; what was drawn stands beside them, labelled, and on a line of its own.
    const built = applyReadings(plan, { ...noReadings(plan.design.name, plan.design.revision), readings });
    const at = await cursor(page);
    const gapOf = (of: Plan, s: number) => sectionAt(of, s).gap.toFixed(1);
    const [was, is] = [gapOf(plan, at), gapOf(built.plan, at)];
    expect(is).not.toBe(was);
    const gap = page.locator('[data-figure="Gap"]');
    const lines = async () => (await gap.innerText()).split('\n');
    expect((await lines()).slice(0, 2)).toEqual([is, `drawn ${was}`]);
    expect(await page.locator('.StationCard_state').innerText()).toMatch(/ · as built$/);
    expect(await page.locator('.Headline_headline p').first().textContent()).toMatch(/^As built: /);
    // A stop that moved by less than is shown says the same either way.
    // In Plan all rows stand; in Build those of the step.
    await openRoom(page, 'Plan');
    const labelled = page.locator('[data-kind="stop"]', { hasText: 'as built' });
    await expect.poll(() => labelled.count()).toBeGreaterThan(0);
    const asBuilt = await labelled.count();
    await openRoom(page, 'As built');
    expect(asBuilt).toBeLessThanOrEqual(await page.locator('[data-moved]').count());
    const rib = plan.rail.ribs.find(({ index }) => index === 2);
    if (!rib) throw new Error('no third rib');
    await openRoom(page, 'As built');
    expect(await page.locator('[data-rib="3"] td').first().innerText()).toBe(`${gapOf(built.plan, rib.s)}\n${gapOf(plan, rib.s)}`);
    const nearer = (s: number) => ((x) => Math.min(x, plan.hull.length - x).toFixed(0))(sectionAt(plan, s).x);
    const labels = await page.locator('.Stack_stop text').allTextContents();
    const moved = built.changes.filter(({ what }) => what === 'stop').map((change) => `${nearer(change.is ?? 0)} drawn ${nearer(change.was ?? 0)}`);
    expect(labels.filter((label) => label.includes('drawn')).length).toBeGreaterThan(0);
    for (const label of labels.filter((l) => l.includes('drawn'))) expect(moved).toContain(label);
    const tick = page.getByLabel('As built leads on ribbon and card');
    await tick.uncheck();
    expect((await gap.textContent())?.startsWith(was)).toBe(true);
    expect(await gap.textContent()).not.toContain('drawn');
    expect(await page.locator('.Stack_stop tspan').count()).toBe(0);
    await tick.check();

    await put('broken.readings.json', JSON.stringify({ ...record, readings: [{ of: 'rib', rib: 3, side: 'starboard', sole: -4 }] }));
    await page.getByRole('heading', { name: 'broken.readings.json was not opened' }).waitFor();
    expect(await page.locator('.FileNoticeOpen_notice table').innerText()).toMatch(/readings\[0\]\.sole.*−4.*0 to 80/s);
    await page.getByRole('button', { name: 'Close', exact: true }).first().click();
    await page.getByText('1 reading used, of the batch.').waitFor();
    expectClean(visit);
  });

  test('a stop as built that moved far says what its row is cut to at the bench', async () => {
    const visit = await visitBoard('', { ...PHONE, bench: true });
    const { page } = visit;
    const readings: Readings['readings'] = [{ of: 'batch', sole: 5.1 }];
    const built = applyReadings(plan, { ...noReadings(plan.design.name, plan.design.revision), readings }).plan;
    const row = built.rail.rows[2];
    // Beyond the strip as drawn, farther than an end may lie from it.
    expect(row.nose.s - plan.rail.rows[2].nose.s).toBeGreaterThan(1);
    const { joints } = await planParts(plan, { built: { starboard: built, port: built } });
    const lengths = joints?.pieces.filter(({ side, strip }) => side === 'starboard' && strip.kind === 'row' && strip.order === row.row).map(({ length }) => length.toFixed(1));
    await openRoom(page, 'As built');
    await page.getByRole('button', { name: 'The batch' }).click();
    await type(page, 'Sole', '5.1');
    await page.getByText('1 reading used, of the batch.').waitFor();
    await page.evaluate((s) => {
      location.hash = `#s=${s}`;
    }, row.nose.s);
    await openRoom(page, 'At the bench');
    const face = page.getByRole('region', { name: 'At the bench' });
    await face.getByRole('button', { name: 'Stops', exact: true }).tap();
    await expect.poll(() => face.locator(`[data-figure="cut row ${row.row} to"]`).innerText(), { timeout: 20_000 }).toBe(lengths?.join(' + '));
    expectClean(visit);
  });

  test('a shelf from before readings keeps its boards', async () => {
    const visit = await newVisit({ reducedMotion: 'reduce' });
    const { page } = visit;
    const origin = inject('origin');
    const name = 'From an older shelf';
    const text = seedText(FIRST_BOARD).replace('Reedmere round tail, 1.75 m', name);
    // A page of the same origin that runs nothing of the program.
    await page.route('**/older.html', (route) => route.fulfill({ contentType: 'text/html', body: '<title>older</title>' }));
    await page.goto(new URL('older.html', origin).href);
    await page.evaluate(([boardText, boardName]) => new Promise<void>((resolve, reject) => {
      const open = indexedDB.open('railwright', 1);
      open.onupgradeneeded = () => {
        open.result.createObjectStore('boards', { keyPath: 'id' }).createIndex('at', 'at');
        open.result.createObjectStore('snapshots', { keyPath: 'id' }).createIndex('board', 'board');
      };
      open.onerror = () => reject(open.error);
      open.onsuccess = () => {
        const work = open.result.transaction('boards', 'readwrite');
        work.objectStore('boards').put({ id: 'older', name: boardName, text: boardText, at: 1 });
        work.oncomplete = () => {
          open.result.close();
          localStorage.setItem('railwright-last', 'older');
          resolve();
        };
      };
    }), [text, name] as const);
    await page.goto(origin);
    await settle(page);
    expect(await boardName(page)).toBe(name);
    await openRoom(page, 'As built');
    await type(page, 'Sole', '6.1');
    await expect.poll(() => onShelf(page)).toContain('"sole":6.1');
    expectClean(visit);
  });
});
