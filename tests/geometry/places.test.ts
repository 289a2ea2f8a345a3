/** One rib, one place: every list, paper and sentence tells a rib's own station, and nothing on the centreline is told along the rail. */
import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { ribAt, runOfPlace, sectionAt, sectionDrawing, stationAt } from '../../geometry/rail/query';
import { readLink, boardLink } from '../../src/link/boardLink';
import { listPapers, makePapers, type PaperOptions } from '../../src/papers';
import { placeName, stationWords } from '../../src/say/placeWords';
import { seedBench } from '../support/papers';
import { mmText } from '../support/said';
import { seedNames } from './boards';

const options: PaperOptions = { date: '2031-02-28', paper: 'A4', units: 'mm' };

describe.each(seedNames.map((name) => name.replace('.board.json', '')))('places of %s', (seed) => {
  it('are a rib\'s own station at a rib, on card and in speech, the box face\'s elsewhere', async () => {
    const { plan } = await seedBench(seed);
    let farthest = 0;
    for (const rib of plan.rail.ribs) {
      const drawing = sectionDrawing(plan, rib.s);
      expect([drawing.x, stationAt(plan, rib.s)]).toEqual([rib.x, rib.x]);
      expect(drawing.section.x).toBe(sectionAt(plan, rib.s).x);
      farthest = Math.max(farthest, Math.abs(drawing.section.x - rib.x));
      const words = stationWords(plan, drawing, 'mm');
      expect(words).toContain(`Rib ${rib.index + 1}, ${rib.x.toFixed(1)} mm from tail, ${(plan.hull.length - rib.x).toFixed(1)} mm from nose.`);
      expect(words).toContain(`Box face ${drawing.section.x.toFixed(1)} mm from tail.`);
      // Its station leads to it, and so does the link that rounds its place along the rail.
      expect(runOfPlace(plan, { x: rib.x })).toBe(rib.s);
      const link = readLink(boardLink(plan.design, rib.s, '').href);
      expect(link.ok && link.s !== undefined && ribAt(plan, link.s)).toBe(rib);
      // A step off its middle the box face leads, and the name says so.
      const off = sectionDrawing(plan, rib.s + 1);
      expect(off.x).toBe(off.section.x);
      expect(placeName(plan, rib.s + 1)).toBe(`In rib ${rib.index + 1}, off its middle`);
    }
    // Or the test could not tell the two.
    expect(farthest).toBeGreaterThan(1);
  });

  it('are told so in every list that names a rib', async () => {
    const { plan, parts } = await seedBench(seed);
    const lists = ['ribs.csv', 'along-the-rail.csv', 'joints.csv', 'findings.csv', 'order-of-work.csv'];
    const which = listPapers(plan, parts, options).map(({ id }) => id).filter((id) => lists.includes(id));
    expect(which.length).toBeGreaterThan(3);
    const made = await makePapers(plan, parts, { ...options, which });
    let named = 0;
    for (const { name, bytes } of made) {
      const rows: Record<string, string>[] = parse(Buffer.from(bytes), { columns: true, bom: true, record_delimiter: '\r\n' });
      for (const row of rows) {
        const words = [row.rib, row.what, row.finding, row.measure, row.detail, row['on the tab of rib'] && `rib ${row['on the tab of rib']}`].join(' ');
        const found = [...new Set([...words.matchAll(/\brib (\d+)/gi)].map(([, n]) => Number(n)))];
        const rib = found.length === 1 ? plan.rail.ribs.find(({ index }) => index === found[0] - 1) : undefined;
        // A row's stop near a tab has the stop's place.
        if (!rib || /stops/.test(words)) continue;
        named += 1;
        expect(Number(row['station from tail (mm)']), `${name}: ${words}`).toBeCloseTo(rib.x, 2);
      }
    }
    expect(named).toBeGreaterThan(5 * plan.rail.ribs.length);
  });

  it('are no run where the measure lies on the centreline or in a rib\'s own plane', async () => {
    const { plan, parts } = await seedBench(seed);
    const checks = parts.steps.flatMap((step) => step.checks);
    const flat = checks.filter(({ what }) => /centreline|Tail to rib|^Width|Inner face/.test(mmText(what)));
    expect(flat.length).toBeGreaterThan(3 * plan.rail.ribs.length);
    expect(flat.filter(({ place }) => place?.s !== undefined).map(({ what }) => mmText(what))).toEqual([]);
    // What is measured across the strips keeps its run, at the section it is measured in.
    const across = checks.filter(({ what, place }) => /^Bevel|^Planing|slot left|tab of rib|top of the tab/.test(mmText(what)) && place);
    for (const { place } of across) expect(place?.s !== undefined && stationAt(plan, place.s) === place.x, JSON.stringify(place)).toBe(true);
    const [paper] = await makePapers(plan, parts, { ...options, which: ['order-of-work.csv'] });
    const rows: Record<string, string>[] = parse(Buffer.from(paper.bytes), { columns: true, bom: true, record_delimiter: '\r\n' });
    expect(rows.filter(({ measure }) => measure !== '').map((row) => [row['station from tail (mm)'], row['along the rail from tail (mm)']])).toEqual(
      checks.map(({ place }) => [place?.x, place?.s].map((v) => (v === undefined ? '' : String(Number(v.toFixed(3)) + 0)))),
    );
  });
});
