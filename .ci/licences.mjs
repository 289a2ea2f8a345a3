// npm run licences: what ships, by licence: a build that writes nothing, and the head of its notices.
import { build } from 'vite';
import { root } from './deps.mjs';
import { FILE } from './notices.mjs';

const { output } = await build({ root, logLevel: 'error', build: { write: false } });
const { source } = output.find(({ fileName }) => fileName === FILE);
console.log(source.slice(0, source.indexOf('---')).trim());
