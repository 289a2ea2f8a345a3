// Plain Node, no dependencies: this runs before node_modules exists.
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The checkout's top level. */
export const root = dirname(dirname(fileURLToPath(import.meta.url)));

/** Stops with a plain message when Node is older than package.json's `engines` allow (20.19+, or 22.12+). */
export function requireNode() {
  const [major, minor] = process.versions.node.split('.').map(Number);
  const fits = (major === 20 && minor >= 19) || (major === 22 && minor >= 12) || major > 22;
  if (fits) return;
  console.error(`Railwright needs Node 20.19 or newer, or 22.12 or newer; this is ${process.versions.node}.`);
  process.exit(1);
}

/** The `packages` of a lock file, or undefined when it cannot be read. */
function lockedPackages(path) {
  try {
    return JSON.parse(readFileSync(path, 'utf8')).packages;
  } catch {
    return undefined;
  }
}

/**
 * True when node_modules holds what package-lock.json asks for. npm leaves a copy of the lock in
 * node_modules without the packages of other platforms, so an absent optional package is no change.
 */
export function isInstalled() {
  const wanted = lockedPackages(join(root, 'package-lock.json'));
  const present = lockedPackages(join(root, 'node_modules', '.package-lock.json'));
  if (!wanted || !present) return false;
  const agrees = ([path, entry]) => {
    const there = present[path];
    if (path === '') return true;
    if (!there) return Boolean(entry.optional || entry.devOptional || entry.peer);
    return there.version === entry.version && there.integrity === entry.integrity;
  };
  return Object.entries(wanted).every(agrees) && Object.keys(present).every((path) => path in wanted);
}

/** Runs a command to its end with this terminal; returns the exit code, 1 when it could not start. */
export function run(command, args, options = {}) {
  const done = spawnSync(command, args, {
    cwd: root,
    stdio: ['ignore', 'inherit', 'inherit'],
    shell: process.platform === 'win32',
    ...options,
  });
  if (done.error) console.error(`${command}: ${done.error.message}`);
  return done.status ?? 1;
}

/** Installs the locked dependencies when they are missing or the lock has changed; stops when that fails. */
export function ensureInstalled() {
  requireNode();
  if (isInstalled()) return;
  console.log('Installing the locked dependencies (npm ci) ...');
  const code = run('npm', ['ci', '--no-fund', '--no-audit']);
  if (code !== 0) {
    console.error('npm ci failed: see its message above. Nothing else was done.');
    process.exit(code);
  }
}
