/**
 * A point of a curve dragged, move by move: how many moves are shown with a plan of their own, what each costs the page's main
 * thread and the planner's by stage, and the bytes that go to the page and to the card. Moves are sent by the clock, and nobody
 * waits for what the page makes of them, as a hand does not. The station scrubbed in the same run says what the machine can show without any planning.
 */
import { type Browser, chromium, type Page } from 'playwright-core';
import type { Site } from '../browser/site';
import { DESK, dragged, holdPoint, idle, open, paced, type Place, plainChromium, sharedSite, type Size, stagesOf, traced, watch } from './browsing';
import { kB, ms, type Section } from './report';
import { quantile } from './timing';

const LARGE: Size = { width: 2560, height: 1440 };
/** Moves of a gesture, and the seconds after which no more are sent. */
const MOVES = 120;
const LONGEST = 8;
/** Moves slow enough that each has a plan of its own, and how many must have one. */
const SLOW = { moves: 16, drafts: 8 } as const;
/** Main-thread work, ms, and worker's, that a plan shown may take; bytes a plan to the page and to the card; what a large window may cost more. */
const LIMITS = { main: 12, scrub: 1000 / 60, worker: 10, bytes: 150_000, large: 1.1 } as const;
/** What a figure shown in a drag may differ by from the one that the release shows: mm, and radians. */
const APART = { mm: 0.05, angle: (0.02 * Math.PI) / 180 } as const;

const nameOf = ({ width, height }: Size): string => `${width} x ${height}`;

interface Gesture {
  readonly what: string;
  readonly sent: number;
  readonly seconds: number;
  /** Plans or stations shown, and ms from one shown to the next. */
  readonly shown: number;
  readonly gaps: readonly number[];
  /** Processor time of the main thread and of the planner's, ms in all, and the main thread's by stage. */
  readonly main: number;
  readonly worker: number;
  readonly stages: ReadonlyMap<string, number>;
}

async function gesture(browser: Browser, page: Page, what: string, of: 'plan' | 'station', rate: number, places: readonly Place[]): Promise<Gesture> {
  const seen = await watch(page, of);
  const { events, made } = await traced(browser, page, async () => {
    const begun = performance.now();
    const sent = await paced(page, rate, places, LONGEST);
    await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
    return { sent, seconds: (performance.now() - begun) / 1000 };
  });
  const at = await seen();
  if (at.length < 5) throw new Error(`${what}: of ${made.sent} moves ${at.length} were shown; the machine is too busy to measure on`);
  return { what, ...made, shown: at.length, gaps: at.slice(1).map((t, i) => t - at[i]), ...stagesOf(events) };
}

async function scrub(browser: Browser, page: Page, size: Size): Promise<Gesture> {
  const box = await page.locator('[data-area="ribbon"] svg:has([role="slider"])').boundingBox();
  if (!box) throw new Error('the ribbon is not drawn');
  const place = (i: number): Place => ({ x: box.x + box.width * (0.3 + (0.4 * i) / MOVES), y: box.y + box.height / 2 });
  await page.mouse.move(place(0).x, place(0).y);
  await page.mouse.down();
  const made = await gesture(browser, page, `${nameOf(size)}, the station scrubbed, 60 moves a second`, 'station', 60, Array.from({ length: MOVES }, (_, i) => place(i + 1)));
  await page.mouse.up();
  return made;
}

async function drag(browser: Browser, page: Page, size: Size, rate: number): Promise<Gesture> {
  const at = await holdPoint(page);
  await page.mouse.move(at.x, at.y - 4);
  await idle(page);
  const made = await gesture(browser, page, `${nameOf(size)}, a point of the outline dragged, ${rate} moves a second`, 'plan', rate, Array.from({ length: MOVES }, (_, i) => dragged(at, i + 1)));
  await page.mouse.up();
  await idle(page);
  return made;
}

/** One visit in a window of this size: the station scrubbed, then a point dragged at each rate. */
async function visit(browser: Browser, site: Site, size: Size, rates: readonly number[]): Promise<Gesture[]> {
  const page = await open(browser, site, { size });
  const made = [await scrub(browser, page, size)];
  for (const rate of rates) made.push(await drag(browser, page, size, rate));
  await page.context().close();
  return made;
}

/** In the page, before its own script: counts drafts, what threads send it with them, and what it sends the card until anything else comes. */
const COUNTING = `(() => {
  const count = (window.benchBytes = { drafts: 0, page: 0, card: 0 });
  let draft = false;
  const bytes = (value) => {
    if (typeof value === 'number') return 8;
    if (typeof value === 'string') return 2 * value.length;
    if (value === null || typeof value !== 'object') return 1;
    if (ArrayBuffer.isView(value) || value instanceof ArrayBuffer) return value.byteLength;
    let sum = 0;
    for (const key of Object.keys(value)) sum += (Array.isArray(value) ? 0 : 2 * key.length) + bytes(value[key]);
    return sum;
  };
  const heard = Object.getOwnPropertyDescriptor(Worker.prototype, 'onmessage');
  Object.defineProperty(Worker.prototype, 'onmessage', {
    ...heard,
    set(hear) {
      heard.set.call(this, hear && ((event) => {
        draft = Boolean(event.data?.result?.drawn);
        if (draft) {
          count.drafts++;
          count.page += bytes(event.data);
        }
        hear.call(this, event);
      }));
    },
  });
  const sent = (name, of) => {
    const own = WebGL2RenderingContext.prototype[name];
    WebGL2RenderingContext.prototype[name] = function (...given) {
      const [data, from = 0, length] = of(given);
      if (draft && ArrayBuffer.isView(data)) count.card += length ? length * data.BYTES_PER_ELEMENT : data.byteLength - from * (data.BYTES_PER_ELEMENT ?? 1);
      return own.apply(this, given);
    };
  };
  sent('bufferData', ([, data, , from, length]) => [data, from, length]);
  sent('bufferSubData', ([, , data, from, length]) => [data, from, length]);
  sent('texImage2D', (given) => [given.at(-1)]);
  sent('texSubImage2D', (given) => [given.at(-1)]);
})();`;

interface Sent {
  readonly drafts: number;
  readonly page: number;
  readonly card: number;
}

/** Bytes a draft plan, of a drag slow enough that every move has one. */
async function bytesSent(browser: Browser, site: Site): Promise<Omit<Sent, 'drafts'>> {
  const page = await open(browser, site, { script: COUNTING });
  const at = await holdPoint(page);
  await page.mouse.move(at.x, at.y - 4);
  await idle(page);
  const read = () => page.evaluate(() => ({ ...(Reflect.get(window, 'benchBytes') as Sent) }));
  const before = await read();
  for (let i = 1; i <= SLOW.moves; i++) {
    const { x, y } = dragged(at, i);
    await page.mouse.move(x, y);
    // Well before the page takes the hand to be at rest.
    await page.waitForTimeout(100);
  }
  const after = await read();
  await page.mouse.up();
  await page.context().close();
  const drafts = after.drafts - before.drafts;
  if (drafts < SLOW.drafts) throw new Error(`of ${SLOW.moves} slow moves ${drafts} had a plan of their own`);
  return { page: (after.page - before.page) / drafts, card: (after.card - before.card) / drafts };
}

/**
 * What a hand is shown in a drag is what the release shows: length, run, stops and bevels, at five places of the hand. Throws an
 * Error where they differ by more than `APART`. Returns the greatest differences.
 */
async function answers(browser: Browser, site: Site): Promise<{ mm: number; angle: number }> {
  const page = await open(browser, site);
  const at = await holdPoint(page);
  const worst = { mm: 0, angle: 0 };
  for (let i = 1; i <= 5; i++) {
    // Farther each time than makes a press a drag.
    const { x, y } = { x: at.x, y: at.y - 6 * i };
    const was = await page.evaluate(() => window.railwright?.state()?.bevel.max);
    await page.mouse.move(x, y);
    await page.waitForFunction((before) => window.railwright?.state()?.bevel.max !== before, was, { polling: 'raf' });
    const draft = await page.evaluate(() => window.railwright?.state());
    await page.mouse.up();
    await idle(page);
    const settled = await page.evaluate(() => window.railwright?.state());
    if (!draft || !settled || draft.stops.length !== settled.stops.length) throw new Error('a drag shows other stops than its release');
    const mm = [draft.length - settled.length, draft.run - settled.run, ...draft.stops.map((stop, k) => stop - settled.stops[k])];
    worst.mm = Math.max(worst.mm, ...mm.map(Math.abs));
    worst.angle = Math.max(worst.angle, Math.abs(draft.bevel.max - settled.bevel.max), Math.abs(draft.bevel.min - settled.bevel.min));
    await page.mouse.down();
  }
  await page.mouse.up();
  await page.context().close();
  if (worst.mm > APART.mm || worst.angle > APART.angle) throw new Error(`a drag shows figures that its release changes by ${worst.mm} mm and ${worst.angle} rad`);
  return worst;
}

export async function dragSection(): Promise<Section> {
  const site = await sharedSite();
  const server = await plainChromium();
  try {
    const browser = await chromium.connect(server.wsEndpoint());
    const apart = await answers(browser, site);
    const bytes = await bytesSent(browser, site);
    const gestures = [...(await visit(browser, site, DESK, [60, 120])), ...(await visit(browser, site, LARGE, [60]))];
    await browser.close();
    const drags = gestures.filter(({ what }) => what.includes('dragged'));
    const [desk, , large] = drags;
    const each = (g: Gesture, all: number) => all / g.shown;
    const [scrubbed] = gestures;
    const [cost, largeCost] = [each(desk, desk.main), each(large, large.main)];
    return {
      title: 'A point dragged',
      tables: [
        {
          title: `${MOVES} moves sent by the clock, for ${LONGEST} s at most, a software renderer on the same cores`,
          head: ['gesture', 'sent', 'in', 'shown', 'a second', 'from one shown to the next, mean', '95 %', 'main thread, one shown', 'planner, one shown'],
          rows: gestures.map((g) => [
            g.what, String(g.sent), `${g.seconds.toFixed(1)} s`, String(g.shown), (g.shown / g.seconds).toFixed(0), ms(g.gaps.reduce((sum, gap) => sum + gap, 0) / g.gaps.length, 1), ms(quantile(g.gaps, 0.95), 1),
            ms(each(g, g.main), 1), ms(each(g, g.worker), 1),
          ]),
        },
        {
          title: 'The main thread by stage, processor time a plan shown',
          head: ['stage', ...drags.map(({ what }) => what.replace(', a point of the outline dragged', ''))],
          rows: [...desk.stages.keys()].map((stage) => [stage, ...drags.map((g) => ms(each(g, g.stages.get(stage) ?? 0), 2))]),
        },
        {
          title: 'Sent with each draft plan',
          head: ['to the page', 'to the card'],
          rows: [[kB(bytes.page), kB(bytes.card)]],
        },
      ],
      remarks: [
        `A drag shows the figures of its release to ${apart.mm.toExponential(1)} mm and ${((apart.angle * 180) / Math.PI).toExponential(1)} degrees (five places of the hand, looked at before anything is timed).`,
        'Pictures are drawn by a software renderer on the same cores, plainly, which bounds what is shown here; on a graphics card it does not.',
      ],
      targets: [
        { what: 'main-thread work a plan shown, dragging a point', target: `< ${LIMITS.main} ms`, measured: ms(cost, 1), met: cost < LIMITS.main },
        { what: 'main-thread work a station shown, scrubbing', target: `< ${LIMITS.scrub.toFixed(1)} ms`, measured: ms(each(scrubbed, scrubbed.main), 1), met: each(scrubbed, scrubbed.main) < LIMITS.scrub },
        { what: 'the planner\'s work a plan shown, bodies included', target: `< ${LIMITS.worker} ms`, measured: ms(each(desk, desk.worker), 1), met: each(desk, desk.worker) < LIMITS.worker },
        { what: 'bytes to the page a plan', target: `< ${kB(LIMITS.bytes)}`, measured: kB(bytes.page), met: bytes.page < LIMITS.bytes },
        { what: 'bytes to the card a plan', target: `< ${kB(LIMITS.bytes)}`, measured: kB(bytes.card), met: bytes.card < LIMITS.bytes },
        { what: 'a drag at 2560 x 1440 over one at 1440 x 900, main thread', target: `< ${LIMITS.large} times`, measured: `${(largeCost / cost).toFixed(2)} times`, met: largeCost / cost < LIMITS.large },
      ],
      data: { gestures: gestures.map((g) => ({ ...g, stages: Object.fromEntries(g.stages) })), bytes, apart },
    };
  } finally {
    await server.close();
  }
}
