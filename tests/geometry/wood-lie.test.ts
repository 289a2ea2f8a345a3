/** How strips lie and what bends leave: closed forms of continuous beams, and figures of the literature. */
import { describe, expect, it } from 'vitest';
import { GLUE_PRESSURE, keptAcross, keptOnCurve, lapShear, layersKeep } from '../../geometry/wood/bent';
import { lieOn } from '../../geometry/wood/lie';

const FREE = { tail: false, nose: false };
const HELD = { tail: true, nose: true };

/** An arc over n bays of length L: drawn curvature kappa all along. */
function arc(n: number, L: number, kappa: number, held = FREE) {
  const drawn = { along: Float64Array.from([0, n * L]), curvature: Float64Array.from([kappa, kappa]) };
  return lieOn(drawn, Array.from({ length: n + 1 }, (_, i) => i * L), held);
}

describe('an arc on equal bays, ends pinned (three-moment equation, Clapeyron; provable)', () => {
  const [L, kappa] = [200, 1 / 1000];

  it('two bays: half as much again in the middle, and a 27th of kappa L^2 off the line at a third of the bay', () => {
    const { curvature, jumps, bays } = arc(2, L, kappa);
    expect(curvature[1] / kappa).toBeCloseTo(1.5, 12);
    expect(Array.from(jumps, (j) => (j * L) / kappa)).toEqual([1.5, -3, 1.5].map((v) => expect.closeTo(v, 12)));
    expect(bays[0].standOff).toBeCloseTo((kappa * L * L) / 27, 12);
    expect(bays[0].standOff).toBeCloseTo(1.4815, 4);
    expect(bays[0].at).toBeCloseTo(L / 3, 9);
    expect(bays[1].at).toBeCloseTo(2 * L - L / 3, 9);
  });

  it.each([[3, [1.2, 1.2]], [4, [9 / 7, 6 / 7, 9 / 7]]])('%d bays', (n, inner) => {
    const { curvature } = arc(n, L, kappa);
    expect(Array.from(curvature.slice(1, -1), (k) => k / kappa)).toEqual(inner.map((v) => expect.closeTo(v, 12)));
  });

  it('many bays: the end dies off by a factor of -0.268 a bay', () => {
    const { curvature, bays } = arc(40, L, kappa);
    expect(curvature[1] / kappa).toBeCloseTo(1.26795, 5);
    expect(bays[0].standOff / (kappa * L * L)).toBeCloseTo(0.04909, 5);
    expect(bays[0].at / L).toBeCloseTo(0.3804, 4);
    for (let i = 1; i < 6; i++) expect((curvature[i + 1] - kappa) / (curvature[i] - kappa)).toBeCloseTo(-0.268, 3);
  });

  it('with its ends held to the drawn direction it lies on the line and presses on nothing', () => {
    const { curvature, jumps, bays } = arc(5, L, kappa, HELD);
    for (const k of curvature) expect(k / kappa).toBeCloseTo(1, 12);
    for (const j of jumps) expect(Math.abs(j) * L).toBeLessThan(1e-15);
    for (const bay of bays) expect(Math.abs(bay.standOff)).toBeLessThan(1e-12);
  });
});

describe('a drawn curvature that varies', () => {
  const along = Float64Array.from({ length: 301 }, (_, i) => 3 * i);
  const curvature = along.map((s) => 4e-4 + 8e-4 * Math.sin(s / 140) + (s > 700 ? (s - 700) * 1e-5 : 0));
  const supports = [0, 130, 333.3, 520, 641, 900];

  it.each([FREE, HELD, { tail: true, nose: false }])('is met by the projection: what is left over is square to every hat (%o)', (held) => {
    const { curvature: k } = lieOn({ along, curvature }, supports, held);
    const at = (x: number, xs: ArrayLike<number>, v: ArrayLike<number>) => {
      let i = 0;
      while (i + 2 < xs.length && xs[i + 1] < x) i++;
      return v[i] + ((v[i + 1] - v[i]) * (x - xs[i])) / (xs[i + 1] - xs[i]);
    };
    const n = 90_000;
    supports.forEach((_, j) => {
      if ((j === 0 && !held.tail) || (j === supports.length - 1 && !held.nose)) return;
      const hat = supports.map((__, i) => (i === j ? 1 : 0));
      let [off, size] = [0, 0];
      for (let i = 0; i < n; i++) {
        const x = ((i + 0.5) * 900) / n;
        off += at(x, supports, hat) * (at(x, supports, k) - at(x, along, curvature));
        size += at(x, supports, hat) * Math.abs(at(x, along, curvature));
      }
      expect(Math.abs(off / size)).toBeLessThan(1e-6);
    });
  });

  it('holds its reactions in balance', () => {
    const { jumps } = lieOn({ along, curvature }, supports, FREE);
    const scale = jumps.reduce((sum, j) => sum + Math.abs(j), 0);
    expect(Math.abs(jumps.reduce((sum, j) => sum + j, 0)) / scale).toBeLessThan(1e-12);
    expect(Math.abs(jumps.reduce((sum, j, i) => sum + j * supports[i], 0)) / scale).toBeLessThan(1e-9);
  });

  it('stands off by what thin slices add up to', () => {
    const { curvature: k, bays } = lieOn({ along, curvature }, supports, FREE);
    const [a, b] = [supports[4], supports[5]];
    const n = 20_000;
    const h = (b - a) / n;
    let [u, slope] = [0, 0];
    const us = [0];
    for (let i = 0; i < n; i++) {
      const x = a + (i + 0.5) * h;
      const drawn = 4e-4 + 8e-4 * Math.sin(x / 140) + Math.max(0, x - 700) * 1e-5;
      const f = k[4] + ((k[5] - k[4]) * (x - a)) / (b - a) - drawn;
      u += slope * h + (f * h * h) / 2;
      slope += f * h;
      us.push(u);
    }
    const off = us.map((v, i) => v - (u * i) / n);
    const most = off.reduce((m, v) => (Math.abs(v) > Math.abs(m) ? v : m), 0);
    expect(bays[4].standOff).toBeCloseTo(most, 3);
  });
});

describe('what a bend leaves', () => {
  it('counts a curved strip\'s strength as glulam practice does', () => {
    // Cc = 1 - 2000 (t / R)^2 (US glulam practice; read). At 1/100, 1/125 and 1/200.
    expect([100, 125, 200].map(keptOnCurve)).toEqual([0.8, 0.872, 0.95].map((v) => expect.closeTo(v, 12)));
    expect(keptOnCurve(30)).toBeUndefined();
  });

  it('loses strength with the run-out of its grain', () => {
    // Hankinson, exponent 1.75, Q/P 0.07 (Wood Handbook, table of slope of grain; from memory).
    expect([20, 15, 10, 5].map(keptAcross)).toEqual([0.932, 0.892, 0.804, 0.558].map((v) => expect.closeTo(v, 3)));
  });

  it('shears a lap at its corners', () => {
    // Polar moment of a rectangle (provable).
    expect(lapShear(9060, 48, 12)).toBeCloseTo(1.907, 3);
    expect(lapShear(9060, 60, 12)).toBeCloseTo(1.234, 3);
  });

  it('springs back less with every layer', () => {
    // n layers that slip keep 1 - 1/n^2 (provable): two want the drawn radius over 4/3; R 300 in three a form of 266.7.
    expect(1 / layersKeep(2)).toBeCloseTo(4 / 3, 12);
    expect(300 * layersKeep(3)).toBeCloseTo(266.7, 1);
  });

  it('is pressed home at 100 psi', () => {
    // 1 lbf = 4.4482216152605 N, 1 in = 25.4 mm (international definitions; provable).
    expect(GLUE_PRESSURE).toBeCloseTo(0.689, 3);
  });
});
