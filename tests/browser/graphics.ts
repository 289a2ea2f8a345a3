/** Contrast of what is drawn with what is next to it, measured in pixels: WCAG 2.2, SC 1.4.11 (2023), at least 3 to 1; luminance as WCAG 2.2 defines it. */
import type { Locator, Page } from 'playwright-core';
import { contrast } from './contrast';
import { type Picture, readPicture } from './picture';

const NEEDED = 3;
/** Next to a pixel is what lies within so many px: as many as a line of 1.5 takes with its smoothed edges. Own choice. */
const BESIDE = 3;
/** Share of a graphic's edge that may lie on what is like it: crossed by another, under a letter. Own choice. */
const CROSSED = 0.1;
/** A pixel belongs to a graphic where taking it away changes a channel by more than this. */
const CHANGED = 3;

/** What is measured: a name to tell it by, what it is, and what takes it away. */
export interface Graphic {
  readonly name: string;
  readonly selector: string;
  /** Declarations; hidden as a whole where left out. */
  readonly away?: string;
}

/** Two signs differ where at least this share of their pixels have so much contrast with the other's. Own choice. */
const [LEAST_APART, TOLD_APART] = [0.08, 1.5];

const HIDDEN = 'visibility: hidden !important';

/** Share (0 to 1) of the edge of what changed that stands out from what is next to it, and how many pixels that edge has. */
function edgeTold(shown: Picture, without: Picture): { readonly share: number; readonly edge: number } {
  const { width, height } = shown;
  const changed = new Uint8Array(width * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const [a, b] = [shown.at(x, y), without.at(x, y)];
      if (a.some((v, i) => Math.abs(v - b[i]) > CHANGED)) changed[y * width + x] = 1;
    }
  }
  const isIn = (x: number, y: number) => x >= 0 && y >= 0 && x < width && y < height && changed[y * width + x] === 1;
  let edge = 0;
  let told = 0;
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1; x < width - 1; x++) {
      if (!isIn(x, y) || (isIn(x - 1, y) && isIn(x + 1, y) && isIn(x, y - 1) && isIn(x, y + 1))) continue;
      edge++;
      if (standsOut(shown, isIn, x, y)) told++;
    }
  }
  return { share: edge === 0 ? 0 : told / edge, edge };
}

/** Whether a pixel of the graphic at or beside a place has enough contrast with one next to it. */
function standsOut(shown: Picture, isIn: (x: number, y: number) => boolean, x: number, y: number): boolean {
  for (let v = y - 1; v <= y + 1; v++) {
    for (let u = x - 1; u <= x + 1; u++) {
      if (!isIn(u, v)) continue;
      const own = shown.at(u, v);
      for (let q = Math.max(0, y - BESIDE); q <= Math.min(shown.height - 1, y + BESIDE); q++) {
        for (let p = Math.max(0, x - BESIDE); p <= Math.min(shown.width - 1, x + BESIDE); p++) {
          if (contrast(own, shown.at(p, q)) >= NEEDED) return true;
        }
      }
    }
  }
  return false;
}

/** The graphics of an area that are not told from what is next to them, a line each. What is not there at all, or is not seen, is told too. */
export async function faintGraphics(area: Locator, graphics: readonly Graphic[]): Promise<string[]> {
  const page = area.page();
  const take = async () => readPicture(await area.screenshot({ animations: 'disabled' }));
  const shown = await take();
  const wrong: string[] = [];
  for (const { name, selector, away = HIDDEN } of graphics) {
    const sheet = await page.addStyleTag({ content: `html ${selector} { transition: none !important; ${away} }` });
    const { share, edge } = edgeTold(shown, await take());
    await sheet.evaluate((element) => (element as HTMLElement).remove());
    if (edge < 6) wrong.push(`${name}: not seen`);
    else if (share < 1 - CROSSED) wrong.push(`${name}: ${Math.round(100 * share)} % of its edge`);
  }
  return wrong;
}

/** Signs of a key that can be seen, and the pairs of them that look alike, by their text. */
export async function signsAlike(page: Page, selector: string): Promise<{ readonly count: number; readonly alike: readonly string[] }> {
  const signs = await page.evaluate((asked) => [...document.querySelectorAll(asked)].filter((element) => element.checkVisibility({ visibilityProperty: true })).map((element) => {
    const { left, top, right, bottom } = element.getBoundingClientRect();
    return { name: element.parentElement?.textContent ?? '', left: Math.round(left), top: Math.round(top), width: Math.round(right - left), height: Math.round(bottom - top) };
  }), selector);
  const picture = readPicture(await page.screenshot({ animations: 'disabled' }));
  const pixels = ({ left, top, width, height }: (typeof signs)[number]) =>
    Array.from({ length: width * height }, (_, i) => picture.at(left + (i % width), top + Math.floor(i / width)));
  /** Share of two signs' pixels that the eye tells apart. */
  const differs = (a: (typeof signs)[number], b: (typeof signs)[number]) => {
    if (a.width !== b.width || a.height !== b.height) return 1;
    const other = pixels(b);
    return pixels(a).filter((colour, i) => contrast(colour, other[i]) >= TOLD_APART).length / other.length;
  };
  return { count: signs.length, alike: signs.flatMap((a, i) => signs.slice(i + 1).filter((b) => differs(a, b) < LEAST_APART).map((b) => `${a.name} as ${b.name}`)) };
}

const line = (name: string, selector: string): Graphic => ({ name, selector, away: 'stroke: transparent !important' });
const border = (name: string, selector: string): Graphic => ({ name, selector, away: 'border-color: transparent !important' });

const RIBBON: readonly Graphic[] = [
  { name: 'sole and cap', selector: '.Stack_strip' },
  { name: 'rows', selector: '.Stack_row rect' },
  line('lines between the rows', '.Stack_row rect'),
  { name: 'hollow', selector: '.Stack_hollow' },
  { name: 'tabs', selector: '.Stack_tab rect' },
  { name: 'places of the ribs', selector: '.Stack_tab path' },
  { name: 'stops', selector: '.Stack_stop line' },
  { name: 'states', selector: '.Stack_state line' },
  { name: 'blocks', selector: '.BlockMarks_block rect' },
  { name: 'outer skins', selector: '.PartsLayer_skin' },
  { name: 'ways of bending', selector: '.PartsLayer_zone' },
  { name: 'joints', selector: '.PartsLayer_joint line' },
  { name: 'bevel', selector: '.BevelBand_band rect' },
  { name: 'pins', selector: '.DecisionPins_pin circle' },
  { name: 'stretches of decisions', selector: '.DecisionPins_decision > path' },
  { name: 'axis', selector: '.Axis_scale, html .Axis_axis line' },
  { name: 'axis along the rail', selector: '.Axis_along line' },
  { name: 'cursor', selector: '.Ribbon_cursor :is(line, path)' },
  ...['strip', 'row', 'hollow', 'stop', 'joint', 'port'].map((sign) => ({ name: `key, ${sign}`, selector: `.Head_key [data-sign="${sign}"]` })),
  { name: 'key, hatches', selector: '.Head_key svg' },
  { name: 'switch of the bands', selector: '.Head_knob' },
];

const CARD: readonly Graphic[] = [
  line('outlines of the section', '.SectionView_face'),
  { name: 'hollow of the section', selector: '.SectionView_face[data-kind="hollow"]' },
  { name: 'finished round', selector: '.SectionView_finished' },
  { name: 'what is planed', selector: '.SectionView_planed' },
  { name: 'legs of the bevel', selector: '.SectionView_bevel path' },
  { name: 'dimensions', selector: '.SectionView_dimension path:not(.SectionView_extension)' },
  { name: 'what dimensions reach to', selector: '.SectionView_extension' },
  border('fields of the distances', '.Distances_figure'),
  border('steps', '.StationCard_steps, html .StationCard_steps button'),
];

const TOP: readonly Graphic[] = [
  border('open room', '.RoomTabs_rooms [aria-current]'),
  border('board', '.TopBar_board'),
  border('words', '.TopBar_topbar > .ruled'),
  border('units', '.segments, html .segments button'),
];

const SHAPE: readonly Graphic[] = [
  { name: 'curves', selector: '.lines svg .curve' },
  { name: 'deck', selector: '.lines svg .deck-line' },
  { name: 'limit', selector: '.lines svg .limit' },
  line('handles', '.lines .handle .knob'),
  { name: 'levers', selector: '.lines .handles .lever' },
  { name: 'zero', selector: '.lines svg .grid .zero' },
  { name: 'station', selector: '.lines svg .station-line' },
];

const OVERALL: readonly Graphic[] = [border('fields of the sizes', '.lines-overall :is(.figure-input:enabled, select)'), border('trials', '.lines-overall .ruled')];

/** The areas of Plan and of Shape with what is drawn in each. */
export const IN_PLAN = { ribbon: RIBBON, card: CARD, top: TOP } as const;
export const IN_SHAPE = { lines: SHAPE, overall: OVERALL } as const;
