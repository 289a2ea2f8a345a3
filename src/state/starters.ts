/** The board that a first visitor sees. Tests hold it to the checks of any board file: the page need not. */
import type { Design } from '../../geometry/design/schema';
import first from '../../seeds/first-166.board.json';

/** Length of a board from its outline's points, mm. */
export function boardLength(design: Design): number {
  const xs = design.lines.outline.points.map((point) => point.x);
  return Math.max(...xs) - Math.min(...xs);
}

/** The board shown to a first visitor. */
export const firstBoard = (): Design => structuredClone(first) as unknown as Design;
