/** What the tests of the papers share: a starter board with its parts, hand-made parts of known size, poppler. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { FramePart } from '../../geometry/frame/types';
import type { Parts } from '../../geometry/parts/types';
import { planParts } from '../../geometry/planParts';
import { planBoard } from '../../geometry/plan';
import type { Plan } from '../../geometry/types';
import { seedDesign } from '../geometry/boards';

const benches = new Map<string, Promise<{ plan: Plan; parts: Parts }>>();

/** A starter board planned with all its parts, once a test file. */
export function seedBench(seed: string): Promise<{ plan: Plan; parts: Parts }> {
  const kept = benches.get(seed);
  if (kept) return kept;
  const plan = planBoard(seedDesign(`${seed}.board.json`));
  const made = planParts(plan).then((parts) => ({ plan, parts }));
  benches.set(seed, made);
  return made;
}

/** Size of the hand-made rib, and of the square hole in its middle, mm. */
export const RIB = { width: 523.4, height: 61.7, hole: 20 } as const;

/** A plate of known size: a rectangle with a square hole, a score line and a label. */
function plateRib(): FramePart {
  const { width: w, height: h, hole } = RIB;
  const [x, y] = [(w - hole) / 2, (h - hole) / 2];
  return {
    id: 'rib-1', kind: 'rib', rib: 0, label: 'Rib 1', thickness: 6,
    shape: {
      outline: Float64Array.from([0, 0, w, 0, w, h, 0, h]),
      holes: [Float64Array.from([x, y, x, y + hole, x + hole, y + hole, x + hole, y])],
      marks: [
        { kind: 'line', points: Float64Array.from([w / 4, 0, w / 4, h]) },
        { kind: 'label', points: Float64Array.from([w / 8, h / 2]), text: 'RIB 1' },
      ],
    },
  };
}

/** Parts with nothing but that rib. */
export const plateParts = (): Parts => ({ bending: [], lies: [], blanks: [], frames: [plateRib()], steps: [], findings: [] });

/** A page as pixels: true where it is dark. */
export interface Bitmap {
  readonly width: number;
  readonly height: number;
  readonly dark: (x: number, y: number) => boolean;
}

/** A grey picture as Netpbm's PGM has it (P5: width, height and greatest value as figures, a blank, then a byte a pixel). */
function readPgm(bytes: Buffer): Bitmap {
  const head = /^P5\s(\d+)\s(\d+)\s255\s/.exec(bytes.toString('latin1', 0, 40));
  if (!head) throw new Error('poppler made no grey picture');
  const [width, height] = [Number(head[1]), Number(head[2])];
  return { width, height, dark: (x, y) => bytes[head[0].length + y * width + x] < 128 };
}

/** Every page of a PDF by poppler, at so many dots an inch. */
export function pagesOf(pdf: Uint8Array, dpi: number): Bitmap[] {
  const folder = mkdtempSync(join(tmpdir(), 'railwright-papers-'));
  try {
    writeFileSync(join(folder, 'paper.pdf'), pdf);
    execFileSync('pdftoppm', ['-r', String(dpi), '-gray', join(folder, 'paper.pdf'), join(folder, 'page')]);
    return readdirSync(folder).filter((name) => name.endsWith('.pgm')).sort().map((name) => readPgm(readFileSync(join(folder, name))));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** The text of each page of a PDF by poppler. */
export function pageTexts(pdf: Uint8Array): string[] {
  const text = execFileSync('pdftotext', ['-layout', '-', '-'], { input: pdf, maxBuffer: 1 << 26 }).toString('utf8');
  return text.split('\f').slice(0, -1);
}

/** Stretches of dark pixels along a row of a bitmap. */
export function darkRuns(page: Bitmap, y: number, from = 0, to = page.width): { start: number; end: number }[] {
  const runs: { start: number; end: number }[] = [];
  let start = -1;
  for (let x = from; x <= to; x++) {
    const dark = x < to && page.dark(x, y);
    if (dark && start < 0) start = x;
    if (!dark && start >= 0) {
      runs.push({ start, end: x });
      start = -1;
    }
  }
  return runs;
}
