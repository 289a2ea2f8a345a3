/** What the writers of papers work from. */
import type { Parts } from '../../geometry/parts/types';
import type { Plan } from '../../geometry/types';
import type { Shop } from './shop';
import type { PaperSize } from './sizes';
import type { Stamp } from './stamp';
import type { Trust } from './trust';

/** A plan, its parts, and how the papers are to be. */
export interface Recipe {
  readonly plan: Plan;
  readonly parts: Parts;
  readonly paper: PaperSize;
  readonly step: number;
  readonly kerf: 'compensated' | 'drawn';
  /** How the shop that cuts wants its files. */
  readonly shop: Shop;
  readonly stamp: Stamp;
  /** Address of the viewer, for the codes on the bench sheet; empty for none. */
  readonly address: string;
  /** Tolerance and readings, where they are wanted. */
  readonly trust: Trust;
}
