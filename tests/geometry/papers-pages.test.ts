/** Pages as they are looked at before they are saved: word for word, and in their places, what another reader (Poppler) finds in the file. */
import { execFileSync } from 'node:child_process';
import { XMLParser } from 'fast-xml-parser';
import { beforeAll, expect, it } from 'vitest';
import { ensurePoppler } from '../../.ci/poppler.mjs';
import { planTolerance } from '../../geometry/trust/tolerance';
import { listPapers, makePapers, type PaperOptions } from '../../src/papers';
import { pagesOf } from '../../src/papers/pdf/pages';
import { seedBench } from '../support/papers';

beforeAll(() => ensurePoppler(), 180_000);

const options: PaperOptions = { date: '2031-02-28', paper: 'A4', units: 'mm', address: 'https://example.org/' };
const words = (text: string): string[] => text.split(/\s+/).filter(Boolean).sort();

/** Every text of a picture with where its baseline begins, points from the page's top left corner. */
function placed(svg: string): { text: string; x: number; y: number; upright: boolean }[] {
  const out: { text: string; x: number; y: number; upright: boolean }[] = [];
  // The page's own turn and the pen's scale are the only groups that move what is in them.
  const [[, , , , , top], [k, , , flip, left, foot]] = [...svg.matchAll(/<g transform="matrix\(([^)]*)\)">/g)].map(([, list]) => list.split(' ').map(Number));
  for (const [, matrix, text] of svg.matchAll(/<text transform="matrix\(([^)]*)\)"[^>]*>([^<]*)</g)) {
    const [a, b, , , x, y] = matrix.split(' ').map(Number);
    out.push({ text: text.replaceAll('&gt;', '>').replaceAll('&lt;', '<').replaceAll('&quot;', '"').replaceAll('&amp;', '&'), x: left + k * x, y: top - (foot + flip * y), upright: a > 0 && b === 0 });
  }
  return out;
}

it('are those of every PDF of a board, each with all its words where they are printed', async () => {
  const { plan, parts } = await seedBench('round-tail-175');
  const trust = { bands: await planTolerance(plan, { method: 'estimate' }) };
  const which = listPapers(plan, parts, { ...options, trust }).filter(({ mime }) => mime === 'application/pdf').map(({ id }) => id);
  expect(which.length).toBeGreaterThan(4);
  for (const { id, bytes } of await makePapers(plan, parts, { ...options, trust, which })) {
    const pages = await pagesOf(bytes);
    const boxes = execFileSync('pdftotext', ['-bbox', '-', '-'], { input: bytes, maxBuffer: 1 << 26 }).toString('utf8').split('<page ').slice(1);
    expect([id, pages.length]).toEqual([id, boxes.length]);
    pages.forEach(({ svg, text, width, height }, i) => {
      const [, wide, high] = /width="([\d.]+)" height="([\d.]+)"/.exec(boxes[i]) ?? [];
      expect([width, height].map((size) => size.toFixed(2))).toEqual([wide, high].map((size) => Number(size).toFixed(2)));
      expect(new XMLParser({ ignoreAttributes: false }).parse(svg)).toHaveProperty('svg');
      const seen = [...boxes[i].matchAll(/xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="[-\d.]+" yMax="([-\d.]+)">([^<]*)</g)]
        .map(([, x, from, to, word]) => ({ x: Number(x), from: Number(from), to: Number(to), word: word.replaceAll('&gt;', '>').replaceAll('&lt;', '<').replaceAll('&quot;', '"').replaceAll('&apos;', "'").replaceAll('&amp;', '&') }));
      // What has no space between its letters and the next is one word to Poppler.
      expect(words(text.join(' ')).join('').split('').sort().join('')).toBe(seen.map(({ word }) => word).join('').split('').sort().join(''));
      const lost = placed(svg).filter(({ text: said, x, y, upright }) => upright && !seen.some(({ word, ...box }) =>
        word.startsWith(said.trim().split(' ')[0]) && Math.abs(box.x - x) < 1 && box.from < y && box.to > y));
      // Those that Poppler has joined to the word before.
      expect(lost.length, `${id}, page ${i + 1}: ${lost.slice(0, 4).map(({ text: said }) => said).join('; ')}`).toBeLessThan(0.05 * text.length);
    });
  }
});

it('are refused where the file is not of ours', async () => {
  await expect(pagesOf(new TextEncoder().encode('no PDF at all'))).rejects.toThrow('PDF');
});
