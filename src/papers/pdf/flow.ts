/** Filling pages from top to bottom: headings, text, tables that carry their head onto the next page. */
import type { PDFDocument } from '@cantoo/pdf-lib';
import type { Stamp } from '../stamp';
import type { Face, Fonts } from './letters';
import { Pen, type Align } from './pen';
import { MARGIN, pageHead, pageNumber } from './sheets';

/** A column of a printed table. */
export interface PrintColumn {
  /** Lines of its heading. */
  readonly title: readonly string[];
  readonly width: number;
  readonly align?: Align;
  readonly face?: Face;
  readonly size?: number;
  /** Draws the cell itself, in place of its text. */
  readonly draw?: (pen: Pen, row: number, x: number, y: number, w: number, h: number) => void;
}

export interface TableLook {
  readonly rowHeight?: number;
  readonly size?: number;
  /** Rows to stress, by number: printed on a darker band. */
  readonly stress?: (row: number) => boolean;
}

/** Space between two rules of a figure's cell and its text, mm. */
const PAD = 1.2;

export class Flow {
  pen: Pen;
  y = 0;
  private readonly pens: Pen[] = [];
  private title = '';

  constructor(
    private readonly pdf: PDFDocument,
    private readonly fonts: Fonts,
    private readonly size: readonly [number, number],
    private readonly scale: number,
    private readonly stamp: Stamp,
    first = 'Bench sheet',
  ) {
    this.pen = this.add(first);
  }

  get left(): number {
    return MARGIN;
  }

  get width(): number {
    return this.pen.width - 2 * MARGIN;
  }

  /** Lowest place that may be drawn on. */
  get bottom(): number {
    return this.pen.height - MARGIN - 4;
  }

  get room(): number {
    return this.bottom - this.y;
  }

  private add(title: string): Pen {
    this.title = title;
    this.pen = new Pen(this.pdf, this.fonts, this.size[0], this.size[1], this.scale);
    this.pens.push(this.pen);
    this.y = MARGIN - 1 + pageHead(this.pen, MARGIN - 1, title, this.stamp) + 2;
    return this.pen;
  }

  /** A fresh page under a title of its own; the very first page is there already. */
  page(title: string): void {
    this.add(title);
  }

  /** Starts a new page where less than `height` is left. Returns true when it did. */
  need(height: number): boolean {
    if (this.room >= height) return false;
    const base = this.title.replace(/, continued$/, '');
    this.add(`${base}, continued`);
    return true;
  }

  /** A chapter: on this page where `keep` mm and more are left, else on a fresh one. */
  chapter(title: string, keep: number): void {
    if (this.room < keep + 14) {
      this.add(title);
      return;
    }
    this.space(3);
    this.pen.line(this.left, this.y, this.left + this.width, this.y, { width: 0.5 });
    this.pen.text(this.left, this.y + 6, title, { size: 13, face: 'bold' });
    this.space(9);
    this.title = title;
  }

  /** A section's heading, kept with at least `keep` mm of what follows. */
  heading(text: string, keep = 20): void {
    this.need(9 + keep);
    this.pen.text(this.left, this.y + 5, text, { size: 13, face: 'bold' });
    this.y += 8.5;
  }

  text(text: string, size = 10.5, face: Face = 'regular', indent = 0, grey = 0): void {
    for (const line of this.pen.wrap(text, this.width - indent, size, face)) {
      const leading = size * 0.47;
      this.need(leading);
      this.y += leading;
      this.pen.text(this.left + indent, this.y - leading * 0.25, line, { size, face, grey });
    }
  }

  space(height: number): void {
    this.y += height;
  }

  /** Text in one line, made smaller where it would not fit. */
  fitted(x: number, y: number, w: number, text: string, size: number, face: Face = 'regular', align: Align = 'left', grey = 0): void {
    const wide = this.pen.measure(text, size, face);
    const at = align === 'left' ? x : align === 'right' ? x + w : x + w / 2;
    this.pen.text(at, y, text, { size: wide > w ? (size * w) / wide : size, face, align, grey });
  }

  private tableHead(columns: readonly PrintColumn[]): void {
    const lines = Math.max(...columns.map((column) => column.title.length));
    const height = lines * 3.3 + 2.2;
    let x = this.left;
    for (const column of columns) {
      const align = column.align ?? 'right';
      column.title.forEach((title, i) => {
        const y = this.y + height - 1.6 - (column.title.length - 1 - i) * 3.3;
        this.fitted(x + PAD, y, column.width - 2 * PAD, title, 8, 'bold', align);
      });
      x += column.width;
    }
    this.y += height;
    this.pen.line(this.left, this.y, x, this.y, { width: 0.5 });
  }

  /** A table; its head is printed again on each page. Cells that do not fit are printed smaller, never cut. */
  table(columns: readonly PrintColumn[], rows: readonly (readonly string[])[], look: TableLook = {}): void {
    const { rowHeight = 7.4, size = 11.5, stress } = look;
    this.need(rowHeight * 2 + 9);
    this.tableHead(columns);
    rows.forEach((cells, r) => {
      if (this.need(rowHeight)) this.tableHead(columns);
      const top = this.y;
      const total = columns.reduce((sum, column) => sum + column.width, 0);
      if (stress?.(r)) this.pen.rect(this.left, top, total, rowHeight, { fill: 0.86, bare: true });
      else if (r % 2 === 1) this.pen.rect(this.left, top, total, rowHeight, { fill: 0.945, bare: true });
      let x = this.left;
      columns.forEach((column, c) => {
        if (column.draw) column.draw(this.pen, r, x, top, column.width, rowHeight);
        else this.fitted(x + PAD, top + rowHeight - (rowHeight - (column.size ?? size) * 0.26) / 2, column.width - 2 * PAD, cells[c], column.size ?? size, column.face, column.align ?? 'right');
        x += column.width;
      });
      this.y += rowHeight;
      this.pen.line(this.left, this.y, this.left + total, this.y, { width: 0.1, grey: 0.6 });
    });
    this.space(2);
  }

  /** Page numbers, once the number of pages is known. */
  finish(): void {
    this.pens.forEach((pen, i) => pageNumber(pen, i + 1, this.pens.length));
  }
}

/** An empty box to tick, its middle at (x, y). */
export function tickBox(pen: Pen, x: number, y: number, size = 4): void {
  pen.rect(x - size / 2, y - size / 2, size, size, { width: 0.3 });
}
