/** Labels over the stage, measured from their boxes: none covers another, none lies across a leader, and what is hidden has none. The bounds are the project's own choice. */
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { cornersAt, type MeasuredPlace, measured, namedPlaces, placeAtRun } from '../../geometry/rail/measure';
import { sectionAt } from '../../geometry/rail/query';
import { stopsOf } from '../../geometry/rail/laid';
import { boardPage, cursor, FIRST_BOARD, openRoom, openSeed, seedPlan, settle } from './board';
import { expectClean, shareBrowser } from './harness';

shareBrowser();

const atStage = boardPage();

interface Shown {
  readonly text: string;
  readonly kind: string;
  readonly box: readonly [left: number, top: number, right: number, bottom: number];
  /** Of its leader: place across the page, and its two ends. */
  readonly leader: readonly [x: number, top: number, bottom: number] | null;
}

/** The labels that can be seen now. */
const labelsNow = (page: Page): Promise<Shown[]> => page.evaluate(() => [...document.querySelectorAll<HTMLElement>('[data-anchor]')]
  .filter((label) => getComputedStyle(label).visibility === 'visible' && label.offsetWidth > 0)
  .map((label) => {
    const { left, top, right, bottom } = label.getBoundingClientRect();
    const of = (name: string) => label.style.getPropertyValue(name);
    const [length, x, up] = [Number.parseFloat(of('--leader')), left + Number.parseFloat(of('--foot')), of('--over') !== '100%'];
    return {
      text: label.textContent ?? '', kind: label.dataset.kind ?? '', box: [left, top, right, bottom] as const,
      leader: label.dataset.form === 'plain' || !(length > 0) ? null : up ? [x, bottom, bottom + length] as const : [x, top - length, top] as const,
    };
  }));

/** The labels that can be seen, as they stand when the picture has come to rest. */
async function shownLabels(page: Page): Promise<Shown[]> {
  for (let last = ''; ;) {
    await settle(page);
    const labels = await labelsNow(page);
    const now = JSON.stringify(labels);
    if (now === last) return labels;
    last = now;
    await page.waitForTimeout(150);
  }
}

/** What is wrong with how they stand, in words. */
function faultsOf(labels: readonly Shown[]): string[] {
  return labels.flatMap((a, i) => labels.flatMap((b, k) => {
    const faults: string[] = [];
    const over = (l: number, t: number, r: number, d: number) => l < b.box[2] && b.box[0] < r && t < b.box[3] && b.box[1] < d;
    if (k > i && over(...a.box)) faults.push(`${a.text} covers ${b.text}`);
    if (k !== i && a.leader && over(a.leader[0] - 0.5, a.leader[1], a.leader[0] + 0.5, a.leader[2])) faults.push(`the leader of ${a.text} crosses ${b.text}`);
    if (k > i && a.leader && b.leader && Math.abs(a.leader[0] - b.leader[0]) < 2 && a.leader[1] < b.leader[2] && b.leader[1] < a.leader[2]) faults.push(`${a.text} and ${b.text} share a leader`);
    return faults;
  }));
}

const press = (page: Page, name: string) => page.getByRole('toolbar', { name: 'Views' }).getByRole('button', { name, exact: true }).click();
const stops = (labels: readonly Shown[]) => labels.filter(({ kind }) => kind === 'stop');

describe('labels over the stage', () => {
  test('stand clear of one another and of all leaders, on every board, from every side', async () => {
    const visit = await atStage();
    const { page } = visit;
    for (const [seed, width, height] of [[null, 1440, 900], ['child-155', 1280, 720], ['long-275', 1280, 720]] as const) {
      await page.setViewportSize({ width, height });
      if (seed) await openSeed(page, seed);
      await openRoom(page, 'Plan');
      for (const view of ['Above', 'Side', 'End', 'Here', '3/4']) {
        await press(page, view);
        const labels = await shownLabels(page);
        expect(faultsOf(labels), `${seed}, ${view}`).toEqual([]);
        expect(labels.filter(({ kind }) => kind === 'cursor'), `${seed}, ${view}`).toHaveLength(1);
        // After a view that cuts the board the labels of the whole one may be a picture away.
        if (view === '3/4') await expect.poll(async () => stops(await shownLabels(page)).length, { message: `${seed}` }).toBeGreaterThanOrEqual(4);
      }
    }
    // Labels that went with their board left nothing between those that stand.
    expect(await page.evaluate(() => {
      const layer = document.querySelector('[data-anchor]')?.parentElement;
      return [...(layer?.childNodes ?? [document])].filter((node) => !(node instanceof HTMLElement)).length;
    })).toBe(0);
    expectClean(visit);
  });

  test('hide with what they point at, and the view refits until a hand has turned it', async () => {
    const visit = await atStage();
    const { page } = visit;
    await page.setViewportSize({ width: 1440, height: 900 });
    await press(page, '3/4');
    expect(stops(await shownLabels(page)).length).toBeGreaterThan(0);
    await openRoom(page, 'Layers');
    for (const [name, off] of [['Rows', 0], ['Labels', 0]] as const) {
      await page.getByRole('checkbox', { name }).uncheck();
      expect(stops(await shownLabels(page)), name).toHaveLength(off);
      await page.getByRole('checkbox', { name }).check();
    }
    const rail = page.getByRole('group', { name: 'Cut-away rail' });
    await rail.getByRole('button', { name: 'None' }).click();
    expect(stops(await shownLabels(page))).toHaveLength(0);
    await rail.getByRole('button', { name: 'Starboard' }).click();
    await page.getByRole('group', { name: 'The board' }).getByRole('button', { name: 'Finished' }).click();
    expect(await shownLabels(page)).toHaveLength(0);
    await page.getByRole('group', { name: 'The board' }).getByRole('button', { name: 'Its parts' }).click();
    await page.keyboard.press('Escape');

    // Nose and tail stay within the stage as it gets narrower, but where a hand has moved the picture.
    const ends = () => page.evaluate(() => [0, window.railwright?.state()?.length ?? 0].map((x) => window.railwright?.onPage(x, 0, 0)?.x ?? Number.NaN));
    const stage = page.locator('canvas[data-drawn]');
    const within = async () => {
      const box = await stage.boundingBox();
      return (await ends()).every((x) => box !== null && x >= box.x && x <= box.x + box.width);
    };
    await openRoom(page, 'Sizes');
    await settle(page);
    expect(await within()).toBe(true);
    await openRoom(page, 'Plan');
    await settle(page);
    // What is said over the board does not lie over it: no place of the rail's rim is under a line of the headline.
    const { n, x, y, capTop } = seedPlan(FIRST_BOARD).rail.samples;
    const rim = Array.from({ length: Math.ceil(n / 8) }, (_, i) => 8 * i).flatMap((i) => [y[i], -y[i]].map((side) => [x[i], side, capTop[i]] as const));
    const covered = () => page.evaluate((places) => {
      const lines = [...document.querySelectorAll('.Headline_headline > *')].map((line) => line.getBoundingClientRect());
      const at = places.flatMap((place) => window.railwright?.onPage(...place) ?? []);
      return [at.length, at.filter((p) => lines.some(({ left, right, top, bottom }) => p.x > left && p.x < right && p.y > top && p.y < bottom)).length];
    }, rim);
    for (const height of [720, 900]) {
      await page.setViewportSize({ width: height === 720 ? 1280 : 1440, height });
      for (const name of ['Above', '3/4']) {
        await press(page, name);
        await settle(page);
        await expect.poll(covered, { message: `${name} at ${height}` }).toEqual([rim.length, 0]);
        expect(await within()).toBe(true);
      }
    }
    const whole = await ends();
    const box = await stage.boundingBox();
    if (!box) throw new Error('no stage');
    await page.mouse.move(box.x + box.width * 0.5, box.y + box.height * 0.8);
    await page.mouse.wheel(0, -600);
    await settle(page);
    const near = await ends();
    expect(near[1] - near[0]).toBeGreaterThan((whole[1] - whole[0]) * 1.2);
    await page.setViewportSize({ width: 1300, height: 900 });
    await settle(page);
    const after = await ends();
    expect((after[1] - after[0]) / (near[1] - near[0])).toBeCloseTo(1, 2);
    expect(await page.getByRole('toolbar', { name: 'Views' }).locator('[aria-pressed="true"]').count()).toBe(0);
    await press(page, 'Fit');
    await settle(page);
    expect(await within()).toBe(true);
    await press(page, '3/4');
    expectClean(visit);
  });
});

describe('measuring on the picture', () => {
  test('two places pressed, near a rib and a stop, and from the cursor by key: the kernel\'s figures', async () => {
    const visit = await atStage();
    const { page } = visit;
    await page.setViewportSize({ width: 1440, height: 900 });
    await press(page, '3/4');
    const plan = seedPlan(FIRST_BOARD);
    const ribs = [...plan.rail.ribs].sort((a, b) => a.s - b.s);
    await openRoom(page, 'Measure');
    await page.getByRole('region', { name: 'Measure' }).waitFor();
    await settle(page);
    const figure = async (name: string) => Number.parseFloat(await page.locator(`[data-measured="${name}"]`).innerText());
    const shows = async (a: MeasuredPlace, b: MeasuredPlace) => {
      await settle(page);
      const { straight, middle, along } = measured(a, b);
      expect(await figure('straight')).toBeCloseTo(straight, 1);
      expect(await figure('middle')).toBeCloseTo(middle, 1);
      expect(await figure('along')).toBeCloseTo(along ?? Number.NaN, 1);
    };
    // A few px beside a rib and a stop: both are snapped to.
    const stop = namedPlaces(plan).find(({ s, side }) => side === 'starboard' && stopsOf(plan.rail).some((one) => one.end === 'nose' && one.row === 2 && one.s === s));
    if (!stop) throw new Error('no stop');
    const picked = [placeAtRun(plan, ribs[2].s), stop];
    for (const { at: [x, y, z] } of picked) {
      const place = await page.evaluate((of) => window.railwright?.onPage(...of) ?? null, [x, y, z] as const);
      if (!place) throw new Error('no stage');
      await page.mouse.click(place.x, place.y + 3);
      await settle(page);
    }
    await shows(picked[0], picked[1]);
    expect(await page.locator('[data-kind="mark"]').count()).toBe(2);

    // Between ribs and stops it is the edge of a part that a press near it means.
    const face = sectionAt(plan, (ribs[3].s + ribs[4].s) / 2);
    const [upper] = cornersAt(plan, [face.x, face.y, face.capTop]).filter(({ name }) => name === 'edge of the cap').toSorted((a, b) => b.at[1] + b.at[2] - a.at[1] - a.at[2]);
    const edge = await page.evaluate((of) => window.railwright?.onPage(...of) ?? null, [...upper.at] as [number, number, number]);
    if (!edge) throw new Error('no stage');
    await page.mouse.click(edge.x, edge.y + 2);
    await settle(page);
    const from = await page.getByRole('region', { name: 'Measure' }).getByRole('status').innerText();
    expect(from).toMatch(/From edge of (the cap|row \d), \d/);
    expect(Math.abs(Number(/, ([\d.]+) from/.exec(from)?.[1]) - Math.min(upper.station, plan.hull.length - upper.station))).toBeLessThan(12);

    const s = await cursor(page);
    const after = ribs.filter((rib) => rib.s > s + 0.05);
    const next = page.getByRole('button', { name: 'Measure to the next rib' });
    await next.press('Enter');
    await shows(placeAtRun(plan, s), placeAtRun(plan, after[0].s));
    await next.press('Enter');
    await shows(placeAtRun(plan, s), placeAtRun(plan, after[1].s));
    await page.keyboard.press('Escape');
    expect(await page.getByRole('region', { name: 'Measure' }).count()).toBe(0);
    expect(await page.locator('[data-kind="mark"]').count()).toBe(0);
    expect(await page.evaluate(() => document.activeElement?.getAttribute('aria-label'))).toBe('Measure');
    expectClean(visit);
  });
});
