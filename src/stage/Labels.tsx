/**
 * Labels over the stage: page text that follows its places, laid out so that none covers another. What has no room is left out until it has.
 */
import { useFrame, useThree } from '@react-three/fiber';
import { type RefObject, useEffect, useRef } from 'react';
import { Vector3 } from 'three';
import { useDesign } from '../state/design';
import { useView } from '../state/view';
import type { Anchor, LabelForm } from './anchors';
import { toStage } from './frame';
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

const overlap = (a: Box, b: Box) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;

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
  for (const strict of [true, false]) {
    for (const leader of leaders) {
      for (const flip of flips) {
        const left = x + flip;
        const top = y + leader + (leader > 0 ? 0 : leader < 0 ? -h : -h / 2);
        const box = { left: left - PAD, top: top - PAD, right: left + w + PAD, bottom: top + h + PAD };
        const line = { left: x - 1, right: x + 1, top: Math.min(y, y + leader), bottom: Math.max(y, y + leader) };
        const inside = box.left >= 0 && box.right <= size.width && box.top >= 0 && box.bottom <= size.height;
        if (!inside || placed.some((other) => overlap(other, box))) continue;
        if (strict && (placed.some((other) => overlap(other, line)) || lines.some((other) => overlap(other, box)))) continue;
        placed.push(box);
        if (leader !== 0) lines.push(line);
        return { left, leader };
      }
    }
  }
  return null;
}

/** What must not be covered, in px from the label layer's corner. */
function keptOut(layer: HTMLElement): Box[] {
  const frame = layer.getBoundingClientRect();
  return [...(layer.parentElement?.querySelectorAll(KEEP_OUT) ?? [])].map((kept) => {
    const { left, top, right, bottom } = kept.getBoundingClientRect();
    return { left: left - frame.left, top: top - frame.top, right: right - frame.left, bottom: bottom - frame.top };
  });
}

interface LabelMoverProps {
  readonly anchors: readonly Anchor[];
  readonly length: number;
  readonly layer: RefObject<HTMLDivElement | null>;
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
export function LabelMover({ anchors, length, layer }: LabelMoverProps) {
  const invalidate = useThree((state) => state.invalidate);
  useEffect(() => invalidate(), [anchors, invalidate]);
  const covered = useRef<readonly Box[] | null>(null);
  useFrame(({ camera, size }) => {
    if (!layer.current) return;
    // While a drag goes on nothing else moves on the page, and to look again would make the browser lay it out for every plan.
    const dragging = useDesign.getState().draft !== null;
    if (!covered.current || !dragging) covered.current = keptOut(layer.current);
    const placed = [...covered.current];
    const leaderLines: Box[] = [];
    const point = new Vector3();
    const elements = new Map<string | undefined, HTMLElement>();
    for (const element of layer.current.children) if (element instanceof HTMLElement) elements.set(element.dataset.anchor, element);
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
      element.style.visibility = spot ? 'visible' : 'hidden';
      if (!spot) continue;
      const top = y + spot.leader + (spot.leader > 0 ? 0 : spot.leader < 0 ? -h : -h / 2);
      element.style.transform = `translate(${spot.left.toFixed(1)}px, ${top.toFixed(1)}px)`;
      element.style.setProperty('--leader', `${Math.abs(spot.leader)}px`);
      element.style.setProperty('--foot', `${(x - spot.left).toFixed(1)}px`);
    }
  });
  return null;
}

/** Over the canvas: the labels themselves. */
export function LabelLayer({ anchors, layer }: Pick<LabelMoverProps, 'anchors' | 'layer'>) {
  const moveTo = useView((state) => state.moveTo);
  return (
    <div ref={layer} className={css.labels}>
      {anchors.map(({ id, kind, form, text, title, s }) =>
        s === undefined ? (
          <span key={id} data-anchor={id} data-kind={kind} data-form={form} className={css.label}>{text}</span>
        ) : (
          <button key={id} type="button" data-anchor={id} data-kind={kind} data-form={form} title={title} className={css.label} onClick={() => moveTo(s)}>
            {text}
          </button>
        ),
      )}
    </div>
  );
}
