/** How far a body lies off the board fitted to it, told in classes: outside warm, inside cold, darker the farther, so that no eye needs the hue for how far. */
import { mm, type Said, said } from '../../geometry/said';

/** From how much on, mm, with the colour outside and inside. The first limit is that of a fit that is good; the others our own choice. */
export const OFF_CLASSES = [
  { from: 0, out: '#f3ecdb', in: '#f3ecdb' },
  { from: 0.3, out: '#f0c14b', in: '#a9cbe8' },
  { from: 1, out: '#d9822b', in: '#5b93cc' },
  { from: 3, out: '#8f2d12', in: '#1f3f7a' },
] as const;

/** The colour of a distance, outside positive. */
export function offColour(off: number): string {
  const found = OFF_CLASSES.findLast(({ from }) => Math.abs(off) >= from) ?? OFF_CLASSES[0];
  return off > 0 ? found.out : found.in;
}

/** What a class is, in words. */
export function offWords(nth: number): Said {
  const [from, to] = [OFF_CLASSES[nth].from, OFF_CLASSES.at(nth + 1)?.from];
  if (to === undefined) return said('over {from}', { from: mm(from) });
  return from === 0 ? said('to {to}', { to: mm(to) }) : said('{from} to {to}', { from: mm(from), to: mm(to) });
}
