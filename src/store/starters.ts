/** The starter boards that come with the program, read with the same checks as any board file. */
import type { Design } from '../../geometry/design/schema';
import { readDesign } from '../../geometry/design/read';

const texts = import.meta.glob<string>('../../seeds/*.board.json', { query: '?raw', import: 'default', eager: true });

const FIRST = 'round-tail-175';

export interface Starter {
  readonly id: string;
  readonly design: Design;
}

function readStarter([path, text]: [string, string]): Starter {
  const read = readDesign(text);
  if (!read.ok) throw new Error(`${path}: ${read.errors.map((e) => `${e.field} ${e.message}`).join('; ')}`);
  return { id: path.replace(/^.*\/|\.board\.json$/g, ''), design: read.design };
}

/** All starter boards, shortest first. */
export const starters: readonly Starter[] = Object.entries(texts)
  .map(readStarter)
  .sort((a, b) => boardLength(a.design) - boardLength(b.design));

/** Length of a board from its outline's points, mm. */
export function boardLength(design: Design): number {
  const xs = design.lines.outline.points.map((point) => point.x);
  return Math.max(...xs) - Math.min(...xs);
}

/** The board shown to a first visitor. */
export function firstBoard(): Design {
  return (starters.find(({ id }) => id === FIRST) ?? starters[0]).design;
}
