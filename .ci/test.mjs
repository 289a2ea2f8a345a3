// npm test [-- [--engines] [VITEST FILTER]]: types, lint, kernel tests, browser tests, with --engines those of Firefox and
// WebKit too; ends with 'N passed, N failed'.
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';
import { stripVTControlCharacters } from 'node:util';
import { findChromium } from './chromium.mjs';
import { cpuOutlived, LOST } from './cpu.mjs';
import { ensureInstalled, run } from './deps.mjs';

const filter = process.argv.slice(2).filter((word) => word !== '--engines');
const engines = process.argv.includes('--engines');
const minutes = (n) => n * 60_000;
const results = [];
/** What failed, by name and first words of its error: told again at the end, where a long log is read first. */
const failures = [];
/** What passed at its second try only (`vite.config.ts`, CI alone), told likewise. */
const retried = [];

/** Processor time, seconds, by what took it; empty where the system does not tell it. */
const costs = [];
const total = (list, key) => list.reduce((sum, item) => sum + item[key], 0);

/** Runs a command as `run` does and notes its time, that of each test file beside it, in `folder`. */
function costed(name, folder, command, args, options) {
  const book = join(folder, `${name}.cpu`);
  const before = cpuOutlived();
  const code = run(command, args, { ...options, env: { ...process.env, ...options.env, RAILWRIGHT_CPU: book } });
  if (before === undefined) return code;
  const noted = existsSync(book) ? readFileSync(book, 'utf8').trim().split('\n').map((line) => JSON.parse(line)) : [];
  const [files, lost] = [noted.filter((note) => note.name !== LOST), noted.filter((note) => note.name === LOST)];
  // What no file took: the test runner, the build, Chromium's start.
  const rest = cpuOutlived() - before + total(lost, 'seconds') - total(files, 'seconds');
  costs.push(...files, { name: files.length > 0 ? `${name}: runner, build` : name, seconds: rest });
  return code;
}

/** A whole program counts as one check: passed when it exits 0. */
function program(name, folder) {
  console.log(`\n== ${name}`);
  const code = costed(name, folder, 'npm', ['run', '--silent', name], { timeout: minutes(20) });
  if (code === 0) console.log('ok');
  else failures.push(name);
  results.push({ name, passed: code === 0 ? 1 : 0, failed: code === 0 ? 0 : 1 });
}

/**
 * Counts one file of a vitest report. A file that failed without a failed test (it did not load, or a hook
 * threw) is one failure.
 */
function countFile(file) {
  const states = file.assertionResults.map((test) => test.status);
  const passed = states.filter((state) => state === 'passed').length;
  const skipped = filter.length === 0 ? states.filter((state) => state !== 'passed' && state !== 'failed').length : 0;
  const failed = states.filter((state) => state === 'failed').length;
  return { passed, skipped, failed: failed === 0 && file.status === 'failed' ? 1 : failed };
}

/** The first lines of an error, without colours. */
const firstWords = (text) => stripVTControlCharacters(text ?? '').split('\n').slice(0, 12).join('\n      ');

/** Notes the tests of a file that failed, or the file that did without one; and those that passed only when tried again, with what they failed by before. */
function noteFailures(file) {
  const failed = file.assertionResults.filter((test) => test.status === 'failed');
  const path = relative(process.cwd(), file.name);
  const told = (test) => `${path} > ${test.fullName}\n      ${firstWords(test.failureMessages?.[0])}`;
  for (const test of failed) failures.push(told(test));
  for (const test of file.assertionResults) if (test.status === 'passed' && test.failureMessages?.length > 0) retried.push(told(test));
  if (failed.length === 0 && file.status === 'failed') failures.push(`${path}\n      ${firstWords(file.message)}`);
}

/**
 * Runs one vitest project; each of its tests is a check, and a crash or an unhandled error is one failure. A skipped test
 * checked nothing: it is a failure too, or, where a machine may lack what it needs, told as skipped and never as passed.
 */
function project(name, folder, { env = {}, mayLack = false } = {}) {
  console.log(`\n== ${name} tests`);
  const report = join(folder, `${name}.json`);
  const args = ['run', '--project', name, '--reporter=default', '--reporter=json', `--outputFile.json=${report}`];
  const narrowed = filter.length === 0 ? [] : ['--passWithNoTests', ...filter];
  const code = costed(name, folder, process.execPath, ['node_modules/vitest/vitest.mjs', ...args, ...narrowed], { env, timeout: minutes(60) });
  let passed = 0;
  let failed = 0;
  let skipped = 0;
  try {
    for (const file of JSON.parse(readFileSync(report, 'utf8')).testResults) {
      const count = countFile(file);
      noteFailures(file);
      passed += count.passed;
      failed += count.failed + (mayLack ? 0 : count.skipped);
      skipped += mayLack ? count.skipped : 0;
    }
  } catch (error) {
    failures.push(`${name} tests left no report: ${error.message}`);
    failed += 1;
  }
  if (code !== 0 && failed === 0) {
    failed = 1;
    failures.push(`${name}: an error outside its tests, told above`);
  }
  results.push({ name, passed, failed, skipped });
}

async function browser(folder) {
  try {
    project('browser', folder, { env: { RAILWRIGHT_CHROMIUM: await findChromium() } });
  } catch (error) {
    failures.push(`browser: ${error.message}`);
    results.push({ name: 'browser', passed: 0, failed: 1 });
  }
}

ensureInstalled();
const folder = mkdtempSync(join(tmpdir(), 'railwright-test-'));
try {
  program('types', folder);
  program('lint', folder);
  project('kernel', folder);
  await browser(folder);
  if (engines) project('engines', folder, { mayLack: true });
} finally {
  rmSync(folder, { recursive: true, force: true });
}

const tests = results.filter(({ name }) => name === 'kernel' || name === 'browser' || name === 'engines');
if (tests.every(({ passed, failed }) => passed + failed === 0)) {
  failures.push(`No test was run${filter.length > 0 ? `: nothing matches ${filter.join(' ')}` : ''}.`);
  results.push({ name: 'filter', passed: 0, failed: 1 });
}
if (costs.length > 0) {
  console.log('\n== processor time, seconds');
  for (const { name, seconds } of costs.sort((a, b) => b.seconds - a.seconds)) console.log(`${seconds.toFixed(1).padStart(7)}  ${name}`);
  console.log(`${(total(costs, 'seconds') / 60).toFixed(2).padStart(7)}  minutes in all`);
}
if (retried.length > 0) console.log(`\n== passed at the second try only: a fault to be found\n${retried.map((test) => `  ${test}`).join('\n')}`);
if (failures.length > 0) console.log(`\n== not ok\n${failures.map((failure) => `  ${failure}`).join('\n')}`);
console.log('');
for (const { name, passed, failed, skipped } of results) console.log(`  ${name.padEnd(8)} ${passed} ok, ${failed} not ok${skipped ? `, ${skipped} skipped: this machine lacks what they need` : ''}`);
console.log(`${total(results, 'passed')} passed, ${total(results, 'failed')} failed`);
process.exitCode = total(results, 'failed') === 0 ? 0 : 1;
