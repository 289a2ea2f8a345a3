/** Reading what is really on the screen: pixels of a screenshot. */
import type { Locator, Page } from 'playwright-core';
import { PNG } from 'pngjs';

/** Red, green, blue, 0 to 255. */
export type Colour = readonly [number, number, number];

/** A screenshot as pixels; x to the right and y down from its own top left corner, in CSS pixels at scale 1. */
export interface Picture {
  readonly width: number;
  readonly height: number;
  /** The colour at a pixel. Throws outside the picture. */
  readonly at: (x: number, y: number) => Colour;
}

/** Decodes a PNG file's bytes. Throws when they are not a PNG. */
export function readPicture(bytes: Buffer): Picture {
  const { width, height, data } = PNG.sync.read(bytes);
  return {
    width,
    height,
    at: (x, y) => {
      const column = Math.floor(x);
      const row = Math.floor(y);
      if (!(column >= 0 && column < width && row >= 0 && row < height)) {
        throw new Error(`pixel ${x}, ${y} lies outside a picture of ${width} by ${height}`);
      }
      const i = 4 * (row * width + column);
      return [data[i], data[i + 1], data[i + 2]];
    },
  };
}

/** A picture of the page, or of one element as it shows (with whatever lies over it). */
export async function takePicture(target: Page | Locator): Promise<Picture> {
  return readPicture(await target.screenshot({ animations: 'disabled' }));
}

/** Number of distinct colours on a grid of every `step` pixels, each channel cut to 5 bits: 1 for a blank picture. */
export function countColours(picture: Picture, step = 4): number {
  const seen = new Set<number>();
  for (let y = 0; y < picture.height; y += step) {
    for (let x = 0; x < picture.width; x += step) {
      const [r, g, b] = picture.at(x, y);
      seen.add(((r >> 3) << 10) | ((g >> 3) << 5) | (b >> 3));
    }
  }
  return seen.size;
}

/**
 * Share (0 to 1) of the pixels on a grid of every `step` that differ by more than `tolerance` in any channel.
 * Throws when the two pictures differ in size.
 */
export function shareChanged(a: Picture, b: Picture, tolerance = 12, step = 2): number {
  if (a.width !== b.width || a.height !== b.height) {
    throw new Error(`pictures of ${a.width} by ${a.height} and ${b.width} by ${b.height} cannot be compared`);
  }
  let changed = 0;
  let all = 0;
  for (let y = 0; y < a.height; y += step) {
    for (let x = 0; x < a.width; x += step) {
      all += 1;
      const one = a.at(x, y);
      const two = b.at(x, y);
      if (one.some((value, channel) => Math.abs(value - two[channel]) > tolerance)) changed += 1;
    }
  }
  return changed / all;
}
