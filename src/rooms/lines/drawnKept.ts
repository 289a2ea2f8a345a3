/** A drawing in progress outlives a reload of the tab: its file, and what was said of it. */
import { tab } from '../../state/storage';
import type { DrawnState } from './drawnState';

/** With the number of the form they are written in: another form has another number. */
const FILE = 'railwright-drawing-1';
const SAID = 'railwright-drawing-said-1';
/** Largest file that is kept, bytes: a tab has room for some five million characters, and writes a file as a third more. */
const MOST = 2_000_000;
const CHUNK = 32_768;

/** Keeps a file, if there is room for it. */
export async function keepDrawn(file: File): Promise<void> {
  if (file.size > MOST) return;
  const bytes = new Uint8Array(await file.arrayBuffer());
  let text = '';
  for (let i = 0; i < bytes.length; i += CHUNK) text += String.fromCharCode(...bytes.subarray(i, i + CHUNK));
  tab.setItem(FILE, JSON.stringify({ name: file.name, type: file.type, data: btoa(text) }));
}

/** What is said of a drawing, as the tool holds it. */
export type DrawnSaid = Pick<DrawnState, 'roles' | 'stations' | 'picked' | 'scale' | 'places' | 'apart' | 'noseHigh' | 'tolerance'>;

export function keepSaid({ roles, stations, picked, scale, places, apart, noseHigh, tolerance }: DrawnSaid): void {
  tab.setItem(SAID, JSON.stringify({ roles, stations, picked, scale, places, apart, noseHigh, tolerance } satisfies DrawnSaid));
}

export function forgetDrawing(): void {
  tab.removeItem(FILE);
  tab.removeItem(SAID);
}

/** The kept file, and what was said of it; null where there is none that can be read. */
export function keptDrawing(): { readonly file: File; readonly said: DrawnSaid | null } | null {
  try {
    const { name, type, data } = JSON.parse(tab.getItem(FILE) ?? '') as Record<string, unknown>;
    if (typeof name !== 'string' || typeof type !== 'string' || typeof data !== 'string') return null;
    return { file: new File([Uint8Array.from(atob(data), (letter) => letter.charCodeAt(0))], name, { type }), said: JSON.parse(tab.getItem(SAID) ?? 'null') as DrawnSaid | null };
  } catch {
    return null;
  }
}
