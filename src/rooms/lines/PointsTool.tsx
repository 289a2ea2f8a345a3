/** The points of a line in figures: typed, made corners, added and removed; and the shape of its ends. */
import { render } from 'lit-html';
import { useRef, useState } from 'react';
import { fieldRange } from '../../../geometry/design/fields';
import { range, said } from '../../../geometry/said';
import type { LineName } from '../../../geometry/shape/line';
import type { Plan } from '../../../geometry/types';
import { shownDesign, useDesign } from '../../state/design';
import { useUnits } from '../../state/unit';
import { useView } from '../../state/view';
import { fixed, lengthText, readLength, readNumber, type Unit, unitSign } from '../../say/units';
import { nearerEnd } from '../../say/words';
import { addPoint, checked, type End, endAngle, movePoint, presentAngle, setCorner, setEndAngle, stationMoves } from './edits';
import { FigureField, TextField } from '../../ui/fields';
import { Worded } from '../../ui/Term';
import { fairHere, nearestPoint } from './fairHere';
import { boardOf, inMm, kindOf, type LineKind, readValue, valueRange, lineText } from './kinds';
import { valueOn } from './path';
import { focusHandle, removeAt } from './nudge';
import { commitEdit, takeEdit, useLines } from './lines';
import { shownStation, useStationPainter } from './useShownPainter';
import './tools.css';

const ENDS = ['tail', 'nose'] as const;

const present = () => useDesign.getState().design;

function PointRow({ name, index, last, unit }: { readonly name: LineName; readonly index: number; readonly last: number; readonly unit: Unit }) {
  // A point that stays is the same object: a drag renders the row of the one it moves.
  const point = useDesign((state) => shownDesign(state).lines[name].points.at(index));
  const moves = useDesign((state) => stationMoves(shownDesign(state).lines[name], index));
  const length = useDesign((state) => shownDesign(state).lines.outline.points.at(-1)?.x ?? 0);
  const on = useLines(({ selected }) => selected?.line === name && 'index' in selected.grip && selected.grip.index === index);
  if (!point) return null;
  const { x, corner } = point;
  const v = 'y' in point ? point.y : point.v;
  const { min, max } = valueRange(name);
  const title = `Point ${index + 1}`;
  // Told from the nearer end; the tip of the nose, whose station is the length, from the tail.
  const fromNose = index < last && 2 * x > length;
  const called = index === 0 ? 'tip of the tail' : index === last ? 'tip of the nose' : fromNose ? 'from the nose' : 'from the tail';
  const station = fromNose ? length - x : x;
  const decimals = unit === 'mm' ? 1 : 2;
  return (
    <tr className={on ? 'on' : ''}>
      <th scope="row">
        <button type="button" aria-label={`${title}, ${called}: select this point`} onClick={() => focusHandle(name, { index })}>{called}</button>
      </th>
      <td>
        {moves
          ? <FigureField bare unit={unitSign(unit)} label={`${title} station`} shown={lengthText(station, unit, decimals)} allowed="a length between its neighbours" read={(text) => readLength(text, unit)} put={(value) => takeEdit(movePoint(present(), name, index, value === undefined ? x : fromNose ? length - value : value, v))} />
          : <span className="still">{lengthText(station, unit, decimals)}</span>}
      </td>
      <td>
        <FigureField
          bare unit={inMm(name) ? unitSign(unit) : undefined} label={`${title} ${kindOf(name).value}`} shown={lineText(name, v, unit, decimals)} allowed={range(min, max, inMm(name) ? 'mm' : 'count')}
          read={(text) => readValue(name, text, unit)} put={(value) => takeEdit(movePoint(present(), name, index, x, value ?? v))}
        />
      </td>
      <td>
        {index > 0 && index < last && (
          <input type="checkbox" aria-label={`${title} is a corner`} title="Corner: the line breaks here" checked={corner === true} onChange={(event) => commitEdit(name, setCorner(present(), name, index, event.target.checked))} />
        )}
      </td>
      <td>
        {index > 0 && index < last && <button type="button" aria-label={`Remove point ${index + 1}`} title="Remove" onClick={() => removeAt(name, index)}>×</button>}
      </td>
    </tr>
  );
}

function EndFields({ name, end }: { readonly name: LineName; readonly end: End }) {
  const set = useDesign((state) => endAngle(shownDesign(state).lines[name], end));
  const free = useDesign((state) => (set === undefined ? fixed(presentAngle(shownDesign(state).lines[name], end), 1) : ''));
  const path = ['lines', name, name === 'outline' ? `${end}AngleDeg` : `${end}SlopeDeg`];
  const angles = fieldRange(path);
  return (
    <FigureField
      label={`${end === 'tail' ? 'Tail' : 'Nose'} ${name === 'outline' ? 'angle' : 'slope'}`} unit="°" placeholder={`free: ${free}`}
      shown={set === undefined ? '' : fixed(set, 1)} allowed={angles ? said('{angles}, or empty for a free end', { angles: range(angles.min, angles.max, 'deg') }) : 'degrees'}
      read={(text) => (text.trim() === '' ? undefined : readNumber(text))} put={(deg) => takeEdit(setEndAngle(present(), name, end, deg))}
    />
  );
}

/** The station under the cursor, for a button. */
function AtStation({ plan, unit }: { readonly plan: Plan | null; readonly unit: Unit }) {
  const text = useRef<HTMLSpanElement>(null);
  useStationPainter(plan, ({ lines: { outline: { points } } }, station) => text.current && render(nearerEnd(boardOf(points), station, unit), text.current));
  return <span ref={text} />;
}

export function PointsTool({ kind, plan }: { readonly kind: LineKind; readonly plan: Plan | null }) {
  const { name } = kind;
  const unit = useUnits((state) => state.unit);
  const board = useDesign((state) => shownDesign(state).name);
  const revision = useDesign((state) => shownDesign(state).revision);
  const count = useDesign((state) => shownDesign(state).lines[name].points.length);
  const addHere = () => {
    const station = shownStation(present(), plan, useView.getState().s);
    const { edit, index } = addPoint(present(), name, station, valueOn(present().lines[name], station));
    if (commitEdit(name, edit)) focusHandle(name, { index });
  };
  const [fair, setFair] = useState<{ readonly of: LineName; readonly says: string | null } | null>(null);
  const selected = useLines((state) => state.selected);
  const chosen = selected?.line === name && 'index' in selected.grip ? selected.grip.index : null;
  return (
    <>
      <p className="hint"><Worded text={kind.says} /></p>
      <table className="points">
        <thead>
          <tr><th scope="col">{unitSign(unit)}</th><th scope="col"><Worded text="station" /></th><th scope="col"><Worded text={`${kind.value}${inMm(name) ? '' : ' (ratio)'}`} /></th><th scope="col">corner</th><th scope="col"><span className="spoken">Remove</span></th></tr>
        </thead>
        <tbody>
          {Array.from({ length: count }, (_, index) => <PointRow key={index} name={name} index={index} last={count - 1} unit={unit} />)}
        </tbody>
      </table>
      <p className="buttons">
        <button type="button" className="ruled" onClick={addHere}>Add a point at <AtStation plan={plan} unit={unit} /></button>
        <button type="button" className="ruled" disabled={count < 3} onClick={() => setFair({ of: name, says: fairHere(name, chosen ?? nearestPoint(name, shownStation(present(), plan, useView.getState().s))) })}>Make it fair here</button>
      </p>
      {fair?.of === name && fair.says && <p className="hint" role="status">{fair.says}</p>}
      <fieldset>
        <legend>Ends</legend>
        {ENDS.map((end) => <EndFields key={end} name={name} end={end} />)}
      </fieldset>
      <fieldset>
        <legend>The board</legend>
        <TextField label="Name" shown={board} put={(text) => takeEdit(checked({ ...present(), name: text }))} />
        <TextField label="Revision" shown={revision} put={(text) => takeEdit(checked({ ...present(), revision: text }))} />
      </fieldset>
      <p className="hint keys">
        Drag a point, or move it by arrow keys: {unit === 'mm' ? '1 mm, with Shift 10, with Alt 0.1' : '1/16 in, with Shift 1/2, with Alt 1/64'}.
        Double click adds a point, Insert adds one after it, Delete removes it, C makes it a corner, Escape cancels a drag.
        A drag snaps to steps of {inMm(name) ? (unit === 'mm' ? '0.1 mm' : '0.005 in') : '0.001'}.
        {name === 'outline' ? ' Moving the nose along the board changes the board’s length; all lines end there.' : ''}
      </p>
    </>
  );
}
