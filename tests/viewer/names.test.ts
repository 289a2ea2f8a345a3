/** Names that no file may hold (XML 1.0, 5th edition, 2.2 Characters: no surrogates, no FFFE or FFFF) are refused at every door. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { deflateSync } from 'fflate';
import { expect, test } from 'vitest';
import { checkDesign, readDesign } from '../../geometry/design/read';
import { planCommand } from '../../src/cli/command';
import { readLink } from '../../src/link/boardLink';
import { DICTIONARY_1 } from '../../src/link/dictionary';
import { put } from '../../src/rooms/bench/edits';
import { useDesign } from '../../src/state/design';
import { seedDesign } from '../geometry/boards';

const design = seedDesign('child-155.board.json');
const BAD = ['half \ud800', '\udc00 half', 'turned \udc00\ud800', 'none \ufffe', 'none \uffff', 'none \u{1fffe}', 'none \ufdd0'];
const GOOD = ['whole \u{1f6f6}', 'Brăila', '板', '\ufffd'];
const bytes = (text: string) => new TextEncoder().encode(text);
const shown = (name: string) => name.replace(/[^ -~]/gu, (c) => `\\u{${c.codePointAt(0)?.toString(16)}}`);
const cases = [...BAD.map((name) => [shown(name), name, false] as const), ...GOOD.map((name) => [shown(name), name, true] as const)];

test.each(cases)('%s', async (_, name, taken) => {
  const folder = mkdtempSync(join(tmpdir(), 'railwright-names-'));
  try {
    const text = JSON.stringify({ ...design, name });
    const doors = {
      // Opened or dropped.
      file: readDesign(text).ok,
      // From the shelf, from a search, from a fit: whatever is a value already.
      value: checkDesign({ ...design, name }).ok,
      link: readLink(`#board=1${Buffer.from(deflateSync(bytes(text), { dictionary: bytes(DICTIONARY_1) })).toString('base64url')}`).ok,
      form: put(['name'], name).length === 0,
      species: put(['timber', 'species', 0], { id: 'own', name, density: 400, moe: 9000, mor: 60, dryLimit: 0.005, steamLimit: 0.02 }).length === 0,
    };
    expect(doors).toEqual({ file: taken, value: taken, link: taken, form: taken, species: taken });
    expect(useDesign.getState().design.name === name).toBe(taken);
    const path = join(folder, 'b.board.json');
    writeFileSync(path, text);
    let err = '';
    const code = await planCommand([path], { out: () => undefined, err: (t) => void (err += t) });
    expect(code).toBe(taken ? 0 : 2);
    if (!taken) expect(err).toMatch(/^.*\bname\b/m);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});
