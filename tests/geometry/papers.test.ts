/**
 * Papers read back: what every file says of itself, names, lists, the zip, repeatability, bad options. CSV is
 * held to RFC 4180 (2005) by csv-parse, a reader not ours.
 */
import { parse } from 'csv-parse/sync';
import { unzipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { workSteps } from '../../geometry/parts/work';
import { planBoard } from '../../geometry/plan';
import { planParts } from '../../geometry/planParts';
import { sectionAt } from '../../geometry/rail/query';
import { familyRow } from '../../geometry/search/family';
import { EVERYTHING, listPapers, makePapers, PaperError, type Paper, type PaperOptions } from '../../src/papers';
import { slug } from '../../src/papers/stamp';
import { writeZip } from '../../src/papers/zip';
import { rowFigures, targetText, KINDS } from '../../src/rooms/targets/words';
import { plateParts, seedBench } from '../support/papers';
import { mmText } from '../support/said';
import { seedNames } from './boards';

const options: PaperOptions = { date: '2031-02-28', paper: 'A4', units: 'mm' };

const decode = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);

/** Rows of a CSV paper by heading; throws where a line has more or fewer fields than the heading. */
function rowsOf(paper: Paper): Record<string, string>[] {
  return parse(Buffer.from(paper.bytes), { columns: true, bom: true, record_delimiter: '\r\n' });
}

async function one(id: string, change: Partial<PaperOptions> = {}, seed = 'child-155'): Promise<Paper> {
  const { plan, parts } = await seedBench(seed);
  const [paper] = await makePapers(plan, parts, { ...options, which: [id], ...change });
  return paper;
}

describe('the set of papers', () => {
  it('holds bench sheet, templates, lists and solids, each with a file name that any system takes', async () => {
    const { plan, parts } = await seedBench('child-155');
    const list = listPapers(plan, parts, options);
    const ids = list.map(({ id }) => id);
    for (const id of ['bench-sheet', 'skin-blanks.pdf', 'skin-blanks.svg', 'skin-blanks.dxf', 'ribs.csv', 'steps.csv', 'stops.csv', 'along-the-rail.csv', 'cut-list.csv', 'shopping.csv', 'order-of-work.csv', 'totals.csv', 'assembly', 'finished-hull.stl', EVERYTHING]) {
      expect(ids).toContain(id);
    }
    const names = list.map(({ name }) => name);
    expect(new Set(names).size).toBe(names.length);
    for (const name of names) expect(name).toMatch(/^reedmere-child-s-board-1-55-m-rev-a-[a-z0-9-]+\.(pdf|svg|dxf|csv|glb|stl|step|3mf|zip)$/);
  });

  it('takes any board name into a safe file name', () => {
    expect(slug('../..\\CON:*?')).toBe('con'.padStart(9, 'board-'));
    expect(slug('Zażółć 板 №3')).toMatch(/^zazolc-[a-z]+-/);
    expect(slug('🛶')).toMatch(/^[a-z0-9-]+$/);
    expect(slug('///')).toBe('board');
    expect(slug('x'.repeat(500)).length).toBeLessThanOrEqual(60);
  });

  it('says board, revision, units and date in every text file', async () => {
    const { plan, parts } = await seedBench('child-155');
    const texts = listPapers(plan, parts, options).filter(({ mime }) => /svg|dxf|csv/.test(mime)).map(({ id }) => id);
    const made = await makePapers(plan, parts, { ...options, which: texts });
    expect(made.length).toBeGreaterThan(15);
    const missing = made.flatMap(({ name, bytes }) => {
      const text = decode(bytes);
      return [plan.design.name, '2031-02-28', /revision A|,"A","mm",/, /millimetres|,"mm",/]
        .filter((word) => (typeof word === 'string' ? !text.includes(word) : !word.test(text)))
        .map((word) => `${name} lacks ${String(word)}`);
    });
    expect(missing).toEqual([]);
  });

  it('is the same byte for byte when made again from the same plan, parts and all, whatever was asked of it between: solids, PDF and zip among them', async () => {
    const { plan, parts } = await seedBench('child-155');
    const ids = listPapers(plan, parts, options).map(({ id }) => id);
    const first = await makePapers(plan, parts, { ...options, which: ids });
    for (const s of [13.7, 640.1, 1290.3]) sectionAt(plan, s);
    const partsAgain = await planParts(plan);
    for (const s of [931.9, 77.3, 402.6]) sectionAt(plan, s);
    const again = await makePapers(plan, partsAgain, { ...options, which: ids });
    expect(first.length).toBe(ids.length);
    const same = (list: readonly Paper[]): string[] => first.filter(({ bytes }, i) => Buffer.compare(bytes, list[i].bytes) === 0).map(({ name }) => name);
    expect(same(again)).toEqual(first.map(({ name }) => name));
    const other = await makePapers(plan, parts, { ...options, date: '2031-03-01', which: ids });
    expect(same(other)).toEqual([]);
  });

  it('zips all other papers, the same in every time zone', async () => {
    const { plan, parts } = await seedBench('child-155');
    const small = { ...parts, frames: [], blanks: [] };
    const [zip] = await makePapers(plan, small, { ...options, which: [EVERYTHING] });
    const others = await makePapers(plan, small, options);
    const files = unzipSync(zip.bytes);
    expect(Object.keys(files).sort()).toEqual(others.map(({ path }) => path).sort());
    expect(others.filter(({ path, bytes }) => Buffer.compare(files[path], bytes) !== 0)).toEqual([]);
    // Each on its shelf.
    expect(new Set(others.map(({ path, name }) => path.slice(0, -name.length)))).toEqual(new Set(['bench/', 'laser/', 'print-shop/', 'lists/', 'solids/']));
    const before = process.env.TZ;
    const zones = ['Pacific/Auckland', 'America/Los_Angeles', 'UTC'].map((zone) => {
      process.env.TZ = zone;
      return writeZip(others.slice(0, 2), options.date);
    });
    if (before === undefined) delete process.env.TZ;
    else process.env.TZ = before;
    expect(Buffer.compare(zones[0], zones[1])).toBe(0);
    expect(Buffer.compare(zones[0], zones[2])).toBe(0);
  });
});

describe('the order of work', () => {
  /** Words by which a step can only mean a paper. */
  const NAMED = /\b(templates?|lists?|drawings?|rib cards?|bench sheet|cut list|papers?)\b/;

  it.each(seedNames)('%s: names no paper that is not made', async (name) => {
    const { plan, parts } = await seedBench(name.replace('.board.json', ''));
    const bare = planBoard({ ...plan.design, frames: { ...plan.design.frames, ribs: [] } });
    for (const [of, made] of [[plan, parts], [plan, { ...parts, joints: undefined, steps: workSteps(plan, parts.bending) }], [bare, { ...parts, joints: undefined, steps: workSteps(bare, parts.bending) }]] as const) {
      const ids = listPapers(of, made, options).map(({ id }) => id);
      for (const { title, text, papers = [] } of made.steps) {
        expect(papers.filter((id) => !ids.includes(id)), title).toEqual([]);
        expect(NAMED.test(mmText(text)), `${title}: ${mmText(text)}`).toBe(papers.length > 0);
      }
    }
    expect(parts.steps.flatMap(({ papers = [] }) => papers)).toContain('bench-sheet');
    expect(parts.steps.some(({ papers = [] }) => papers.includes('joints.csv'))).toBe((parts.joints?.joints.length ?? 0) > 0);
  });
});

describe('mass', () => {
  it('tells timber, glue and the maker\'s own weights apart, and is called of timber wherever that alone is told', async () => {
    const { plan, parts } = await seedBench('child-155');
    const rows = rowsOf(await one('totals.csv'));
    const mass = (part: string) => Number(rows.find((row) => row.part === part)?.['mass (kg)']);
    expect(mass('glue left in the board')).toBeGreaterThan(0);
    expect(mass('board')).toBeCloseTo(mass('all timber') + mass('glue left in the board'), 3);
    expect(rows.some((row) => row.part.startsWith('finish'))).toBe(false);
    const labels = [
      ...rowFigures(familyRow(plan, () => parts.totals?.mass), 'mm').map(([label]) => label).filter((label) => /mass/i.test(label)),
      targetText({ kind: 'mass', value: 4 }, 'mm'), ...KINDS.map(({ label }) => label).filter((label) => /mass/i.test(label)),
    ];
    expect(labels.length).toBe(3);
    for (const label of labels) expect(label).toMatch(/^Mass of timber/);
    expect(mmText(parts.steps.at(-1)?.text ?? '')).toContain('its timber, its glue and the weights you entered');
  });
});

describe('lists as CSV', () => {
  it('give the kernel\'s figures at each rib, in mm and degrees', async () => {
    const { plan } = await seedBench('child-155');
    const rows = rowsOf(await one('ribs.csv'));
    expect(rows.length).toBe(plan.rail.ribs.length);
    plan.rail.ribs.forEach((rib, i) => {
      expect(Number(rows[i]['along the rail from tail (mm)'])).toBeCloseTo(rib.section.s, 2);
      expect(Number(rows[i]['along the rail from nose (mm)'])).toBeCloseTo(plan.rail.face.length - rib.section.s, 2);
      expect(Number(rows[i]['gap (mm)'])).toBeCloseTo(rib.gap, 2);
      expect(Number(rows[i]['bevel (deg)'])).toBeCloseTo((rib.section.bevel * 180) / Math.PI, 2);
      expect(Number(rows[i]['planing depth (mm)'])).toBeCloseTo(plan.design.rail.stripWidth * Math.tan(rib.section.bevel), 3);
      expect(Number(rows[i]['rows'])).toBe(rib.rows);
      expect(rows[i].date).toBe('2031-02-28');
    });
  });

  it('give the steps asked for, and lengths in inches when the maker works in inches', async () => {
    const { plan } = await seedBench('child-155');
    const rows = rowsOf(await one('steps.csv', { units: 'in16', step: 254 }));
    expect(rows.length).toBe(Math.ceil((plan.rail.face.length - 1) / 254) + 1);
    expect(Number(rows[1]['along the rail from tail (in)'])).toBe(10);
    expect(Number(rows[2]['gap (in)'])).toBeCloseTo(sectionAt(plan, 508).gap / 25.4, 3);
    expect(rows[0].units).toBe('in');
  });

  it('speak inches throughout for a maker in inches: titles, sentences and a finding\'s figure', async () => {
    const { plan, parts } = await seedBench('round-tail-175');
    for (const units of ['in', 'in16'] as const) {
      const inches = { ...options, units };
      const lists = listPapers(plan, parts, inches).filter(({ id }) => id.endsWith('.csv'));
      expect(lists.filter(({ title }) => /\bmm\b/.test(title))).toEqual([]);
      const made = await makePapers(plan, parts, { ...inches, which: lists.map(({ id }) => id) });
      expect(made.length).toBe(lists.length);
      expect(made.flatMap((paper) => decode(paper.bytes).split('\r\n').filter((line) => /\bmm\b/.test(line)))).toEqual([]);
    }
    // The same sentences in millimetres, and by the inch of 25.4 mm (international yard and pound agreement, 1959; from memory).
    const inches = rowsOf(await one('findings.csv', { units: 'in' }, 'round-tail-175'));
    const metric = rowsOf(await one('findings.csv', {}, 'round-tail-175'));
    const lengths = metric.flatMap((row, i) => (row['unit of figure'] === 'mm' && row.figure !== '' ? [[row, inches[i]]] : []));
    expect(lengths.length).toBeGreaterThan(0);
    for (const [mm, inch] of lengths) {
      expect(inch['unit of figure']).toBe('in');
      expect(Number(inch.figure)).toBeCloseTo(Number(mm.figure) / 25.4, 3);
    }
    const wrap = (rows: Record<string, string>[], sign: string) => {
      const words = rows.map((row) => row['what to do']).join(' ');
      return Number(new RegExp(`wrap ([\\d.]+) ${sign} of the strip`).exec(words)?.[1]);
    };
    const steamed = parts.bending.flatMap(({ zones }) => zones).find(({ method }) => method === 'wet')?.wrap ?? Number.NaN;
    expect(wrap(rowsOf(await one('order-of-work.csv', {}, 'round-tail-175')), 'mm')).toBe(Number(steamed.toFixed(0)));
    expect(wrap(rowsOf(await one('order-of-work.csv', { units: 'in' }, 'round-tail-175')), 'in')).toBe(Number((steamed / 25.4).toFixed(3)));
  });

  it('list every piece of the cutting plan once, and buy what the stock lengths need', async () => {
    const { plan, parts } = await seedBench('child-155');
    const cut = rowsOf(await one('cut-list.csv'));
    const lengths = cut.map((row) => Number(row['length to cut (mm)'])).sort((a, b) => a - b);
    const wanted = (parts.joints?.pieces ?? []).map(({ length }) => length).sort((a, b) => a - b);
    expect(lengths.length).toBeGreaterThan(0);
    expect(lengths.length).toBe(wanted.length);
    lengths.forEach((length, i) => expect(length).toBeCloseTo(wanted[i], 2));
    const shop = rowsOf(await one('shopping.csv'));
    const bought = shop.filter((row) => /strip/.test(row.item)).reduce((sum, row) => sum + Number(row.needed), 0);
    expect(bought).toBe(parts.joints?.stockLengths.length);
    // Ribs and stringer are of different thickness: a line of sheets for each.
    const { ribThickness, stringerThickness } = plan.design.frames;
    expect(shop.flatMap((row) => /^Sheet .* x (\S+) mm/.exec(row.item)?.[1] ?? [])).toEqual([String(ribThickness), String(stringerThickness)]);
    // A line for each end block, which together cost what the totals say of them.
    const blocks = shop.filter((row) => row.item.includes(' block, '));
    expect(blocks.map((row) => /the (\w+) block/.exec(row.item)?.[1])).toEqual(parts.blocks?.map(({ end }) => end));
    const spent = blocks.reduce((sum, row) => sum + Number(row[`cost (${plan.design.timber.currency})`]), 0);
    expect(Math.abs(spent - (parts.totals?.parts.find(({ part }) => part === 'blocks')?.cost ?? 0))).toBeLessThanOrEqual(0.01);
    for (const row of shop) {
      const price = Number(row[`price each (${plan.design.timber.currency})`]);
      expect(Number(row['to buy'])).toBe(Math.max(0, Number(row.needed) - Number(row['on hand'])));
      expect(Number(row[`cost (${plan.design.timber.currency})`])).toBeCloseTo(Number(row['to buy']) * price, 2);
    }
  });

  it('meet ribs, stops and joints in order from tail to nose', async () => {
    const { plan } = await seedBench('child-155');
    const runs = rowsOf(await one('along-the-rail.csv'));
    const at = runs.map((row) => Number(row['along the rail from tail (mm)']));
    expect(at).toEqual([...at].sort((a, b) => a - b));
    expect(runs.filter((row) => row.kind === 'rib').length).toBe(plan.rail.ribs.length);
    expect(runs.filter((row) => row.kind === 'stop').length).toBe(2 * plan.rail.rows.length);
  });

  it('hand a spreadsheet no formula, and keep quotes, commas and line ends in their field', async () => {
    const { plan, parts } = await seedBench('child-155');
    const name = '=HYPERLINK("http://example.invalid","x"),\r\nboard';
    const named = { ...plan, design: { ...plan.design, name, revision: '\u200b@SUM(1);=2+3' } };
    const [paper] = await makePapers(named, parts, { ...options, which: ['stops.csv'] });
    const rows = rowsOf(paper);
    expect(rows.length).toBe(2 * plan.rail.rows.length);
    // Every text is quoted: what stands outside quotes is figures and commas.
    const bare = new TextDecoder().decode(paper.bytes).replace(/"(?:[^"]|"")*"/g, '').replace(/^\ufeff/, '');
    expect(bare).toMatch(/^[-\d.,\r\n]*$/);
    for (const row of rows) {
      expect(row.board).toBe(`'${name}`);
      expect(row.revision).toBe('\'\u200b@SUM(1);\'=2+3');
      const live = Object.values(row).filter((cell) => !/^-?[\d.]*$/.test(cell) && /^[=+\-@\t\r\n]/.test(cell));
      expect(live).toEqual([]);
    }
  });
});

describe('bad input', () => {
  it('names the option, what was given and what is allowed', async () => {
    const { plan } = await seedBench('child-155');
    const parts = plateParts();
    const cases: [Partial<PaperOptions>, string][] = [
      [{ date: '2031-02-29' }, 'date'], [{ date: '' }, 'date'], [{ date: '1979-12-31' }, 'date'],
      [{ step: 0 }, 'step'], [{ step: Number.NaN }, 'step'], [{ which: ['bench-sheet', 'no-such'] }, 'which'],
    ];
    for (const [change, field] of cases) {
      const error: unknown = await makePapers(plan, parts, { ...options, ...change }).catch((e: unknown) => e);
      expect(error).toBeInstanceOf(PaperError);
      if (error instanceof PaperError) {
        expect(error.field).toBe(field);
        expect(error.message).toContain('allowed');
      }
    }
    const wrong = JSON.parse('"B5"');
    expect(() => listPapers(plan, parts, { ...options, paper: wrong })).toThrow(/paper: B5 .* A4, A3, Letter, roll/);
  });

  it('makes all other papers when one part is broken, and says which failed', async () => {
    const { plan, parts } = await seedBench('child-155');
    const broken = { ...parts.blanks[0].pieces[0] };
    Reflect.deleteProperty(broken, 'shape');
    const spoilt = { ...parts, blanks: [{ ...parts.blanks[0], pieces: [broken] }] };
    const faults: string[] = [];
    const made = await makePapers(plan, spoilt, { ...options, which: ['skin-blanks.dxf', 'ribs.csv'], onFault: ({ id }) => faults.push(id) });
    expect(faults).toEqual(['skin-blanks.dxf']);
    expect(made.map(({ id }) => id)).toEqual(['ribs.csv']);
    await expect(makePapers(plan, spoilt, { ...options, which: ['skin-blanks.dxf'] })).rejects.toThrow(TypeError);
  });

  it('stops when it is told to, and counts its progress', async () => {
    const { plan, parts } = await seedBench('child-155');
    const stop = new AbortController();
    const seen: number[] = [];
    const work = makePapers(plan, parts, {
      ...options, signal: stop.signal,
      onProgress: ({ done, total }) => {
        seen.push(done);
        expect(done).toBeLessThan(total);
        if (done === 2) stop.abort(new Error('enough'));
      },
    });
    await expect(work).rejects.toThrow('enough');
    expect(seen).toEqual([0, 1, 2]);
  });

  it('makes what can be made of a board without a single part', async () => {
    const { plan } = await seedBench('child-155');
    const bare = { bending: [], lies: [], blanks: [], frames: [], steps: [], findings: [] };
    const made = await makePapers(plan, bare, options);
    expect(made.map(({ id }) => id)).toContain('bench-sheet');
    expect(made.map(({ id }) => id)).not.toContain('cut-list.csv');
  });
});
