/** Writing a board file: stable, readable, the same bytes for the same design. */
import { boardSchema, type Design } from './schema';

/** Longest line a nested object or array may take before it is broken over several lines, characters. */
const LINE = 110;

function compact(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(compact).join(', ')}]`;
  if (typeof value === 'object' && value !== null) {
    const fields = Object.entries(value).map(([key, item]) => `${JSON.stringify(key)}: ${compact(item)}`);
    return fields.length === 0 ? '{}' : `{ ${fields.join(', ')} }`;
  }
  return JSON.stringify(value);
}

function pretty(value: unknown, indent: string, lead: number): string {
  const flat = compact(value);
  if (typeof value !== 'object' || value === null || indent.length + lead + flat.length <= LINE) return flat;
  const inner = `${indent}  `;
  const [open, close] = Array.isArray(value) ? '[]' : '{}';
  const lines = Array.isArray(value)
    ? value.map((item) => inner + pretty(item, inner, 1))
    : Object.entries(value).map(([key, item]) => {
      const name = `${JSON.stringify(key)}: `;
      return inner + name + pretty(item, inner, name.length + 1);
    });
  return `${open}\n${lines.join(',\n')}\n${indent}${close}`;
}

/**
 * A design as the text of a board file: JSON, two-space indent, short objects on one line, fields in the
 * schema's order whatever order the design holds them in, one newline at the end. Numbers are written as
 * the shortest text that reads back to the same number, so that reading and writing again gives the same
 * bytes. Trial bends are left out: they stay beside the board. Throws a ZodError where the value is not a design.
 */
export function writeDesign(design: Design): string {
  const { trials: _, ...board } = design;
  const value = boardSchema.parse(board);
  const sections = Object.entries(value).map(([key, item]) => {
    const name = `${JSON.stringify(key)}: `;
    return `  ${name}${pretty(item, '  ', name.length + 1)}`;
  });
  return `{\n${sections.join(',\n')}\n}\n`;
}
