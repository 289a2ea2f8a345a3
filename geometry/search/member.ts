/** One board of a family, as it stands beside the others: scaled, planned from wide samples, weighed and pictured. */
import type { Design } from '../design/schema';
import type { FieldError } from '../errors';
import { planBoard } from '../plan';
import type { Finding } from '../types';
import { boardSize, familyRow, scaleBoard, type BoardSize, type FamilyRow } from './family';
import { portraitOf, type Portrait } from './portrait';
import { massNearly } from './weigh';

/** A board of a family: planned, with its findings that are more than notes; or why it cannot be. */
export type Variant =
  | { readonly ok: true; readonly design: Design; readonly row: FamilyRow; readonly portrait: Portrait; readonly graver: readonly Finding[] }
  | { readonly ok: false; readonly errors: readonly FieldError[] };

/** Greatest spacing of samples, mm: of over a hundred boards no stop moved by 0.01 mm and no bevel by 0.004 degrees from the settled plan's (10 mm saves a twentieth more). */
const FAMILY_STEP = 8;

/**
 * Makes boards of a family from one design, each by its size. Figures are those of its wide samples: stops and cover within 0.05 mm, bevel within 0.02 degrees
 * and mass within a thousandth of the settled plan's. Throws a BuildError for lines that make no hull or leave no room for a box.
 */
export function variantsOf(design: Design): (size: BoardSize) => Variant {
  const now = boardSize(design);
  return (size) => {
    const scaled = scaleBoard(design, size, now);
    if (!scaled.ok) return scaled;
    const plan = planBoard(scaled.design, { step: FAMILY_STEP });
    return { ok: true, design: scaled.design, row: familyRow(plan, massNearly), portrait: portraitOf(plan), graver: plan.findings.filter(({ level }) => level !== 'note') };
  };
}
