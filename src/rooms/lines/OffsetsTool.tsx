/** Offsets in and out: a table typed, pasted or read from a file, fitted within a tolerance; and the board's own. */
import { useEffect, useState } from 'react';
import { COLUMN_TITLES, OFFSET_COLUMNS, offsetsCsv, offsetsOf, offsetStations } from '../../../geometry/shape/offsets';
import type { ColumnMeaning, CommaQuestion, Commas } from '../../../geometry/shape/offsetsRead';
import type { TableUnit } from '../../../geometry/shape/lengths';
import { shorten } from '../../../geometry/design/fields';
import type { FieldError } from '../../../geometry/errors';
import { type Limits, range, said } from '../../../geometry/said';
import type { Plan } from '../../../geometry/types';
import { FilePick } from '../../ui/FilePick';
import { handOver } from '../../state/boardFile';
import { usePlan } from '../../state/plan';
import { useUnits } from '../../state/unit';
import { lengthText, lengthWithUnit, readLength, readNumber, unitSign } from '../../say/units';
import { FigureField } from '../../ui/fields';
import { changeOffsets, fitAgain, loadOffsets, ofAnother, OFFSETS_TITLE, stopOffsets, useOffsets, useOffsetsRead } from './offsets';
import { useProposal } from '../../state/proposal';
import { Fault } from '../../ui/Said';
import { Working } from '../../ui/Working';
import './tools.css';

const UNITS: readonly { readonly id: TableUnit; readonly label: string }[] = [
  { id: 'mm', label: 'mm' }, { id: 'cm', label: 'cm' }, { id: 'm', label: 'm' }, { id: 'inch', label: 'inches' }, { id: 'foot', label: 'feet' },
];
const MEANINGS: readonly { readonly id: ColumnMeaning; readonly label: string }[] = [
  { id: 'station', label: 'station' }, { id: 'halfBreadth', label: 'half-breadth' }, { id: 'width', label: 'full width' },
  { id: 'rocker', label: 'rocker' }, { id: 'thickness', label: 'thickness' }, { id: 'ignore', label: 'leave out' },
];
const COMMAS: Readonly<Record<Commas, string>> = { decimal: 'decimal marks', between: 'between columns', thousands: 'between thousands' };
/** Range of the tolerance, mm. */
const TOLERANCE = range(0.01, 20);
/** Range of the spacing of stations, mm. */
const SPACING = range(5, 1000);
/** Directions an outline can end in, degrees. */
const ANGLE = range(-60, 90, 'deg');

/** What is wrong with a figure that may lie in a range. */
const outside = (what: string, value: number | undefined, allowed: Limits): FieldError[] =>
  value !== undefined && value >= allowed.value[0] && value <= allowed.value[1]
    ? []
    : [{ field: what, value: value === undefined ? 'nothing' : { of: allowed.of, value }, allowed, message: 'is out of range' }];

/** How the table was read, to be corrected: also of one that cannot be read as it was taken. */
function Reading() {
  const options = useOffsets((state) => state.options);
  const { read, result } = useOffsetsRead();
  const reading = read?.reading ?? (result?.ok === false ? result.reading : undefined);
  if (!reading) return null;
  // What was chosen last, before it is read again.
  const columns = options.columns?.length === reading.columns.length ? options.columns : reading.columns;
  return (
    <fieldset>
      <legend>{read ? 'How it was read' : 'How it was taken'}</legend>
      <div className="reading">
        <label>Unit
          <select value={options.unit ?? reading.unit} onChange={(event) => changeOffsets({ options: { ...options, unit: event.target.value as TableUnit } })}>
            {UNITS.map(({ id, label }) => <option key={id} value={id}>{label}</option>)}
          </select>
        </label>
        <label>Measured from
          <select value={options.from ?? reading.from} onChange={(event) => changeOffsets({ options: { ...options, from: event.target.value === 'nose' ? 'nose' : 'tail' } })}>
            <option value="tail">tail</option>
            <option value="nose">nose</option>
          </select>
        </label>
        {reading.commas && (
          <label>Commas
            <select value={reading.commas} onChange={(event) => changeOffsets({ options: { ...options, commas: event.target.value as Commas } })}>
              {(Object.keys(COMMAS) as Commas[]).filter((commas) => commas === reading.commas || commas === 'decimal' || (commas === 'thousands') === (reading.separator !== 'blanks' && reading.separator !== 'commas'))
                .map((commas) => <option key={commas} value={commas}>{COMMAS[commas]}</option>)}
            </select>
          </label>
        )}
        {columns.map((meaning, i) => (
          <label key={i}>Column {i + 1}{reading.titles[i] && `: ${reading.titles[i]}`}{reading.first[i] && ` (${reading.first[i]}, …)`}
            <select value={meaning} onChange={(event) => changeOffsets({ options: { ...options, columns: columns.map((c, k) => (k === i ? (event.target.value as ColumnMeaning) : c)) } })}>
              {MEANINGS.map(({ id, label }) => <option key={id} value={id}>{label}</option>)}
            </select>
          </label>
        ))}
      </div>
    </fieldset>
  );
}

function Fit() {
  const unit = useUnits((state) => state.unit);
  const tolerance = useOffsets((state) => state.tolerance);
  const { read, result, busy } = useOffsetsRead();
  const proposed = useProposal((state) => state.proposal?.title === OFFSETS_TITLE);
  if (!read) return null;
  const { table } = read;
  const fit = result?.ok ? result.fit : null;
  const misses = fit?.ok ? fit.misses : null;
  return (
    <>
      <p data-offsets="read">{table.rows.length} rows read, board of {lengthWithUnit(table.length, unit, 0)}.</p>
      {fit?.ok === false && (
        <ul role="alert" className="field-error">
          {fit.errors.slice(0, 4).map((error) => <li key={error.field}>{error.field}: <Fault error={error} /> Your board is unchanged.</li>)}
        </ul>
      )}
      {misses && (
        <table className="figure-table" data-offsets="fit">
          <thead><tr><th scope="col">line</th><th scope="col">points</th><th scope="col">farthest row, {unitSign(unit)}</th><th scope="col">at, from tail</th></tr></thead>
          <tbody>
            {OFFSET_COLUMNS.map((column) => {
              const miss = misses[column];
              return miss && (
                <tr key={column} className={miss.met ? '' : 'miss'}>
                  <th scope="row">{COLUMN_TITLES[column]}</th><td>{miss.points}</td><td>{lengthText(miss.greatest, unit, 3)}{miss.met ? '' : ' ✕'}</td><td>{lengthText(miss.x, unit, 0)}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      )}
      {fit?.ok && <p className="hint">{fit.met ? `Every row lies within ${lengthWithUnit(tolerance, unit, 2)} of its line.` : `Not every row fits within ${lengthWithUnit(tolerance, unit, 2)}: the closest lines found are proposed. Widen the tolerance, or check the row named above.`}</p>}
      {misses && !proposed && !busy && <p className="buttons"><button type="button" className="ruled" onClick={() => void fitAgain()}>Fit again</button></p>}
    </>
  );
}

/** Asks what the commas of the table are, with what each answer makes of the first row that depends on it. */
function AskCommas({ question }: { readonly question: CommaQuestion }) {
  const options = useOffsets((state) => state.options);
  return (
    <fieldset>
      <legend>What are the commas?</legend>
      <p className="hint" role="alert">Row {question.row} can be read in two ways.</p>
      <p className="buttons">
        {question.ways.map(({ commas, cells }) => (
          <button key={commas} type="button" className="ruled" onClick={() => changeOffsets({ options: { ...options, commas } })}>
            {COMMAS[commas]}: {cells.map((cell) => shorten(cell, 16)).join(' | ')}
          </button>
        ))}
      </p>
    </fieldset>
  );
}

function Wrong() {
  const refused = useOffsets((state) => state.refused);
  const { result } = useOffsetsRead();
  const { errors, more } = refused ? { errors: [refused], more: 0 } : result?.ok === false ? result : { errors: [], more: 0 };
  if (errors.length === 0) return null;
  if (!refused && result?.ok === false && result.question) return <AskCommas question={result.question} />;
  return (
    <ul role="alert" className="field-error offsets-wrong">
      {errors.map((error, i) => (
        <li key={i}>
          {error.row > 0 && `Row ${error.row}`}{error.column && `${error.row > 0 ? ', ' : ''}${error.column}`}{(error.row > 0 || error.column) && ': '}
          <Fault error={error} />
        </li>
      ))}
      {more > 0 && <li>And {more} more.</li>}
    </ul>
  );
}

function Out({ plan }: { readonly plan: Plan }) {
  const unit = useUnits((state) => state.unit);
  const [spacing, setSpacing] = useState(100);
  const [from, setFrom] = useState<'tail' | 'nose'>('tail');
  const [comma, setComma] = useState(false);
  const [said, setSaid] = useState('');
  const text = (separator: ',' | ';' | '\t') => offsetsCsv(offsetsOf(plan, offsetStations(plan.hull.length, spacing)), { unit: unit === 'mm' ? 'mm' : 'inch', from, separator });
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(text('\t'));
      setSaid('Copied: paste it into a spreadsheet.');
    } catch {
      setSaid('This browser does not allow copying; save the file instead.');
    }
  };
  const save = () => {
    handOver(plan.design.name, '-offsets.csv', text(comma ? ';' : ','));
    setSaid('Saved.');
  };
  return (
    <fieldset>
      <legend>Offsets of this board</legend>
      <FigureField
        label="Spacing of stations" unit={unitSign(unit)} shown={lengthText(spacing, unit, 0)} allowed={SPACING}
        read={(typed) => readLength(typed, unit)}
        put={(value) => {
          const wrong = outside('spacing', value, SPACING);
          if (wrong.length === 0 && value !== undefined) setSpacing(value);
          return wrong;
        }}
      />
      <div className="reading">
        <label>Measured from
          <select value={from} onChange={(event) => setFrom(event.target.value === 'nose' ? 'nose' : 'tail')}>
            <option value="tail">tail</option>
            <option value="nose">nose</option>
          </select>
        </label>
        <label>Decimals
          <select value={comma ? 'comma' : 'point'} onChange={(event) => setComma(event.target.value === 'comma')}>
            <option value="point">1.5, comma between cells</option>
            <option value="comma">1,5, semicolon between cells</option>
          </select>
        </label>
      </div>
      <p className="buttons">
        <button type="button" className="ruled" onClick={save}>Save CSV</button>
        <button type="button" className="ruled" onClick={() => void copy()}>Copy</button>
        <button type="button" className="ruled" onClick={() => changeOffsets({ text: text('\t'), source: null, options: {} })}>Put into the table above</button>
      </p>
      <p className="hint" role="status">{said || 'Closer stations are added at the ends, where an outline turns fastest.'}</p>
    </fieldset>
  );
}

export function OffsetsTool() {
  const unit = useUnits((state) => state.unit);
  const { text, source, tolerance, ends } = useOffsets();
  const { read, result } = useOffsetsRead();
  const plan = usePlan();
  useEffect(() => {
    // A table kept over a reload was not read yet.
    if (read === null && result === null) void fitAgain();
    return stopOffsets;
    // Only as the tool is opened: later the table is read as it changes.
    // oxlint-disable-next-line react/exhaustive-deps
  }, []);
  const endField = (end: 'tail' | 'nose') => {
    const key = end === 'tail' ? 'tailAngleDeg' : 'noseAngleDeg';
    return (
      <FigureField
        label={`Angle at the ${end}, if known`} unit="°" placeholder="fitted" shown={ends[key] === undefined ? '' : String(ends[key])} allowed={said('{angle}, or empty to fit it', { angle: ANGLE })}
        read={(typed) => (typed.trim() === '' ? undefined : readNumber(typed))}
        put={(deg) => {
          const wrong = deg === undefined ? [] : outside('angle', deg, ANGLE);
          if (wrong.length > 0) return wrong;
          const { [key]: _, ...rest } = ends;
          changeOffsets({ ends: deg === undefined ? rest : { ...rest, [key]: deg } });
          return [];
        }}
      />
    );
  };
  return (
    <>
      <p className="hint">Station, half-breadth, rocker, thickness: type, paste from a spreadsheet, or read a CSV file. Fractions and feet are understood.</p>
      <textarea
        className="offsets-text" aria-label="Table of offsets" spellCheck={false} wrap="off" rows={9} value={text}
        placeholder={'station\thalf-breadth\trocker\tthickness\n0\t0\t40\t22\n100\t121\t28\t33\n…'}
        onPaste={() => useOffsets.setState(({ options }) => ({ options: ofAnother(options) }))}
        onChange={(event) => changeOffsets({ text: event.target.value, source: null })}
      />
      <p className="buttons">
        <FilePick className="ruled" label="CSV file" accept=".csv,.tsv,.txt,text/csv,text/plain" name="offsets-file" onFile={(file) => void loadOffsets(file)} />
        <button type="button" className="ruled" disabled={text === ''} onClick={() => changeOffsets({ text: '', source: null, options: {} })}>Clear</button>
        {source && <span className="hint file-name">{shorten(source, 48)}</span>}
      </p>
      <Working job="offsets" tell={({ progress }) => ({ text: progress ? 'Fitting lines to the table' : 'Reading the table' })} again={() => void fitAgain()} />
      <FigureField
        label="Tolerance" unit={unitSign(unit)} shown={lengthText(tolerance, unit === 'in16' ? 'in' : unit, 2)} allowed={TOLERANCE}
        read={(typed) => readLength(typed, unit)}
        put={(value) => {
          const wrong = outside('tolerance', value, TOLERANCE);
          if (wrong.length === 0 && value !== undefined) changeOffsets({ tolerance: value });
          return wrong;
        }}
      />
      {endField('tail')}
      {endField('nose')}
      <Wrong />
      {read?.notes.map((note) => <p key={note} className="hint">{note}</p>)}
      <Fit />
      <Reading />
      {plan && <Out plan={plan} />}
    </>
  );
}
