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
/** A pixel belongs to a letter where painting the letters changes it by this much. */
const CHANGED = 24;

interface Lettered {
  /** The kind it is of. */
  readonly kind: string;
  readonly text: string;
  readonly colour: string;
  readonly large: boolean;
  readonly box: readonly [left: number, top: number, right: number, bottom: number];
}

/** Of no text's own, and far from all that lies behind one: where letters are painted with it, each of their places is known, whatever their colour. */
const GLARING = 'rgb(255 0 255)';

/** A letter's place is what glares: fewer pixels of a text are none. */
const LEAST_SEEN = 6;

/** What was found of letters: those too faint, a line each; how many of each kind were judged; those that something lies over. */
interface Letters {
  readonly faults: readonly string[];
  readonly judged: ReadonlyMap<string, number>;
  readonly unseen: readonly string[];
}

/** Letters over pictures, hatches and bands that have too little contrast with them. @param kinds selectors of the elements that they are in */
export async function faintTexts(page: Page, kinds: Readonly<Record<string, string>>): Promise<Letters> {
  const texts: Lettered[] = await page.evaluate((given) => Object.entries(given).flatMap(([kind, selector]) => [...document.querySelectorAll(selector)].flatMap((element) => {
    const own = [...element.childNodes].some((node) => node instanceof Text && node.data.trim() !== '');
    if (!own || !element.checkVisibility({ opacityProperty: true, visibilityProperty: true })) return [];
    const { left, top, right, bottom } = element.getBoundingClientRect();
    if (right <= 0 || bottom <= 0 || left >= innerWidth || top >= innerHeight || right - left < 2) return [];
    const style = getComputedStyle(element);
    const [size, bold] = [Number.parseFloat(style.fontSize), Number(style.fontWeight) >= 700];
    return [{
      kind, text: element.textContent ?? '', colour: element instanceof SVGElement ? style.fill : style.color, large: size >= 24 || (bold && size >= 18.66),
      box: [Math.max(0, left), Math.max(0, top), Math.min(innerWidth, right), Math.min(innerHeight, bottom)] as const,
    }];
  })), kinds);
  const painted = async (colour: string) => {
    const sheet = await page.addStyleTag({ content: `html :is(${Object.values(kinds).join(',')}) { color: ${colour} !important; fill: ${colour} !important; transition: none !important }` });
    const picture = readPicture(await page.screenshot({ animations: 'disabled' }));
    await sheet.evaluate((element) => (element as HTMLElement).remove());
    return picture;
  };
  const [glaring, without] = [await painted(GLARING), await painted('transparent')];
  const [faults, unseen]: string[][] = [[], []];
  const judged = new Map(Object.keys(kinds).map((kind) => [kind, 0]));
  for (const { kind, text, colour, large, box: [left, top, right, bottom] } of texts) {
    const [r, g, b] = (colour.match(/[\d.]+/g) ?? []).map(Number);
    const behind: number[] = [];
    for (let y = Math.ceil(top); y < Math.floor(bottom); y++) {
      for (let x = Math.ceil(left); x < Math.floor(right); x++) {
        const [a, c] = [glaring.at(x, y), without.at(x, y)];
        if (a.some((v, i) => Math.abs(v - c[i]) > CHANGED)) behind.push(contrast([r, g, b], c));
      }
    }
    if (behind.length < LEAST_SEEN) {
      unseen.push(`${kind}: ${text}`);
      continue;
    }
    judged.set(kind, (judged.get(kind) ?? 0) + 1);
    const least = behind.sort((p, q) => p - q)[Math.floor(behind.length * CROSSED)];
    const needed = large ? NEEDED.large : NEEDED.other;
    if (least < needed) faults.push(`${kind}: ${text}: ${least.toFixed(2)} of ${needed}`);
  }
  return { faults, judged, unseen };
}
