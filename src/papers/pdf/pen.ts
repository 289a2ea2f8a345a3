/** Drawing on a PDF page in millimetres from its top left corner. */
import {
  beginText, clip, closePath, concatTransformationMatrix, endPath, endText, fill, fillAndStroke, lineTo, moveTo,
  PDFDocument, PDFName, type PDFFont, PDFOperator, PDFOperatorNames, type PDFPage, popGraphicsState, pushGraphicsState, rectangle, setDashPattern,
  setFillingGrayscaleColor, setFontAndSize, setLineCap, setLineJoin, setLineWidth, setStrokingGrayscaleColor,
  setTextMatrix, showText, stroke,
} from '@cantoo/pdf-lib';
import { dayOf, stampLine, type Stamp } from '../stamp';
import { fontsFor } from './fonts';
import { type Face, type Fonts, isRespelt, printable, runsOf, wideOf } from './letters';

/** Points in a millimetre. */
const PT = 72 / 25.4;

export type Align = 'left' | 'right' | 'centre';

export interface TextStyle {
  /** Points. */
  readonly size: number;
  readonly face?: Face;
  readonly align?: Align;
  /** 0 black to 1 white. */
  readonly grey?: number;
  /** Turned counter-clockwise about its start, radians. */
  readonly turn?: number;
}

export interface LineStyle {
  /** Line width, mm. */
  readonly width?: number;
  readonly grey?: number;
  /** Lengths of dash and space, mm. */
  readonly dash?: readonly number[];
}

export interface ShapeStyle extends LineStyle {
  readonly fill?: number;
  readonly closed?: boolean;
  /** No outline. */
  readonly bare?: boolean;
}

/** An empty document with its title, and its fonts. The day is its only date, so the same papers are the same bytes. */
export async function newDocument(title: string, stamp: Stamp): Promise<{ pdf: PDFDocument; fonts: Fonts }> {
  const pdf = await PDFDocument.create({ updateMetadata: false });
  const day = dayOf(stamp.date) ?? { year: 1980, month: 1, day: 1 };
  const date = new Date(Date.UTC(day.year, day.month - 1, day.day, 12));
  pdf.setTitle(`${title}: ${stamp.board}`);
  pdf.setSubject(stampLine(stamp));
  pdf.setProducer('Railwright');
  pdf.setCreator('Railwright');
  pdf.setCreationDate(date);
  pdf.setModificationDate(date);
  pdf.setLanguage('en');
  return { pdf, fonts: await fontsFor(pdf, stamp.typefaces) };
}

/** A finished document's bytes. */
export async function finishDocument(pdf: PDFDocument): Promise<Uint8Array> {
  return pdf.save({ useObjectStreams: false, addDefaultPage: false, updateFieldAppearances: false });
}

/** One page to draw on. `scale` enlarges everything drawn: the page is `width` by `height` in drawn mm times scale. */
export class Pen {
  private readonly page: PDFPage;
  private readonly keys = new Map<PDFFont, PDFName>();

  constructor(
    pdf: PDFDocument,
    private readonly fonts: Fonts,
    readonly width: number,
    readonly height: number,
    readonly scale = 1,
  ) {
    this.page = pdf.addPage([width * scale * PT, height * scale * PT]);
    const k = PT * scale;
    this.ops(concatTransformationMatrix(k, 0, 0, -k, 0, height * k), setLineJoin(1), setLineCap(0));
  }

  private ops(...list: PDFOperator[]): void {
    this.page.pushOperators(...list);
  }

  private key(font: PDFFont): PDFName {
    const kept = this.keys.get(font);
    if (kept) return kept;
    const key = this.page.node.newFontDictionary(font.name, font.ref);
    this.keys.set(font, key);
    return key;
  }

  /** True where a text is not printed in its own letters. */
  respells = (text: string): boolean => isRespelt(this.fonts, text);

  /** Width of a text, mm. */
  measure(text: string, size: number, face: Face = 'regular'): number {
    return runsOf(this.fonts, text, face).reduce((wide, run) => wide + wideOf(this.fonts, run, size), 0) / PT;
  }

  /** One line of text on the baseline at (x, y). */
  text(x: number, y: number, text: string, style: TextStyle): void {
    const { size, face = 'regular', align = 'left', grey = 0, turn = 0 } = style;
    let along = align === 'left' ? 0 : -this.measure(text, size, face) / (align === 'right' ? 1 : 2);
    const [c, s] = [Math.cos(turn), Math.sin(turn)];
    this.ops(beginText(), setFillingGrayscaleColor(grey));
    for (const run of runsOf(this.fonts, text, face)) {
      const { font } = run;
      this.ops(
        setFontAndSize(this.key(font), size / PT),
        // Turns text upright again: the page's y runs down.
        setTextMatrix(c, -s, -s, -c, round(x + along * c), round(y - along * s)), showText(font.encodeText(run.text)),
      );
      along += wideOf(this.fonts, run, size) / PT;
    }
    this.ops(endText());
  }

  /** Text broken into lines no wider than `width`, mm. */
  wrap(text: string, width: number, size: number, face: Face = 'regular'): string[] {
    const lines: string[] = [];
    let line = '';
    for (const word of printable(this.fonts, text).split(' ')) {
      const longer = line === '' ? word : `${line} ${word}`;
      if (line !== '' && this.measure(longer, size, face) > width) {
        lines.push(line);
        line = word;
      } else line = longer;
    }
    return [...lines, line];
  }

  /** Wrapped text from the baseline of its first line; returns the baseline after the last. */
  paragraph(x: number, y: number, width: number, text: string, style: TextStyle & { readonly leading?: number }): number {
    const leading = style.leading ?? (style.size * 1.32) / PT;
    let at = y;
    for (const line of this.wrap(text, width, style.size, style.face)) {
      this.text(x, at, line, style);
      at += leading;
    }
    return at;
  }

  private setLine(style: LineStyle): void {
    this.ops(
      setLineWidth(style.width ?? 0.2), setStrokingGrayscaleColor(style.grey ?? 0), setDashPattern([...(style.dash ?? [])], 0),
    );
  }

  line(x1: number, y1: number, x2: number, y2: number, style: LineStyle = {}): void {
    this.setLine(style);
    this.ops(moveTo(x1, y1), lineTo(x2, y2), stroke());
  }

  /** A line or shape through (x, y) pairs. */
  path(points: ArrayLike<number>, style: ShapeStyle = {}): void {
    if (points.length < 4) return;
    this.setLine(style);
    if (style.fill !== undefined) this.ops(setFillingGrayscaleColor(style.fill));
    const list = pathThrough(points);
    if (style.closed || style.fill !== undefined) list.push(closePath());
    list.push(style.fill === undefined ? stroke() : style.bare ? fill() : fillAndStroke());
    this.ops(...list);
  }

  rect(x: number, y: number, w: number, h: number, style: ShapeStyle = {}): void {
    this.path([x, y, x + w, y, x + w, y + h, x, y + h], { closed: true, ...style });
  }

  /** Black rectangles (x, y, width, height), filled as one shape, so that no hairline shows between neighbours. */
  cells(list: readonly (readonly [number, number, number, number])[]): void {
    this.ops(setFillingGrayscaleColor(0), ...list.map(([x, y, w, h]) => rectangle(round(x), round(y), round(w), round(h))), fill());
  }

  circle(x: number, y: number, r: number, style: ShapeStyle = {}): void {
    const points: number[] = [];
    for (let i = 0; i < 32; i++) points.push(x + r * Math.cos((i * Math.PI) / 16), y + r * Math.sin((i * Math.PI) / 16));
    this.path(points, { closed: true, ...style });
  }

  /** Draws only inside a closed shape while `draw` runs. */
  inside(shape: ArrayLike<number>, draw: () => void): void {
    this.ops(pushGraphicsState(), ...pathThrough(shape), closePath(), clip(), endPath());
    draw();
    this.ops(popGraphicsState());
  }

  /** Draws only within a rectangle while `draw` runs. */
  within(x: number, y: number, w: number, h: number, draw: () => void): void {
    this.inside([x, y, x + w, y, x + w, y + h, x, y + h], draw);
  }
}

/** A tenth of a micrometre is more than any printer holds, and keeps files small. */
const round = (value: number): number => Math.round(value * 1e4) / 1e4;

/** A path through points, open. What is rounded needs no exponent, so that its words are the operator's as they are: the library's own way to them takes ten times as long. */
function pathThrough(points: ArrayLike<number>): PDFOperator[] {
  const list: PDFOperator[] = [];
  for (let i = 0; i + 1 < points.length; i += 2) {
    list.push(PDFOperator.of(i === 0 ? PDFOperatorNames.MoveTo : PDFOperatorNames.LineTo, [String(round(points[i])), String(round(points[i + 1]))]));
  }
  return list;
}
