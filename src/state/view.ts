/** What is shown, and how. Nothing here changes the board. */
import { create } from 'zustand';

/** Layers that are on or off, in the order of the build; the skins have more ways to be shown. */
export const LAYERS = [
  { id: 'frames', label: 'Ribs and stringer' },
  { id: 'sole', label: 'Sole strip' },
  { id: 'row', label: 'Spacer rows' },
  { id: 'cap', label: 'Cap strip' },
  { id: 'hollow', label: 'Hollow' },
  { id: 'outer-skin', label: 'Outer skins' },
  { id: 'round', label: 'Finished rail round' },
  { id: 'fitting', label: 'Vent and fittings' },
] as const;
export type LayerId = (typeof LAYERS)[number]['id'];

/** How a skin is shown: laid on, lifted, faded, or left out. */
export type SkinShow = 'on' | 'lift' | 'fade' | 'off';
/** Which rail is cut away, so that the box shows: its outer skins and round are left out. */
export type OpenSide = 'none' | 'starboard' | 'port' | 'both';
export type ViewName = 'fit' | 'three-quarter' | 'above' | 'side' | 'end' | 'station';
export type PanelName = 'station' | 'lines' | 'sizes' | 'findings' | 'layers' | 'bench' | 'shelf' | 'family' | 'targets' | 'tolerance' | 'readings' | 'build' | 'share' | 'large';
export type ThemeName = 'paper' | 'bench';

interface ViewState {
  /** Where the station cursor is along the rail, on the box face, mm. */
  readonly s: number;
  readonly layers: Readonly<Record<LayerId, boolean>>;
  readonly deck: SkinShow;
  readonly bottom: Exclude<SkinShow, 'lift'>;
  readonly openSide: OpenSide;
  /** The board is cut at the station, toward the tail side. */
  readonly cut: boolean;
  readonly bevelMap: boolean;
  readonly labels: boolean;
  readonly panel: PanelName;
  readonly theme: ThemeName;
  /** The last view asked for; the count makes asking twice for the same one a new request. */
  readonly view: { readonly name: ViewName; readonly count: number };
  moveTo(s: number): void;
  toggleLayer(id: LayerId): void;
  setDeck(deck: SkinShow): void;
  setBottom(bottom: Exclude<SkinShow, 'lift'>): void;
  setOpenSide(side: OpenSide): void;
  setCut(on: boolean): void;
  setBevelMap(on: boolean): void;
  setLabels(on: boolean): void;
  setPanel(panel: PanelName): void;
  setTheme(theme: ThemeName): void;
  /** Goes to a view. The station's cuts the board there, the others show it whole; fitting leaves that as it is. */
  ask(name: ViewName): void;
}

const allLayers = Object.fromEntries(LAYERS.map(({ id }) => [id, true])) as Record<LayerId, boolean>;

function preferredTheme(): ThemeName {
  return window.matchMedia('(prefers-color-scheme: dark)').matches ? 'bench' : 'paper';
}

/** The view: cursor, layers, skins, panel and theme. */
export const useView = create<ViewState>()((set) => ({
  s: Number.NaN,
  layers: allLayers,
  deck: 'fade',
  bottom: 'on',
  openSide: 'starboard',
  cut: false,
  bevelMap: true,
  labels: true,
  panel: 'station',
  theme: preferredTheme(),
  view: { name: 'three-quarter', count: 0 },
  moveTo: (s) => set({ s }),
  toggleLayer: (id) => set(({ layers }) => ({ layers: { ...layers, [id]: !layers[id] } })),
  setDeck: (deck) => set({ deck }),
  setBottom: (bottom) => set({ bottom }),
  setOpenSide: (openSide) => set({ openSide }),
  setCut: (cut) => set({ cut }),
  setBevelMap: (bevelMap) => set({ bevelMap }),
  setLabels: (labels) => set({ labels }),
  setPanel: (panel) => set(({ panel: now }) => ({ panel: now === panel ? 'station' : panel })),
  setTheme: (theme) => set({ theme }),
  ask: (name) => set(({ view, cut }) => ({ view: { name, count: view.count + 1 }, cut: name === 'fit' ? cut : name === 'station' })),
}));
