/** A family of a hundred boards: planned on one thread here, and worked out in a real browser by the page's own program, on as many threads as the page takes. */
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { type Browser, chromium } from 'playwright-core';
import type { Design } from '../../geometry/design/schema';
import { planBoard } from '../../geometry/plan';
import { boardSize, scaleBoard } from '../../geometry/search/family';
import { variantsOf } from '../../geometry/search/member';
import type { Member } from '../../src/state/jobKinds';
import { familyShares } from '../../src/work/shares';
import { startChromium, type Site } from '../browser/site';
import { seedDesign } from '../geometry/boards';
import { freshContext, sharedSite } from './browsing';
import { ms, type Section } from './report';
import { time } from './timing';

/** A family of a hundred, on two cores, ms. */
const TARGET = 300;
const FAMILY = 100;
const ROUNDS = 7;

const base = () => seedDesign('round-tail-175.board.json');

/** The starter board in `count` sizes from four fifths to five fourths of its length and width, as a family has them. */
function sizes(count: number): Member['size'][] {
  const { length, width, thickness } = boardSize(base());
  return Array.from({ length: count }, (_, i) => {
    const k = 0.8 + (0.45 * i) / Math.max(1, count - 1);
    return { length: length * k, width: width * Math.sqrt(k), thickness };
  });
}

function family(count: number): Design[] {
  const design = base();
  return sizes(count).map((size, i) => {
    const scaled = scaleBoard(design, size);
    if (!scaled.ok) throw new Error(`a family of ${count} has an unsound board ${i}: ${scaled.errors[0].field} ${scaled.errors[0].message}`);
    return scaled.design;
  });
}

/**
 * The page's family job on this machine's cores: the built program, asked as src/work/jobs.ts asks it. Wall ms of the first time, its
 * threads begun for it, and of each time after, on the same threads. Throws an Error where a board is not worked out.
 */
async function inThePage(browser: Browser, site: Site): Promise<{ readonly threads: number; readonly wall: readonly number[] }> {
  const [program] = (await readdir(join(site.folder, 'assets'))).filter((name) => /^trials\.worker.*\.js$/.test(name));
  if (!program) throw new Error('the build has no program for trials');
  const context = await freshContext(browser);
  const page = await context.newPage();
  await page.goto(`${site.origin}notices.txt`);
  const { asked } = familyShares({ design: base(), boards: sizes(FAMILY).map((size) => ({ size, variant: null })) }, await page.evaluate(() => navigator.hardwareConcurrency));
  const measured = await page.evaluate(async ({ shares, script, rounds }) => {
    interface Said { kind: string; progress: { ok: boolean }; failure: { message: unknown } }
    const threads: Worker[] = [];
    const wall: number[] = [];
    let good = 0;
    for (let i = 0; i < rounds; i++) {
      const begun = performance.now();
      await Promise.all(shares.map((given, k) => new Promise<void>((done, fail) => {
        threads[k] ??= new Worker(script, { type: 'module' });
        threads[k].onmessage = ({ data }: MessageEvent<Said>) => {
          if (data.kind === 'progress') good += data.progress.ok ? 1 : 0;
          else if (data.kind === 'done') done();
          else fail(new Error(JSON.stringify(data.failure)));
        };
        threads[k].onerror = ({ message }) => fail(new Error(message));
        threads[k].postMessage({ key: 'family', given });
      })));
      wall.push(performance.now() - begun);
    }
    return { wall, good };
  }, { shares: asked, script: `${site.origin}assets/${program}`, rounds: ROUNDS });
  await context.close();
  if (measured.good !== ROUNDS * FAMILY) throw new Error(`of ${ROUNDS} families of ${FAMILY} ${measured.good} boards were worked out`);
  return { threads: asked.length, wall: measured.wall };
}

export async function familySection(): Promise<Section> {
  const counts = [1, 10, FAMILY];
  const families = counts.map(family);
  const times = time(families.map((designs) => () => designs.forEach((design) => planBoard(design))), 1, ROUNDS, 300);
  const job = time(counts.map((count) => () => sizes(count).forEach(variantsOf(base()))), 1, ROUNDS, 300);
  const scaling = time([() => family(FAMILY)], FAMILY, ROUNDS)[0];
  const rows = counts.map((count, i) => ({ count, ...times[i], job: job[i] }));
  const site = await sharedSite();
  const server = await startChromium();
  try {
    const browser = await chromium.connect(server.wsEndpoint());
    const { threads, wall } = await inThePage(browser, site);
    await browser.close();
    const [first, ...later] = wall;
    const least = Math.min(...later);
    return {
      title: 'Cost against the number of boards',
      tables: [
        {
          title: 'A family from one board, four fifths to five fourths of its length, on one thread: every board planned in full; and worked out as the page does',
          head: ['boards', 'plans, median', 'least', 'least a board', 'worked out, median', 'least', 'least a board'],
          rows: rows.map((r) => [String(r.count), ms(r.median, 1), ms(r.least, 1), ms(r.least / r.count), ms(r.job.median, 1), ms(r.job.least, 1), ms(r.job.least / r.count)]),
        },
        {
          title: `The page's job for a family of ${FAMILY}, in a browser: scaled, planned as a draft, weighed and pictured, wall`,
          head: ['threads', 'the first time, threads begun for it', 'later, least', 'later, most'],
          rows: [[String(threads), ms(first, 0), ms(least, 0), ms(Math.max(...later), 0)]],
        },
      ],
      remarks: [`Scaling one board's lines and checking them takes ${ms(scaling.median)} (median).`],
      targets: [{ what: `a family of a hundred in the page, ${threads} threads, wall`, target: `${TARGET} ms on two cores`, measured: ms(least, 0), met: least <= TARGET }],
      data: { rows, scaling, threads, wall },
    };
  } finally {
    await server.close();
  }
}
