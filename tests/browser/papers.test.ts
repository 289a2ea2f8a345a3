/** SVG templates as a browser takes them: measured by Chromium, in its own millimetres. */
import { describe, expect, it } from 'vitest';
import { makePapers, type PaperOptions } from '../../src/papers';
import { PLAIN_SHOP } from '../../src/papers/shop';
import { plateParts, RIB, seedBench } from '../support/papers';
import { expectClean, newVisit, shareBrowser } from './harness';

shareBrowser();

const options: PaperOptions = { date: '2031-02-28', paper: 'A4', units: 'mm' };

/** CSS: one inch is 96 px. */
const MM = 25.4 / 96;

interface Measured {
  readonly page: { readonly width: number; readonly height: number };
  readonly layers: readonly { readonly id: string; readonly width: number; readonly height: number; readonly paths: number }[];
}

/** Sizes on the page, px, of the drawing and of each layer's group. */
async function measure(svg: Uint8Array): Promise<{ measured: Measured; text: string }> {
  const visit = await newVisit();
  await visit.page.setContent(`<!doctype html><body style="margin:0">${new TextDecoder().decode(svg).replace(/^<\?xml.*\?>\n/, '')}</body>`);
  const measured = await visit.page.evaluate((): Measured => {
    const root = document.querySelector('svg');
    if (!root) throw new Error('no svg');
    const size = (element: Element) => {
      const { width, height } = element.getBoundingClientRect();
      return { width, height };
    };
    const layers = [...root.querySelectorAll('g')].map((group) => {
      // The bare geometry, scaled as the page scales it: the line's own width is not part of it.
      const { width, height } = group.getBBox();
      const scale = group.getScreenCTM()?.a ?? Number.NaN;
      return { id: group.id, width: width * scale, height: height * scale, paths: group.querySelectorAll('path').length };
    });
    return { page: size(root), layers };
  });
  const text = await visit.page.locator('svg').textContent();
  expectClean(visit);
  return { measured, text: text ?? '' };
}

describe('SVG templates in Chromium', () => {
  it('are full size: a part of known size measures so, to 0.05 mm', async () => {
    const { plan } = await seedBench('child-155');
    const [made] = await makePapers(plan, plateParts(), { ...options, which: ['ribs.svg'] });
    const { measured, text } = await measure(made.bytes);
    const cut = measured.layers.find(({ id }) => id === 'cut');
    expect(cut?.paths).toBe(2);
    expect(Math.abs((cut?.width ?? 0) * MM - RIB.width)).toBeLessThan(0.05);
    expect(Math.abs((cut?.height ?? 0) * MM - RIB.height)).toBeLessThan(0.05);
    expect(measured.page.width * MM).toBeCloseTo(RIB.width + 20, 1);
    expect(measured.layers.map(({ id }) => id)).toEqual(['cut', 'score', 'label', 'stock', 'note']);
    for (const word of [plan.design.name, 'revision A', 'millimetres, full size', '2031-02-28']) expect(text).toContain(word);
  });

  it('hold the longest blank of a starter board at its box length', async () => {
    const { plan, parts } = await seedBench('child-155');
    const [made] = await makePapers(plan, parts, { ...options, which: ['skin-blanks.svg'] });
    const { measured } = await measure(made.bytes);
    const longest = Math.max(...parts.blanks.flatMap((blank) => blank.pieces.map(({ boxLength }) => boxLength)));
    const cut = measured.layers.find(({ id }) => id === 'cut');
    expect(cut?.paths).toBe(parts.blanks.flatMap(({ pieces }) => pieces).length);
    expect(Math.abs((cut?.width ?? 0) * MM - Math.max(longest, 0))).toBeLessThan(0.2);
  });

  it('draw the laser\'s sheet at the size of the stock, the kerf outside the lines', async () => {
    const { plan } = await seedBench('child-155');
    const { kerf } = plan.design.frames;
    const sheet = { length: 640, width: 200, thickness: 4, parts: [{ id: 'rib-1', x: 100, y: 20, turn: 0 }], yield: 0.25 };
    const parts = { ...plateParts(), nest: { sheets: [sheet], unplaced: [], yield: 0.25 } };
    const size = async (change: Partial<PaperOptions>) => {
      const [made] = await makePapers(plan, parts, { ...options, which: ['sheet-1.svg'], ...change });
      return (await measure(made.bytes)).measured.layers;
    };
    const drawn = await size({ kerf: 'drawn' });
    const burnt = await size({});
    const stock = drawn.find(({ id }) => id === 'stock');
    expect(Math.abs((stock?.width ?? 0) * MM - sheet.length)).toBeLessThan(0.05);
    expect(Math.abs((stock?.height ?? 0) * MM - sheet.width)).toBeLessThan(0.05);
    const widths = [drawn, burnt].map((layers) => (layers.find(({ id }) => id === 'cut')?.width ?? 0) * MM);
    expect(kerf).toBeGreaterThan(0);
    // Chromium lays a picture out in whole 64ths of a pixel, here about a hundredth of a millimetre; both alike.
    expect(Math.abs(widths[0] - RIB.width)).toBeLessThan(0.05);
    expect(widths[1] - widths[0]).toBeCloseTo(kerf, 3);
  });

  it('have arcs that Chromium walks within the tolerance of the lines they stand for', async () => {
    const { plan, parts } = await seedBench('child-155');
    const [arcs, lines] = await Promise.all((['arcs', 'lines'] as const).map(async (curves) => {
      const [made] = await makePapers(plan, parts, { ...options, which: ['sheet-1.svg'], shop: { ...PLAIN_SHOP, curves } });
      return new TextDecoder().decode(made.bytes).replace(/^<\?xml.*\?>\n/, '');
    }));
    const visit = await newVisit();
    await visit.page.setContent(`<!doctype html><body>${arcs}${lines}</body>`);
    const strays = await visit.page.evaluate(() => {
      const [round, straight] = [...document.querySelectorAll('svg')].map((svg) => [...svg.querySelectorAll<SVGPathElement>('#cut path')]);
      return round.map((path, i) => {
        const corners = (straight[i].getAttribute('d') ?? '').match(/-?[\d.]+ -?[\d.]+/g)?.map((pair) => pair.split(' ').map(Number)) ?? [];
        const whole = path.getTotalLength();
        let most = 0;
        for (let k = 0; k < 300; k++) {
          const { x, y } = path.getPointAtLength((whole * k) / 300);
          let nearest = Infinity;
          corners.forEach(([ax, ay], n) => {
            const [bx, by] = corners[(n + 1) % corners.length];
            const [dx, dy] = [bx - ax, by - ay];
            const t = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1)));
            nearest = Math.min(nearest, Math.hypot(x - ax - t * dx, y - ay - t * dy));
          });
          most = Math.max(most, nearest);
        }
        const bent = (path.getAttribute('d') ?? '').split('A').length - 1;
        return { most, bent, longer: whole - straight[i].getTotalLength() };
      });
    });
    expect(strays.reduce((sum, { bent }) => sum + bent, 0)).toBeGreaterThan(50);
    for (const { most, longer } of strays) {
      expect(most).toBeLessThan(0.021);
      // An arc bent the other way would be as long, but stray; one that goes round the far side is longer.
      expect(Math.abs(longer)).toBeLessThan(0.5);
    }
    expectClean(visit);
  });

  it('take a board name that is markup as text, and run nothing', async () => {
    const { plan } = await seedBench('child-155');
    const name = '</text><script>document.title="ran"</script>&"';
    const named = { ...plan, design: { ...plan.design, name } };
    const [made] = await makePapers(named, plateParts(), { ...options, which: ['ribs.svg'] });
    const { text } = await measure(made.bytes);
    expect(text).toContain(name);
  });
});
