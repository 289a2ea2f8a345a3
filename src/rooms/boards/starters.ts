/** The starter boards that come with the program. Tests hold them to the checks of any board file: the page need not. */
import type { Design } from '../../../geometry/design/schema';

const texts = import.meta.glob<string>('../../../seeds/*.board.json', { query: '?raw', import: 'default', eager: true });

export interface Starter {
  readonly id: string;
  readonly name: string;
  readonly text: string;
}

/** All starter boards, in the order of their names' lengths: shortest board first. Only the one opened is read whole. */
export const starters: readonly Starter[] = Object.entries(texts)
  .map(([path, text]): Starter => ({
    id: path.replace(/^.*\/|\.board\.json$/g, ''),
    name: (JSON.parse(text) as Pick<Design, 'name'>).name,
    text,
  }))
  .sort((a, b) => Number(/\d+$/.exec(a.id)?.[0] ?? 0) - Number(/\d+$/.exec(b.id)?.[0] ?? 0));

/** The design of a starter board. */
export const starterDesign = ({ text }: Starter): Design => JSON.parse(text) as Design;
