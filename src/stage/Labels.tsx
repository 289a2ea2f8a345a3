/**
 * Labels over the stage: page text that follows its places, laid out so that none covers another. What has no room is left out until it has.
 */
import { invalidate, useFrame } from '@react-three/fiber';
import { html, nothing, render } from 'lit-html';
import { repeat } from 'lit-html/directives/repeat.js';
import { useRef } from 'react';
import { Vector3 } from 'three';
import type { Plan } from '../../geometry/types';
import { bevelScale } from '../say/ramp';
import { useBuild } from '../state/build';
import { useDesign } from '../state/design';
import type { Draft } from '../state/draft';
import { drawingAt, drawingAtCursor } from '../state/station';
import { useUnits } from '../state/unit';
import { useView } from '../state/view';
import { useBodiesPainter } from '../ui/painter';
import { useShownBuilt } from '../work/readings';
import { type Anchor, boardAnchors, cursorAnchor, type LabelForm } from './anchors';
import { benchHeight, toStage } from './frame';
import css from './Labels.module.css';

const RANK: Readonly<Record<Anchor['kind'], number>> = { cursor: 0, rule: 1, stop: 2, contour: 3, end: 4 };
/** Leader lengths tried in turn, px; down is positive. */
const LEADERS: Readonly<Record<LabelForm, readonly number[]>> = {
  call: [36, 58, 80, 102, 124, 146, 168],
  flag: [-16, -34],
  plain: [0],
};
const CURSOR_LEADERS = [-64, -92, -120];
const PAD = 3;
/** What is over the stage and must not be covered. */
const KEEP_OUT = '[data-keep-out]';

interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Whether a box covers any of these. Asked for every spot of every label in every picture. */
function covers(boxes: readonly Box[], left: number, top: number, right: number, bottom: number): boolean {
  for (const box of boxes) if (box.left < right && left < box.right && box.top < bottom && top < box.bottom) return true;
  return false;
}

interface Spot {
  readonly left: number;
  readonly leader: number;
}

/**
 * The first spot for a label of w by h px at (x, y) that covers nothing placed before and is neither crossed
 * by a leader nor crosses anything with its own; failing that, one that covers nothing. Notes what it takes.
 */
function findSpot(
  x: number, y: number, w: number, h: number, leaders: readonly number[], flips: readonly number[],
  size: { readonly width: number; readonly height: number }, placed: Box[], lines: Box[],
): Spot | null {
  const boxOf = (leader: number, flip: number): Box => {
    const top = y + leader + (leader > 0 ? 0 : leader < 0 ? -h : -h / 2) - PAD;
    return { left: x + flip - PAD, top, right: x + flip + w + PAD, bottom: top + h + 2 * PAD };
  };
  const take = (leader: number, flip: number): Spot => {
    placed.push(boxOf(leader, flip));
    if (leader !== 0) lines.push({ left: x - 1, right: x + 1, top: Math.min(y, y + leader), bottom: Math.max(y, y + leader) });
    return { left: x + flip, leader };
  };
  let crossing: readonly [leader: number, flip: number] | null = null;
  for (const leader of leaders) {
    for (const flip of flips) {
      const { left, top, right, bottom } = boxOf(leader, flip);
      if (left < 0 || right > size.width || top < 0 || bottom > size.height || covers(placed, left, top, right, bottom)) continue;
      if (!covers(placed, x - 1, Math.min(y, y + leader), x + 1, Math.max(y, y + leader)) && !covers(lines, left, top, right, bottom)) return take(leader, flip);
      crossing ??= [leader, flip];
    }
  }
  return crossing && take(...crossing);
}

/** What must not be covered, in px from the label layer's corner. */
function keptOut(layer: HTMLElement): Box[] {
  const frame = layer.getBoundingClientRect();
  return [...(layer.parentElement?.querySelectorAll(KEEP_OUT) ?? [])].map((kept) => {
    const { left, top, right, bottom } = kept.getBoundingClientRect();
    return { left: left - frame.left, top: top - frame.top, right: right - frame.left, bottom: bottom - frame.top };
  });
}

/** The labels there are, and the length of the board they belong to: painted on the page, moved by the stage. */
export interface Pins {
  anchors: readonly Anchor[];
  length: number;
  /** What the labels are in. */
  layer: HTMLDivElement | null;
}

interface Measured {
  readonly text: string;
  readonly width: number;
  readonly height: number;
  /** How it is lettered, and its width beside its letters'. */
  readonly font: string;
  readonly margin: number;
  /** Reckoned from its letters alone. */
  readonly reckoned: boolean;
}

/** Sizes of the labels, read again only when its text changes: reading one makes the browser lay the page out. */
const sizes = new WeakMap<HTMLElement, Measured>();
/** How each was placed in the last picture. */
const styles = new WeakMap<HTMLElement, string>();

const pen = document.createElement('canvas').getContext('2d');

/** Width of a text's letters, px. */
function lettered(font: string, text: string): number {
  if (!pen) return Number.NaN;
  pen.font = font;
  return pen.measureText(text).width;
}

/** A label's size. While a drag goes on a changed one is reckoned from its letters, and read when it is over. */
function sizeOf(element: HTMLElement, text: string, dragging: boolean): Measured {
  const known = sizes.get(element);
  if (known?.text === text && (dragging || !known.reckoned)) return known;
  const width = dragging && known ? known.margin + lettered(known.font, text) : Number.NaN;
  if (known && Number.isFinite(width)) {
    const size = { ...known, text, width: known.width > 0 ? width : 0, reckoned: true };
    sizes.set(element, size);
    return size;
  }
  const { font } = getComputedStyle(element);
  const size = { text, width: element.offsetWidth, height: element.offsetHeight, font, margin: element.offsetWidth - lettered(font, text), reckoned: false };
  sizes.set(element, size);
  return size;
}

/** Inside the canvas: moves the labels to their places after each drawn frame. */
export function LabelMover({ pins }: { readonly pins: Pins }) {
  const covered = useRef<readonly Box[] | null>(null);
  useFrame(({ camera, size }) => {
    const { anchors, length, layer } = pins;
    if (!layer) return;
    // While a drag goes on nothing else moves on the page, and to look again would make the browser lay it out for every plan.
    const dragging = useDesign.getState().draft !== null;
    if (!covered.current || !dragging) covered.current = keptOut(layer);
    const placed = [...covered.current];
    const leaderLines: Box[] = [];
    const point = new Vector3();
    const elements = new Map<string | undefined, HTMLElement>();
    for (const element of layer.children) if (element instanceof HTMLElement) elements.set(element.dataset.anchor, element);
    const measured = [...anchors]
      .sort((a, b) => RANK[a.kind] - RANK[b.kind])
      .flatMap((anchor) => {
        const element = elements.get(anchor.id);
        return element ? [{ anchor, element, ...sizeOf(element, anchor.text, dragging) }] : [];
      });
    for (const { anchor, element, width: w, height: h } of measured) {
      toStage(length, ...anchor.at, point).project(camera);
      const x = ((point.x + 1) / 2) * size.width;
      const y = ((1 - point.y) / 2) * size.height;
      const leaders = anchor.kind === 'cursor' ? CURSOR_LEADERS : LEADERS[anchor.form];
      const flips = anchor.form === 'plain' || anchor.kind === 'contour' ? [-w / 2] : [-6, 6 - w];
      const spot = findSpot(x, y, w, h, leaders, flips, size, placed, leaderLines);
      const top = y + (spot ? spot.leader + (spot.leader > 0 ? 0 : spot.leader < 0 ? -h : -h / 2) : 0);
      const style = spot ? `visibility: visible; transform: translate(${spot.left.toFixed(1)}px, ${top.toFixed(1)}px); --leader: ${Math.abs(spot.leader)}px; --foot: ${(x - spot.left).toFixed(1)}px` : '';
      // Most keep their places from picture to picture.
      if (styles.get(element) === style) continue;
      styles.set(element, style);
      element.style.cssText = style;
    }
  });
  return null;
}

const label = ({ id, kind, form, text, title, s }: Anchor) => (s === undefined
  ? html`<span data-anchor=${id} data-kind=${kind} data-form=${form} class=${css.label}>${text}</span>`
  : html`<button type="button" data-anchor=${id} data-kind=${kind} data-form=${form} title=${title ?? nothing} class=${css.label}
      @click=${() => useView.getState().moveTo(s)}>${text}</button>`);

interface LabelLayerProps extends Draft {
  readonly pins: Pins;
  /** The bevel map is shown, and its contour lines named. */
  readonly mapped: boolean;
}

/** Over the canvas: the labels themselves; none while they are switched off. */
export function LabelLayer({ plan, bodies, pins, mapped }: LabelLayerProps) {
  const layer = useRef<HTMLDivElement>(null);
  const unit = useUnits((state) => state.unit);
  const labels = useView((state) => state.labels);
  const cut = useView((state) => state.cut);
  useView((state) => state.s);
  const rows = useBuild(({ standing }) => !standing || standing.places.includes('row'));
  const asBuilt = useShownBuilt(plan);
  /** Those that stay while the cursor moves, and of what they are. */
  const stay = useRef<{ readonly of: readonly unknown[]; readonly anchors: readonly Anchor[] } | null>(null);
  const staying = (shown: Draft, built: Plan | undefined): readonly Anchor[] => {
    if (!labels) return [];
    const of = [shown.plan, built, unit, mapped, rows];
    if (!stay.current?.of.every((one, i) => one === of[i])) {
      const all = boardAnchors(shown.plan, benchHeight(shown.bodies), unit, mapped ? bevelScale(shown.plan) : null, built);
      stay.current = { of, anchors: rows ? all : all.filter(({ kind }) => kind !== 'stop') };
    }
    return stay.current.anchors;
  };
  useBodiesPainter({ plan, bodies }, (shown) => {
    if (!layer.current) return;
    const built = shown.plan === plan ? asBuilt?.plan : undefined;
    const drawing = drawingAtCursor(shown.plan);
    const { s, x, y, tx, ty } = drawing.section;
    const stands = ({ kind, at }: Anchor) => !cut || kind === 'rule' || (at[0] - x) * tx + (at[1] - y) * ty <= 0.5;
    pins.anchors = [
      cursorAnchor(shown.plan, drawing, unit, built && drawingAt(built, s).section.bevel),
      ...staying(shown, built).filter(stands),
    ];
    pins.length = shown.plan.hull.length;
    pins.layer = layer.current;
    render(repeat(pins.anchors, ({ id }) => id, label), layer.current);
    invalidate();
  });
  return <div ref={layer} className={css.labels} />;
}
