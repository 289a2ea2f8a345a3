/**
 * Labels over the stage: page text that follows its places, laid out so that none covers another. What has no room is left out until it has.
 */
import { invalidate, useFrame } from '@react-three/fiber';
import { useRef } from 'react';
import { Vector3 } from 'three';
import type { Plan } from '../../geometry/types';
import { bevelScale } from '../say/ramp';
import { useBuild } from '../state/build';
import { useDesign } from '../state/design';
import type { Draft } from '../state/draft';
import { drawingAtCursor } from '../state/station';
import { placesOn, useMeasure } from '../state/measure';
import { useUnits } from '../state/unit';
import { useView } from '../state/view';
import { useBodiesPainter } from '../ui/painter';
import { standingOf, useStanding } from '../work/parts';
import { useShownBuilt } from '../work/readings';
import { keptOut } from './keptOut';
import { type Anchor, boardAnchors, cursorAnchor, isAtCursor, type LabelForm, markAnchors, pinAnchors } from './anchors';
import { benchHeight, toStage } from './frame';
import { coversOf, isHidden } from './hidden';
import { type Box, Ground, type LabelSpot } from './placing';
import { useLieLabels } from './lieLabels';
import { useFinished } from './shown';
import css from './Labels.module.css';

const RANK: Readonly<Record<Anchor['kind'], number>> = { mark: -2, pin: 0, rule: 1, cursor: 2, stop: 3, contour: 4, end: 5 };
const DOWN = [28, 52, 76, 100, 124, 148, 172, 196];
/** Leader lengths tried in turn, px; down is positive. */
const LEADERS: Readonly<Record<LabelForm, readonly number[]>> = { call: DOWN, flag: [-16, -34], plain: [0] };
const CURSOR_LEADERS = [...DOWN.slice(1), DOWN[0], -40, -64, -92, -120];
/** Shares of a label's width that stand left of its foot, tried in turn: those toward the left end first. */
const LEFT = [1, 0.75, 0.5, 0.25, 0];
const RIGHT = LEFT.toReversed();
const CENTRED = [0.5];
/** A pin stands on its place or beside it. */
const BESIDE = [0.5, 1.6, -0.6, 2.7, -1.7];
/** The labels there are, and the length of the board they belong to: painted on the page, moved by the stage. */
export interface Pins {
  anchors: readonly Anchor[];
  length: number;
  /** Greatest of the box, mm. */
  depth: number;
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
/** Where each stood last, and how it was placed in the last picture. */
const spots = new WeakMap<HTMLElement, LabelSpot>();
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
    const { anchors, length, depth, layer } = pins;
    if (!layer) return;
    // While a drag goes on nothing else moves on the page, and to look again would make the browser lay it out for every plan.
    const dragging = useDesign.getState().draft !== null;
    if (!covered.current || !dragging) covered.current = keptOut(layer);
    const ground = new Ground(size, covered.current);
    const point = new Vector3();
    const eye = camera.getWorldDirection(new Vector3()).negate();
    const { cut } = useView.getState();
    // What is cut shows its starboard half.
    const port = eye.z < -1e-3 && !cut;
    const over = coversOf(port ? 'port' : 'starboard');
    const middle = toStage(length, length / 2, 0, 0, point).project(camera).x;
    const elements = new Map<string | undefined, HTMLElement>();
    for (const element of layer.children) if (element instanceof HTMLElement) elements.set(element.dataset.anchor, element);
    const put = (element: HTMLElement, style: string) => {
      // Most keep their places from picture to picture.
      if (styles.get(element) === style) return;
      styles.set(element, style);
      element.style.cssText = style;
    };
    const waiting = anchors.flatMap((anchor) => {
      const element = elements.get(anchor.id);
      if (!element) return [];
      const { width, height } = sizeOf(element, anchor.text, dragging);
      if (width === 0 || isHidden(anchor, eye, over, depth)) {
        put(element, '');
        return [];
      }
      const { at: [x, y, z], kind, form, out } = anchor;
      toStage(length, x, port && out ? -y : y, z, point).project(camera);
      const outer = point.x < middle ? LEFT : RIGHT;
      return [{
        anchor, element, order: RANK[kind] - Math.abs(x / length - 0.5),
        x: ((point.x + 1) / 2) * size.width, y: ((1 - point.y) / 2) * size.height, width, height,
        leaders: kind === 'cursor' ? CURSOR_LEADERS : LEADERS[form], shares: kind === 'pin' ? BESIDE : form === 'call' ? outer : CENTRED,
      }];
    }).sort((a, b) => a.order - b.order);
    // The outermost first. A second time round what found no spot may stand in the way of what found none either.
    const onLeaders = waiting.filter(({ anchor: { form } }) => form === 'call');
    for (const round of [0, 1]) {
      for (const one of waiting.splice(0)) {
        const { anchor, element, x } = one;
        onLeaders.splice(onLeaders.indexOf(one) >>> 0, 1);
        const spot = ground.take(one, round === 0 ? onLeaders : [], spots.get(element));
        if (spot) {
          spots.set(element, spot);
          put(element, `visibility: inherit; transform: translate(${spot.left.toFixed(1)}px, ${spot.top.toFixed(1)}px); --leader: ${Math.abs(spot.leader)}px; --foot: ${(x - spot.left).toFixed(1)}px; --under: ${spot.leader < 0 ? '100%' : 'auto'}; --over: ${spot.leader < 0 ? 'auto' : '100%'}`);
        } else if (round === 0 && anchor.form === 'call') waiting.push(one);
        else put(element, '');
      }
    }
  });
  return null;
}

const press = ({ s, cause }: Anchor) => () => {
  const { moveTo, open } = useView.getState();
  if (s !== undefined) moveTo(s);
  if (cause === undefined) return;
  useView.setState({ decision: cause });
  open('decisions');
};

function label(anchor: Anchor, there: HTMLElement | undefined): HTMLElement {
  const { id, kind, form, text, title, s } = anchor;
  const tag = s === undefined ? 'SPAN' : 'BUTTON';
  const element = there?.tagName === tag ? there : document.createElement(tag);
  const says: Readonly<Record<string, string | undefined>> = {
    'data-anchor': id, 'data-kind': kind, 'data-form': form, ...(s === undefined ? {} : { type: 'button', title, 'aria-label': kind === 'pin' ? `Decision ${text}: ${title}` : undefined }),
  };
  element.className = css.label;
  for (const [name, value] of Object.entries(says)) {
    if (value === undefined) element.removeAttribute(name);
    else if (element.getAttribute(name) !== value) element.setAttribute(name, value);
  }
  if (element.textContent !== text) element.textContent = text;
  element.onclick = s === undefined ? null : press(anchor);
  return element;
}

/** Brings the labels up to their anchors, in their order. An anchor that stays keeps its element, with its size, its spot and the focus; one that goes leaves nothing. */
function putLabels(layer: HTMLElement, anchors: readonly Anchor[]): void {
  const known = new Map([...layer.children].flatMap((element) => (element instanceof HTMLElement ? [[element.dataset.anchor, element] as const] : [])));
  const elements = anchors.map((anchor) => label(anchor, known.get(anchor.id)));
  const stay = new Set(elements);
  for (const element of known.values()) if (!stay.has(element)) element.remove();
  let next = layer.firstElementChild;
  for (const element of elements) {
    if (element === next) next = next.nextElementSibling;
    else layer.insertBefore(element, next);
  }
}

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
  const decided = useView((state) => state.pins);
  const finished = useFinished();
  const { decisions } = useStanding();
  const lies = useLieLabels((state) => state.anchors);
  const measuring = useView((state) => state.drawer === 'measure');
  const measure = useMeasure();
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
    const { soleThickness, capThickness } = shown.plan.design.rail;
    const lead = built ?? shown.plan;
    const stands = (anchor: Anchor) => !isAtCursor(anchor, lead, s) && (!cut || anchor.kind === 'rule' || (anchor.at[0] - x) * tx + (anchor.at[1] - y) * ty <= 0.5);
    const found = shown.plan === plan ? decisions : standingOf(shown.plan, null).decisions;
    const marks = markAnchors(measuring ? placesOn(shown.plan, measure) : []);
    pins.anchors = finished ? marks : [
      ...marks,
      ...(decided ? pinAnchors(shown.plan, found, unit) : []),
      cursorAnchor(shown.plan, drawing, unit, lead),
      ...staying(shown, built).filter(stands),
      ...(labels && shown.plan === plan ? lies.filter(stands) : []),
    ];
    pins.length = shown.plan.hull.length;
    pins.depth = shown.plan.rail.range.gap.max + soleThickness + capThickness;
    pins.layer = layer.current;
    putLabels(layer.current, pins.anchors);
    invalidate();
  });
  return <div ref={layer} className={css.labels} />;
}
