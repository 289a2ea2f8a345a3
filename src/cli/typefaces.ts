/** The open typeface from where its package is installed. */
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type { Typefaces } from '../papers/pdf/letters';

const { resolve } = createRequire(import.meta.url);

/** Brings the files of the open typeface for letters that the standard fonts lack (`PaperOptions.typefaces`). Rejects where they cannot be read. */
export async function typefaces(): Promise<Typefaces> {
  const [regular, bold] = await Promise.all(['400Regular/NotoSans_400Regular.ttf', '700Bold/NotoSans_700Bold.ttf'].map((file) => readFile(resolve(`@expo-google-fonts/noto-sans/${file}`))));
  return { regular, bold };
}
