/** A drawing's scale: where stations and values are on the page, its zoom, and the lines of its grid. */
import type { Unit } from '../../say/units';
import { stationAxis } from '../../ui/stationAxis';

/** Room over and under the drawing, px; the axis has its own beside it. */
const MARGIN = { top: 10, bottom: 10 } as const;
/** Exaggerations that are used: a maker can work with these. */
const NICE = [0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100];
const ZOOM = { least: 0.5, most: 60 } as const;

/** What is to be shown: stations and values, mm or ratio. */
export interface Extent {
  readonly length: number;
  readonly low: number;
  readonly high: number;
}

/** Zoom about the fitted drawing: factor, and shift in px. */
export interface Zoom {
  readonly factor: number;
  readonly dx: number;
  readonly dy: number;
}

export const NO_ZOOM: Zoom = { factor: 1, dx: 0, dy: 0 };

export interface Chart {
  /** Of the board, mm. */
  readonly length: number;
  readonly width: number;
  readonly height: number;
  /** Height of the ruler under the drawing, px: dragged, it moves the station cursor. */
  readonly ruler: number;
  /** px per mm along the board; px per unit of value. */
  readonly kx: number;
  readonly kv: number;
  /** Values are drawn this many times as large as stations (ratios: px per 0.1, no exaggeration to state). */
  readonly exaggeration: number;
  x(station: number): number;
  y(value: number): number;
  station(px: number): number;
  value(px: number): number;
}

/**
 * The drawing of an extent in a space (px) over a ruler, with more room under it where asked for. Stations lie on the axis that the
 * ribbon has too; values are to the axis' scale where they fit (`equal`), exaggerated by a round figure, or (ratios) as large as
 * there is room.
 */
export function chartOf(
  extent: Extent, { width, height }: { readonly width: number; readonly height: number }, how: 'equal' | 'exaggerated' | 'free', zoom: Zoom, ruler: number, under = 0,
): Chart {
  const axis = stationAxis(width, extent.length);
  const roomY = Math.max(20, height - MARGIN.top - MARGIN.bottom - ruler - under);
  const span = Math.max(1e-9, extent.high - extent.low);
  const most = roomY / span / axis.scale;
  const nice = NICE.findLast((n) => n <= most) ?? most;
  const exaggeration = how === 'free' ? most : how === 'equal' ? Math.min(1, nice) : nice;
  const fitV = axis.scale * exaggeration;
  const bottom = MARGIN.top + roomY - (how === 'equal' ? 0 : (roomY - span * fitV) / 2);
  const { factor, dx, dy } = zoom;
  const kx = axis.scale * factor;
  const kv = fitV * factor;
  const x0 = axis.left * factor + dx;
  const y0 = (bottom + extent.low * fitV) * factor + dy;
  return {
    length: extent.length, width, height, ruler, kx, kv, exaggeration,
    x: (s) => x0 + s * kx,
    y: (v) => y0 - v * kv,
    station: (px) => (px - x0) / kx,
    value: (px) => (y0 - px) / kv,
  };
}

/** A zoom changed by a factor about a place on the page that stays where it is. */
export function zoomAbout(zoom: Zoom, by: number, px: number, py: number): Zoom {
  const factor = Math.min(ZOOM.most, Math.max(ZOOM.least, zoom.factor * by));
  const k = factor / zoom.factor;
  return { factor, dx: px - (px - zoom.dx) * k, dy: py - (py - zoom.dy) * k };
}

const MM_GRID = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000];
const INCH_GRID = [1 / 16, 1 / 8, 1 / 4, 1 / 2, 1, 2, 3, 6, 12, 24, 48].map((inches) => inches * 25.4);
const RATIO_GRID = [0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5];

/** Least px between labelled lines, and between any lines, of a grid. */
const LETTERED = 26;
const CLOSEST = 9;

export interface GridLine {
  readonly at: number;
  readonly labelled: boolean;
}

/** Lines of a grid's values: labelled ones a readable distance apart, fine ones between where there is room. */
export function gridLines(low: number, high: number, perUnit: number, unit: Unit | 'ratio'): GridLine[] {
  const steps = unit === 'ratio' ? RATIO_GRID : unit === 'mm' ? MM_GRID : INCH_GRID;
  const major = steps.find((step) => step * perUnit >= LETTERED) ?? steps[steps.length - 1];
  const divides = (step: number) => Math.abs(major / step - Math.round(major / step)) < 1e-6;
  const minor = steps.find((step) => step * perUnit >= CLOSEST && step < major && divides(step)) ?? major;
  const per = Math.round(major / minor);
  const first = Math.ceil(low / minor - 1e-9);
  const last = Math.floor(high / minor + 1e-9);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => ({ at: (first + i) * minor, labelled: (first + i) % per === 0 }));
}
