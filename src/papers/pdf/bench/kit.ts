/** What every chapter of the bench sheet is given. */
import type { Parts } from '../../../../geometry/parts/types';
import type { Readings } from '../../../../geometry/trust/readings';
import type { Plan } from '../../../../geometry/types';
import { angleText, lengthText, lengthWithUnit, unitSign } from '../../../say/units';
import type { Stamp } from '../../stamp';
import type { Flow } from '../flow';

export interface Kit {
  readonly flow: Flow;
  readonly plan: Plan;
  readonly parts: Parts;
  readonly stamp: Stamp;
  /** Spacing of the steps along the rail, mm. */
  readonly step: number;
  /** Which side `plan` is, where sides were measured; absent: both alike. */
  readonly side?: string;
  /** What lies beside the board, for the codes. */
  readonly record?: Readings;
  /** Address of the viewer for the codes; empty for none. */
  readonly address: string;
}

/** Which side a page is of, behind its title. */
export const ofSide = ({ side }: Kit): string => (side === undefined ? '' : `: ${side}`);

/** A length without and with its unit, and an angle, as the maker reads them. */
export const len = (kit: Kit, mm: number, decimals = 1): string => lengthText(mm, kit.stamp.unit, decimals);
export const lenUnit = (kit: Kit, mm: number, decimals = 1): string => lengthWithUnit(mm, kit.stamp.unit, decimals);
export const signOf = (kit: Kit): string => unitSign(kit.stamp.unit);
export const deg = (rad: number): string => angleText(rad, 1);
