/** What the bench's lists say: the papers' own tables, by fewer columns and shorter names, so that screen and paper agree. */
import { cellText, columnAt, type Table } from '../../papers/tables';
import { textOf } from '../../say/said';
import type { Unit } from '../../say/units';
import type { ListColumn, ListLine, Spot } from './places';

/** A column of a paper's table as the screen shows it. */
export interface Pick {
  /** The column's id. */
  readonly id: string;
  /** What heads it here, where that is not the id. */
  readonly title?: string;
  readonly hint?: string;
  /** Holds sentences, which may break. */
  readonly long?: boolean;
}

/** A list of some of a table's columns. `at` and `until` name those that hold the line's place, if it is one. A RangeError where there is no such column. */
export function listOf(table: Table, picks: readonly Pick[], unit: Unit, at?: string, until?: string): { columns: ListColumn[]; lines: ListLine[] } {
  const chosen = picks.map(({ id }) => columnAt(table, id));
  const [atColumn, untilColumn] = [at, until].map((id) => (id === undefined ? undefined : columnAt(table, id)));
  const run = (row: Table['rows'][number], column: number | undefined): number | undefined => {
    const cell = column === undefined ? undefined : row[column];
    return typeof cell === 'number' ? cell : undefined;
  };
  return {
    columns: picks.map(({ id, title, hint, long }, i) => ({
      title: title ?? id, hint: hint ?? textOf(table.columns[chosen[i]].title, unit), words: table.columns[chosen[i]].kind === 'text' && (long ? 'long' as const : true),
    })),
    lines: table.rows.map((row, i): ListLine => {
      const s = run(row, atColumn);
      const spot: Spot | undefined = s === undefined ? undefined : { s, until: run(row, untilColumn) };
      return { key: String(i), spot, cells: chosen.map((k) => cellText(row[k], table.columns[k], unit)) };
    }),
  };
}
