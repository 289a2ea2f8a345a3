/** What is shown, and how. Nothing here changes the board. */
import { create } from 'zustand';
import type { StripName } from '../../geometry/types';
import type { TermId } from '../say/terms';
import { inHand } from './hand';

/** Layers that are on or off, in the order of the build; the skins have more ways to be shown. */
export const LAYERS = [
  { id: 'frames', label: 'Ribs and stringer' },
  { id: 'sole', label: 'Sole' },
  { id: 'row', label: 'Rows' },
  { id: 'cap', label: 'Cap' },
  { id: 'hollow', label: 'Hollow' },
  { id: 'outer-skin', label: 'Outer skins' },
  { id: 'round', label: 'Rail round' },
  { id: 'fitting', label: 'Vent and fittings' },
] as const;
export type LayerId = (typeof LAYERS)[number]['id'];

/** How a skin is shown: laid on, lifted, faded, or left out. */
export type SkinShow = 'on' | 'lift' | 'fade' | 'off';
/** Which rail is cut away, so that the box shows: its outer skins and round are left out. */
export type OpenSide = 'none' | 'starboard' | 'port' | 'both';
export type CapColour = 'bevel' | 'lie' | 'timber';
export type ViewName = 'fit' | 'three-quarter' | 'above' | 'side' | 'end' | 'station';
/** The four rooms, in the order of the work. */
export const ROOMS = [
  { id: 'shape', label: 'Shape' },
  { id: 'plan', label: 'Plan' },
  { id: 'bench', label: 'Bench' },
  { id: 'build', label: 'Build' },
] as const;
export type RoomId = (typeof ROOMS)[number]['id'];
/** What lies over a room until it is closed. */
export type DrawerId = 'sizes' | 'decisions' | 'layers' | 'measure' | 'spreads' | 'scale' | 'targets' | 'readings' | 'boards' | 'share' | 'menu' | 'atBench';
/** Drawers that belong to one room; the others lie over any. */
const ROOM_OF: Partial<Record<DrawerId, RoomId>> = { sizes: 'plan', decisions: 'plan', spreads: 'plan', scale: 'shape', targets: 'shape', readings: 'build' };
export type ThemeName = 'paper' | 'bench';

interface ViewState {
  /** Where the station cursor is along the rail, on the box face, mm. */
  readonly s: number;
  /** The strip that a list is about, in accent on the ribbon; null for none. */
  readonly strip: StripName | null;
  readonly layers: Readonly<Record<LayerId, boolean>>;
  readonly deck: SkinShow;
  readonly bottom: Exclude<SkinShow, 'lift'>;
  readonly openSide: OpenSide;
  /** The board is cut at the station, toward the tail side. */
  readonly cut: boolean;
  /** What the cap is coloured by: its bevel, how it lies between the ribs, or its timber. */
  readonly capColour: CapColour;
  readonly labels: boolean;
  /** Decisions are pinned to their places. */
  readonly pins: boolean;
  /** The board as it will be, in place of its parts; the build's steps go before. */
  readonly finished: boolean;
  readonly room: RoomId;
  readonly drawer: DrawerId | null;
  /** What shows again when the drawer closes: the phone's bench, where it was opened from there. */
  readonly under: DrawerId | null;
  /** The Words page lies over all; what is under it stays as it is. */
  readonly words: boolean;
  /** The cause of the decision that its drawer shows; the first where there is none such. */
  readonly decision: string | null;
  /** The word that the Words page was opened at. */
  readonly term: TermId | null;
  readonly theme: ThemeName;
  /** The last view asked for; the count makes asking twice for the same one a new request. */
  readonly view: { readonly name: ViewName; readonly count: number };
  /** A hand has turned, moved or zoomed the picture since. */
  readonly turned: boolean;
  moveTo(s: number): void;
  pick(strip: StripName | null): void;
  toggleLayer(id: LayerId): void;
  setDeck(deck: SkinShow): void;
  setBottom(bottom: Exclude<SkinShow, 'lift'>): void;
  setOpenSide(side: OpenSide): void;
  setCut(on: boolean): void;
  setCapColour(by: CapColour): void;
  setLabels(on: boolean): void;
  setPins(on: boolean): void;
  setFinished(on: boolean): void;
  setTurned(): void;
  /** Goes to a room, with nothing over it. */
  goTo(room: RoomId): void;
  /** Opens a drawer in its room; null closes the Words page, or else the drawer that is open: what it was opened from at the bench shows again. */
  open(drawer: DrawerId | null): void;
  /** Opens the Words page at a word. */
  explain(term: TermId | null): void;
  setTheme(theme: ThemeName): void;
  /** Goes to a view. The station's cuts the board there, the others show it whole; fitting leaves that as it is. */
  ask(name: ViewName): void;
}

const allLayers = Object.fromEntries(LAYERS.map(({ id }) => [id, true])) as Record<LayerId, boolean>;

function preferredTheme(): ThemeName {
  return window.matchMedia('(prefers-color-scheme: dark)').matches ? 'bench' : 'paper';
}

/** What had the focus when the last drawer was asked for: where that one covers it, it has lost it by the time that the drawer is there. */
let opener: Element | null = null;
export const openedFrom = (): Element | null => opener;
/** @param stays whether what the focus is in stays; else what stands in it goes with it, and the next leads back to what opened the first */
function noteOpener(stays: boolean): void {
  if (stays || !document.activeElement?.closest('[data-area="drawer"]')) opener = document.activeElement;
}

/** The view: cursor, layers, skins, room and theme. */
export const useView = create<ViewState>()((set, get) => ({
  s: Number.NaN,
  strip: null,
  layers: allLayers,
  deck: 'fade',
  bottom: 'on',
  openSide: 'starboard',
  cut: false,
  capColour: 'bevel',
  labels: true,
  pins: true,
  finished: false,
  room: 'plan',
  drawer: inHand() ? 'atBench' : null,
  under: null,
  words: false,
  decision: null,
  term: null,
  theme: preferredTheme(),
  view: { name: 'three-quarter', count: 0 },
  turned: false,
  moveTo: (s) => set({ s }),
  pick: (strip) => set({ strip }),
  toggleLayer: (id) => set(({ layers }) => ({ layers: { ...layers, [id]: !layers[id] } })),
  setDeck: (deck) => set({ deck }),
  setBottom: (bottom) => set({ bottom }),
  setOpenSide: (openSide) => set({ openSide }),
  setCut: (cut) => set(cut ? { cut, finished: false } : { cut }),
  setCapColour: (capColour) => set({ capColour }),
  setLabels: (labels) => set({ labels }),
  setPins: (pins) => set({ pins }),
  setFinished: (finished) => set(finished ? { finished, cut: false } : { finished }),
  setTurned: () => set({ turned: true }),
  goTo: (room) => set({ room, drawer: null, under: null, words: false }),
  open: (drawer) => {
    const { room, drawer: now, under, words } = get();
    if (!drawer) return set(words ? { words: false } : { drawer: under, under: null });
    noteOpener(now === 'atBench' && !words);
    set({ drawer, room: ROOM_OF[drawer] ?? room, words: false, under: drawer === 'atBench' ? null : now === 'atBench' ? now : under });
  },
  explain: (term) => {
    const { drawer, under, words } = get();
    if (words) return set({ term });
    noteOpener(drawer !== 'menu');
    set({ term, words: true, ...(drawer === 'menu' ? { drawer: under, under: null } : {}) });
  },
  setTheme: (theme) => set({ theme }),
  ask: (name) => set(({ view, cut, finished }) => ({ view: { name, count: view.count + 1 }, turned: false, cut: name === 'fit' ? cut : name === 'station', finished: finished && name !== 'station' })),
}));
