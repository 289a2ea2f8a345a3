/** Lists whose lines are places: each leads there on stage, ribbon and card, and the one nearest the cursor is marked. */
import { type ReactNode, useEffect, useRef } from 'react';
import { heldRun } from '../../../geometry/rail/query';
import type { Plan } from '../../../geometry/types';
import { useView } from '../../state/view';
import { Worded } from '../../ui/Term';
import './lists.css';

/** The place along the rail that a line last led to: it is in sight already, so the list does not move for it. */
let ledTo = Number.NaN;

/** Puts the cursor there; the close view, if it is shown, follows. */
export function leadTo(s: number): void {
  ledTo = s;
  const { moveTo, ask, view } = useView.getState();
  moveTo(s);
  if (view.name === 'station') ask('station');
}

/** A place or a stretch along the rail. */
export interface Spot {
  readonly s: number;
  readonly until?: number;
  /** Where in the stretch the line leads; its beginning if left out. */
  readonly lead?: number;
}

/** Index of the spot nearest s along the rail, a stretch that holds it being at no distance; -1 where there is none. */
export function nearestSpot(spots: readonly (Spot | undefined)[], s: number): number {
  let best = -1;
  let least = Infinity;
  spots.forEach((spot, i) => {
    if (!spot) return;
    const off = s < spot.s ? spot.s - s : Math.max(0, s - (spot.until ?? spot.s));
    if (off < least) {
      least = off;
      best = i;
    }
  });
  return best;
}

/** Where the cursor is along the rail of this plan. */
export function useCursor(plan: Plan): number {
  return heldRun(plan, useView((state) => state.s));
}

export interface ListColumn {
  readonly title: string;
  readonly hint?: string;
  /** Words stand to the left, figures to the right; long ones may break. */
  readonly words?: boolean | 'long';
  /** Left out where there is little room. */
  readonly spare?: boolean;
}

export interface ListLine {
  readonly key: string;
  readonly cells: readonly ReactNode[];
  readonly spot?: Spot;
  readonly tone?: string;
}

/** What lets a stretch without a button in it be scrolled by keyboard. */
export const scrolled = (label: string) => ({ role: 'region', 'aria-label': label, tabIndex: 0 });

interface PlaceListProps {
  readonly plan: Plan;
  readonly label: string;
  readonly columns: readonly ListColumn[];
  readonly lines: readonly ListLine[];
  /** Brings the line nearest the cursor into sight as the cursor is moved elsewhere. */
  readonly follow?: boolean;
}

/** How a column is set, for the sheet. */
const set = ({ words, spare }: ListColumn) => ({ 'data-words': words || undefined, 'data-spare': spare || undefined });
/** With this many columns a list is too wide for a phone: each of its lines is set as a few lines there. */
const WIDE = 5;

export function PlaceList({ plan, label, columns, lines, follow }: PlaceListProps) {
  const s = useCursor(plan);
  const near = nearestSpot(lines.map(({ spot }) => spot), s);
  const row = useRef<HTMLTableRowElement>(null);
  useEffect(() => {
    if (follow && s !== ledTo) row.current?.scrollIntoView({ block: 'nearest' });
  }, [follow, s, near]);
  return (
    <div className="list-frame" {...(lines.some(({ spot }) => spot) ? {} : scrolled(`${label}, scrolls`))}>
      <table className="list" aria-label={label} data-wide={columns.filter(({ spare }) => !spare).length >= WIDE || undefined}>
        <thead>
          <tr>{columns.map((column) => <th key={column.title} scope="col" title={column.hint} {...set(column)}><Worded text={column.title} /></th>)}</tr>
        </thead>
        <tbody>
          {lines.map(({ key, cells, spot, tone }, i) => (
            <tr
              key={key} ref={i === near ? row : undefined} className={spot ? 'leads' : undefined} data-tone={tone}
              aria-current={i === near ? 'location' : undefined}
              // A finger or a pointer may hit the line anywhere; keys and readers use its button.
              onClick={spot && (() => leadTo(spot.lead ?? spot.s))}
            >
              {cells.map((cell, k) => (
                <td key={columns[k].title} data-name={columns[k].title} {...set(columns[k])}>
                  {k === 0 && spot ? <button type="button" className="lead">{cell}</button> : cell}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
