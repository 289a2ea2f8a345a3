/** QR codes (ISO/IEC 18004) as squares to draw, on screen and on paper. */
import { generate } from 'lean-qr';

/** Light margin a reader needs round the code, modules (ISO/IEC 18004:2015, 9.1; from memory). */
export const QUIET = 4;

/** A code as runs of dark modules. */
export interface QrCode {
  /** Modules along a side, margin not counted. */
  readonly size: number;
  /** Dark runs: column, row and count. */
  readonly runs: readonly (readonly [number, number, number])[];
}

/** The code of a text, with the most correction its size has room for. Throws where the text does not fit. */
export function qrCode(text: string): QrCode {
  const code = generate(text);
  const { size } = code;
  const runs: [number, number, number][] = [];
  for (let y = 0; y < size; y++) {
    for (let x = 0; x < size; x++) {
      if (!code.get(x, y)) continue;
      const from = x;
      while (x + 1 < size && code.get(x + 1, y)) x++;
      runs.push([from, y, x + 1 - from]);
    }
  }
  return { size, runs };
}

/** The dark modules as an SVG path in modules, margin included. */
export function qrPath({ runs }: QrCode): string {
  return runs.map(([x, y, n]) => `M${x + QUIET} ${y + QUIET}h${n}v1h-${n}z`).join('');
}
