/** Rectangles packed on sheets: the only use of maxrects-packer. Its heuristic is good, not proved best. */
import { MaxRectsPacker } from 'maxrects-packer';

/** What to pack, mm. */
export interface PackItem {
  readonly width: number;
  readonly height: number;
}

/** Where an item lies: lower left of its box, and whether it was turned a quarter. */
export interface PackedItem {
  readonly index: number;
  readonly x: number;
  readonly y: number;
  readonly turned: boolean;
}

/** The sheet, the least space between items, the margin along its edges, and whether items may be turned. */
export interface PackRules {
  readonly length: number;
  readonly width: number;
  readonly gap: number;
  readonly border: number;
  readonly turns: boolean;
}

/** Whether an item fits an empty sheet. */
export function fitsSheet(item: PackItem, { length, width, border, turns }: PackRules): boolean {
  const [l, w] = [length - 2 * border + 1e-6, width - 2 * border + 1e-6];
  return (item.width <= l && item.height <= w) || (turns && item.height <= l && item.width <= w);
}

/**
 * Pack items on as few sheets as the heuristic finds; the same answer for the same items. Items must fit an
 * empty sheet (`fitsSheet`); throws a RangeError for one that does not.
 */
export function packItems(items: readonly PackItem[], rules: PackRules): PackedItem[][] {
  const { length, width, gap, border, turns } = rules;
  const packer = new MaxRectsPacker<PackRect>(length, width, gap, {
    smart: false, pot: false, square: false, allowRotation: turns, border,
  });
  const rects = items.map((item, index): PackRect => {
    if (!fitsSheet(item, rules)) throw new RangeError(`item ${index} of ${item.width} by ${item.height} mm fits no sheet of ${length} by ${width} mm`);
    // The packer takes a sheet of its own for what does not fit as it lies, even where a quarter turn would do.
    const quarter = !fitsSheet(item, { ...rules, turns: false });
    return { index, width: quarter ? item.height : item.width, height: quarter ? item.width : item.height, x: 0, y: 0, quarter };
  });
  packer.addArray(rects);
  return packer.bins.map((bin) => bin.rects.map((r) => ({ index: r.index, x: r.x, y: r.y, turned: (r.rot === true) !== r.quarter })));
}

interface PackRect {
  index: number;
  width: number;
  height: number;
  x: number;
  y: number;
  rot?: boolean;
  /** Whether it was given to the packer turned by a quarter. */
  readonly quarter: boolean;
}
