/**
 * Bands and readings on paper, and a board's portrait. The figures are the kernel's own, held here against a second
 * way to them; the printed page is read back by poppler.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { ensurePoppler } from '../../.ci/poppler.mjs';
import { sectionAt } from '../../geometry/rail/query';
import { halfBreadthAt } from '../../geometry/shape/line';
import { portraitOf } from '../../geometry/search/portrait';
import { applyReadings, expectedReadings } from '../../geometry/trust/asBuilt';
import { bandAt } from '../../geometry/trust/bandAt';
import type { Readings } from '../../geometry/trust/readings';
import { noReadings } from '../../geometry/trust/emptyRecord';
import { planTolerance } from '../../geometry/trust/tolerance';
import type { Parts } from '../../geometry/parts/types';
import { planBoard } from '../../geometry/plan';
import { listPapers, makePapers, type PaperOptions, type Trust } from '../../src/papers';
import { pageTexts } from '../support/papers';
import { seedDesign, seedNames } from './boards';

beforeAll(() => ensurePoppler(), 180_000);

const plan = planBoard(seedDesign('child-155.board.json'));
const parts: Parts = { bending: [], lies: [], blanks: [], frames: [], steps: [], findings: [] };
const rib = plan.rail.ribs[2];
const record: Readings = {
  ...noReadings(plan.design.name, plan.design.revision),
  readings: [{ of: 'rib', rib: rib.index + 1, side: 'port', depth: expectedReadings(plan, rib).depth + 0.7, cap: 25 }],
};

async function trust(): Promise<Required<Trust>> {
  const bands = await planTolerance(plan, { method: 'estimate' });
  return { bands, measured: { record, sides: [{ side: 'port', built: applyReadings(plan, record, 'port') }] } };
}

const options: PaperOptions = { date: '2031-02-28', paper: 'A4', units: 'mm' };

describe('bands between the places they were worked out at', () => {
  it('hold the figure itself, and end where the box ends', async () => {
    const bands = await planTolerance(plan, { method: 'estimate' });
    const { s, n } = bands;
    for (const at of [s[0], s[10] * 0.4 + s[11] * 0.6, s[40] + 3, s[n - 1]]) {
      const band = bandAt(bands, 'gap', at);
      expect(band && band.low <= band.value && band.value <= band.high).toBe(true);
      // Straight between places some 17 mm apart: the gap bends by far less than a spread in so short a stretch.
      expect(Math.abs((band?.value ?? Number.NaN) - sectionAt(plan, at).gap)).toBeLessThan(0.05);
    }
    expect(bandAt(bands, 'gap', s[20])?.high).toBeCloseTo(bands.gap.high[20], 9);
    expect(bandAt(bands, 'gap', s[0] - 1)).toBeUndefined();
    expect(bandAt(bands, 'gap', s[n - 1] + 1)).toBeUndefined();
    expect(bandAt(bands, 'gap', Number.NaN)).toBeUndefined();
  });
});

describe.each(seedNames)('the portrait of %s', (name) => {
  const own = planBoard(seedDesign(name));
  const portrait = portraitOf(own);

  it('lies on the outline, and the box face within it', () => {
    // Near an upright end a station meets the outline at a glance: there the points' own x decides.
    const clear = (line: ArrayLike<number>) =>
      Array.from({ length: line.length / 2 }, (_, i) => [line[2 * i], line[2 * i + 1]]).filter(([x]) => x > 5 && x < portrait.length - 5);
    const offOutline = clear(portrait.outline).map(([x, y]) => Math.abs(y - halfBreadthAt(own.hull.outline, x)));
    expect(offOutline.length).toBeGreaterThan(20);
    expect(Math.max(...offOutline)).toBeLessThan(0.0005);
    const within = clear(portrait.face).map(([x, y]) => halfBreadthAt(own.hull.outline, x) - y);
    expect(within.length).toBeGreaterThan(20);
    expect(Math.min(...within)).toBeGreaterThan(0);
  });

  it('has every stop where the plan has it, and a station as wide as the board there', () => {
    expect(portrait.stops.map(({ x }) => x)).toEqual(own.rail.rows.flatMap(({ tail, nose }) => [tail.x, nose.x]));
    const widest = Math.max(...portrait.station.filter((_, i) => i % 2 === 0));
    expect(Math.abs(widest - portrait.halfBreadth)).toBeLessThan(1);
    const [y0, y1, z0, z1] = portrait.box;
    expect(y1 - y0).toBeCloseTo(own.design.rail.stripWidth, 0);
    expect(z1).toBeGreaterThan(z0);
    expect(y1).toBeLessThan(widest);
  });
});

describe('on paper', () => {
  it('lists bands and readings only where they are given', async () => {
    const without = listPapers(plan, parts, options).map(({ id }) => id);
    const all = listPapers(plan, parts, { ...options, trust: await trust() }).map(({ id }) => id);
    expect(all.filter((id) => !without.includes(id))).toEqual(['stop-bands.csv', 'rib-bands.csv', 'as-built-port.csv', 'as-built-stops-port.csv']);
    expect(without.filter((id) => !all.includes(id))).toEqual([]);
  });

  it('prints plus and minus, what was read, and the corrected stops, with the doubtful reading named', { timeout: 120_000 }, async () => {
    const given = await trust();
    const [made] = await makePapers(plan, parts, { ...options, trust: given, which: ['bench-sheet'] });
    const pages = pageTexts(made.bytes);
    const bands = pages.find((page) => page.includes('Plus and minus')) ?? '';
    const first = given.bands.stops[0];
    expect(bands).toContain('by quick estimate');
    expect(bands).toContain(first.s.value.toFixed(1));
    expect(bands).toContain(`±${(first.s.high - first.s.value).toFixed(1)}`);
    const built = pages.find((page) => page.includes('As built, port')) ?? '';
    // The rib's own: the stop beside it.
    const changed = given.measured.sides[0].built.changes.find(({ what, was, is }) => what === 'stop' && was !== undefined && is !== undefined);
    const [moved, drawn] = [changed?.is ?? 0, changed?.was ?? 0];
    expect(built).toContain(moved.toFixed(1));
    expect(built).toContain(drawn.toFixed(1));
    expect(Math.abs(moved - drawn)).toBeGreaterThan(1);
    expect(built).toContain(`${(expectedReadings(plan, rib).depth + 0.7).toFixed(2)} (${expectedReadings(plan, rib).depth.toFixed(2)})`);
    expect(built).toContain(`Check: rib ${rib.index + 1}, cap, 25 mm`);
    // The rail's own pages are a side each: port as built, starboard as drawn.
    const is = given.measured.sides[0].built.plan.rail.ribs[2].section.gap.toFixed(1);
    const page = (title: string) => pages.find((text) => text.includes(`The rail at each rib: ${title}`)) ?? '';
    expect(is).not.toBe(rib.section.gap.toFixed(1));
    expect([page('port, as built').includes(is), page('starboard, as drawn').includes(rib.section.gap.toFixed(1))]).toEqual([true, true]);
    const [plain] = await makePapers(plan, parts, { ...options, which: ['bench-sheet'] });
    expect(pageTexts(plain.bytes).some((page) => /Plus and minus|As built/.test(page))).toBe(false);
  });

  it('lists what was read of the batch, of this side before that of both, on the sheet and as a table', { timeout: 120_000 }, async () => {
    const { soleThickness: sole, spacerHeight: spacer } = plan.design.rail;
    const ofBatch: Readings = { ...record, readings: [...record.readings, { of: 'batch', sole: sole + 0.4, spacer: spacer + 0.1 }, { of: 'batch', side: 'port', sole: sole + 0.15, depthOff: -0.2 }] };
    const measured = { record: ofBatch, sides: [{ side: 'port', built: applyReadings(plan, ofBatch, 'port') } as const] };
    const [sheet, table] = await makePapers(plan, parts, { ...options, trust: { measured }, which: ['bench-sheet', 'as-built-batch.csv'] });
    const line = pageTexts(sheet.bytes).join('\n').split('\n').find((text) => text.includes('of the batch')) ?? '';
    for (const figure of [`${(sole + 0.15).toFixed(2)} (${sole.toFixed(2)})`, `${(spacer + 0.1).toFixed(2)} (${spacer.toFixed(2)})`, '–0.20 at every rib']) expect(line).toContain(figure);
    expect(line).not.toContain((sole + 0.4).toFixed(2));
    const lines = new TextDecoder().decode(table.bytes).trim().split(/\r?\n/).slice(1).map((text) => text.split(',').slice(0, 5).map((cell) => (/^[-\d.]+$/.test(cell) ? Number(cell) : cell)));
    expect(lines).toEqual([['"port"', '"depth"', '', '', -0.2], ['"port"', '"sole"', sole + 0.15, sole, 0.15], ['"port"', '"spacer"', spacer + 0.1, spacer, 0.1]]);
  });

  it('says how random trials were drawn', async () => {
    const drawn = await planTolerance(plan, { method: 'trials', runs: 120, seed: 7 });
    const [made] = await makePapers(plan, parts, { ...options, trust: { bands: drawn }, which: ['stop-bands.csv'] });
    const lines = new TextDecoder().decode(made.bytes).split('\n');
    expect(made.title).toBe('Stops and their bands, by random trials of 120 boards, seed 7');
    expect(lines).toHaveLength(drawn.stops.length + 2);
    expect(lines[1].split(',').slice(0, 2)).toEqual(['1', '"tail"']);
  });
});
