/** A plan drawn in another program: its curves pointed at, fitted within a tolerance, and proposed as the lines of this board. */
import { type Ref, useEffect, useRef } from 'react';
import { shorten } from '../../../geometry/design/fields';
import type { FieldError } from '../../../geometry/errors';
import { type Limits, range, said } from '../../../geometry/said';
import type { DrawnPlan, DrawnCurve } from '../../../geometry/shape/drawing';
import type { DrawnRole } from '../../../geometry/shape/drawingFit';
import { COLUMN_TITLES, OFFSET_COLUMNS } from '../../../geometry/shape/offsets';
import { textOf } from '../../say/said';
import { lengthText, lengthWithUnit, readLength, unitSign } from '../../say/units';
import { isBusy, useJob } from '../../state/jobs';
import { useProposal } from '../../state/proposal';
import { useUnits } from '../../state/unit';
import { FilePick } from '../../ui/FilePick';
import { FigureField } from '../../ui/fields';
import { Fault, Said } from '../../ui/Said';
import { Worded } from '../../ui/Term';
import { Working } from '../../ui/Working';
import { changeDrawn, chooseScale, DRAWING_TITLE, fitDrawnAgain, isUprightHere, loadDrawing, pickCurve, sayRole, millimetresOf, stopDrawing, takeUpDrawing, useDrawing, useDrawn } from './drawn';
import { DrawingSheet } from './DrawingSheet';
import type { DrawnScale } from './drawnState';
import './tools.css';

const ROLES: readonly { readonly id: DrawnRole; readonly label: string }[] = [
  { id: 'outline', label: 'the outline' }, { id: 'bottom', label: 'the bottom (rocker)' }, { id: 'deck', label: 'the deck' }, { id: 'profile', label: 'bottom and deck, closed' },
  { id: 'section', label: 'a section' },
];
const SCALES: readonly { readonly id: DrawnScale; readonly label: string }[] = [
  { id: 'mm', label: 'millimetres' }, { id: 'cm', label: 'centimetres' }, { id: 'm', label: 'metres' }, { id: 'inch', label: 'inches' }, { id: 'foot', label: 'feet' },
  { id: 'pixel', label: 'pixels, 96 to the inch' }, { id: 'places', label: 'two known places' },
];
/** Range of the tolerance, and of the way between two known places, mm. */
const TOLERANCE = range(0.01, 20);
const APART = range(10, 10_000);
/** Range of a section's station, mm: whether it is on this board, the fit tells. */
const STATION = range(1, 5999);

const nameOf = ({ name, layer, place }: DrawnCurve): string => `${shorten(name, 40)}${layer ? ` on ${shorten(layer, 30)}` : ''}, ${place}`;

const outside = (field: string, value: number | undefined, allowed: Limits): FieldError[] =>
  (value !== undefined && value >= allowed.value[0] && value <= allowed.value[1] ? [] : [{ field, value: value === undefined ? 'nothing' : { of: 'mm', value }, allowed, message: 'is out of range' }]);

/** Faults of a drawing, each with its place in the file. */
function Faults({ errors }: { readonly errors: readonly FieldError[] }) {
  return (
    <ul role="alert" className="field-error offsets-wrong">
      {errors.slice(0, 4).map((error, i) => <li key={i}>{error.field && `${error.field}: `}<Fault error={error} /> Your board is unchanged.</li>)}
    </ul>
  );
}

/** What is to be done next, where the sheet stands: the fields for it may lie out of sight below. */
function Next({ drawing }: { readonly drawing: DrawnPlan | null }) {
  const { roles, scale, places, apart } = useDrawn();
  if (!drawing) return <p className="hint">A plan drawn in another program, as SVG or DXF: point at its curves, and they become the lines of this board.</p>;
  if (Object.keys(roles).length === 0) return <p className="hint">Next: point at a curve, or choose it in the list, and say what it is.</p>;
  if (scale === null) return <p className="hint">Next: say the unit of the drawing, under How it lies.</p>;
  if (millimetresOf({ scale, places, apart }, drawing) === null) return <p className="hint">Next: move A and B onto two places you know, and say how far apart they are.</p>;
  return null;
}

/** What the curve that is pointed at is; all of them in a list, for who does not point. */
function Picked({ drawing, ref }: { readonly drawing: DrawnPlan; readonly ref: Ref<HTMLFieldSetElement> }) {
  const unit = useUnits((state) => state.unit);
  const { picked, roles, stations } = useDrawn();
  const told = ROLES.flatMap(({ id, label }) => Object.entries(roles).flatMap(([i, role]) => (role === id ? [{ i: Number(i), label }] : [])));
  return (
    <fieldset ref={ref}>
      <legend>What its curves are</legend>
      <div className="reading">
        <label>Curve
          <select value={picked} onChange={(event) => pickCurve(Number(event.target.value))}>
            {drawing.curves.map((curve, i) => <option key={i} value={i}>{i + 1}: {nameOf(curve)}</option>)}
          </select>
        </label>
        <label>This is
          <select value={roles[picked] ?? ''} onChange={(event) => sayRole(picked, ROLES.find(({ id }) => id === event.target.value)?.id ?? null)}>
            <option value="">none of them</option>
            {ROLES.map(({ id, label }) => <option key={id} value={id}>{label}</option>)}
          </select>
        </label>
      </div>
      {roles[picked] === 'section' && (
        <FigureField
          label="Its station, from tail" unit={unitSign(unit)} shown={lengthText(stations[picked] ?? 0, unit)} allowed={STATION}
          read={(typed) => readLength(typed, unit)}
          put={(value) => {
            const wrong = outside('station', value, STATION);
            if (wrong.length === 0 && value !== undefined) changeDrawn({ stations: { ...stations, [picked]: value } });
            return wrong;
          }}
        />
      )}
      {told.length > 0 && <ul className="moves">{told.map(({ i, label }) => <li key={i}><button type="button" className="go" onClick={() => pickCurve(i)}>curve {i + 1}</button> is {label}{roles[i] === 'section' && ` at ${lengthWithUnit(stations[i] ?? 0, unit, 0)}`}</li>)}</ul>}
    </fieldset>
  );
}

/** How large the drawing is, and which end is the nose. */
function Lie({ drawing }: { readonly drawing: DrawnPlan }) {
  const unit = useUnits((state) => state.unit);
  const { scale, places, apart, roles, noseHigh } = useDrawn();
  const [high, low] = isUprightHere(drawing, roles) ? ['up the page', 'down the page'] : ['right', 'left'];
  const mm = millimetresOf({ scale, places, apart }, drawing);
  return (
    <fieldset>
      <legend>How it lies</legend>
      <div className="reading">
        <label>Its unit
          <select value={scale ?? ''} onChange={(event) => chooseScale(event.target.value as DrawnScale)}>
            {scale === null && <option value="">choose one</option>}
            {drawing.unit !== undefined && <option value="file">as the file says: {textOf({ of: 'mm', value: Number(drawing.unit.toPrecision(5)) }, unit)}</option>}
            {SCALES.map(({ id, label }) => <option key={id} value={id}>{label}</option>)}
          </select>
        </label>
        <label>Nose
          <select value={noseHigh ? 'high' : 'low'} onChange={(event) => changeDrawn({ noseHigh: event.target.value === 'high' })}>
            <option value="high">{high}</option>
            <option value="low">{low}</option>
          </select>
        </label>
      </div>
      {scale === null && <p className="hint" role="alert">The file does not say its unit: choose it, or two places whose distance you know.</p>}
      {scale === 'places' && (
        <>
          <p className="hint">Move the marks A and B onto two places you know, far apart; arrow keys move them by a pixel.</p>
          <FigureField
            label="From A to B" unit={unitSign(unit)} placeholder="on the board" shown={apart === null ? '' : lengthText(apart, unit)} allowed={APART}
            read={(typed) => readLength(typed, unit)}
            put={(value) => {
              const wrong = outside('From A to B', value, APART);
              if (wrong.length === 0 && value !== undefined) changeDrawn({ apart: value });
              return wrong;
            }}
          />
        </>
      )}
      {scale !== 'file' && mm !== null && <p className="hint">A unit of the drawing is <Said text={said('{mm}', { mm: { of: 'mm', value: Number(mm.toPrecision(5)) } })} />.</p>}
    </fieldset>
  );
}

function Fitted() {
  const unit = useUnits((state) => state.unit);
  const tolerance = useDrawn((state) => state.tolerance);
  const job = useJob('drawingFit');
  const proposed = useProposal((state) => state.proposal?.title === DRAWING_TITLE);
  const { result } = job;
  if (!result) return null;
  if (!result.ok) return <Faults errors={result.errors} />;
  const rows = OFFSET_COLUMNS.flatMap((column) => (result.misses[column] ? [{ column, miss: result.misses[column] }] : []));
  const within = lengthWithUnit(tolerance, unit, 2);
  return (
    <>
      <table className="figure-table" data-drawing="fit">
        <thead><tr><th scope="col">line</th><th scope="col">points</th><th scope="col">farthest, {unitSign(unit)}</th><th scope="col">at, from tail</th></tr></thead>
        <tbody>
          {rows.map(({ column, miss }, i) => (
            <tr key={column} className={miss.met ? '' : 'miss'}>
              <th scope="row"><Worded text={`${i + 1} ${column === 'halfBreadth' ? 'outline' : COLUMN_TITLES[column]}`} /></th>
              <td>{miss.points}</td><td>{lengthText(miss.greatest, unit, 3)}{miss.met ? '' : ' ✕'}</td><td>{lengthText(miss.x, unit, 0)}</td>
            </tr>
          ))}
          {result.sections.map(({ x, greatest, met }, i) => (
            <tr key={x} className={met ? '' : 'miss'}>
              <th scope="row"><Worded text={`${rows.length + i + 1} section`} /></th>
              <td>–</td><td>{lengthText(greatest, unit, 3)}{met ? '' : ' ✕'}</td><td>{lengthText(x, unit, 0)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="hint">{result.met ? `The drawing lies within ${within} of each line` : `Not all of the drawing fits within ${within}: the closest lines found are proposed`}; the farthest places are marked in it.{rows.length > 0 && ` Measured at ${rows.reduce((sum, { miss }) => sum + miss.rows, 0)} places.`}</p>
      {result.notes.map((note, i) => <p key={i} className="hint"><Said text={note} /></p>)}
      {!proposed && !isBusy(job) && <p className="buttons"><button type="button" className="ruled" onClick={fitDrawnAgain}>Fit again</button></p>}
    </>
  );
}

export function DrawingTool() {
  const unit = useUnits((state) => state.unit);
  const { refused, tolerance } = useDrawn();
  const { given, result } = useJob('drawing');
  const fit = useJob('drawingFit').result;
  const drawing = useDrawing();
  const fields = useRef<HTMLFieldSetElement>(null);
  useEffect(() => {
    void takeUpDrawing();
    return stopDrawing;
  }, []);
  const pick = (curve: number) => {
    pickCurve(curve);
    fields.current?.scrollIntoView({ block: 'nearest' });
  };
  const worst = fit?.ok ? [...OFFSET_COLUMNS.flatMap((column) => fit.misses[column]?.at ?? []), ...fit.sections.map(({ at }) => at)] : [];
  return (
    <>
      <Next drawing={drawing} />
      <p className="buttons">
        <FilePick className="ruled" label={drawing ? 'Another drawing' : 'Choose a drawing'} accept=".svg,.dxf,image/svg+xml" name="drawing-file" onFile={(file) => void loadDrawing(file)} />
        {given && !refused && <span className="hint file-name">{given.name}</span>}
      </p>
      <Working job="drawing" tell={() => ({ text: 'Reading the drawing' })} />
      {refused && <Faults errors={[refused]} />}
      {!refused && result?.ok === false && <Faults errors={result.errors} />}
      {drawing && (
        <>
          <DrawingSheet drawing={drawing} worst={worst} onPick={pick} />
          {drawing.notes.map((note, i) => <p key={i} className="hint"><Said text={note} /></p>)}
          <Picked drawing={drawing} ref={fields} />
          <Lie drawing={drawing} />
          <FigureField
            label="Tolerance" unit={unitSign(unit)} shown={lengthText(tolerance, unit === 'in16' ? 'in' : unit, 2)} allowed={TOLERANCE}
            read={(typed) => readLength(typed, unit)}
            put={(value) => {
              const wrong = outside('tolerance', value, TOLERANCE);
              if (wrong.length === 0 && value !== undefined) changeDrawn({ tolerance: value });
              return wrong;
            }}
          />
          <Working job="drawingFit" tell={() => ({ text: 'Fitting lines to the drawing' })} again={fitDrawnAgain} />
          <Fitted />
        </>
      )}
    </>
  );
}
