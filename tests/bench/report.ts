/** What the bench found, and how it is written down: tables of Markdown for people, plain data for machines. */
import { STANDS } from './missed';

interface Table {
  readonly title: string;
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/** A figure that was promised, and what was measured. */
interface Target {
  readonly what: string;
  readonly target: string;
  readonly measured: string;
  readonly met: boolean;
}

/** One part of the bench's report. */
export interface Section {
  readonly title: string;
  readonly tables: readonly Table[];
  readonly remarks: readonly string[];
  readonly targets: readonly Target[];
  /** The figures as they were measured, for `--json`. */
  readonly data: unknown;
}

/** A table with its columns lined up, so that it reads in a terminal too. */
function markdownTable({ head, rows }: Pick<Table, 'head' | 'rows'>): string {
  const widths = head.map((h, i) => Math.max(1, h.length, ...rows.map((r) => r[i].length)));
  const line = (cells: readonly string[]) => `| ${cells.map((c, i) => (i < 1 ? c.padEnd(widths[i]) : c.padStart(widths[i]))).join(' | ')} |`;
  return [line(head), `| ${widths.map((w, i) => (i < 1 ? '-'.repeat(w) : `${'-'.repeat(w - 1)}:`)).join(' | ')} |`, ...rows.map(line)].join('\n');
}

export function sectionText({ title, tables, remarks }: Section): string {
  const blocks = tables.map((t) => `${t.title}:\n\n${markdownTable(t)}`);
  return [`## ${title}`, ...blocks, ...(remarks.length > 0 ? [remarks.join('\n')] : [])].join('\n\n');
}

/** A part that could not be measured, by its name and why. */
export const failedSection = (name: string, why: string): Section => ({
  title: `Not measured: ${name}`, tables: [], remarks: [why], targets: [], data: { failed: why },
});

/** The promised figures of all sections in one table, and what stands in the way of each that is missed. */
export function promisedText(sections: readonly Section[]): string {
  const targets = sections.flatMap((section) => section.targets);
  const table = markdownTable({
    head: ['what', 'target', 'measured', ''],
    rows: targets.map((t) => [t.what, t.target, t.measured, t.met ? 'met' : '**missed**']),
  });
  const missed = targets.filter((t) => !t.met).map(({ what }) => `- ${what}: ${STANDS.find(([of]) => what.startsWith(of))?.[1] ?? 'not looked into yet.'}`);
  return missed.length === 0 ? table : `${table}\n\nWhat stands in the way of those missed:\n${missed.join('\n')}`;
}

/** A starter board as the tables name it, from its file. */
export const nameOf = (file: string): string => file.replace('.board.json', '');

export const ms = (value: number, digits = 2): string => `${value.toFixed(digits)} ms`;
export const us = (value: number): string => `${(value * 1000).toFixed(3)} us`;
export const kB = (bytes: number): string => `${(bytes / 1000).toFixed(0)} kB`;
export const MB = (bytes: number): string => `${(bytes / 1e6).toFixed(1)} MB`;
