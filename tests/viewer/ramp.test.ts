/** The bevel map's colours: evenly lighter, also for eyes without red or green cones; one colour for shader and legend. */
import { describe, expect, test } from 'vitest';
import { bevelColour, contours, RAMP_SIZE, rampBytes } from '../../src/say/ramp';

type Triple = readonly [number, number, number];

/** sRGB decoding, IEC 61966-2-1 (from memory). */
const linear = (byte: number) => {
  const v = byte / 255;
  return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
};
const colour = (i: number): Triple => [linear(rampBytes[4 * i]), linear(rampBytes[4 * i + 1]), linear(rampBytes[4 * i + 2])];

/** CIE 1976 lightness L* of linear sRGB (from memory): not the space the map was made in. */
function lightness([r, g, b]: Triple): number {
  const y = 0.2126 * r + 0.7152 * g + 0.0722 * b;
  return y > 216 / 24389 ? 116 * Math.cbrt(y) - 16 : (24389 / 27) * y;
}

/** Linear sRGB as two kinds of dichromat see it: Vienot, Brettel and Mollon 1999 (matrices from memory). */
const protan = ([r, g, b]: Triple): Triple => [0.11238 * r + 0.88762 * g, 0.11238 * r + 0.88762 * g, 0.00401 * r - 0.00401 * g + b];
const deutan = ([r, g, b]: Triple): Triple => [0.29275 * r + 0.70725 * g, 0.29275 * r + 0.70725 * g, -0.02234 * r + 0.02234 * g + b];

describe('the bevel map', () => {
  test.each([['all cones', (c: Triple) => c], ['no red cones', protan], ['no green cones', deutan]] as const)('grows lighter throughout, evenly: %s', (_, see) => {
    const steps = 16;
    const levels = Array.from({ length: steps + 1 }, (__, k) => lightness(see(colour(Math.round((k * (RAMP_SIZE - 1)) / steps)))));
    const rises = levels.slice(1).map((level, k) => level - levels[k]);
    const mean = (levels[steps] - levels[0]) / steps;
    expect(mean * steps).toBeGreaterThan(55);
    for (const rise of rises) {
      expect(rise).toBeGreaterThan(0.6 * mean);
      expect(rise).toBeLessThan(1.5 * mean);
    }
  });

  test('gives the end colours at and past its ends, and contours on whole steps', () => {
    const scale = { low: -0.1, high: 0.3, contour: 0.1 };
    expect(bevelColour(scale, -0.1)).toEqual(Array.from(rampBytes.subarray(0, 3)));
    expect(bevelColour(scale, -5)).toEqual(Array.from(rampBytes.subarray(0, 3)));
    expect(bevelColour(scale, 0.3)).toEqual(Array.from(rampBytes.subarray(-4, -1)));
    const lines = contours(scale);
    expect(lines).toHaveLength(5);
    lines.forEach((line, i) => expect(line).toBeCloseTo(-0.1 + 0.1 * i, 12));
  });
});
