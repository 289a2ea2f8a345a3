/** Contrast of letters with what is really behind them, measured in pixels: WCAG 2.2, SC 1.4.3; relative luminance as WCAG 2.2 defines it. */
import type { Page } from 'playwright-core';
import { type Colour, readPicture } from './picture';

const channel = (v: number): number => (v / 255 <= 0.04045 ? v / 255 / 12.92 : ((v / 255 + 0.055) / 1.055) ** 2.4);
const luminance = ([r, g, b]: Colour): number => 0.2126 * channel(r) + 0.7152 * channel(g) + 0.0722 * channel(b);
export const contrast = (a: Colour, b: Colour): number => {
  const [x, y] = [luminance(a), luminance(b)];
  return (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05);
};

/** Large letters (24 px, or 18.66 bold) need 3, all others 4.5. */
const NEEDED = { large: 3, other: 4.5 } as const;
/** Share of a text's pixels that may have less behind them: a line that crosses a letter. Own choice. */
const CROSSED = 0.1;
/** A pixel belongs to a letter where taking the letters away changes it by this much. */
const CHANGED = 24;

interface Lettered {
  readonly text: string;
  readonly colour: string;
  readonly large: boolean;
  readonly box: readonly [left: number, top: number, right: number, bottom: number];
}

/** Letters over pictures, hatches and bands that have too little contrast with them: a line each. Throws where none are there. */
export async function faintTexts(page: Page, over: string): Promise<string[]> {
  const texts: Lettered[] = await page.evaluate((selector) => [...document.querySelectorAll(selector)].flatMap((element) => {
    const own = [...element.childNodes].some((node) => node instanceof Text && node.data.trim() !== '');
    if (!own || !element.checkVisibility({ opacityProperty: true, visibilityProperty: true })) return [];
    const { left, top, right, bottom } = element.getBoundingClientRect();
    if (right <= 0 || bottom <= 0 || left >= innerWidth || top >= innerHeight || right - left < 2) return [];
    const style = getComputedStyle(element);
    const [size, bold] = [Number.parseFloat(style.fontSize), Number(style.fontWeight) >= 700];
    return [{
      text: element.textContent ?? '', colour: element instanceof SVGElement ? style.fill : style.color, large: size >= 24 || (bold && size >= 18.66),
      box: [Math.max(0, left), Math.max(0, top), Math.min(innerWidth, right), Math.min(innerHeight, bottom)] as const,
    }];
  }), over);
  if (texts.length === 0) throw new Error(`no text in ${over}`);
  const withLetters = readPicture(await page.screenshot({ animations: 'disabled' }));
  const sheet = await page.addStyleTag({ content: `${over.split(',').map((one) => `html ${one}`).join(',')} { color: transparent !important; fill: transparent !important; transition: none !important }` });
  const without = readPicture(await page.screenshot({ animations: 'disabled' }));
  await sheet.evaluate((element) => (element as HTMLElement).remove());
  return texts.flatMap(({ text, colour, large, box: [left, top, right, bottom] }) => {
    const [r, g, b] = (colour.match(/[\d.]+/g) ?? []).map(Number);
    const behind: number[] = [];
    for (let y = Math.ceil(top); y < Math.floor(bottom); y++) {
      for (let x = Math.ceil(left); x < Math.floor(right); x++) {
        const [a, c] = [withLetters.at(x, y), without.at(x, y)];
        if (a.some((v, i) => Math.abs(v - c[i]) > CHANGED)) behind.push(contrast([r, g, b], c));
      }
    }
    // Under something else, as a label under the cursor's.
    if (behind.length < 6) return [];
    const least = behind.sort((p, q) => p - q)[Math.floor(behind.length * CROSSED)];
    const needed = large ? NEEDED.large : NEEDED.other;
    return least >= needed ? [] : [`${text}: ${least.toFixed(2)} of ${needed}`];
  });
}
