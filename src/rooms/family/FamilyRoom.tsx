/** A family from one board: a strip of variants side by side, the construction at its real sizes, any of them to begin a new board from. */
import { type ReactNode, useEffect } from 'react';
import type { FieldError } from '../../../geometry/errors';
import { range, size as given } from '../../../geometry/said';
import { type FamilyRow, sizeFaults, sizeRange } from '../../../geometry/search/family';
import type { Variant } from '../../../geometry/search/member';
import { FigureField } from '../../ui/fields';
import { useDesign } from '../../state/design';
import type { Member } from '../../state/jobKinds';
import { useJob } from '../../state/jobs';
import { useUnits } from '../../state/unit';
import { angleText, fieldLength, fixed, lengthText, readLength, type Unit, unitSign } from '../../say/units';
import { capital, outerStops, SEVERITY_WORDS } from '../../say/words';
import { useView } from '../../state/view';
import { Working } from '../../ui/Working';
import { PlanPortrait, type Span, StationPortrait } from './Portraits';
import { boardsOf, familyName, type Follow, layOut, resize, type Size, SIZE_NAMES, type SizeName, STEPS, beginVariant, proposeVariant, useFamily, workOut } from './family';
import { Fault, Said } from '../../ui/Said';
import { Worded } from '../../ui/Term';
import './family.css';

const NAMES: Readonly<Record<SizeName, string>> = { length: 'Length', width: 'Width', thickness: 'Thickness' };
const FOLLOWS: readonly { readonly id: Follow; readonly label: string }[] = [
  { id: 'alone', label: 'nothing else' },
  { id: 'width', label: 'width in proportion' },
  { id: 'both', label: 'all sizes in proportion' },
];
const COUNTS = [3, 5, 7];
/** How much boards side by side may differ, mm. */
const STEP = range(0.5, 1000);

function LayOut() {
  const unit = useUnits((state) => state.unit);
  const { vary, step, count, follow, own } = useFamily();
  return (
    <div className="lay-out">
      <label>Vary <select aria-label="Vary" value={vary} onChange={(event) => {
        const name = SIZE_NAMES.find((n) => n === event.target.value) ?? 'length';
        layOut({ vary: name, step: STEPS[name] });
      }}>{SIZE_NAMES.map((name) => <option key={name} value={name}>{NAMES[name].toLowerCase()}</option>)}</select></label>
      <span className="lay-step">
        <FigureField
          key={`${vary} ${unit}`} label="by" shown={fieldLength(step, unit, 1)} unit={unitSign(unit)} allowed={STEP}
          read={(text) => readLength(text, unit)}
          put={(value): readonly FieldError[] => {
            if (value === undefined || value < STEP.value[0] || value > STEP.value[1]) return [{ field: 'by', value: value === undefined ? 'nothing' : given(value), allowed: STEP, message: 'is out of range' }];
            layOut({ step: value });
            return [];
          }}
        />
      </span>
      <label>boards <select aria-label="boards" value={count} onChange={(event) => layOut({ count: Number(event.target.value) })}>{COUNTS.map((n) => <option key={n}>{n}</option>)}</select></label>
      <label>also change <select aria-label="also change" value={follow} onChange={(event) => layOut({ follow: FOLLOWS.find(({ id }) => id === event.target.value)?.id ?? 'alone' })}>
        {FOLLOWS.map(({ id, label }) => <option key={id} value={id}>{label}</option>)}
      </select></label>
      <button type="button" className="ruled" disabled={!own} onClick={() => layOut()}>Lay out again</button>
    </div>
  );
}

/** A row of figures: one cell a board; a dash while it is worked out or where there is none. */
function FigureRow({ label, columns, text, id }: { readonly label: string; readonly id: string; readonly columns: readonly Member[]; readonly text: (row: FamilyRow) => ReactNode }) {
  return (
    <tr data-row={id}>
      <th scope="row"><Worded text={label} /></th>
      {columns.map(({ variant }, i) => <td key={i}>{variant?.ok ? text(variant.row) : '–'}</td>)}
    </tr>
  );
}

function SizeRow({ name, columns, unit }: { readonly name: SizeName; readonly columns: readonly Member[]; readonly unit: Unit }) {
  return (
    <tr className="size-row" data-row={name}>
      <th scope="row">{NAMES[name]}, {unitSign(unit)}</th>
      {columns.map(({ size }, i) => (
        <td key={i}>
          <FigureField
            bare unit={unitSign(unit)} label={`${NAMES[name]} of board ${i + 1}`} shown={fieldLength(size[name], unit, 1)} allowed={sizeRange(name)} read={(text) => readLength(text, unit)}
            put={(value): readonly FieldError[] => {
              const faults = sizeFaults(name, value);
              if (value !== undefined && faults.length === 0) resize(i, name, value);
              return faults;
            }}
          />
        </td>
      ))}
    </tr>
  );
}

function FindingsCell({ variant }: { readonly variant: Variant | null }) {
  if (!variant) return <>–</>;
  if (!variant.ok) {
    return <p className="field-error" role="alert">{capital(SEVERITY_WORDS.cannot)}: {variant.errors[0].field} <Fault error={variant.errors[0]} /></p>;
  }
  const { cannot, check, note } = variant.row.findings;
  const { graver } = variant;
  return (
    <>
      <span className={cannot > 0 ? 'cannot' : check > 0 ? 'check' : undefined}>{cannot > 0 && `✕ ${cannot} `}{check > 0 && `! ${check} `}</span>i {note}
      {graver.length > 0 && <ul className="graver">{graver.map((finding) => <li key={finding.id}><Said text={finding.title} /></li>)}</ul>}
    </>
  );
}

const same = (a: Size, b: Size | null) => b !== null && SIZE_NAMES.every((name) => Math.abs(a[name] - b[name]) < 0.01);

function Strip({ columns }: { readonly columns: readonly Member[] }) {
  const unit = useUnits((state) => state.unit);
  const { own, of } = useFamily();
  const goTo = useView((state) => state.goTo);
  const shown = columns.flatMap(({ variant }) => (variant?.ok ? [variant] : []));
  const span: Span = {
    length: Math.max(1, ...columns.map(({ size }) => size.length)), halfBreadth: Math.max(1, ...columns.map(({ size }) => size.width / 2)),
  };
  const most = Math.max(0, ...shown.flatMap(({ row }) => row.rows.map((r) => r.row)));
  const nameOf = ({ size }: Member) => (of && own ? familyName(of.name, own, size) : '');
  return (
    <div className="strip-scroll" data-two-ways>
      <table className="strip">
        <caption className="spoken">Boards of the family side by side</caption>
        <thead>
          <tr>
            <th scope="row"><span className="spoken">Plan, and where it is widest</span></th>
            {columns.map((column, i) => (
              <th key={i} scope="col" className={same(column.size, own) ? 'own' : undefined}>
                <span className="stand">
                  {column.variant?.ok
                    ? <PlanPortrait portrait={column.variant.portrait} span={span} name={nameOf(column)} />
                    : <span className="waiting">{column.variant ? SEVERITY_WORDS.cannot : 'being planned…'}</span>}
                </span>
                {column.variant?.ok && <StationPortrait portrait={column.variant.portrait} span={span} name={nameOf(column)} />}
                <b>{same(column.size, own) ? 'As it is' : `Board ${i + 1}`}</b>
                <button
                  type="button" className="ruled strong take" disabled={!column.variant?.ok} aria-label={`Use this board: ${nameOf(column)}`}
                  onClick={() => void beginVariant(column).then(() => goTo('plan'))}
                >
                  Use this board
                </button>
                {!same(column.size, own) && (
                  <button type="button" className="ruled" disabled={!column.variant?.ok} aria-label={`Change mine to this: ${nameOf(column)}`} onClick={() => proposeVariant(column)}>
                    Change mine to this
                  </button>
                )}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {SIZE_NAMES.map((name) => <SizeRow key={name} name={name} columns={columns} unit={unit} />)}
          <FigureRow id="volume" label="Volume, litres" columns={columns} text={(row) => fixed(row.volume / 1e6, 1)} />
          <FigureRow id="mass" label="Mass of timber, kg" columns={columns} text={(row) => (row.mass === undefined ? '–' : fixed(row.mass, 2))} />
          <FigureRow id="bevel" label="Bevel, least to greatest" columns={columns} text={(row) => `${angleText(row.bevel.min)} to ${angleText(row.bevel.max)}`} />
          <FigureRow id="cover" label={`Least cover, ${unitSign(unit)}`} columns={columns} text={(row) => lengthText(row.cover, unit)} />
          {Array.from({ length: most }, (_, k) => (
            <FigureRow
              key={k} id={`row ${k + 1}`} label={`Row ${k + 1} stops from tail, from nose`} columns={columns}
              text={({ rows }) => (outerStops(rows, k + 1, unit) ?? ['none', 'none']).join(', ')}
            />
          ))}
          <FigureRow id="ribs" label="Ribs" columns={columns} text={(row) => row.ribs} />
          <tr data-row="findings">
            <th scope="row">Findings</th>
            {columns.map(({ variant }, i) => <td key={i}><FindingsCell variant={variant} /></td>)}
          </tr>
        </tbody>
      </table>
    </div>
  );
}

export function FamilyRoom() {
  const design = useDesign((state) => state.design);
  const { of, failure } = useFamily();
  const columns = boardsOf(useJob('family'));
  useEffect(() => {
    if (useFamily.getState().of !== design) layOut();
  }, [design]);
  const done = columns.filter(({ variant }) => variant !== null).length;
  return (
    <section className="family" aria-label="Scale it">
      <header>
        <button type="button" className="ruled close" onClick={() => useView.getState().open(null)}>Back to Shape</button>
        <h2>Scale {of?.name ?? design.name}</h2>
        <p className="hint">Lines are scaled; strips, skins, ribs and stock keep their real sizes, ribs are re-spaced. All drawn to one scale.</p>
        <LayOut />
        <Working job="family" tell={() => ({ text: `${done} of ${columns.length} boards planned and weighed`, share: done / columns.length })} again={workOut} />
        {failure && <p role="alert" className="field-error"><Said text={failure} /></p>}
      </header>
      <Strip columns={columns} />
    </section>
  );
}
