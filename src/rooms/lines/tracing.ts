/**
 * Tracings: pictures of a plan placed under the outline or the rocker. They are kept for this visit only, as
 * object addresses in the page's own memory; nothing of them goes into the board file.
 */
import { create } from 'zustand';
import { shorten } from '../../../geometry/design/fields';
import type { FieldError } from '../../../geometry/errors';
import { type Point, type Similarity, tracingSimilarity } from '../../../geometry/shape/tracing';

export type TracedLine = 'outline' | 'rocker';

export interface Tracing {
  readonly url: string;
  readonly name: string;
  /** Size of the picture as shown, and as it was in the file, pixels. */
  readonly width: number;
  readonly height: number;
  readonly original: { readonly width: number; readonly height: number };
  /** The two known places: in the picture (pixels) and on the board (mm). */
  readonly picture: readonly [Point, Point];
  readonly board: readonly [Point, Point];
  /** How the picture lies now. */
  readonly placed: Similarity;
  readonly opacity: number;
}

interface TracingState {
  readonly outline: Tracing | null;
  readonly rocker: Tracing | null;
  readonly loading: boolean;
  readonly errors: readonly FieldError[];
  readonly refused: string | null;
}

export const useTracing = create<TracingState>()(() => ({ outline: null, rocker: null, loading: false, errors: [], refused: null }));

/** Kinds of pictures that are taken: none that can hold a script or reach elsewhere. */
export const PICTURE_TYPES = ['image/png', 'image/jpeg', 'image/webp', 'image/gif', 'image/bmp', 'image/avif'] as const;
/** Largest file and picture taken, and the long side a picture is brought down to. Own choices. */
const LIMITS = { bytes: 80_000_000, pixels: 120_000_000, side: 2400 } as const;

/** Whether a file is a picture by its kind. */
export const isPicture = (file: File): boolean => file.type.startsWith('image/');

/** Width and height of a picture, read from its head without drawing it. Rejects where it is not a picture. */
function measure(url: string): Promise<{ width: number; height: number }> {
  return new Promise((resolve, reject) => {
    const image = new Image();
    image.onload = () => resolve({ width: image.naturalWidth, height: image.naturalHeight });
    image.onerror = () => reject(new Error('it cannot be read as a picture'));
    image.src = url;
  });
}

/** The picture drawn again at a size it is safe to keep on the page: nothing of the file but its pixels is left. */
async function redraw(file: File, width: number, height: number): Promise<Blob> {
  const bitmap = await createImageBitmap(file, { resizeWidth: width, resizeHeight: height, resizeQuality: 'medium' });
  const canvas = document.createElement('canvas');
  canvas.width = bitmap.width;
  canvas.height = bitmap.height;
  const context = canvas.getContext('2d');
  if (!context) throw new Error('this browser cannot draw pictures');
  context.drawImage(bitmap, 0, 0);
  bitmap.close();
  const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done, 'image/webp', 0.9));
  canvas.width = 0;
  if (!blob) throw new Error('it could not be drawn');
  return blob;
}

/** A picture placed so that its width spans the board, its middle on the zero line. */
function laid(length: number, width: number, height: number): Pick<Tracing, 'picture' | 'board' | 'placed'> {
  const picture: [Point, Point] = [[0, height / 2], [width, height / 2]];
  const board: [Point, Point] = [[0, 0], [length, 0]];
  const fit = tracingSimilarity({ picture, board });
  if (!fit.ok) throw new Error('the picture is too small');
  return { picture: [[width * 0.1, height / 2], [width * 0.9, height / 2]], board, placed: fit.similarity };
}

/** Takes a picture from a file and places it under a line of a board of this length (mm). Says why where it cannot. */
export async function loadTracing(line: TracedLine, file: File, length: number): Promise<void> {
  const name = shorten(file.name, 60);
  const refuse = (why: string) => useTracing.setState({ loading: false, refused: `“${name}” was not placed under the ${line}: ${why}.` });
  if (!(PICTURE_TYPES as readonly string[]).includes(file.type)) return refuse(`files of type ${file.type || 'unknown'} cannot be used; PNG, JPEG, WebP, GIF, BMP and AVIF can`);
  if (file.size > LIMITS.bytes) return refuse(`it has ${Math.round(file.size / 1e6)} megabytes; at most ${LIMITS.bytes / 1e6} are allowed`);
  useTracing.setState({ loading: true, refused: null, errors: [] });
  const source = URL.createObjectURL(file);
  try {
    const original = await measure(source);
    const pixels = original.width * original.height;
    if (pixels > LIMITS.pixels) return refuse(`it has ${Math.round(pixels / 1e6)} megapixels; at most ${LIMITS.pixels / 1e6} are allowed`);
    if (original.width < 8 || original.height < 8) return refuse(`it is ${original.width} by ${original.height} pixels; at least 8 by 8 are needed`);
    const k = Math.min(1, LIMITS.side / Math.max(original.width, original.height));
    const [width, height] = [Math.max(1, Math.round(original.width * k)), Math.max(1, Math.round(original.height * k))];
    const url = URL.createObjectURL(await redraw(file, width, height));
    removeTracing(line);
    useTracing.setState({ loading: false, [line]: { url, name, width, height, original, opacity: 0.6, ...laid(length, width, height) } });
  } catch (error) {
    refuse(error instanceof Error ? error.message : String(error));
  } finally {
    URL.revokeObjectURL(source);
  }
}

/** Removes the picture. */
export function removeTracing(line: TracedLine): void {
  const present = useTracing.getState()[line];
  if (present) URL.revokeObjectURL(present.url);
  useTracing.setState({ [line]: null, errors: [], refused: null });
}

/** Changes what is known of a tracing, without moving it. */
export function changeTracing(line: TracedLine, change: Partial<Pick<Tracing, 'picture' | 'board' | 'opacity'>>): void {
  const present = useTracing.getState()[line];
  if (present) useTracing.setState({ [line]: { ...present, ...change } });
}

/** Moves the picture's two known places onto the board's. */
export function placeTracing(line: TracedLine): void {
  const present = useTracing.getState()[line];
  if (!present) return;
  const result = tracingSimilarity({ picture: present.picture, board: present.board });
  useTracing.setState(result.ok ? { errors: [], [line]: { ...present, placed: result.similarity } } : { errors: result.errors });
}
