/** Words for measures, figures and bands. */
import type { Band, Matter, Measure, ReadingField, Share, ToleranceBands } from '../../geometry/trust/types';
import { angleText, lengthText, type Unit } from './units';

/** How bands are found. */
export const METHOD_WORDS: Readonly<Record<ToleranceBands['method'], string>> = { estimate: 'quick estimate', trials: 'random trials' };

/** What has a spread. */
const MEASURES: Readonly<Record<Measure, string>> = {
  sole: 'Sole strip thickness', cap: 'Cap strip thickness', spacerHeight: 'Spacer height', spacerWidth: 'Spacer width', stripWidth: 'Strip width',
  deckSkin: 'Deck skin thickness', bottomSkin: 'Bottom skin thickness', glueLine: 'Glue lines', kerf: 'Laser kerf', ribHeight: 'Height of the ribs',
};

/** A measure, with the rib where it is one rib's own. */
export const measureText = ({ measure, ofRib }: Pick<Share, 'measure' | 'ofRib'>): string =>
  ofRib === undefined ? MEASURES[measure] : `Height of rib ${ofRib + 1}`;

/** What a measure moves. */
export function quantityText({ quantity, row, end }: Matter): string {
  return quantity === 'stop' ? `the stop of row ${row} toward the ${end}` : `the ${quantity}`;
}

/** What the caliper reads, short enough for a field, and how it is taken. */
export const READING_WORDS: Readonly<Record<ReadingField, { readonly label: string; readonly how: string }>> = {
  depth: { label: 'Depth', how: 'height of the rib end, skin seat to skin seat' },
  sole: { label: 'Sole', how: 'thickness of the sole strip here' },
  cap: { label: 'Cap', how: 'thickness of the cap strip here' },
  spacer: { label: 'Spacer', how: 'height of one spacer here' },
  tab: { label: 'Tab', how: 'height of the tab, sole to cap' },
  bevel: { label: 'Bevel', how: 'faired cap against the rib, square to the rail' },
};

/** A figure's text in the maker's unit. */
export const figureText = (what: Matter['quantity'], unit: Unit, decimals = 2) => (value: number): string =>
  what === 'bevel' ? angleText(value, decimals) : lengthText(value, unit, decimals);

/** How far a band reaches from its value: ±a where it does so evenly, else −a +b. */
export function spreadText({ value, low, high }: Band, text: (v: number) => string): string {
  const [under, over] = [text(value - low), text(high - value)];
  return under === over ? `±${over}` : `−${under} +${over}`;
}

/** A change with its sign. */
export function signed(value: number, text: (v: number) => string): string {
  const shown = text(value);
  return value > 0 && /[1-9]/.test(shown) ? `+${shown}` : shown;
}
