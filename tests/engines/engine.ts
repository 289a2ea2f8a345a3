/** A browser of another maker, driven by real pointer and key actions only: a click hits what lies on top. */

export interface Point {
  readonly x: number;
  readonly y: number;
}

export interface Engine {
  readonly name: string;
  goto(url: string): Promise<void>;
  /** Runs an expression in the page and returns what it gives, as JSON would carry it. */
  js<T>(expression: string): Promise<T>;
  /** Presses, moves through the points and lets go: one point is a click. CSS px of the window's inside. */
  press(...points: readonly Point[]): Promise<void>;
  type(text: string): Promise<void>;
  /** A picture of the window's inside, PNG. */
  picture(): Promise<Buffer>;
  close(): Promise<void>;
}

/** Waits until an expression gives something that counts as true, and returns it. Throws, naming it, after `longest` ms. */
export async function until<T>(engine: Engine, expression: string, longest = 300_000): Promise<T> {
  const end = Date.now() + longest;
  for (;;) {
    const value = await engine.js<T>(expression);
    if (value) return value;
    if (Date.now() > end) throw new Error(`${engine.name}: not true in ${longest / 1000} s: ${expression}`);
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}

/** What a control of the page is: where its middle lies on the screen, and what lies on top there. */
interface Spot extends Point {
  readonly name: string;
  /** What covers it, as tag and class; empty where it can be hit. */
  readonly under: string;
}

/**
 * Every control of the elements that a selector finds, each brought into view and then looked at; `only` the first whose
 * name begins so.
 */
export const spots = (engine: Engine, selector: string, only = ''): Promise<Spot[]> => engine.js<Spot[]>(`(() => {
  const out = [];
  const controls = 'button, a[href], input, select, textarea, summary';
  for (const root of document.querySelectorAll(${JSON.stringify(selector)})) {
    for (const each of root.matches(controls) ? [root] : root.querySelectorAll(controls)) {
      if (each.disabled || each.type === 'file' || !each.checkVisibility({ visibilityProperty: true })) continue;
      const label = each.closest('label') ?? each.labels?.[0];
      const name = (each.getAttribute('aria-label') || each.textContent || label?.textContent || each.name || each.tagName).trim();
      if (!name.startsWith(${JSON.stringify(only)})) continue;
      // A box to tick may be drawn by its label.
      const stands = label && each.getBoundingClientRect().width < 8 ? label : each;
      stands.scrollIntoView({ block: 'nearest', inline: 'nearest' });
      const box = stands.getBoundingClientRect();
      const x = box.x + box.width / 2, y = box.y + box.height / 2;
      const top = document.elementFromPoint(x, y);
      const own = top && (each.contains(top) || label && label.contains(top));
      out.push({ name: name.slice(0, 60), x, y, under: own ? '' : top ? top.tagName.toLowerCase() + '.' + (top.getAttribute('class') ?? '') : 'nothing' });
      if (${JSON.stringify(only)} !== '') return out;
    }
  }
  return out;
})()`);

/** The first control of a selector whose name begins so, brought into view. Throws where there is none, or something covers it. */
async function spot(engine: Engine, selector: string, name: string): Promise<Spot> {
  const [found] = await spots(engine, selector, name);
  if (!found) throw new Error(`${engine.name}: no control "${name}" in ${selector}`);
  if (found.under !== '') throw new Error(`${engine.name}: "${name}" lies under ${found.under}`);
  return found;
}

/** Clicks a control where it stands, by the pointer. */
export async function click(engine: Engine, selector: string, name: string): Promise<void> {
  await engine.press(await spot(engine, selector, name));
}
