/** Every paper of a plan, made and read back by readers that are not ours. */
import { PDFDocument } from '@cantoo/pdf-lib';
import { parse } from 'csv-parse/sync';
import DxfParser from 'dxf-parser';
import { XMLValidator } from 'fast-xml-parser';
import { unzipSync } from 'fflate';
import { validateBytes } from 'gltf-validator';
import type { Parts } from '../../geometry/parts/types';
import type { Plan } from '../../geometry/types';
import { EVERYTHING, listPapers, makePapers, PAPER_SIZES, type Paper, type PaperOptions } from '../../src/papers/index';
import { textOf } from '../../src/say/said';
import type { Dice } from './dice';

const UNITS = ['mm', 'in', 'in16'] as const;
/** No figure prints so. */
const STRANGE = /\b(?:NaN|Infinity|undefined|null)\b|\[object/;

const text = (bytes: Uint8Array) => new TextDecoder('utf-8', { fatal: true }).decode(bytes);

/** What is wrong with a finished file; undefined where its reader reads it. */
async function faultOf({ name, bytes }: Paper): Promise<string | undefined> {
  const kind = name.slice(name.lastIndexOf('.') + 1);
  switch (kind) {
    case 'csv': {
      const [head, ...rows] = parse(bytes as Buffer, { bom: true }) as string[][];
      if (new Set(head).size !== head.length) return `two columns are called the same: ${head.join(', ')}`;
      return rows.flat().find((cell) => STRANGE.test(cell) && !cell.includes(' '));
    }
    case 'svg': {
      const read = XMLValidator.validate(text(bytes));
      const strange = STRANGE.exec(text(bytes).replace(/<(?:title|desc|text)[^>]*>[^<]*/g, ''));
      return read === true ? strange?.[0] : read.err.msg;
    }
    case 'dxf': {
      const read = new DxfParser().parseSync(text(bytes));
      if (!read) return 'nothing is read';
      return JSON.stringify(read.entities).includes('null') ? 'a place that is no number' : undefined;
    }
    case 'glb': {
      const { issues } = await validateBytes(bytes);
      return issues.numErrors > 0 ? issues.messages.filter(({ severity }) => severity === 0).map(({ message }) => message).slice(0, 3).join(', ') : undefined;
    }
    case 'pdf': {
      const pages = (await PDFDocument.load(bytes, { updateMetadata: false })).getPages();
      return pages.length === 0 ? 'no page' : pages.some((page) => !(page.getWidth() > 0 && page.getHeight() > 0)) ? 'a page without size' : undefined;
    }
    case 'stl': {
      const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
      const count = view.getUint32(80, true);
      if (bytes.length !== 84 + 50 * count) return `${count} triangles in ${bytes.length} bytes`;
      for (let i = 0; i < count; i++) for (let k = 0; k < 12; k++) if (!Number.isFinite(view.getFloat32(84 + 50 * i + 4 * k, true))) return 'a corner that is no number';
      return undefined;
    }
    case 'step': {
      const words = text(bytes);
      if (STRANGE.test(words)) return 'a figure that is none';
      const named = new Set(Array.from(words.matchAll(/^#(\d+)=/gm), ([, n]) => n));
      const missing = Array.from(words.matchAll(/#(\d+)/g), ([, n]) => n).find((n) => !named.has(n));
      return missing === undefined ? undefined : `#${missing} is asked for, and nothing is called so`;
    }
    case '3mf': {
      const model = unzipSync(bytes)['3D/3dmodel.model'];
      return model === undefined ? 'no model' : STRANGE.test(text(model)) ? 'a figure that is none' : undefined;
    }
    case 'zip':
      return Object.keys(unzipSync(bytes)).length > 0 ? undefined : 'an empty zip';
    default:
      return `nobody reads ${kind}`;
  }
}

/** Makes every paper in some unit on some size of paper, and reads each back: what could not be made or read. */
export async function paperFaults(d: Dice, plan: Plan, parts: Parts): Promise<string[]> {
  const found: string[] = [];
  const options: PaperOptions = {
    date: '2026-11-26', units: d.pick(UNITS), paper: d.pick(PAPER_SIZES),
    address: d.chance(0.5) ? 'https://boatshed.test/' : undefined,
    onFault: ({ title, error }) => found.push(`${title} could not be made: ${error instanceof Error ? `${error.message} | ${error.stack?.split('\n')[1]?.trim()}` : String(error)}`),
  };
  const list = listPapers(plan, parts, options);
  const papers = await makePapers(plan, parts, { ...options, which: list.map(({ id }) => id) });
  const zip = papers.find(({ id }) => id === EVERYTHING);
  if (found.length === 0 && zip && Object.keys(unzipSync(zip.bytes)).length !== papers.length - 1) found.push('the zip of everything lacks a paper');
  for (const paper of papers) {
    try {
      const wrong = await faultOf(paper);
      if (wrong !== undefined) found.push(`${paper.title}: ${wrong}`);
    } catch (error) {
      found.push(`${paper.title} does not read back: ${error instanceof Error ? error.message : String(error)}`);
    }
  }
  const strange = parts.findings.map(({ title, advice }) => `${textOf(title, options.units)} ${textOf(advice, options.units)}`).find((said) => STRANGE.test(said));
  return strange === undefined ? found : [...found, strange];
}
