/** Bench as a maker uses it: its lists against the kernel's own figures, the way to a place and back, papers, timber, and bad stock. */
import { unzipSync } from 'fflate';
import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, inject, test } from 'vitest';
import { stripName } from '../../geometry/parts/stripWords';
import { bendsAt } from '../../geometry/parts/bendsAt';
import { decisionsOf } from '../../geometry/rail/decisions';
import { bendText } from '../../src/say/bendWords';
import { planBlanks } from '../../geometry/parts/blanks';
import type { Parts } from '../../geometry/parts/types';
import { planBoard } from '../../geometry/plan';
import { sectionAt } from '../../geometry/rail/query';
import { planTolerance } from '../../geometry/trust/tolerance';
import type { Plan } from '../../geometry/types';
import { makePapers, type Paper } from '../../src/papers';
import { cutStockLengths, shopTable } from '../../src/papers/listTables';
import { columnAt } from '../../src/papers/tables';
import { railEvents } from '../../src/papers/railTables';
import { seedBench } from '../support/papers';
import { cursor, openRoom, PHONE, typePlace } from './board';
import { benchPage, downloaded, settleBench as settle, turnTo } from './benchPage';
import { expectClean, newVisit, shareBrowser } from './harness';

shareBrowser();

const BOARD = 'long-275';
const DATE = '2031-02-28';
let plan: Plan;
let parts: Parts;
let papers: readonly Paper[];
let shoppingCost: number;

beforeAll(async () => {
  ({ plan, parts } = await seedBench(BOARD));
  const shop = shopTable(plan, parts);
  shoppingCost = shop.rows.reduce((sum, row) => sum + Number(row[columnAt(shop, 'cost')]), 0);
  const trust = { bands: await planTolerance(plan, { method: 'estimate' }) };
  papers = await makePapers(plan, parts, { date: DATE, paper: 'A4', units: 'mm', trust });
});

const openBench = benchPage(BOARD);

/** Cells of a list, row by row. */
async function cellsOf(page: Page, label: string): Promise<string[][]> {
  const rows = page.getByRole('table', { name: label, exact: true }).locator('tbody tr');
  await rows.first().waitFor();
  return rows.evaluateAll((all) => all.map((row) => [...row.querySelectorAll('td')].map((cell) => cell.textContent ?? '')));
}

describe('lists', () => {
  test('say what the kernel says: ribs, what is met, joints, cuts, money and mass', async () => {
    const visit = await openBench();
    const { page } = visit;

    await turnTo(page, 'Measure');
    await page.getByRole('button', { name: 'Tail to nose', exact: true }).click();
    const met = await cellsOf(page, 'Tail to nose');
    const events = railEvents(plan, parts);
    expect(met.length).toBe(events.length);
    events.forEach((event, i) => {
      expect(met[i][1]).toContain(event.what);
      expect(Number(met[i][2])).toBeCloseTo(event.s, 1);
    });
    expect(events.some(({ kind }) => kind === 'joint')).toBe(true);

    await page.getByRole('button', { name: 'At the ribs', exact: true }).click();
    const ribs = await cellsOf(page, 'The rail at each rib');
    expect(ribs.length).toBe(plan.rail.ribs.length);
    plan.rail.ribs.forEach((rib, i) => {
      const [name, station, gap, rows, , bevel] = ribs[i];
      expect(name).toBe(`Rib ${rib.index + 1}`);
      expect(Number(station)).toBeCloseTo(rib.x, 1);
      expect(Number(gap)).toBeCloseTo(rib.section.gap, 1);
      expect(Number(rows)).toBe(rib.section.rows);
      expect(Number(bevel.replace('−', '-').replace('°', ''))).toBeCloseTo((rib.section.bevel * 180) / Math.PI, 1);
    });

    await turnTo(page, 'Cut');
    const { proof } = parts.joints ?? {};
    expect(proof?.optimal).toBe(true);
    expect(await page.getByTestId('proof').textContent()).toContain(`${proof?.pieces} pieces`);
    expect(await page.getByTestId('proof').textContent()).toContain('Proved');
    const pieces = cutStockLengths(parts).flatMap((stockLength) => stockLength.pieces);
    const cuts = await cellsOf(page, 'Cut list');
    cuts.forEach((row, i) => {
      const { piece: { strip, side, length }, number } = pieces[i];
      expect(row[0]).toBe(String(number));
      expect(row[1].startsWith(stripName(strip)), row[1]).toBe(true);
      expect(row[2]).toBe(side);
      expect(Number(row[3])).toBeCloseTo(length, 1);
    });
    expect(cuts.length).toBe(pieces.length);
    // A row's ends are its stops, each from its own end of the board; what ends elsewhere says that it is on a joint.
    const whole = plan.rail.rows.filter((row) => pieces.filter(({ piece }) => piece.strip.order === row.row && piece.strip.kind === 'row').length > 0);
    expect(whole.length).toBeGreaterThan(0);
    for (const row of whole) {
      const own = cuts.filter((cells) => cells[1].startsWith(`Row ${row.row}`) && cells[2] === 'starboard');
      expect(own.map((cells) => cells[4])).toContain(row.tail.x.toFixed(1));
      expect(own.map((cells) => cells[5])).toContain((plan.hull.length - row.nose.x).toFixed(1));
      expect(own.flatMap((cells) => cells.slice(4, 6)).filter((cell) => cell.startsWith('joint')).length).toBe(2 * (own.length - 1));
    }
    expect((await cellsOf(page, 'Joints')).length).toBe(parts.joints?.joints.length);

    await turnTo(page, 'Buy');
    const totals = await cellsOf(page, 'Timber: volume, mass and money');
    const all = totals.find(([part]) => part === 'all timber');
    expect(Number(all?.[3])).toBeCloseTo(parts.totals?.mass ?? Number.NaN, 2);
    expect(Number(all?.[4])).toBeCloseTo(parts.totals?.cost ?? Number.NaN, 2);
    expect(await page.getByRole('group', { name: /^Mass/ }).textContent()).toContain(`${parts.totals?.saving.mass.toFixed(2)} kg`);

    await turnTo(page, 'Cut');
    for (const bent of parts.bending) {
      const zones = await cellsOf(page, `Zones of ${stripName(bent.strip)}`);
      expect(zones.length).toBe(bent.zones.length);
      bent.zones.forEach((zone, i) => {
        expect(Number(zones[i][1])).toBeCloseTo(zone.s0, 1);
        expect(Number(zones[i][5].replace(' %', ''))).toBeCloseTo(zone.strain * 100, 1);
      });
    }
    expectClean(visit);
  });

  test('lead to a place on ribbon and card, and mark the line where the cursor is', async () => {
    const visit = await openBench();
    const { page } = visit;
    await turnTo(page, 'Measure');
    await page.getByRole('button', { name: 'At the ribs', exact: true }).click();
    const rib = plan.rail.ribs[2];
    await page.getByRole('button', { name: 'Rib 3', exact: true }).click();
    expect(await cursor(page)).toBeCloseTo(rib.section.s, 6);
    const slider = page.getByRole('slider', { name: 'Station cursor, along the rail from the tail' });
    expect(Number(await slider.getAttribute('aria-valuenow'))).toBe(Math.round(rib.section.s));
    const peek = page.getByRole('complementary', { name: 'The chosen line' });
    expect(await peek.getByRole('heading').textContent()).toBe('Rib 3');
    expect(await peek.locator('dd').first().textContent()).toBe(sectionAt(plan, rib.section.s).gap.toFixed(1));
    const near = page.getByRole('table', { name: 'The rail at each rib' }).locator('tr[aria-current="location"]');
    expect(await near.textContent()).toContain('Rib 3');

    // And back: the cursor moved elsewhere marks the rib nearest to it.
    const last = plan.rail.ribs[plan.rail.ribs.length - 1];
    const moveTo = (s: number) => page.evaluate((run) => {
      location.hash = `#s=${run}`;
    }, s.toFixed(1));
    await moveTo(last.section.s + 20);
    await expect.poll(() => near.textContent()).toContain(`Rib ${last.index + 1}`);

    // A long list brings the line into sight.
    await page.getByRole('button', { name: 'Tail to nose', exact: true }).click();
    await moveTo(1);
    await moveTo(plan.rail.face.length);
    const line = page.getByRole('table', { name: 'Tail to nose' }).locator('tr[aria-current="location"]');
    await expect.poll(async () => {
      const [box, frame] = [await line.boundingBox(), await page.locator('.bench-page').boundingBox()];
      return box !== null && frame !== null && box.y >= frame.y && box.y + box.height <= frame.y + frame.height + 1;
    }).toBe(true);
    expectClean(visit);
  });

  test('ribbon and card know the joints and the bend, and findings count the bench\'s own', async () => {
    const visit = await openBench();
    const { page } = visit;
    await openRoom(page, 'Plan');
    const { joints = [] } = parts.joints ?? {};
    // Joints of the two sides at one place are one mark.
    const marks = new Set(joints.map((joint) => `${stripName(joint.strip)} ${joint.s.toFixed(1)}`));
    expect(await page.locator('.PartsLayer_joint').count()).toBe(marks.size);
    const zones = parts.bending.flatMap((bent) => bent.zones.filter(({ method }) => method !== 'cold'));
    expect(await page.locator('.PartsLayer_zone').count()).toBe(zones.length);

    const joint = joints.find(({ side, strip }) => side === 'starboard' && strip.kind === 'row');
    await page.locator('.PartsLayer_joint', { hasText: `${stripName(joint?.strip ?? { kind: 'sole', order: 0, stretch: 1 })}:` }).first().dispatchEvent('click');
    expect(joints.map(({ s }) => s.toFixed(3))).toContain((await cursor(page)).toFixed(3));

    const s = 2500;
    await typePlace(page, 'Along the rail from tail', String(s));
    for (const { strip, radius, strain, ...by } of bendsAt(parts.bending, s)) {
      const row = page.locator(`.BendingHere_bending tr[data-strip="${stripName(strip)}"]`);
      expect(await row.locator('td').allTextContents()).toEqual([
        radius.toFixed(0), `${(strain * 100).toFixed(2)} %`, bendText(by),
      ]);
    }
    const decisions = decisionsOf([...plan.findings, ...parts.findings], plan.hull.length).length;
    expect(await page.getByRole('navigation', { name: 'Rooms' }).getByRole('button', { name: /^Plan/ }).textContent()).toBe(`Plan${decisions === 0 ? 'nothing to decide' : decisions === 1 ? '1 decision' : `${decisions} decisions`}`);
    expectClean(visit);
  });
});

describe('papers', () => {
  test('come in one zip, the very bytes that the command line writes', async () => {
    const visit = await openBench();
    const { page } = visit;
    await page.getByRole('button', { name: 'All papers' }).click();
    await page.getByLabel('Date', { exact: true }).fill(DATE);
    const everything = page.getByRole('button', { name: 'Download everything, one zip' });
    await page.getByText('Ribs, full size on A4').waitFor();
    const { name, bytes } = await downloaded(page, () => everything.click());
    expect(name).toMatch(/^reedmere-long-board.*-everything\.zip$/);
    const files = unzipSync(bytes);
    expect(Object.keys(files).sort()).toEqual(papers.map((paper) => paper.path).sort());
    const differ = papers.filter((paper) => Buffer.compare(Buffer.from(files[paper.path]), Buffer.from(paper.bytes)) !== 0);
    expect(differ.map((paper) => paper.name)).toEqual([]);
    expectClean(visit);
  });

  test('can be looked at, and taken one by one or the chosen together', async () => {
    const visit = await openBench();
    const { page } = visit;
    await page.getByRole('button', { name: 'All papers' }).click();
    await page.getByLabel('Date', { exact: true }).fill(DATE);
    const ribs = page.locator('[data-paper="ribs.svg"]');
    await ribs.getByRole('button', { name: 'Preview' }).click();
    const picture = ribs.locator('.preview img');
    await picture.waitFor();
    expect(await picture.evaluate((image: HTMLImageElement) => image.decode().then(() => image.naturalWidth))).toBeGreaterThan(100);
    const sheet = await downloaded(page, () => page.getByRole('button', { name: 'Download Bench sheet, PDF' }).click());
    expect(new TextDecoder().decode(sheet.bytes.slice(0, 5))).toBe('%PDF-');
    await page.getByRole('checkbox', { name: 'Cut list: strips and spacers' }).check();
    await page.getByRole('checkbox', { name: 'Shopping list' }).check();
    const { name, bytes } = await downloaded(page, () => page.getByRole('button', { name: 'Download the 2 chosen, one zip' }).click());
    expect(name).toMatch(/-chosen\.zip$/);
    expect(Object.keys(unzipSync(bytes)).map((file) => file.replace(/^(\w+\/).*-rev-[a-z]-/, '$1')).sort()).toEqual(['lists/cut-list.csv', 'lists/shopping.csv']);
    await page.getByLabel('Date', { exact: true }).fill('');
    await expect.poll(() => page.getByRole('alert').textContent()).toContain('date');
    expectClean(visit);
  });

  test('can be given up, and asked for again', async () => {
    const visit = await openBench();
    const { page } = visit;
    await page.getByRole('button', { name: 'All papers' }).click();
    await page.getByLabel('Date', { exact: true }).fill(DATE);
    let files = 0;
    const count = () => {
      files += 1;
    };
    page.on('download', count);
    const everything = page.getByRole('button', { name: 'Download everything, one zip' });
    await everything.click();
    await page.getByRole('button', { name: 'Stop', exact: true }).click();
    await expect.poll(() => everything.isEnabled()).toBe(true);
    expect(await page.getByRole('progressbar').count()).toBe(0);
    // One asked for later comes; none came before it.
    const sheet = await downloaded(page, () => page.getByRole('button', { name: 'Download Shopping list, CSV' }).click());
    expect(new TextDecoder().decode(sheet.bytes)).toContain('Flat strip');
    expect(files).toBe(1);
    page.off('download', count);
    expectClean(visit);
  });
});

test('pieces are ticked off as they are cut: kept, counted at the head and in the room’s status, undone; the chosen line has its figures', async () => {
  const visit = await openBench();
  const { page } = visit;
  await turnTo(page, 'Cut');
  const all = cutStockLengths(parts).flatMap(({ pieces }) => pieces);
  const room = page.getByRole('navigation', { name: 'Rooms' }).getByRole('button', { name: /^Bench/ });
  await expect.poll(() => room.textContent()).toContain(`€${shoppingCost.toFixed(0)} to buy`);
  const tick = (n: number) => page.getByRole('checkbox', { name: new RegExp(`^Piece ${n}, .* is cut$`) });
  await tick(2).check();
  await tick(3).check();
  await page.getByText(`2 of ${all.length} cut`).waitFor();
  await expect.poll(() => room.textContent()).toContain(`${all.length - 2} of ${all.length} to cut`);
  // Kept under the piece's own name, and one step of history each.
  const kept = await page.evaluate(() => document.querySelectorAll('.cut-list [data-done]').length);
  expect(kept).toBe(2);
  await page.getByRole('button', { name: 'Undo' }).click();
  expect([await tick(2).isChecked(), await tick(3).isChecked()]).toEqual([true, false]);

  const row = all.find(({ piece }) => piece.strip.kind === 'row');
  if (!row) throw new Error('no row');
  await page.getByRole('button', { name: new RegExp(`^Piece ${row.number}:`) }).focus();
  const peek = page.getByRole('complementary', { name: 'The chosen line' });
  expect(await peek.getByRole('heading').textContent()).toContain(stripName(row.piece.strip));
  expect(await peek.locator('dd').first().textContent()).toBe(row.piece.length.toFixed(1));
  expect(await page.locator('.Stack_row[data-picked]').count()).toBe(plan.rail.rows.filter((one) => one.row === row.piece.strip.order).length);
  await page.getByRole('button', { name: 'Undo' }).click();

  // The files are always in reach.
  const laser = await downloaded(page, () => page.getByRole('button', { name: 'Laser files' }).click());
  expect(laser.name).toMatch(/-laser\.zip$/);
  expect(Object.keys(unzipSync(laser.bytes)).every((path) => path.startsWith('laser/'))).toBe(true);
  // The bench sheet is looked at before it is saved: page by page, larger and smaller, the focus back where it was.
  const sheetButton = page.getByRole('button', { name: 'Bench sheet', exact: true });
  await sheetButton.click();
  const view = page.getByRole('region', { name: 'Bench sheet, preview' });
  const picture = view.getByRole('img');
  await picture.waitFor();
  const turned = async () => [await view.locator('output').textContent(), await picture.getAttribute('alt'), await picture.evaluate((image: HTMLImageElement) => image.decode().then(() => image.naturalWidth > 500))];
  expect(await turned()).toEqual([expect.stringMatching(/^Page 1 of \d+$/), 'Page 1: Bench sheet', true]);
  await view.getByRole('button', { name: 'Next page' }).press('Enter');
  expect(await turned()).toEqual([expect.stringMatching(/^Page 2 of \d+$/), expect.stringMatching(/^Page 2: /), true]);
  const wide = async () => (await picture.boundingBox())?.width ?? 0;
  const before = await wide();
  await view.getByRole('button', { name: 'Zoom in' }).press('Enter');
  expect(await wide()).toBeGreaterThan(1.3 * before);
  const sheet = await downloaded(page, () => view.getByRole('button', { name: 'Save the PDF' }).click());
  expect(new TextDecoder().decode(sheet.bytes.slice(0, 5))).toBe('%PDF-');
  await page.keyboard.press('Escape');
  expect(await sheetButton.evaluate((e) => e === document.activeElement)).toBe(true);
  expectClean(visit);
});

test('working the lists out can be stopped and taken up again', async () => {
  const visit = await newVisit({ bench: true, viewport: { width: 1440, height: 900 }, reducedMotion: 'reduce', serviceWorkers: 'block' });
  const { page } = visit;
  // A solver that never comes: without it the work takes as long as it likes.
  await page.route(/\.wasm$/, () => undefined);
  await page.goto(inject('origin'));
  await page.locator('canvas[data-drawn]').waitFor();
  await openRoom(page, 'Bench');
  await page.getByText('Working out the lists: Joints and cutting').waitFor();
  await page.getByRole('button', { name: 'Stop', exact: true }).click();
  await page.getByText('Stopped: the lists are not worked out.').waitFor();
  expect(await page.getByRole('table', { name: 'Cut list' }).count()).toBe(0);
  await page.unrouteAll({ behavior: 'ignoreErrors' });
  await page.getByRole('button', { name: 'Continue' }).click();
  await settle(page);
  expect((await cellsOf(page, 'Cut list')).length).toBeGreaterThan(9);
  expectClean(visit);
});

describe('timber', () => {
  test('a figure out of range is told beside its field, and the board stays', async () => {
    const visit = await openBench();
    const { page } = visit;
    await turnTo(page, 'Buy');
    await typePlace(page, 'Saw kerf', '40');
    const told = page.getByRole('alert');
    await expect.poll(() => told.textContent()).toContain('too large');
    expect(await told.textContent()).toContain('0 to 6 mm');
    expect(await page.getByLabel('Saw kerf', { exact: true }).getAttribute('aria-invalid')).toBe('true');
    await page.getByLabel('Saw kerf', { exact: true }).press('Escape');
    expect(await page.getByLabel('Saw kerf', { exact: true }).inputValue()).toBe('2.4');
    expectClean(visit);
  });

  test('a species of one\'s own bends as it says', async () => {
    const visit = await openBench();
    const { page } = visit;
    await turnTo(page, 'Buy');
    await page.getByRole('button', { name: 'Add', exact: true }).click();
    const own = page.locator('.species details', { hasText: 'my batch' });
    await own.getByLabel('Strain it takes in wet heat', { exact: true }).fill('20');
    await own.getByLabel('Strain it takes in wet heat', { exact: true }).press('Enter');
    await page.getByLabel('Sole, rows and cap').selectOption({ label: 'Shed cedar, batch 7 (invented), my batch' });
    await settle(page);
    await turnTo(page, 'Cut');
    const states = (await cellsOf(page, 'Zones of Sole')).map(([state]) => state);
    expect(states).not.toContain('needs a block');
    expect(states).toContain('wet heat');
    expectClean(visit);
  });

  test('outer skins are butted on a block, where there is one: ribbon, blanks and board follow', async () => {
    const visit = await openBench();
    const { page } = visit;
    const ended = (['tail', 'nose'] as const).filter((end) => plan.rail.ends[end]);
    const [end] = ended.filter((one) => plan.rail.ends[one]?.cause === 'bend');
    await turnTo(page, 'Cut');
    expect(await page.getByLabel(/^Outer skins at the .* block$/).count()).toBe(ended.length);
    const bar = page.locator('section[aria-label^="Ribbon"]').getByRole('img', { name: new RegExp(`^${end} block`, 'i') });
    expect(await bar.getAttribute('aria-label')).not.toContain('butt');
    await page.getByLabel(`Outer skins at the ${end} block`).selectOption('butted');
    await settle(page);
    await expect.poll(() => bar.getAttribute('aria-label')).toContain('the outer skins butt on it');
    const design = { ...plan.design, ends: { ...plan.design.ends, [end]: { block: plan.design.ends?.[end]?.block ?? 'ring', skins: 'butted' as const } } };
    const butted = planBlanks(planBoard(design)).blanks;
    expect(butted[0].length).toBeLessThan(parts.blanks[0].length - 30);
    await expect.poll(() => page.locator('.bench-page').textContent()).toContain(butted[0].length.toFixed(1));
    expectClean(visit);
  });

  test('stock shorter than the way between two tabs is told with what and where, and all other papers come out', async () => {
    const visit = await openBench();
    const { page } = visit;
    await turnTo(page, 'Buy');
    await typePlace(page, 'Shortest piece', '150');
    const strips = page.getByRole('group', { name: /^Flat strips/ });
    await strips.getByRole('button', { name: /^Remove .* 2$/ }).click();
    await strips.getByLabel(/length$/).fill('200');
    await strips.getByLabel(/length$/).press('Enter');
    await settle(page);

    await turnTo(page, 'Cut');
    const told = await page.locator('.missing').first().textContent();
    expect(told).toMatch(/Sole cannot be made: \d+ mm from .* to rib \d+ has no place for a joint, and the longest stock length of strips is 200 mm/);
    expect(told).toMatch(/Cap cannot be made/);
    await page.locator('.missing').first().getByRole('button', { name: /^Sole cannot be made/ }).click();
    expect(await cursor(page)).toBeCloseTo(plan.rail.sole.s0, 3);
    expect((await cellsOf(page, 'Cut list')).every(([, strip]) => strip.startsWith('Row'))).toBe(true);

    for (const name of ['Cut', 'Frames']) {
      await turnTo(page, name);
      expect(await page.locator('.bench-page .flat').count()).toBeGreaterThan(2);
    }
    await openRoom(page, 'Decisions');
    await page.locator('.findings').getByText(/^Sole cannot be made/).waitFor();
    await openRoom(page, 'Bench');

    await page.getByRole('button', { name: 'All papers' }).click();
    await page.getByLabel('Date', { exact: true }).fill(DATE);
    await page.getByText('Ribs, full size on A4').waitFor();
    const { bytes } = await downloaded(page, () => page.getByRole('button', { name: 'Download everything, one zip' }).click());
    expect(Object.keys(unzipSync(bytes)).sort()).toEqual(papers.map((paper) => paper.path).sort());
    expect(await page.getByText('could not be made').count()).toBe(0);
    expectClean(visit);
  });
});

test('fits a phone: nothing runs off the page, and a line still leads', async () => {
  const visit = await openBench();
  const { page } = visit;
  await page.setViewportSize(PHONE.viewport);
  for (const name of ['Buy', 'Cut', 'Frames', 'All papers', 'Measure']) {
    if (name === 'All papers') await page.getByRole('button', { name }).click();
    else await turnTo(page, name);
    await page.locator('.bench-page > *').first().waitFor();
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    expect(await page.locator('.bench-page').evaluate((element) => element.scrollWidth - element.clientWidth), name).toBeLessThanOrEqual(1);
  }
  await page.getByRole('button', { name: 'At the ribs', exact: true }).click();
  await page.getByRole('button', { name: 'Rib 5', exact: true }).click();
  expect(await cursor(page)).toBeCloseTo(plan.rail.ribs[4].section.s, 6);
  expectClean(visit);
});
