/** What a readings file begins with, and how far a reading goes. */
import type { ReadingField } from './types';

export const READINGS_FORMAT = 'railwright-readings';
export const READINGS_VERSION = 2;

/** The greatest a reading may be, mm; a bevel goes as far either way, radians. */
export const READING_MOST: Readonly<Record<ReadingField, number>> = { depth: 400, sole: 80, cap: 80, spacer: 120, tab: 400, bevel: Math.PI / 3 };
