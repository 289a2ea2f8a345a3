/**
 * `npm run bench [-- --only PART,PART] [--json FILE] [--markdown FILE] [--write]`: what everything costs, measured in
 * one run beside general-purpose kernels that are asked the same. Answers are compared before anything is timed; the
 * run fails (exit 1) where they differ by more than 0.01 mm, and not for a target missed: that is told, with the limit that
 * stands in the way. A part that fails is told too, and the others are measured all the same.
 * `--write` puts the whole report into tests/bench/report.md and the promised figures into README.md.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { bodiesSection } from './bodies';
import { closeSite } from './browsing';
import { commandSection } from './command';
import { dragSection } from './drag';
import { drawingsSection } from './drawings';
import { familySection } from './family';
import { cutSection, kernelSection } from './kernels';
import { limitsSection } from './limits';
import { papersSection, partsSection } from './makings';
import { pageSection } from './page';
import { growthSection, memorySection, planSection } from './planning';
import { failedSection, promisedText, sectionText, type Section } from './report';

const PARTS: Readonly<Record<string, () => Section | Promise<Section>>> = {
  plan: planSection, growth: growthSection, family: familySection, memory: memorySection, kernels: kernelSection,
  cuts: cutSection, parts: partsSection, papers: papersSection, command: commandSection, bodies: bodiesSection, drawings: drawingsSection, limits: limitsSection, page: pageSection, drag: dragSection,
};
const REPORT = fileURLToPath(new URL('report.md', import.meta.url));
const README = fileURLToPath(new URL('../../README.md', import.meta.url));
const [BEGIN, END] = ['<!-- bench -->', '<!-- /bench -->'];

/** README with the table between its two marks replaced. */
function quoted(readme: string, table: string): string {
  const [from, to] = [readme.indexOf(BEGIN), readme.indexOf(END)];
  if (from < 0 || to < from) throw new Error(`README.md lacks the marks ${BEGIN} and ${END}`);
  return `${readme.slice(0, from + BEGIN.length)}\n${table}\n${readme.slice(to)}`;
}

/** A part's figures, or why there are none: the run fails then, after the other parts. */
async function measured(name: string): Promise<Section> {
  try {
    return await PARTS[name]();
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    console.error(`${name}: ${why}`);
    process.exitCode = 1;
    return failedSection(name, why);
  }
}

async function main(): Promise<void> {
  const { values: args } = parseArgs({
    options: { only: { type: 'string' }, json: { type: 'string' }, markdown: { type: 'string' }, write: { type: 'boolean', default: false } },
  });
  const names = args.only?.split(',') ?? Object.keys(PARTS);
  const unknown = names.find((name) => !Object.hasOwn(PARTS, name));
  if (unknown !== undefined) throw new Error(`--only: given ${unknown}; allowed ${Object.keys(PARTS).join(', ')}`);
  if (args.write && args.only !== undefined) throw new Error('--write: wants the whole report; leave --only out');
  const machine = () => `load ${loadavg()[0].toFixed(1)}`;
  const head = [
    `Node ${process.version}, ${cpus()[0]?.model ?? 'unknown processor'}, ${cpus().length} cores, ${machine()} at the start.`,
    'Contestants take turns; the least of many rounds is what a busy machine inflates least, and 95 % tells how busy it was.',
  ].join('\n');
  console.log(`${head}\n`);
  const sections: Section[] = [];
  for (const name of names) {
    const begun = performance.now();
    const section = await measured(name);
    console.error(`${name}: ${((performance.now() - begun) / 1000).toFixed(0)} s, ${machine()}`);
    sections.push(section);
    console.log(`${sectionText(section)}\n`);
  }
  const promised = promisedText(sections);
  console.log(`## What was promised\n\n${promised}`);
  const report = `# What it costs\n\nWritten by \`npm run bench -- --write\`.\n\n${head}\n\n## What was promised\n\n${promised}\n\n${sections.map(sectionText).join('\n\n')}\n`;
  if (args.markdown !== undefined) writeFileSync(args.markdown, report);
  if (args.json !== undefined) {
    writeFileSync(args.json, `${JSON.stringify({ node: process.version, sections: sections.map(({ title, targets, data }) => ({ title, targets, data })) }, null, 2)}\n`);
  }
  if (args.write) {
    writeFileSync(REPORT, report);
    writeFileSync(README, quoted(readFileSync(README, 'utf8'), promised));
  }
}

try {
  await main();
} catch (error) {
  console.error(error instanceof Error ? error.message : String(error));
  process.exitCode = 1;
} finally {
  await closeSite();
}
