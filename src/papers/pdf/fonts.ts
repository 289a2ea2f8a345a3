/** The fonts of a document, embedded in it. */
import { type PDFDocument, StandardFonts } from '@cantoo/pdf-lib';
import type { Fonts, Typefaces } from './letters';

/** Embeds the standard fonts, and the open typeface where its files are given. */
export async function fontsFor(pdf: PDFDocument, typefaces?: Typefaces): Promise<Fonts> {
  const fonts = {
    regular: await pdf.embedFont(StandardFonts.Helvetica), bold: await pdf.embedFont(StandardFonts.HelveticaBold), oblique: await pdf.embedFont(StandardFonts.HelveticaOblique),
  };
  if (!typefaces) return fonts;
  // Half a megabyte of script, for few papers.
  pdf.registerFontkit((await import('@cantoo/fontkit')).default);
  const regular = await pdf.embedFont(typefaces.regular, { subset: true });
  const bold = await pdf.embedFont(typefaces.bold, { subset: true });
  const inBold = new Set(bold.getCharacterSet());
  return { ...fonts, open: { regular, bold, letters: new Set(regular.getCharacterSet().filter((code) => inBold.has(code))) } };
}
