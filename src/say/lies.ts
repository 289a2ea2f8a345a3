/** How far the cap lies off its drawn line between the ribs, told in classes: by lightness and by stripes, so that no eye needs the hue. */
import { STAND_OFF } from '../../geometry/parts/lies';
import type { Parts } from '../../geometry/parts/types';
import { mm, type Said, said } from '../../geometry/said';

/** From how much on, mm, with its colour and the share of it that is striped dark. The first limit is what a builder measures, the second that of the finding; the third is our own choice. */
export const LIE_CLASSES = [
  { from: 0, colour: '#f4e6c4', striped: 0 },
  { from: 0.1, colour: '#ecc76f', striped: 0.15 },
  { from: STAND_OFF, colour: '#d98a2b', striped: 0.4 },
  { from: 2 * STAND_OFF, colour: '#a8391a', striped: 0.65 },
] as const;
/** The stripes' own colour. */
export const LIE_INK = '#2a1206';

export const lieClass = (standOff: number): (typeof LIE_CLASSES)[number] => LIE_CLASSES.findLast(({ from }) => Math.abs(standOff) > from) ?? LIE_CLASSES[0];

/** What a class is, in words. */
export function lieWords(nth: number): Said {
  const [from, to] = [LIE_CLASSES[nth].from, LIE_CLASSES.at(nth + 1)?.from];
  if (to === undefined) return said('over {from}', { from: mm(from) });
  return from === 0 ? said('to {to}', { to: mm(to) }) : said('{from} to {to}', { from: mm(from), to: mm(to) });
}

/** The bays of the cap, tail first, those alone whose place along the rail is known. */
export const capBays = ({ lies }: Pick<Parts, 'lies'>) => lies.filter(({ strip }) => strip.kind === 'cap').flatMap(({ bays }) => bays.flatMap(({ from, until, standOff, at }) =>
  (from.s === undefined || until.s === undefined || at.s === undefined ? [] : [{ from: from.s, until: until.s, at: at.s, standOff }])));
