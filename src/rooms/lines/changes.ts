/** What a proposal changes, in the figures of the two boards side by side. */
import type { FamilyRow } from '../../../geometry/search/family';
import { angleText, fixed, lengthText, lengthWithUnit, type Unit } from '../../say/units';
import { outerStops, SEVERITY_WORDS } from '../../say/words';

interface Change {
  readonly label: string;
  /** As the board is; null where that is not known. */
  readonly was: string | null;
  readonly is: string;
}

/** The figures that differ as they are told; the volume always. `was`: null where the board as it is has no plan. */
export function changesOf(was: FamilyRow | null, is: FamilyRow, unit: Unit): readonly Change[] {
  const most = Math.max(0, ...[was, is].flatMap((of) => of?.rows.map(({ row }) => row) ?? []));
  const rows = Array.from({ length: most }, (_, i) => most - i);
  const told = (of: FamilyRow): readonly (readonly [string, string])[] => [
    ['length', lengthText(of.length, unit)],
    ['width', lengthText(of.width, unit)],
    ['thickness', lengthText(of.thickness, unit)],
    ...rows.map((row) => [`row ${row}`, outerStops(of.rows, row, unit)?.join(' / ') ?? 'none'] as const),
    ['bevel', angleText(of.bevel.max)],
    ['cover', lengthWithUnit(of.cover, unit)],
    ...(of.mass === undefined ? [] : [['timber', `${fixed(of.mass, 2)} kg`] as const]),
    [SEVERITY_WORDS.cannot, String(of.findings.cannot)],
  ];
  const before = was && new Map(told(was));
  const volume: Change = { label: 'volume', was: was && fixed(was.volume / 1e6, 1), is: `${fixed(is.volume / 1e6, 1)} litres` };
  const changed = told(is).map(([label, text]): Change => ({ label, was: before?.get(label) ?? null, is: text })).filter((change) => !before || change.was !== change.is);
  // Of the rows the highest that changes stands for all.
  const top = changed.find(({ label }) => label.startsWith('row '))?.label;
  return [volume, ...changed.filter(({ label }) => !label.startsWith('row ') || label === top)];
}
