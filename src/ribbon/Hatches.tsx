/** Hatches of the ribbon: a pattern and a colour for every method of bending, and the block's. */
import type { Method } from '../../geometry/design/methods';
import css from './Hatches.module.css';

type Hatched = Exclude<Method, 'cold'>;

/** A tile's size, its turn in degrees, and its lines. Each differs by its lines alone, without its colour. */
const TILES: Readonly<Record<Hatched | 'end', { readonly size: number; readonly turn: number; readonly lines: string }>> = {
  forced: { size: 8, turn: -45, lines: 'M0 0V8' },
  wet: { size: 6, turn: 45, lines: 'M0 0V6' },
  split: { size: 4, turn: 0, lines: 'M0 2H4' },
  layers: { size: 4, turn: 0, lines: 'M2 0V4' },
  strap: { size: 7, turn: 45, lines: 'M0 0V7M0 0H7' },
  block: { size: 5, turn: 45, lines: 'M0 0V5M0 0H5' },
  end: { size: 5, turn: 0, lines: 'M0 1.5Q2.5 0 5 1.5M0 4H5' },
};

const isHatched = (method: string): method is keyof typeof TILES => Object.hasOwn(TILES, method);

/** What fills a stretch of a method, none where it is bent cold. @param id of the hatches on the page */
export const hatchFill = (id: string, method: Method | 'end'): string => (isHatched(method) ? `url(#${id}${method})` : 'none');

/** The hatches, once on a page for each that draws with them. */
export function Hatches({ id }: { readonly id: string }) {
  return (
    <defs>
      {Object.entries(TILES).map(([name, { size, turn, lines }]) => (
        <pattern key={name} id={`${id}${name}`} width={size} height={size} patternUnits="userSpaceOnUse" patternTransform={`rotate(${turn})`}>
          <rect className={css.ground} data-hatch={name} width={size} height={size} />
          <path className={css.lines} data-hatch={name} d={lines} />
        </pattern>
      ))}
    </defs>
  );
}
