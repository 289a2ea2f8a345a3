#!/usr/bin/env node
// The command as a program: what it prints is its own alone, and paths are from where the caller stands. It runs from source where that is there, else as it was packed.
import { existsSync } from 'node:fs';

if (existsSync(new URL('./plan.ts', import.meta.url))) {
  const { register } = await import('tsx/esm/api');
  register();
  await import('./plan.ts');
} else {
  await import('../../lib/js/plan.js');
}
