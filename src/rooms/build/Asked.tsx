/** Before a reading is taken: is it this rib, or the whole batch; and what either would move. */
import { useEffect, useMemo, useRef } from 'react';
import { expectedReadings } from '../../../geometry/trust/asBuilt';
import type { ReadingField } from '../../../geometry/trust/types';
import type { Plan, Side } from '../../../geometry/types';
import { movesText } from '../../say/moves';
import { readingFigure } from '../../say/readings';
import type { Unit } from '../../say/units';
import { AskedWork } from '../../ui/AskedWork';
import { Fault } from '../../ui/Said';
import { takeWay, type Taking, useAsked } from '../../work/record';
import './step.css';

/** A reading typed and not yet taken, mm; a bevel radians. */
export interface Pending {
  readonly rib: number;
  readonly field: ReadingField;
  readonly value: number;
}

interface AskedProps {
  readonly plan: Plan;
  readonly unit: Unit;
  readonly side: Side;
  readonly pending: Pending;
  /** Taken or not, it is over. */
  readonly onOver: (taken: boolean) => void;
}

export function Asked({ plan, unit, side, pending, onOver }: AskedProps) {
  const { rib, field, value } = pending;
  const text = readingFigure(field, unit).text(value);
  const first = useRef<HTMLButtonElement>(null);
  const whole = useRef<HTMLDivElement>(null);
  const there = plan.rail.ribs.find(({ index }) => index === rib - 1);
  const drawn = there ? expectedReadings(plan, there)[field] : value;
  const read = useMemo(() => ({ rib, side, field, value, drawn }), [rib, side, field, value, drawn]);
  const { ways = [], moves } = useAsked(plan, read) ?? {};
  const labelOf = ({ at }: Taking) => (at === 'batch' ? 'The whole batch' : ways.length > 1 ? 'This rib' : `Take it, ${side}`);
  // In the next frame: the Enter that brought the question would press the button too.
  useEffect(() => {
    const frame = requestAnimationFrame(() => {
      first.current?.focus({ preventScroll: true });
      whole.current?.scrollIntoView({ block: 'nearest' });
    });
    return () => cancelAnimationFrame(frame);
  }, []);
  return (
    // Escape leaves the question; what lies over the room stays.
    // oxlint-disable-next-line jsx-a11y/no-noninteractive-element-interactions
    <div
      className="asked" ref={whole} role="group" aria-label={`Rib ${rib} reads ${text}`}
      onKeyDown={(event) => {
        if (event.key !== 'Escape') return;
        event.stopPropagation();
        onOver(false);
      }}
    >
      <p><b>Rib {rib} reads {text}.</b> {ways.length > 1 ? 'Is it this rib’s own, or is the whole batch so?' : 'It is this rib’s own.'}</p>
      {ways.map((way, i) => (
        <div key={labelOf(way)} className="way">
          <button
            type="button" className="ruled" ref={i === 0 ? first : undefined}
            onClick={() => {
              takeWay(read, way);
              onOver(true);
            }}
          >
            {labelOf(way)}
          </button>
          <p data-moves={way.at === 'batch' ? 'batch' : 'rib'}>{way.at === 'batch' ? 'both sides, every rib not read' : `${side}, gone by the ribs before and after unless they read so too`}: {moves?.[i] && movesText(plan, moves[i].changes, unit)}</p>
        </div>
      ))}
      {moves?.[0]?.flags.filter((flag) => flag.rib === rib - 1 && flag.reading === field).map((flag) => <p key={flag.field} className="reading-flag"><Fault error={flag} /></p>)}
      <AskedWork />
      <button type="button" className="go" onClick={() => onOver(false)}>Cancel</button>
    </div>
  );
}
