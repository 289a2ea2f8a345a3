/**
 * Papers on paper: PDFs rasterised by poppler and measured in pixels. The 100 mm check bar, a part of known
 * size across pages, the overlap of neighbouring pages, and the words on every page.
 */
import { execFileSync } from 'node:child_process';
import { PDFDocument } from '@cantoo/pdf-lib';
import { beforeAll, describe, expect, it } from 'vitest';
import { makePapers, type PaperOptions, type PaperSize } from '../../src/papers';
import { typefaces } from '../../src/cli/typefaces';
import { isRespelt, printable } from '../../src/papers/pdf/letters';
import { pagesOf as picturesOf } from '../../src/papers/pdf/pages';
import { ensurePoppler } from '../../.ci/poppler.mjs';
import { darkRuns, pagesOf, pageTexts, plateParts, RIB, seedBench, type Bitmap } from '../support/papers';

beforeAll(() => ensurePoppler(), 180_000);

const DPI = 300;
const MM = 25.4 / DPI;
const options: PaperOptions = { date: '2031-02-28', paper: 'A4', units: 'mm' };

/**
 * Length of the check bar on a page in mm, found by its look: a row of pixels with five dark blocks of equal
 * length and, below it, five more in the spaces, ends outermost. NaN where there is none.
 */
function barLength(page: Bitmap): number {
  const blocks = (y: number) => {
    const runs = darkRuns(page, y).filter(({ start, end }) => end - start > 60);
    const sizes = runs.map(({ start, end }) => end - start);
    return runs.length === 5 && Math.max(...sizes) - Math.min(...sizes) <= 4 ? runs : undefined;
  };
  for (let y = page.height - 1; y >= 0; y--) {
    const low = blocks(y);
    if (!low) continue;
    for (let up = y; up > y - 40 && up >= 0; up--) {
      const high = blocks(up);
      if (high && high[0].start < low[0].start - 20) return (low[4].end - high[0].start) * MM;
    }
  }
  return Number.NaN;
}

async function platePdf(paper: PaperSize): Promise<Uint8Array> {
  const { plan } = await seedBench('child-155');
  const [made] = await makePapers(plan, plateParts(), { ...options, paper, which: ['ribs.pdf'] });
  return made.bytes;
}

/** Size of each sheet as ISO 216 and ANSI/ASME Y14.1 give it, mm. */
const SHEETS = { A4: [210, 297], A3: [297, 420], Letter: [215.9, 279.4] } as const;

describe('full-size templates', () => {
  it.each(['A4', 'A3', 'Letter', 'roll'] as const)('carry a check bar of 100 mm on every page of %s, to 0.2 mm', async (paper) => {
    const pages = pagesOf(await platePdf(paper), DPI);
    expect(pages.length).toBe({ A4: 3, A3: 3, Letter: 4, roll: 1 }[paper]);
    for (const page of pages) {
      expect(Math.abs(barLength(page) - 100)).toBeLessThan(0.2);
      if (paper === 'roll') continue;
      const size = [page.width * MM, page.height * MM].sort((a, b) => a - b);
      expect(size[0]).toBeCloseTo(SHEETS[paper][0], 0);
      expect(size[1]).toBeCloseTo(SHEETS[paper][1], 0);
    }
  });

  it('would see a bar that is wrong: the same page at 99 % of its dots', async () => {
    const [page] = pagesOf(await platePdf('roll'), DPI * 0.99);
    expect(Math.abs(barLength(page) - 100)).toBeGreaterThan(0.5);
  });

  it('draw a part at its own size on one roll sheet, to 0.2 mm', async () => {
    const [page] = pagesOf(await platePdf('roll'), DPI);
    // The part's two long edges are the longest dark runs but for the head's rule, which is as long as the page.
    const long: { y: number; start: number; end: number }[] = [];
    for (let y = 0; y < page.height; y++) {
      for (const run of darkRuns(page, y)) if (run.end - run.start > 400 / MM) long.push({ y, ...run });
    }
    const width = RIB.width / MM;
    const edges = long.filter((run) => Math.abs(run.end - run.start - width) < 0.6 / MM);
    expect(edges.length).toBeGreaterThan(1);
    const middle = (list: number[]) => (Math.min(...list) + Math.max(...list)) / 2;
    const half = (edges[0].y + edges[edges.length - 1].y) / 2;
    const top = middle(edges.filter(({ y }) => y < half).map(({ y }) => y));
    const bottom = middle(edges.filter(({ y }) => y > half).map(({ y }) => y));
    expect(Math.abs((bottom - top) * MM - RIB.height)).toBeLessThan(0.2);
    // Outer edges of the line: one line width (0.3 mm) wider than the part.
    const across = Math.max(...edges.map(({ start, end }) => end - start)) * MM;
    expect(Math.abs(across - 0.3 - RIB.width)).toBeLessThan(0.2);
  });

  it('overlap: the same 12 mm of the drawing stand on both neighbours, to a pixel', async () => {
    const pages = pagesOf(await platePdf('A4'), DPI).slice(1);
    const [a, b] = pages;
    // Rows with the part's horizontal edges near the page's side: dark along 3 mm in the middle of the overlap.
    const rowsAt = (page: Bitmap, x: number): number[] => {
      const rows: number[] = [];
      for (let y = 0; y < page.height; y++) {
        let all = true;
        for (let dx = -18; dx <= 18 && all; dx++) all = page.dark(Math.round(x / MM) + dx, y);
        if (all) rows.push(y);
      }
      return rows;
    };
    const right = a.width * MM - 9 - 3;
    const left = 9 + 12 - 3;
    const one = rowsAt(a, right);
    const two = rowsAt(b, left);
    expect(one.length).toBeGreaterThan(3);
    expect(two).toEqual(one);
  });
});

describe('a drawing of very many pages', () => {
  it('grows with its pages, not with their square: each has a map that no longer names them all', async () => {
    const { plan } = await seedBench('child-155');
    const parts = plateParts();
    const [rib] = parts.frames;
    const sized = async (ribs: number) => {
      const frames = Array.from({ length: ribs }, (_, i) => ({ ...rib, id: `rib-${i + 1}`, rib: i, label: `Rib ${i + 1}` }));
      const [made] = await makePapers(plan, { ...parts, frames }, { ...options, which: ['ribs.pdf'] });
      const pages = (await PDFDocument.load(made.bytes, { updateMetadata: false })).getPageCount();
      return { pages, bytes: made.bytes.length / pages };
    };
    const [some, many] = [await sized(30), await sized(240)];
    expect(many.pages).toBeGreaterThan(6 * some.pages);
    expect(many.bytes).toBeLessThan(1.5 * some.bytes);
  });
});

describe('the words on paper', () => {
  it('put board, revision, units, date and page n of m on every page', async () => {
    const { plan, parts } = await seedBench('child-155');
    for (const [id, most] of [['bench-sheet', 12], ['skin-blanks.pdf', 2], ['ribs.pdf', 6]] as const) {
      const [made] = await makePapers(plan, parts, { ...options, which: [id] });
      const pages = pageTexts(made.bytes);
      expect(pages.length).toBeGreaterThan(most / 4);
      expect(pages.length).toBeLessThanOrEqual(most);
      pages.forEach((text, i) => {
        expect(text).toContain(plan.design.name);
        expect(text).toContain('revision A');
        expect(text).toContain('2031-02-28');
        expect(text).toMatch(id === 'ribs.pdf' ? /full size, mm/ : /millimetres/);
        expect(text).toContain(`page ${i + 1} of ${pages.length}`);
      });
    }
  });

  it('print the kernel\'s figures of every rib, in mm and in sixteenths', async () => {
    const { plan, parts } = await seedBench('child-155');
    const [made] = await makePapers(plan, parts, { ...options, which: ['bench-sheet'] });
    const page = pageTexts(made.bytes).find((text) => text.includes('The rail at each rib')) ?? '';
    for (const rib of plan.rail.ribs) {
      const line = page.split('\n').find((text) => text.includes(rib.section.s.toFixed(1)));
      expect(line).toBeDefined();
      expect(line).toContain((plan.rail.face.length - rib.section.s).toFixed(1));
      expect(line).toContain(`${((rib.section.bevel * 180) / Math.PI).toFixed(1)}°`);
      expect(line).toContain(rib.gap.toFixed(1));
    }
    const [inches] = await makePapers(plan, parts, { ...options, units: 'in16', which: ['bench-sheet'] });
    const text = pageTexts(inches.bytes).join('\n');
    expect(text).toContain('inches, nearest sixteenth');
    const whole = Math.floor(plan.hull.length / 25.4);
    expect(text).toMatch(new RegExp(`\\b${whole} 1?\\d?/?\\d*`));
  });

  it('respell what the standard fonts lack, never fail on a name, and say so', async () => {
    const { plan, parts } = await seedBench('child-155');
    const name = 'Łódź 板 🛶 ½″ −3';
    const named = { ...plan, design: { ...plan.design, name } };
    const [made] = await makePapers(named, parts, { ...options, which: ['bench-sheet'] });
    const [first] = pageTexts(made.bytes);
    expect(first).toContain('Lódz Ban');
    expect(first).toContain('This print lacks letters of the board');
    expect(isRespelt({}, 'Bähr, 1½ × 2°')).toBe(false);
    expect(printable({}, 'Bähr, 1½ × 2°')).toBe('Bähr, 1½ × 2°');
    expect(isRespelt({}, name)).toBe(true);
  });

  it('print a name as it is written where the open typeface has its letters, with those alone in the file; read by Poppler and by the page', async () => {
    const { plan, parts } = await seedBench('child-155');
    const name = 'Łódź Чайка Κύμα Sóng biển';
    const made = (board: string) => makePapers({ ...plan, design: { ...plan.design, name: board } }, parts, { ...options, typefaces, which: ['bench-sheet', 'ribs.pdf', 'wall-sheet'] });
    const papers = await made(name);
    for (const { id, bytes } of papers) {
      expect(pageTexts(bytes)[0], id).toContain(name);
      expect((await picturesOf(bytes))[0].text.join(''), id).toContain(name);
      // Poppler on each font of the file: embedded, a subset as small as this, its letters told.
      const lines = execFileSync('pdffonts', ['-'], { input: bytes, encoding: 'utf8' }).split('\n').filter((line) => line.startsWith('NotoSans'));
      expect(lines.length, id).toBeGreaterThan(0);
      for (const line of lines) expect(line, id).toMatch(/CID TrueType +Identity-H +yes +\w+ +yes/);
    }
    expect(papers[0].bytes.length).toBeLessThan((await makePapers(plan, parts, { ...options, which: ['bench-sheet'] }))[0].bytes.length + 40_000);
    expect(pageTexts(papers[0].bytes)[0]).not.toContain('lacks letters');
    // The same board and day, the same bytes; a name of standard letters asks for no typeface.
    expect(await made(name)).toEqual(papers);
    expect(await makePapers(plan, parts, { ...options, which: ['ribs.pdf'], typefaces: () => Promise.reject(new Error('not asked for')) })).toHaveLength(1);
    // What it lacks too is written out, and said.
    const [rest] = await made('Łódź 板');
    expect(pageTexts(rest.bytes)[0]).toMatch(/Łódź Ban[^]*lacks letters/);
  });
});
