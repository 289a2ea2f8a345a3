/** Tolerance: the spread of each size, what it does to stops and figures, and what to hold tight. */
import { useState } from 'react';
import { allowedAt, type FieldError } from '../../../geometry/design/fields';
import { checkDesign } from '../../../geometry/design/read';
import { isFixed } from '../../../geometry/rail/laid';
import type { Design } from '../../../geometry/design/schema';
import type { Matter, ToleranceBands, ToleranceMethod } from '../../../geometry/trust/types';
import type { Plan } from '../../../geometry/types';
import { FigureField } from '../../ui/fields';
import { shownDesign, useDesign } from '../../state/design';
import { capital, nearerEnd } from '../../say/words';
import { useJobs, useMade } from '../../state/jobs';
import { useUnits } from '../../state/unit';
import { fixed, lengthText, lengthWithUnit, readLength, type Unit, unitSign } from '../../say/units';
import { useView } from '../../state/view';
import { Working } from '../../ui/Working';
import { askBands, useBands } from '../../work/bands';
import { figureText, METHOD_WORDS, measureText, quantityText, spreadText } from '../../say/bands';
import { Worded } from '../../ui/Term';
import { Drawer } from '../../ui/Drawer';
import './tolerance.css';

type SpreadField = keyof Design['spread'];

const SPREADS: readonly { readonly field: SpreadField; readonly label: string }[] = [
  { field: 'strip', label: 'Strips and spacers' },
  { field: 'skin', label: 'Skins' },
  { field: 'glueLine', label: 'Glue line' },
  { field: 'kerf', label: 'Laser kerf' },
  { field: 'ribHeight', label: 'Rib height' },
];

const METHODS: readonly ToleranceMethod[] = ['estimate', 'trials'];

const RUNS = { min: 100, max: 20_000 };
const SEEDS = { min: 1, max: 2_147_483_647 };
/** Lines of what matters shown before all of them are asked for. */
const FIRST_MATTERS = 10;

/** What the bands assume: the kernel's models in words. */
const ASSUMPTIONS: readonly string[] = [
  'About 95 of 100 pieces lie within the plus and minus of a spread (two standard deviations of a normal distribution).',
  'Strips of one kind come off one setting of the planer, so they are off together; so are skins of one kind, glue lines and the laser kerf. Ribs are off one by one.',
  'The finished outside stays, since it is shaped last: a thicker skin leaves less depth inside.',
  'A rib end that is high lifts the deck there and tilts it about the stringer; between ribs both change evenly.',
  'Half a wider kerf comes off every edge: ribs and stringer come out lower, their ends further in.',
  'Cover is that of the rows cut to their planned stops.',
];

function Spreads() {
  const unit = useUnits((state) => state.unit);
  const { spread } = useDesign(shownDesign);
  const put = (field: SpreadField) => (value: number | undefined): readonly FieldError[] => {
    const { design, commit } = useDesign.getState();
    const read = checkDesign({ ...design, spread: { ...design.spread, [field]: value } });
    if (read.ok) commit(read.design);
    return read.ok ? [] : read.errors;
  };
  return (
    <fieldset>
      <legend>Spread of each size, plus and minus</legend>
      {SPREADS.map(({ field, label }) => (
        <FigureField
          key={field} label={label} shown={lengthText(spread[field], unit, 2)} unit={unitSign(unit)} allowed={allowedAt(['spread', field])}
          read={(text) => readLength(text, unit)} put={put(field)}
        />
      ))}
    </fieldset>
  );
}

function CountField({ label, value, range, onPut }: { readonly label: string; readonly value: number; readonly range: { min: number; max: number }; readonly onPut: (value: number) => void }) {
  const allowed = `a whole number, ${range.min} to ${range.max}`;
  return (
    <FigureField
      label={label} shown={String(value)} allowed={allowed} read={(text) => (/^\s*\d+\s*$/.test(text) ? Number(text) : null)}
      put={(next) => {
        if (next === undefined || next < range.min || next > range.max) return [{ field: label, value: String(next), allowed, message: 'is out of range' }];
        onPut(next);
        return [];
      }}
    />
  );
}

function Method() {
  const { method, runs, seed } = useBands();
  const bands = useJobs((jobs) => jobs.bands.result);
  const shown = bands
    ? bands.method === 'estimate'
      ? 'Shown: quick estimate. What each size moves in each figure, squared and added; right where a figure changes evenly within its band.'
      : `Shown: random trials. ${bands.runs} boards with random sizes (seed ${bands.seed}), each planned; right also where figures do not change evenly, and where rows come and go.`
    : 'Nothing is shown yet.';
  return (
    <fieldset className="choice">
      <legend>How the bands are found</legend>
      <div className="segments">
        {METHODS.map((id) => <button key={id} type="button" aria-pressed={method === id} onClick={() => askBands({ method: id })}>{capital(METHOD_WORDS[id])}</button>)}
      </div>
      {method === 'trials' && (
        <>
          <CountField label="Boards tried" value={runs} range={RUNS} onPut={(next) => askBands({ runs: next })} />
          <CountField label="Seed" value={seed} range={SEEDS} onPut={(next) => askBands({ seed: next })} />
        </>
      )}
      <Working
        job="bands"
        tell={({ progress }) => (method === 'trials' ? { text: `${Math.round((progress ?? 0) * runs)} of ${runs} boards drawn`, share: progress ?? 0 } : { text: 'Working out slopes' })}
      />
      <p className="shown-method" data-method={bands?.method}>{shown}</p>
    </fieldset>
  );
}

function Stops({ plan, bands, unit }: { readonly plan: Plan; readonly bands: ToleranceBands; readonly unit: Unit }) {
  const moveTo = useView((state) => state.moveTo);
  const mm = (v: number) => lengthText(v, unit, 1);
  const bent = bands.method === 'estimate' && bands.stops.some((stop) => stop.curved);
  return (
    <fieldset>
      <legend><Worded text={`Stops, along the rail from the tail, ${unitSign(unit)}`} /></legend>
      {bands.stops.length === 0 && <p className="hint">No spacer row fits this board.</p>}
      {bands.stops.length > 0 && (
        <table className="trial-table">
          <thead><tr><th scope="col"><Worded text="row, end" /></th><th scope="col"><Worded text="stop" /></th><th scope="col">band</th><th scope="col">from, to</th></tr></thead>
          <tbody>
            {bands.stops.map((stop) => (
              <tr key={`${stop.stretch} ${stop.end}`} data-stop={`${stop.row} ${stop.end}`}>
                <th scope="row">
                  <button type="button" className="go" title={nearerEnd(plan, stop.x, unit)} onClick={() => moveTo(stop.s.value)}>{stop.row}, {stop.end}{stop.curved && bands.method === 'estimate' ? ' *' : ''}</button>
                </th>
                <td>{mm(stop.s.value)}</td>
                <td>{isFixed(stop) ? 'fixed' : spreadText(stop.s, mm)}</td>
                <td>{mm(stop.s.low)}, {mm(stop.s.high)}{stop.present < 0.995 && <small> in {fixed(stop.present * 100, 0)} % of boards</small>}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {bent && <p className="hint">* Not linear here: use random trials.</p>}
    </fieldset>
  );
}

function Matters({ plan, bands, unit }: { readonly plan: Plan; readonly bands: ToleranceBands; readonly unit: Unit }) {
  const [all, setAll] = useState(false);
  const { moveTo, ask } = useView();
  const list = all ? bands.whatMatters : bands.whatMatters.slice(0, FIRST_MATTERS);
  const most = bands.whatMatters[0]?.weight ?? 1;
  const go = (matter: Matter) => {
    const rib = plan.rail.ribs.find(({ index }) => index === (matter.ofRib ?? matter.rib));
    moveTo(rib?.s ?? matter.s);
    ask('station');
  };
  return (
    <fieldset>
      <legend>What matters: hold these tight</legend>
      {list.length === 0 && <p className="hint">With these spreads nothing moves.</p>}
      <ol className="matters">
        {list.map((matter) => (
          <li key={`${measureText(matter)} ${quantityText(matter)} ${matter.s}`}>
            <button type="button" onClick={() => go(matter)}>
              <b>{measureText(matter)}</b>
              <em className="sign">{matter.rib === undefined ? '' : `rib ${(matter.ofRib ?? matter.rib) + 1}`}</em>
              <span>
                moves {quantityText(matter)}{matter.quantity !== 'stop' && matter.rib !== undefined ? ` at rib ${matter.rib + 1}` : ''} by ±{figureText(matter.quantity, unit, matter.quantity === 'stop' ? 1 : 2)(matter.half)}
                {matter.quantity === 'bevel' ? '' : ` ${unitSign(unit)}`}, {fixed(matter.share * 100, 0)} % of its band
              </span>
              <i className="bar" style={{ width: `${Math.max(1, (100 * matter.weight) / most)}%` }} />
            </button>
          </li>
        ))}
      </ol>
      {bands.whatMatters.length > FIRST_MATTERS && (
        <button type="button" className="go" aria-expanded={all} onClick={() => setAll(!all)}>{all ? 'Show the first ten' : `Show all ${bands.whatMatters.length}`}</button>
      )}
      <p className="hint">Sorted by how soon you would notice each: {lengthWithUnit(10, unit, 0)} of a stop, {lengthWithUnit(0.5, unit)} of gap or cover, a degree of bevel. These weights are our own choice.</p>
    </fieldset>
  );
}

export function TolerancePanel({ plan }: { readonly plan: Plan }) {
  const unit = useUnits((state) => state.unit);
  const current = useMade('bands', plan);
  return (
    <Drawer label="Spreads" className="tolerance">
      <p className="hint">Wood, glue and saw are never exact. Each figure is given with the band that holds it in about 95 of 100 boards.</p>
      <Method />
      <Spreads />
      {current && <Stops plan={plan} bands={current} unit={unit} />}
      {current && <Matters plan={plan} bands={current} unit={unit} />}
      <details className="more">
        <summary>What the bands assume</summary>
        <ul>{ASSUMPTIONS.map((line) => <li key={line}>{line}</li>)}</ul>
      </details>
    </Drawer>
  );
}
