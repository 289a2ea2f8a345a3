// Plain Node, no dependencies of its own: finds a Chromium for the browser tests, or installs one.
import { accessSync, constants, readFileSync, statSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { run } from './deps.mjs';

const names = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'chrome'];

function isProgram(path) {
  try {
    accessSync(path, constants.X_OK);
    return statSync(path).isFile();
  } catch {
    return false;
  }
}

function onPath() {
  const ending = process.platform === 'win32' ? '.exe' : '';
  const folders = (process.env.PATH ?? '').split(delimiter).filter(Boolean);
  return names.flatMap((name) => folders.map((folder) => join(folder, name + ending))).find(isProgram);
}

/** The test library's own download, if it is there. */
async function downloaded() {
  const { chromium } = await import('playwright-core');
  const path = chromium.executablePath();
  return path && isProgram(path) ? path : undefined;
}

const isRoot = () => process.getuid?.() === 0;

function isDebian() {
  try {
    return /^ID=debian$/m.test(readFileSync('/etc/os-release', 'utf8'));
  } catch {
    return false;
  }
}

/**
 * Path of a Chromium: the variable RAILWRIGHT_CHROMIUM, else PATH, else an earlier download, else (root on
 * Debian) the distribution's package, else the test library's download. Throws when none can be had or when
 * the variable names no program.
 */
export async function findChromium() {
  const named = process.env.RAILWRIGHT_CHROMIUM;
  if (named) {
    if (isProgram(named)) return named;
    throw new Error(`RAILWRIGHT_CHROMIUM: ${named} is not a program that can be run`);
  }
  const there = onPath() ?? (await downloaded());
  if (there) return there;
  if (isRoot() && isDebian()) {
    console.log('No Chromium found: installing the Debian package ...');
    const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
    run('apt-get', ['update'], { env });
    run('apt-get', ['install', '-y', '--no-install-recommends', 'chromium'], { env });
    const installed = onPath();
    if (installed) return installed;
  }
  console.log('No Chromium found: downloading one ...');
  const withDeps = isRoot() && process.platform === 'linux' ? ['--with-deps'] : [];
  run('npx', ['playwright-core', 'install', ...withDeps, 'chromium']);
  const fetched = await downloaded();
  if (fetched) return fetched;
  throw new Error('no Chromium could be found or installed: set RAILWRIGHT_CHROMIUM to the path of one');
}
