/**
 * How Railwright speaks, held by reading every text it can show and every comment: phrases that were replaced stay
 * out, and states of the box and severities come from one list each. The project's own rule, no outside source.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { planBoard } from '../../geometry/plan';
import type { Plan } from '../../geometry/types';
import { summaryText } from '../../src/cli/summary';
import { ribbonWords } from '../../src/say/placeWords';
import { BOX_WORDS, boxText, capital, SEVERITY_WORDS } from '../../src/say/words';
import { seedDesign, seedNames } from './boards';

const top = resolve(dirname(fileURLToPath(import.meta.url)), '../..');

const STATES = ['all rows', 'fewer rows', 'hollow, no rows', 'block\'s tongue', 'end block', 'strips touch', 'no room', 'sides meet'];
const SEVERITIES = ["can't build", 'check', 'note'];

/** What was said before, in texts that are shown. */
const REPLACED: readonly RegExp[] = [
  // Idioms of another language, and archaic words.
  /\banew\b/i, /\bmend(s|ed|ing)?\b/i, /\bleft away\b/i, /\bput(s)? away\b/i, /\btake up\b/i, /\bset aside\b/i, /\bin hand\b/i, /\bbetters\b/i, /\bse(ek|eks|eking)\b|\bsought\b/i,
  /\bwarrant\b/i, /\bthus\b/i, /(?<!\bthere )\b(is|are) no (?!(wid|low|high|long|short|thick|thin|near|old|great|larg|small|farth|few)er\b)/i, /\bno figure worth\b/i, /\btake it (now|away|out)\b/i, /\btake this point\b/i,
  /\blet go to\b/i, /\bgives? a drag up\b/i, /\brests on steps\b/i, /\bmade least\b/i, /\bnow arrives\b/i, /\b(rib|step) (before|after)\b/i, /\bbrings? the board before\b/i, /\bpresent board\b/i,
  /\blast good board\b/i, /\bgo on\b/i,
  // Words that have another name now.
  /\bwish(es|ed)?\b/i, /\bghost\b/i, /\bwill not go\b/i, /\bouter-skin blanks?\b/i, /\bof the plate\b|\bplates and panels\b/i, /\bbar length\b|\bone bar\b|\blongest bar\b/i, /\bplay of\b/i,
  /\blettering\b/i, /\bdrawn over it\b/i, /\brail opened\b/i, /\boff (the )?(tail|nose)\b/i, /\bon (the )?run\b|\brun (from|to)\b|\bof run\b|\balong the run\b/i, /\bcurve, (tail|nose)\b/i,
  /\bfinish with a hollow or round sole\b/i, /\bjoint the sole\b/i, /\bdeck hollow\b/i, /\bthe same bytes\b/i,
  // Severities and states that had names of their own.
  /\bMIND\b/, /\bSTOP: /, /\bgood to know\b/i, /\bneeds a decision\b/i, /\bfull stack\b/i, /\bfull rows\b/i, /\bhollow without\b/i, /\bboxes meet here\b/i,
  // Words of a programmer or a mathematician.
  /\bmonte carlo\b/i, /\bfirst order\b/i,
];

/** The same in comments, which may name what is mathematics. */
const REPLACED_IN_COMMENTS: readonly RegExp[] = [/\bleft away\b|\bleaving away\b/i, /\bmend(s|ed|ing)?\b/i, /\banew\b/i, /\bwish(es|ed)?\b/i, /\bghost\b/i, /\bin hand\b/i, /\bwill not go\b/i, /\bput(s)? away\b/i, /\bbetters\b/i];

interface Text {
  readonly where: string;
  readonly text: string;
}

function sources(folder: string): string[] {
  return readdirSync(join(top, folder), { withFileTypes: true }).flatMap((entry) => {
    const path = `${folder}/${entry.name}`;
    if (entry.isDirectory()) return sources(path);
    return /\.(tsx?|mjs)$/.test(entry.name) ? [path] : [];
  });
}

/** A comment, or a string or template, which may hold what looks like one. */
const TOKEN = /\/\*[^]*?\*\/|\/\/[^\n]*|'(?:\\.|[^'\\\n])*'|"(?:\\.|[^"\\\n])*"|`(?:\\.|[^`\\])*`/g;

/** A source split: what is not comment (texts, names and JSX alike, one name for one thing), its strings, and its comments. */
function split(source: string): { code: string; strings: string[]; comments: string[] } {
  const tokens = source.match(TOKEN) ?? [];
  const comments = tokens.filter((token) => /^\/[*/]/.test(token));
  return {
    code: source.replace(TOKEN, (token) => (/^\/[*/]/.test(token) ? '' : token)).replace(/\s+/g, ' '),
    strings: tokens.filter((token) => !/^\/[*/]/.test(token)).map((token) => token.slice(1, -1)),
    comments: comments.map((comment) => comment.replace(/\s*\n\s*\*?\s*/g, ' ')),
  };
}

const faults = (texts: readonly Text[], replaced: readonly RegExp[]): string[] =>
  texts.flatMap(({ where, text }) => replaced.flatMap((phrase) => (phrase.test(text) ? [`${where}: "${phrase.exec(text)?.[0]}" in: ${text.trim().slice(0, 120)}`] : [])));

describe('what is said', () => {
  const read = (folder: string) => sources(folder).map((where) => ({ where, ...split(readFileSync(join(top, where), 'utf8')) }));
  const shown = [...read('src'), ...read('geometry')];
  const comments = [...shown, ...read('tests'), ...read('.ci')].flatMap(({ where, comments: all }) => all.map((text) => ({ where, text })));

  it('has none of the phrases that were replaced, on screen, on paper, on the command line and in the two guides', () => {
    const guides = ['README.md', 'DEVELOPERS.md'].flatMap((path) => readFileSync(join(top, path), 'utf8').split('\n\n').map((text) => ({ where: path, text: text.replace(/\s+/g, ' ') })));
    expect(shown.length).toBeGreaterThan(200);
    expect(faults([...shown.map(({ where, code }) => ({ where, text: code })), ...guides], REPLACED)).toEqual([]);
  });

  it('has none of them in comments', () => {
    expect(comments.length).toBeGreaterThan(2000);
    expect(faults(comments, REPLACED_IN_COMMENTS)).toEqual([]);
  });

  it('would see a fault: strings, templates, JSX and names; and tells comments from what looks like one', () => {
    const { code, strings, comments: said } = split([
      "const a = 'Put away'; // one ghost", 'const b = `one ${a} more wish`; /* mend\n * it */', 'const c = <p title="See http://x">Let go to\n open</p>;', "const ghost = 'is no number';",
    ].join('\n'));
    expect(faults([{ where: 'x', text: code }], REPLACED).map((fault) => /"(.*?)"/.exec(fault)?.[1]).sort()).toEqual(['Let go to', 'Put away', 'ghost', 'is no ', 'wish']);
    expect(strings).toEqual(['Put away', 'one ${a} more wish', 'See http://x', 'is no number']);
    expect(said).toEqual(['// one ghost', '/* mend it */']);
    expect(faults(['There is no order of work', 'Rib 3 is no wider than its notch'].map((text) => ({ where: 'x', text })), REPLACED)).toEqual([]);
  });

  it('has one list of box states and one of severities, and nobody keeps another', () => {
    expect(Object.values(BOX_WORDS)).toEqual(STATES);
    expect(Object.values(SEVERITY_WORDS)).toEqual(SEVERITIES);
    const listed = [...STATES, SEVERITIES[0]];
    const elsewhere = shown.filter(({ where, strings }) => where !== 'src/say/words.ts' && strings.some((text) => listed.includes(text.toLowerCase())));
    expect(elsewhere.map(({ where }) => where)).toEqual([]);
  });
});

describe.each(seedNames)('%s', (name) => {
  let plan: Plan;
  beforeAll(() => {
    plan = planBoard(seedDesign(name));
  });

  it('is told by these words in the summary and aloud', () => {
    const lines = summaryText(plan).split('\n');
    const spoken = ribbonWords(plan, 'mm');
    for (const stretch of plan.rail.stretches) {
      expect(lines.some((line) => line.trim().startsWith(boxText(stretch)))).toBe(true);
      expect(spoken.some((line) => line.endsWith(`: ${boxText(stretch)}.`))).toBe(true);
    }
    const said = lines.slice(lines.findIndex((line) => line.startsWith('Findings')) + 1).filter((line) => /^ {2}\S/.test(line));
    expect(said.length).toBeGreaterThanOrEqual(plan.findings.length);
    for (const line of said) expect(SEVERITIES.map((word) => word.toUpperCase())).toContain(line.slice(2, 13).trim());
    expect(SEVERITIES.map(capital)).toEqual(["Can't build", 'Check', 'Note']);
  });
});
