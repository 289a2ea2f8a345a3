/** What is wrong with how a page stands in its window, measured from boxes. The bounds are the project's own choice. */
import type { Page } from 'playwright-core';
import { rest } from './rooms';

/** In the page: every fault a line, in words. Runs there alone, so it names nothing from outside. */
function measureBoxes(): string[] {
  interface Box { readonly l: number; readonly t: number; readonly r: number; readonly b: number }
  const faults: string[] = [];
  const boxOf = ({ left, top, right, bottom }: DOMRect): Box => ({ l: left, t: top, r: right, b: bottom });
  const meet = (a: Box, b: Box): Box => ({ l: Math.max(a.l, b.l), t: Math.max(a.t, b.t), r: Math.min(a.r, b.r), b: Math.min(a.b, b.b) });
  const least = (a: Box) => Math.min(a.r - a.l, a.b - a.t);
  const scrolls = (value: string) => value === 'auto' || value === 'scroll';
  const cuts = (value: string) => value === 'hidden' || value === 'clip';
  const root = document.documentElement;
  const windowBox: Box = { l: 0, t: 0, r: innerWidth, b: innerHeight };

  const nameOf = (element: Element): string => {
    const text = (element.getAttribute('aria-label') ?? element.textContent ?? '').replaceAll(/\s+/g, ' ').trim().slice(0, 40);
    const area = element.closest('[data-area], section[aria-label], main[aria-label]');
    return `“${text || element.tagName.toLowerCase()}” (${element.tagName.toLowerCase()}.${element.getAttribute('class') ?? ''}) in ${area?.getAttribute('data-area') ?? area?.getAttribute('aria-label') ?? 'page'}`;
  };
  /** Only heard: put out of sight with all that is in it. */
  const isHeard = (element: Element | null): boolean => element !== null && (getComputedStyle(element).clipPath.startsWith('inset(50%)') || isHeard(element.parentElement));
  const isSeen = (element: Element): boolean => element.checkVisibility({ opacityProperty: true, visibilityProperty: true }) && !isHeard(element);

  /**
   * What of a box can be seen once all it lies in has cut it, and whether something that does not scroll cuts it off.
   * What has been scrolled away can be reached, so it is not cut off.
   */
  const within = (from: Element, box: Box, letters = false): { readonly seen: Box; readonly cut: string | null } => {
    let seen = box;
    let cut: string | null = null;
    let fixed = false;
    const soFar = () => seen;
    for (let at: Element | null = from; at && at !== root && at !== document.body; at = at.parentElement) {
      const { overflowX, overflowY, position, textOverflow } = getComputedStyle(at);
      const inline = getComputedStyle(at).display === 'inline';
      const inSvg = at instanceof SVGElement && !(at instanceof SVGSVGElement);
      if (!inline && !inSvg && !fixed && (overflowX !== 'visible' || overflowY !== 'visible')) {
        const { left, top } = at.getBoundingClientRect();
        const edge = at instanceof SVGElement ? boxOf(at.getBoundingClientRect())
          : { l: left + at.clientLeft, t: top + at.clientTop, r: left + at.clientLeft + at.clientWidth, b: top + at.clientTop + at.clientHeight };
        const now = soFar();
        if (least(now) > 0 && cut === null) {
          const [x, y] = [Math.max(edge.l - now.l, now.r - edge.r), Math.max(edge.t - now.t, now.b - edge.b)];
          if (x > 1.5 && cuts(overflowX) && textOverflow !== 'ellipsis') cut = `${Math.round(x)} px across, by ${at.tagName.toLowerCase()}.${at.getAttribute('class') ?? ''}`;
          if (y > 1.5 && cuts(overflowY)) cut = `${Math.round(y)} px up or down, by ${at.tagName.toLowerCase()}.${at.getAttribute('class') ?? ''}`;
        }
        // What lies before the beginning of what scrolls is reached by no scrolling.
        if (letters && least(now) > 0 && scrolls(overflowX) && at.scrollLeft === 0 && edge.l - now.l > 1.5) cut ??= `${Math.round(edge.l - now.l)} px before the beginning of ${at.tagName.toLowerCase()}.${at.getAttribute('class') ?? ''}`;
        if (scrolls(overflowX) || scrolls(overflowY)) {
          const reached = meet(now, edge);
          // Scrolled away as a whole: it can be scrolled to.
          if (least(reached) <= 0) return { seen: reached, cut };
        }
        seen = meet(now, { l: overflowX === 'visible' ? -Infinity : edge.l, r: overflowX === 'visible' ? Infinity : edge.r, t: overflowY === 'visible' ? -Infinity : edge.t, b: overflowY === 'visible' ? Infinity : edge.b });
      }
      if (position === 'fixed') fixed = true;
    }
    if (least(seen) > 0 && (fixed || cuts(getComputedStyle(document.body).overflowY))) {
      const x = Math.max(-seen.l, seen.r - innerWidth, -seen.t, seen.b - innerHeight);
      if (x > 1.5) cut ??= `${Math.round(x)} px, by the window`;
    }
    if (letters && least(seen) > 0 && seen.l < -1.5 && root.scrollLeft === 0) cut ??= `${Math.round(-seen.l)} px before the beginning of the page`;
    if (least(seen) > 0 && seen.r > innerWidth + 1.5) cut ??= `${Math.round(seen.r - innerWidth)} px across, by the window`;
    return { seen: meet(seen, windowBox), cut };
  };

  /** Whether something opaque that is neither it, nor in it, nor what it lies in, is drawn over a place. */
  const coverOf = (element: Element, x: number, y: number): Element | null => {
    for (const over of document.elementsFromPoint(x, y)) {
      if (over === element || element.contains(over) || over.contains(element)) return null;
      const { backgroundColor, opacity } = getComputedStyle(over);
      if (opacity === '0') continue;
      const alpha = backgroundColor === 'transparent' ? 0 : Number(/^rgba?\([^)]*[,/]\s*([\d.]+)\)$/.exec(backgroundColor)?.[1] ?? 1);
      const clear = backgroundColor.startsWith('rgb(') && !backgroundColor.includes('/') ? 1 : alpha;
      if (!(over instanceof SVGElement) && clear > 0.9) return over;
    }
    return null;
  };

  /** Whether what lies over an element stays where it is while that, outside it, scrolls under it. */
  const scrolledUnder = (over: Element | null, element: Element): boolean =>
    over !== null && ((getComputedStyle(over).position === 'sticky' && !over.contains(element)) || scrolledUnder(over.parentElement, element));

  // Everything can be hit while places are looked at, so that what lies over another is found whatever takes the pointer.
  const sheet = new CSSStyleSheet();
  sheet.replaceSync('*, *::before, *::after { pointer-events: auto !important; }');
  document.adoptedStyleSheets.push(sheet);

  const texts: { readonly node: Text; readonly owner: Element; readonly box: Box }[] = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const node = walker.currentNode as Text;
    const owner = node.parentElement;
    if (!owner || !node.data.trim() || /^(SCRIPT|STYLE|NOSCRIPT|TITLE|DESC|OPTION|TEXTAREA)$/i.test(owner.tagName) || !isSeen(owner)) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    const size = Number.parseFloat(getComputedStyle(owner).fontSize);
    let told = false;
    for (const rect of range.getClientRects()) {
      if (rect.width < 1 || rect.height < 1) continue;
      // The em box: what stands above and below it is room that no letter fills.
      const spare = owner instanceof SVGElement ? rect.height * 0.12 : Math.max(0, (rect.height - size) / 2);
      const box = { l: rect.left, t: rect.top + spare, r: rect.right, b: rect.bottom - spare };
      const { seen, cut } = within(owner, box, true);
      if (cut !== null && !told) {
        faults.push(`text cut: ${nameOf(owner)}, ${cut}`);
        told = true;
      }
      if (least(seen) < 2) continue;
      const cover = coverOf(owner, (seen.l + seen.r) / 2, (seen.t + seen.b) / 2);
      if (cover) {
        // Under a drawer that lies over its room, or scrolled under a bar that stays: not there to be read.
        if (!cover.closest('[data-area="drawer"], [role="alertdialog"], [data-covers]') && !scrolledUnder(cover, owner) && !told) {
          faults.push(`text covered: ${nameOf(owner)} by ${nameOf(cover)}`);
          told = true;
        }
        continue;
      }
      texts.push({ node, owner, box: seen });
    }
  }
  const told = new Set<string>();
  texts.forEach((a, i) => {
    for (let k = i + 1; k < texts.length; k++) {
      const b = texts[k];
      if (a.node === b.node || least(meet(a.box, b.box)) <= 1) continue;
      // What a drawer lies over in part.
      const [x, y] = [(Math.max(a.box.l, b.box.l) + Math.min(a.box.r, b.box.r)) / 2, (Math.max(a.box.t, b.box.t) + Math.min(a.box.b, b.box.b)) / 2];
      const covers = [a, b].map(({ owner }) => ({ owner, cover: coverOf(owner, x, y) }));
      if (covers.some(({ owner, cover }) => cover?.closest('[data-area="drawer"]') || scrolledUnder(cover, owner))) continue;
      const line = `texts overlap: ${nameOf(a.owner)} and ${nameOf(b.owner)}, ${least(meet(a.box, b.box)).toFixed(1)} px`;
      if (!told.has(line)) faults.push(line);
      told.add(line);
    }
  });
  document.adoptedStyleSheets = document.adoptedStyleSheets.filter((one) => one !== sheet);

  for (const control of document.querySelectorAll('button, a[href], input, select, textarea, summary, [tabindex="0"]')) {
    if (!isSeen(control) || getComputedStyle(control).pointerEvents === 'none' || (control instanceof HTMLInputElement && control.type === 'file')) continue;
    if (control instanceof HTMLElement && control.offsetParent === null && getComputedStyle(control).position !== 'fixed') continue;
    const rects = [...control.getClientRects()];
    if (rects.length === 0) continue;
    // What a finger may miss a drawn handle by reaches past its drawing; the handle itself must not.
    const drawn = rects[0];
    const spare = control instanceof SVGElement ? 0.3 : 0;
    const { seen, cut } = within(control.parentElement ?? control, { l: drawn.left + spare * drawn.width, t: drawn.top + spare * drawn.height, r: drawn.right - spare * drawn.width, b: drawn.bottom - spare * drawn.height });
    if (cut !== null) faults.push(`control cut: ${nameOf(control)}, ${cut}`);
    if (least(seen) < 4) continue;
    const [x, y] = [(seen.l + seen.r) / 2, (seen.t + seen.b) / 2];
    const hit = document.elementFromPoint(x, y);
    // Of drawn handles a press takes hold of the nearest.
    if (control instanceof SVGElement && hit instanceof SVGElement && control.ownerSVGElement === hit.ownerSVGElement) continue;
    if (hit && hit !== control && !control.contains(hit) && !hit.contains(control) && !(hit instanceof HTMLLabelElement && hit.control === control) && !hit.closest('[data-area="drawer"]')) {
      if (!scrolledUnder(hit, control)) faults.push(`control under another: ${nameOf(control)} under ${nameOf(hit)}`);
    }
  }

  if (root.scrollWidth > root.clientWidth + 1) faults.push(`the page scrolls ${root.scrollWidth - root.clientWidth} px across`);
  for (const element of document.querySelectorAll('*')) {
    const { overflowX } = getComputedStyle(element);
    // A table of boards side by side needs both ways, as SC 1.4.10 allows one.
    if (!isSeen(element) || !scrolls(overflowX) || element.scrollWidth <= element.clientWidth + 1 || element.closest('[data-two-ways]')) continue;
    if (element instanceof HTMLTextAreaElement || element instanceof HTMLInputElement) continue;
    const shown = element.getBoundingClientRect();
    if (shown.width < 2 || shown.height < 2) continue;
    faults.push(`scrolls across: ${nameOf(element)}, ${element.scrollWidth - element.clientWidth} px`);
  }
  return faults;
}

/** What is cut, covered or overlaps on the page as it stands, or scrolls across: a line each. */
const boxFaults = (page: Page): Promise<string[]> => page.evaluate(measureBoxes);

export interface Size {
  readonly width: number;
  readonly height: number;
}

const ALL = process.env.RAILWRIGHT_BOXES === 'all';
const windows = (sizes: readonly (readonly [number, number])[]): readonly Size[] => sizes.map(([width, height]) => ({ width, height }));
const DESKS = windows([[1440, 900], [1280, 720]]);
/** Upright with and without a browser's bars, on its side, a small one, and a desk enlarged four times (WCAG 2.2, SC 1.4.10). */
const PHONES = windows([[390, 844], [390, 664], [844, 390], [360, 640], [320, 256]]);

/** Windows for the rooms and for what lies over them, at a desk and on a phone; with `RAILWRIGHT_BOXES=all` every one for all. */
export const WINDOWS = ALL
  ? { desk: { rooms: [...DESKS, ...PHONES], over: [...DESKS, ...PHONES] }, phone: { rooms: PHONES, over: PHONES } }
  : { desk: { rooms: DESKS, over: DESKS.slice(1) }, phone: { rooms: PHONES, over: PHONES.slice(4) } };

/** The faults of a page in windows of those sizes, each line begun with name and size; it is left as large as it was. */
export async function faultsInWindows(page: Page, name: string, sizes: readonly Size[]): Promise<string[]> {
  const before = page.viewportSize();
  const wrong: string[] = [];
  for (const size of sizes) {
    await page.setViewportSize(size);
    await rest(page);
    wrong.push(...(await boxFaults(page)).map((fault) => `${name}, ${size.width} x ${size.height}: ${fault}`));
  }
  if (before) await page.setViewportSize(before);
  return wrong;
}
