#!/usr/bin/env node
// The command as a program: what it prints is its own alone, and paths are from where the caller stands.
import { register } from 'tsx/esm/api';

register();
await import('./plan.ts');
