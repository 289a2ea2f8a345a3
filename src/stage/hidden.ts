/** Whether what a label points at can be seen: from where the eye is, and past what is shown over it. */
import type { Vector3 } from 'three';
import { useBuild } from '../state/build';
import { useView } from '../state/view';
import type { Anchor } from './anchors';

interface Covers {
  /** The side of the rail that faces the eye is open: nothing lies outside its rows. */
  readonly open: boolean;
  readonly rows: boolean;
  readonly cap: boolean;
  /** The deck lies on, and hides what is under it. */
  readonly deck: boolean;
}

/** What is shown over rows and cap of a side. */
export function coversOf(side: 'starboard' | 'port'): Covers {
  const { standing } = useBuild.getState();
  if (standing) {
    const has = (kind: 'row' | 'cap' | 'outer-skin' | 'round' | 'deck-skin') => standing.places.includes(kind);
    const there = side === 'starboard' || standing.box === 'both';
    return { open: !has('outer-skin') && !has('round'), rows: there && has('row'), cap: there && has('cap'), deck: has('deck-skin') };
  }
  const { layers, openSide, deck } = useView.getState();
  const closed = openSide !== 'both' && openSide !== side && (layers['outer-skin'] || layers.round);
  return { open: !closed, rows: layers.row, cap: layers.cap, deck: deck === 'on' };
}

/** An eye less above the board than this sees its upper faces too flat to tell places on them. */
const FLAT = 0.06;

/** Whether the place of a label is hidden. `eye`: the way to it, stage frame; the place on the side that faces it, `depth` that of the box there, mm. */
export function isHidden({ kind, at, out }: Anchor, eye: Vector3, { open, rows, cap, deck }: Covers, depth: number): boolean {
  if (kind === 'contour') return !cap || deck || eye.y < FLAT;
  if (kind !== 'stop' || !out) return false;
  if (!rows || !open) return true;
  const facing = eye.x * out[0] + Math.abs(eye.z) * out[1];
  if (facing > 0.02) return false;
  if (eye.y <= FLAT || deck) return true;
  // Seen from inboard: over the other rail, which stands as far off as the way to it over the board.
  const away = Math.hypot(eye.x, eye.z);
  const across = Math.abs(eye.z) > 1e-3 ? (2 * at[1] * away) / Math.abs(eye.z) : Infinity;
  return eye.y * across < depth * away;
}
