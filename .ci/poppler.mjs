// Plain Node, no dependencies of its own: finds poppler's PDF programs for the tests of the papers, or installs them.
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { run } from './deps.mjs';

/** True when a poppler program answers. */
const answers = (program) => spawnSync(program, ['-v'], { stdio: 'ignore' }).status === 0;

function isDebian() {
  try {
    return /^ID=debian$/m.test(readFileSync('/etc/os-release', 'utf8'));
  } catch {
    return false;
  }
}

/**
 * Makes sure that pdftoppm and pdftotext can be run: there already, or installed (root on Debian) from the
 * distribution's package. Throws, saying what to install, when they cannot be had.
 */
export function ensurePoppler() {
  const there = () => answers('pdftoppm') && answers('pdftotext');
  if (there()) return;
  if (process.getuid?.() === 0 && isDebian()) {
    console.log('No poppler found: installing the Debian package ...');
    const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
    run('apt-get', ['update'], { env });
    run('apt-get', ['install', '-y', '--no-install-recommends', 'poppler-utils'], { env });
    if (there()) return;
  }
  throw new Error('the papers cannot be read back: install poppler (pdftoppm, pdftotext), on Debian the package poppler-utils');
}
