/** How a shop wants its files: the layers of a drawing by the shop's own names and colours, and how curves are written. */
import { asGiven } from '../say/units';
import { DRAWING_LAYERS, type DrawingLayer } from './drawing';

/** The colours that every drawing program tells apart: the DXF reference's numbers 1 to 8, and what a screen shows for them. */
export const SHOP_COLOURS = {
  red: { number: 1, rgb: '#ff0000' },
  yellow: { number: 2, rgb: '#ffff00' },
  green: { number: 3, rgb: '#00ff00' },
  cyan: { number: 4, rgb: '#00ffff' },
  blue: { number: 5, rgb: '#0000ff' },
  magenta: { number: 6, rgb: '#ff00ff' },
  black: { number: 7, rgb: '#000000' },
  grey: { number: 8, rgb: '#808080' },
} as const;
export type ShopColour = keyof typeof SHOP_COLOURS;

export interface ShopLayer {
  readonly name: string;
  readonly colour: ShopColour;
  /** Whether the shop gets it at all; `cut` always goes. */
  readonly sent: boolean;
}

export interface Shop {
  readonly layers: Readonly<Record<DrawingLayer, ShopLayer>>;
  /** Curves as arcs of circles, or as the short lines they are drawn of. */
  readonly curves: 'arcs' | 'lines';
  /** How far an arc may lie off the line it stands for, mm. */
  readonly within: number;
}

/** What is done along each layer's lines. */
export const LAYER_WORK: Readonly<Record<DrawingLayer, string>> = {
  cut: 'cut through', score: 'score lightly or draw', label: 'label, single strokes', stock: 'edge of the sheet, not cut', note: 'words, not for the machine',
};

/** The profile where a maker has none: our own choice. */
export const PLAIN_SHOP: Shop = {
  layers: {
    cut: { name: 'cut', colour: 'black', sent: true },
    score: { name: 'score', colour: 'blue', sent: true },
    label: { name: 'label', colour: 'magenta', sent: true },
    stock: { name: 'stock', colour: 'grey', sent: true },
    note: { name: 'note', colour: 'grey', sent: true },
  },
  curves: 'arcs',
  within: 0.02,
};

/** The layers that a shop gets, in our order. */
export const sentLayers = ({ layers }: Shop): DrawingLayer[] => DRAWING_LAYERS.filter((layer) => layers[layer].sent);

/** How curves are written, as a note on the file says it. */
export const curveWords = ({ curves, within }: Shop): string => (curves === 'arcs' ? `curves as arcs within ${asGiven(within)} mm` : 'curves as short lines');

/** What colours and layers mean, a line each; in words alone, since a sample in a machine's colour might be cut. */
export const layerWords = (shop: Shop): string[] => sentLayers(shop).map((layer) => `${shop.layers[layer].colour}, layer ${shop.layers[layer].name}: ${LAYER_WORK[layer]}`);
