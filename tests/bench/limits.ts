/** What files meant to hang the page, and tables as large as are taken, cost at most: in processor time, since others may use the machine. */
import { deflateRawSync } from 'node:zlib';
import { checkDesign, readDesign } from '../../geometry/design/read';
import { FILE_LIMIT } from '../../geometry/design/text';
import { parseOffsets } from '../../geometry/shape/offsetsRead';
import { readLink } from '../../src/link/boardLink';
import { seedDesign, seedText } from '../geometry/boards';
import { offsetsText } from '../support/large';
import { ms, type Section } from './report';
import { quantile } from './timing';

const ROUNDS = 5;

export function limitsSection(): Section {
  const name = 'child-155.board.json';
  const [design, text] = [seedDesign(name), seedText(name)];
  const noted = (length: number) => text.replace('"note": "', `"note": "${'D'.repeat(length)}`);
  const [large, full] = [noted(30_000_000), noted(FILE_LIMIT - text.length)];
  const points = Array.from({ length: 1_000_000 }, (_, x) => ({ x, v: 1 }));
  const spoiled = { ...design, lines: { ...design.lines, rocker: { points } } };
  const bomb = `#board=1${deflateRawSync(Buffer.alloc(40_000_000, ' '), { level: 9 }).toString('base64url')}`;
  const offsets = offsetsText(10_000);
  const cases: readonly (readonly [what: string, limit: number, takes: boolean, ask: () => { ok: boolean }])[] = [
    ['a board file of 30 million characters refused', 200, false, () => readDesign(large)],
    ['a note as long as a file may be refused', 1000, false, () => readDesign(full)],
    ['a million points, parsed elsewhere, refused', 200, false, () => checkDesign(spoiled)],
    ['a link that would unpack to 40 MB refused', 1000, false, () => readLink(bomb)],
    ['10 000 rows of offsets read', 3000, true, () => parseOffsets(offsets)],
  ];
  const rows = cases.map(([what, limit, takes, ask]) => {
    const times = Array.from({ length: ROUNDS }, () => {
      const before = process.cpuUsage();
      if (ask().ok !== takes) throw new Error(`${what}: it is not`);
      const { user, system } = process.cpuUsage(before);
      return (user + system) / 1000;
    });
    return { what, limit, median: quantile(times), greatest: Math.max(...times) };
  });
  return {
    title: 'Large and hostile input',
    tables: [{
      title: `Processor time until it is answered, ${ROUNDS} rounds`,
      head: ['', 'median', 'greatest'],
      rows: rows.map((r) => [r.what, ms(r.median, 1), ms(r.greatest, 1)]),
    }],
    remarks: [],
    targets: rows.map(({ what, limit, median }) => ({ what, target: `< ${limit} ms`, measured: `${ms(median, 1)} median`, met: median < limit })),
    data: rows,
  };
}
