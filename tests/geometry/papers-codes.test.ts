/**
 * The bench sheet's codes: printed by poppler as a printer would, and read by another library's reader (the
 * package qr): each opens the very board at its rib.
 */
import decodeQR from 'qr/decode.js';
import { beforeAll, describe, expect, it } from 'vitest';
import { ensurePoppler } from '../../.ci/poppler.mjs';
import { blankDesign } from '../../geometry/design/defaults';
import { planBoard } from '../../geometry/plan';
import { readLink } from '../../src/link/boardLink';
import { makePapers, PaperError, type PaperOptions } from '../../src/papers';
import { type Bitmap, pagesOf, pageTexts, seedBench } from '../support/papers';

beforeAll(() => ensurePoppler(), 180_000);

const DPI = 200;
const MM = DPI / 25.4;
const ADDRESS = 'https://boats.example/railwright/';
const options: PaperOptions = { date: '2031-02-28', paper: 'A4', units: 'mm', which: ['bench-sheet'] };

async function sheet(seed: string, more: Partial<PaperOptions>): Promise<Uint8Array> {
  const { plan, parts } = await seedBench(seed);
  const [made] = await makePapers(plan, parts, { ...options, ...more });
  return made.bytes;
}

/** Top and bottom of what is dark in a column of the page and taller than 40 mm: its codes. */
function codesIn({ height, dark }: Bitmap, x0: number, x1: number): [number, number][] {
  const out: [number, number][] = [];
  let from = -1;
  let last = -1;
  for (let y = 0; y <= height; y++) {
    let any = false;
    for (let x = x0; y < height && x < x1 && !any; x++) any = dark(x, y);
    if (any) {
      if (from < 0) from = y;
      last = y;
    } else if (from >= 0 && y - last > MM) {
      if (last - from > 40 * MM) out.push([from, last]);
      from = -1;
    }
  }
  return out;
}

function readCodes(page: Bitmap): string[] {
  const out: string[] = [];
  for (let row = 0; row < 4; row++) {
    for (let column = 0; column < 3; column++) {
      const [x0, x1] = [Math.round((10 + (190 / 3) * column) * MM), Math.round((10 + (190 / 3) * (column + 1)) * MM)];
      const found = codesIn(page, x0, x1).at(row);
      if (!found) continue;
      const [top, bottom] = [found[0] - Math.round(2 * MM), found[1] + Math.round(2 * MM)];
      const [width, height] = [x1 - x0, bottom - top];
      const data = new Uint8ClampedArray(4 * width * height).fill(255);
      for (let y = 0; y < height; y++) {
        for (let x = 0; x < width; x++) if (page.dark(x0 + x, top + y)) data.fill(0, 4 * (y * width + x), 4 * (y * width + x) + 3);
      }
      out.push(decodeQR({ width, height, data }));
    }
  }
  return out;
}

describe('codes on the bench sheet', () => {
  it('open the very board at each rib', async () => {
    const { plan } = await seedBench('child-155');
    const pages = pagesOf(await sheet('child-155', { address: ADDRESS }), DPI);
    const links = readCodes(pages[pages.length - 1]);
    expect(links.length).toBe(plan.rail.ribs.length + 1);
    expect(links.every((link) => link.startsWith(`${ADDRESS}#board=`))).toBe(true);
    const read = links.map((link) => readLink(new URL(link).hash));
    expect(read.every((one) => one.ok)).toBe(true);
    for (const one of read) expect(one.ok && one.design).toEqual(plan.design);
    expect(read.map((one) => one.ok && one.s)).toEqual([undefined, ...plan.rail.ribs.map((rib) => Number(rib.s.toFixed(1)))]);
  });

  it('are left out where there is no address, which the first page says', async () => {
    const without = pageTexts(await sheet('child-155', {}));
    expect(without[0]).toContain('No codes for the phone: no address');
    expect(without.join(' ')).not.toContain('Each opens this board');
    expect(pageTexts(await sheet('child-155', { address: ADDRESS }))[0]).toContain('Codes on the last pages');
  });

  it('are left out where the board is too long for a code, which the first page says', async () => {
    const { parts } = await seedBench('child-155');
    let state = 7;
    const letter = () => {
      state = (state * 1_103_515_245 + 12_345) % 2 ** 31;
      return String.fromCharCode(97 + (Math.floor(state / 65_536) % 26));
    };
    const blank = blankDesign();
    const species = Array.from({ length: 14 }, (_, i) => ({
      id: `own-${i}`, name: `Timber ${i}`, note: Array.from({ length: 390 }, letter).join(''), density: 300, moe: 5000, mor: 40, dryLimit: 0.006, steamLimit: 0.02,
    }));
    const plan = planBoard({ ...blank, timber: { ...blank.timber, species } });
    const [made] = await makePapers(plan, { ...parts, bending: [], blanks: [], frames: [], joints: undefined }, { ...options, address: ADDRESS });
    expect(pageTexts(made.bytes)[0]).toMatch(/No codes for the phone: the link has \d+ characters, and a QR code holds 2953/);
  });

  it('refuse what is no address of a page', async () => {
    const { plan, parts } = await seedBench('child-155');
    await expect(makePapers(plan, parts, { ...options, address: 'javascript:alert(1)' })).rejects.toBeInstanceOf(PaperError);
  });
});
