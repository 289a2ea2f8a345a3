/**
 * The pages of a PDF that a pen wrote (`pen.ts`), each as an SVG picture: what is looked at is read from the file that will be
 * saved, not drawn a second time. Only what the pen writes is read; anything else is an error.
 */
import { decodePDFRawStream, PDFArray, PDFDict, PDFDocument, type PDFFont, PDFName, PDFNumber, type PDFPage, PDFRawStream, StandardFonts } from '@cantoo/pdf-lib';
import { xml } from '../svg';

/** A page as a picture; sizes in points, and the text it carries in the order it was written. */
export interface PagePicture {
  readonly svg: string;
  readonly width: number;
  readonly height: number;
  readonly text: readonly string[];
}

/** The pen's three faces, by the name in the file. */
const FACES: Readonly<Record<string, { readonly font: StandardFonts; readonly style: string }>> = {
  Helvetica: { font: StandardFonts.Helvetica, style: '' },
  'Helvetica-Bold': { font: StandardFonts.HelveticaBold, style: ' font-weight="700"' },
  'Helvetica-Oblique': { font: StandardFonts.HelveticaOblique, style: ' font-style="italic"' },
};

/** How the text of one font is read. */
interface Letters {
  readonly style: string;
  /** The text that codes stand for, two hexadecimal figures a byte. */
  read(hex: string): string;
  /** Its width at a size, points. */
  wide(hex: string, size: number): number;
}

/** Lines a printer draws hair-thin are made to show on a screen, mm. */
const THINNEST = 0.22;

/** Letters 128 to 159 of Windows code page 1252; the rest of it are Latin-1's. Not every engine's decoder tells the two apart. */
const HIGH = '€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ';
const letter = (code: number): string => (code >= 128 && code < 160 ? HIGH[code - 128] : String.fromCodePoint(code));

/** A grey of the file, 0 black to 1 white, as a colour. */
function grey(level: string): string {
  const part = Math.round(Number(level) * 255).toString(16).padStart(2, '0');
  return `#${part}${part}${part}`;
}

/** The operators of a page, each with what it is given. */
function* operators(page: PDFPage): Generator<readonly [name: string, given: readonly string[]]> {
  const held = page.node.Contents();
  const streams = held instanceof PDFArray ? Array.from({ length: held.size() }, (_, i) => held.lookup(i)) : [held];
  const text = streams.map((stream) => {
    if (!(stream instanceof PDFRawStream)) throw new Error('a page without its drawing');
    return new TextDecoder('latin1').decode(decodePDFRawStream(stream).decode());
  }).join('\n');
  let given: string[] = [];
  for (const [token] of text.matchAll(/\[[^\]]*\]|<[\dA-Fa-f]*>|\/[^\s<[(]+|[^\s[\]<>]+/g)) {
    if (/^[A-Za-z]/.test(token)) {
      yield [token, given];
      given = [];
    } else given.push(token);
  }
}

/** One of the pen's standard faces: a byte a letter, as wide as the library knows it to be. */
function standardLetters(face: PDFFont, style: string): Letters {
  const read = (hex: string) => (hex.match(/../g) ?? []).map((byte) => letter(Number.parseInt(byte, 16))).join('');
  return { style, read, wide: (hex, size) => face.widthOfTextAtSize(read(hex), size) };
}

/** An embedded typeface (ISO 32000-1, 9.7): two bytes a glyph; what each stands for and how wide it is, thousandths of the size, stand in the file. */
function openLetters(font: PDFDict, name: string): Letters {
  const map = font.lookup(PDFName.of('ToUnicode'));
  if (!(map instanceof PDFRawStream)) throw new Error(`${name} does not say what its glyphs stand for`);
  const told = new TextDecoder('latin1').decode(decodePDFRawStream(map).decode());
  const pairs = [...told.matchAll(/beginbfchar(.*?)endbfchar/gs)].flatMap(([, lines]) => [...lines.matchAll(/<([\dA-Fa-f]{4})>\s*<([\dA-Fa-f]+)>/g)]);
  const texts = new Map(pairs.map(([, glyph, units]) =>
    [Number.parseInt(glyph, 16), String.fromCharCode(...(units.match(/.{4}/g) ?? []).map((unit) => Number.parseInt(unit, 16)))]));
  const list = font.lookup(PDFName.of('DescendantFonts'), PDFArray).lookup(0, PDFDict).lookup(PDFName.of('W'), PDFArray);
  const widths = new Map<number, number>();
  for (let i = 0; i + 1 < list.size(); i += 2) {
    const [first, run] = [list.lookup(i, PDFNumber).asNumber(), list.lookup(i + 1, PDFArray)];
    for (let k = 0; k < run.size(); k++) widths.set(first + k, run.lookup(k, PDFNumber).asNumber());
  }
  const glyphs = (hex: string) => (hex.match(/.{4}/g) ?? []).map((glyph) => Number.parseInt(glyph, 16));
  return {
    style: /Bold/.test(name) ? ' font-weight="700"' : '',
    read: (hex) => glyphs(hex).map((glyph) => texts.get(glyph) ?? '').join(''),
    wide: (hex, size) => glyphs(hex).reduce((sum, glyph) => sum + (widths.get(glyph) ?? 1000), 0) * size / 1000,
  };
}

function lettersOf(page: PDFPage, faces: ReadonlyMap<string, Letters>): Map<string, Letters> {
  const fonts = page.node.Resources()?.lookupMaybe(PDFName.of('Font'), PDFDict);
  return new Map((fonts?.entries() ?? []).map(([key]): [string, Letters] => {
    const font = fonts?.lookup(key, PDFDict);
    const name = font?.lookup(PDFName.of('BaseFont'), PDFName).decodeText() ?? '';
    const face = faces.get(name) ?? (font?.lookup(PDFName.of('Subtype'), PDFName) === PDFName.of('Type0') ? openLetters(font, name) : undefined);
    if (!face) throw new Error(`no face is called ${name}`);
    return [key.decodeText(), face];
  }));
}

function picture(page: PDFPage, nth: number, faces: ReadonlyMap<string, Letters>): PagePicture {
  const { width, height } = page.getSize();
  const letters = lettersOf(page, faces);
  const text: string[] = [];
  const out: string[] = [];
  /** How it draws now, and how many groups are open since; with what it goes back to. */
  let now = { fill: '#000', stroke: '#000', line: 1, dash: '', groups: 1 };
  const kept: (typeof now)[] = [];
  const enter = (group: string) => {
    out.push(group);
    now.groups++;
  };
  let drawnIn: Letters | undefined;
  let [size, place]: [number, readonly string[]] = [0, []];
  let path = '';
  let clips = 0;
  let clipping = false;
  const paint = (filled: boolean, drawn: boolean) => {
    const outline = drawn ? ` stroke="${now.stroke}" stroke-width="${Math.max(now.line, THINNEST)}"${now.dash && ` stroke-dasharray="${now.dash}"`}` : '';
    out.push(`<path d="${path}" fill="${filled ? now.fill : 'none'}"${outline}/>`);
    path = '';
  };
  const does: Readonly<Record<string, (given: readonly string[]) => void>> = {
    cm: (m) => enter(`<g transform="matrix(${m.join(' ')})">`),
    q: () => {
      kept.push(now);
      now = { ...now, groups: 0 };
    },
    Q: () => {
      out.push('</g>'.repeat(now.groups));
      now = kept.pop() ?? now;
    },
    g: ([level]) => void (now.fill = grey(level)),
    G: ([level]) => void (now.stroke = grey(level)),
    w: ([thick]) => void (now.line = Number(thick)),
    d: ([list]) => void (now.dash = list.replaceAll(/[[\]]/g, '').trim()),
    j: () => {},
    J: () => {},
    m: ([x, y]) => void (path += `M${x} ${y}`),
    l: ([x, y]) => void (path += `L${x} ${y}`),
    h: () => void (path += 'Z'),
    re: ([x, y, w, h]) => void (path += `M${x} ${y}h${w}v${h}h${-Number(w)}Z`),
    S: () => paint(false, true),
    f: () => paint(true, false),
    B: () => paint(true, true),
    W: () => void (clipping = true),
    n: () => {
      if (clipping) enter(`<clipPath id="p${nth}-${++clips}"><path d="${path}"/></clipPath><g clip-path="url(#p${nth}-${clips})">`);
      clipping = false;
      path = '';
    },
    BT: () => {},
    ET: () => {},
    Tf: ([key, points]) => void ([drawnIn, size] = [letters.get(key.slice(1)), Number(points)]),
    Tm: (matrix) => void (place = matrix),
    Tj: ([hex]) => {
      if (!drawnIn) throw new Error('text before its font');
      const said = drawnIn.read(hex.slice(1, -1));
      if (said.trim() === '') return;
      text.push(said);
      const [a, b, c, d, x, y] = place.map(Number);
      // Letters of a screen's own font are set as wide as the paper's.
      const wide = drawnIn.wide(hex.slice(1, -1), size);
      out.push(`<text transform="matrix(${a} ${b} ${-c} ${-d} ${x} ${y})" font-size="${size}" fill="${now.fill}"${drawnIn.style} textLength="${wide.toFixed(3)}" lengthAdjust="spacingAndGlyphs" xml:space="preserve">${xml(said)}</text>`);
    },
  };
  for (const [name, given] of operators(page)) {
    if (!Object.hasOwn(does, name)) throw new Error(`a page that draws by ${name}`);
    does[name](given);
  }
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" font-family="Helvetica, Arial, 'Liberation Sans', sans-serif" stroke-linejoin="round">` +
    `<rect width="${width}" height="${height}" fill="#fff"/><g transform="matrix(1 0 0 -1 0 ${height})">${out.join('')}${'</g>'.repeat(now.groups)}</svg>`;
  return { svg, width, height, text };
}

/** The pages of a PDF of ours. Throws where it is not one. */
export async function pagesOf(pdf: Uint8Array): Promise<PagePicture[]> {
  const read = await PDFDocument.load(pdf, { updateMetadata: false });
  const measured = await PDFDocument.create({ updateMetadata: false });
  const faces = new Map<string, Letters>();
  for (const [name, { font, style }] of Object.entries(FACES)) faces.set(name, standardLetters(await measured.embedFont(font), style));
  return read.getPages().map((page, i) => picture(page, i + 1, faces));
}
