/** Lengths as shown and typed. 1 inch = 25.4 mm exactly (international yard and pound agreement, 1959; from memory). */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { angleText, areaText, commaWays, lengthText, readLength, readNumber } from '../../src/say/units';

describe('lengths shown', () => {
  test.each([
    [25.4, '1'],
    [25.4 * 1.5, '1 1/2'],
    [25.4 * (11 / 16), '11/16'],
    [25.4 * (17 + 4 / 16), '17 1/4'],
    [0, '0'],
    [-25.4 / 2, '−1/2'],
    [25.4 * (5 / 16 + 1 / 50), '5/16+'],
    [25.4 * (5 / 16 - 1 / 50), '5/16−'],
    [25.4 / 4, '1/4'],
    [25.4 * (15 / 64), '15/64'],
    [25.4 * (3 / 16), '3/16'],
    [25.4 * (13.3 / 64), '13/64+'],
    [25.4 * (0.7 / 64), '1/64−'],
    [-25.4 * (5 / 64), '−5/64'],
    [25.4 * (15.99 / 16), '1'],
  ])('%d mm is %s in sixteenths', (mm, text) => {
    expect(lengthText(mm, 'in16')).toBe(text);
  });

  test('millimetres and decimal inches', () => {
    expect(lengthText(412.345, 'mm')).toBe('412.3');
    expect(lengthText(-0.04, 'mm')).toBe('0.0');
    expect(lengthText(-2.5, 'mm')).toBe('−2.5');
    expect(lengthText(25.4, 'in')).toBe('1.000');
    expect(lengthText(Number.NaN, 'mm')).toBe('–');
    expect(angleText(Math.PI / 6)).toBe('30.0°');
    expect(areaText(25.4 * 25.4, 'in')).toBe('1.000 in²');
  });
});

describe('lengths typed', () => {
  test.each([
    ['412', 'mm', 412],
    ['41,2', 'mm', 41.2],
    ['41.2 cm', 'in', 412],
    ['1 m', 'in16', 1000],
    ['2', 'in', 50.8],
    ['2 1/2', 'in16', 63.5],
    ['1/2"', 'mm', 12.7],
    ['-3', 'mm', -3],
    ['−3', 'mm', -3],
  ] as const)('%s (%s) is %d mm', (text, unit, mm) => {
    expect(readLength(text, unit)).toBeCloseTo(mm, 9);
  });

  test.each(['', 'wide', '1/0', '1 2', '12 furlongs', '--3', '1e3', 'NaN', '3/'])('%j is no length', (text) => {
    expect(readLength(text, 'mm')).toBeNull();
  });

  test.each([
    ['1,234', '1.234', '1234'], ['12,500 mm', '12.500 mm', '12500 mm'], ['-3,048', '-3.048', '-3048'], ['−1,000 in', '−1.000 in', '−1000 in'], [' 180,500"', ' 180.500"', ' 180500"'],
  ])('%j may be two figures: it is read as neither, and both can be typed', (text, point, thousands) => {
    expect(readLength(text, 'mm')).toBeNull();
    expect(readNumber(text)).toBeNull();
    expect(commaWays(text)).toEqual([point, thousands]);
    const [one, other] = [point, thousands].map((way) => readLength(way, 'mm') ?? Number.NaN);
    expect(other).toBeCloseTo(one * 1000, 6);
  });

  test.each([['41,2', 41.2], ['0,125', 0.125], ['1234,567', 1234.567], ['12,34', 12.34], ['1,2345', 1.2345], ['1.234', 1.234]])('%j is one figure, %d', (text, figure) => {
    expect(commaWays(text)).toBeNull();
    expect(readLength(text, 'mm')).toBeCloseTo(figure, 9);
    expect(readNumber(text)).toBeCloseTo(figure, 9);
  });

  test.each(['1,234,567', '1,234.5', '1.234,5'])('%j is refused', (text) => {
    expect(readLength(text, 'mm')).toBeNull();
    expect(readNumber(text)).toBeNull();
  });

  // All fractions of the tapes, two-digit ones too: 11/16 was read as 1 1/16.
  test.each([2, 4, 8, 16, 32, 64])('every fraction over %d reads as it is written, alone and after a whole', (bottom) => {
    for (let top = 1; top < bottom; top++) {
      expect(readLength(`${top}/${bottom}`, 'in16')).toBeCloseTo((25.4 * top) / bottom, 9);
      expect(readLength(`-${top} / ${bottom} in`, 'mm')).toBeCloseTo((-25.4 * top) / bottom, 9);
      expect(readLength(`12 ${top}/${bottom}"`, 'mm')).toBeCloseTo(25.4 * (12 + top / bottom), 9);
    }
  });

  test('what is shown reads back to within what it leaves out', () => {
    fc.assert(
      fc.property(fc.double({ min: -6000, max: 6000, noNaN: true }), (mm) => {
        expect(Math.abs((readLength(lengthText(mm, 'mm'), 'mm') ?? Number.NaN) - mm)).toBeLessThanOrEqual(0.0500001);
        expect(Math.abs((readLength(lengthText(mm, 'in'), 'in') ?? Number.NaN) - mm)).toBeLessThanOrEqual(0.0127001);
        const bare = lengthText(mm, 'in16').replace(/[+−]$/, '');
        expect(Math.abs((readLength(bare, 'in16') ?? Number.NaN) - mm)).toBeLessThanOrEqual(25.4 / 32 + 1e-9);
      }), { numRuns: 2000 },
    );
  });
});
