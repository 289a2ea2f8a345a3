/** Fairness: combs, marks, figures, and fair this. */
import { useMemo, useState } from 'react';
import type { FieldError } from '../../../geometry/design/fields';
import { said } from '../../../geometry/said';
import { combOf, type FairnessFigures } from '../../../geometry/shape/comb';
import { fairCurve, type FairMeasure, type FairResult } from '../../../geometry/shape/fair';
import { type DesignCurve, isOutline } from '../../../geometry/shape/line';
import { shownDesign, useDesign } from '../../state/design';
import { useUnits } from '../../state/unit';
import { lengthText, type Unit } from '../../say/units';
import { nearerEnd } from '../../say/words';
import { withLine } from './edits';
import { fairLimit } from './fairHere';
import { FigureField } from '../../ui/fields';
import { boardOf, inMm, type LineKind, readValue, lineText, valueWithUnit } from './kinds';
import { useLines } from './lines';
import { propose, useProposal } from '../../state/proposal';
import { Fault } from '../../ui/Said';
import './tools.css';

const MEASURES: readonly { readonly id: FairMeasure; readonly label: string; readonly says: string }[] = [
  { id: 'variation', label: 'Even bend', says: 'the change of curvature along the curve, squared and summed. An even bend is left alone; unevenness is taken out' },
  { id: 'bending', label: 'Least bend', says: 'the bending energy of a thin batten, curvature squared and summed. The curve becomes straighter' },
];

const RAISED: Readonly<Record<string, string>> = { '-': '⁻', 0: '⁰', 1: '¹', 2: '²', 3: '³', 4: '⁴', 5: '⁵', 6: '⁶', 7: '⁷', 8: '⁸', 9: '⁹' };

/** A figure of any size in a few digits. */
function short(v: number): string {
  if (v === 0) return '0';
  if (Math.abs(v) >= 0.001 && Math.abs(v) < 1e5) return String(Number(v.toPrecision(3)));
  const [digits, power] = v.toExponential(2).replace('+', '').split('e');
  return `${digits} × 10${[...power].map((c) => RAISED[c]).join('')}`;
}

interface FiguresProps {
  readonly now: FairnessFigures;
  readonly then?: FairnessFigures;
  readonly board: ReturnType<typeof boardOf>;
  readonly ratio: boolean;
  readonly unit: Unit;
}

function Figures({ now, then, board, ratio, unit }: FiguresProps) {
  const radius = (f: FairnessFigures) => (f.greatest.kappa === 0 ? 'straight' : `${lengthText(1 / Math.abs(f.greatest.kappa), unit, 0)} at ${nearerEnd(board, f.greatest.x, unit)}`);
  const rows: readonly (readonly [string, (f: FairnessFigures) => string])[] = [
    ['Places where it bends the other way', (f) => String(f.inflections)],
    ['Peaks of bend', (f) => String(f.peaks)],
    ...(ratio ? [] : [['Tightest radius', radius] as const]),
    [ratio ? 'Total bend' : 'Total bend, 1/mm', (f) => short(f.bending)],
    [ratio ? 'Unevenness' : 'Unevenness, 1/mm³', (f) => short(f.variation)],
  ];
  return (
    <table className="figure-table">
      {then && <thead><tr><th scope="col">figure</th><th scope="col">before</th><th scope="col">faired</th></tr></thead>}
      <tbody>
        {rows.map(([label, show]) => <tr key={label}><th scope="row">{label}</th>{then && <td>{show(then)}</td>}<td>{show(now)}</td></tr>)}
      </tbody>
    </table>
  );
}

/** The figures of a line as it is shown. */
function Present({ name, ratio, unit }: { readonly name: LineKind['name']; readonly ratio: boolean; readonly unit: Unit }) {
  const curve = useDesign((state) => shownDesign(state).lines[name]);
  const figures = useMemo(() => combOf(curve, { ratio }).figures, [curve, ratio]);
  return <Figures now={figures} board={boardOf(curve.points)} ratio={ratio} unit={unit} />;
}

function Moves({ result, kind, unit }: { readonly result: FairResult<DesignCurve>; readonly kind: LineKind; readonly unit: Unit }) {
  const moved = result.moves.flatMap((by, index) => (Math.abs(by) > 0 ? [{ by, index }] : []));
  const { greatestMove, curveMove } = result;
  return (
    <>
      <p data-fair="moves">
        {moved.length === 0
          ? 'No point needs to move: the curve is as fair as its free points allow.'
          : `${moved.length} points move, point ${greatestMove.index + 1} farthest, by ${valueWithUnit(kind.name, greatestMove.amount, unit, 2)}. The curve itself moves at most ${valueWithUnit(kind.name, curveMove.amount, unit, 2)}, at ${nearerEnd(boardOf(result.curve.points), curveMove.x, unit)}.`}
      </p>
      {moved.length > 0 && (
        <p className="moves">
          {moved.map(({ by, index }) => <span key={index}>{index + 1}: {by > 0 ? '+' : ''}{lineText(kind.name, by, unit, 2)}</span>)}
        </p>
      )}
    </>
  );
}

export function FairTool({ kind }: { readonly kind: LineKind }) {
  const { name } = kind;
  const ratio = !inMm(name);
  const unit = useUnits((state) => state.unit);
  const { comb, combScale, set } = useLines();
  const rest = useDesign((state) => state.design.lines[name]);
  const [measure, setMeasure] = useState<FairMeasure>('variation');
  const [limits, setLimits] = useState<Partial<Record<LineKind['name'], number>>>({});
  const [freeEnds, setFreeEnds] = useState(false);
  const [errors, setErrors] = useState<readonly FieldError[]>([]);
  const [result, setResult] = useState<{ readonly of: LineKind['name']; readonly title: string; readonly result: FairResult<DesignCurve> } | null>(null);
  const proposal = useProposal((state) => state.proposal);
  const limit = limits[name] ?? fairLimit(name);
  const [of, most] = ratio ? ['count' as const, 0.5] : ['mm' as const, 200];
  const allowed = said('more than {none}, at most {most}', { none: 0, most: { of, value: most } });

  const attempt = () => {
    const { design } = useDesign.getState();
    const found = fairCurve(design.lines[name], { limit, measure, freeEnds, ratio });
    const edit = withLine(design, name, found.curve);
    setErrors(edit.ok ? [] : edit.errors);
    if (!edit.ok) return;
    const title = `${kind.title} faired`;
    setResult({ of: name, title, result: found });
    propose(title, edit.design);
  };
  const tried = result?.of === name && proposal?.title === result.title ? result.result : null;
  const ends = rest.points.length - 2;
  return (
    <>
      <div className="buttons">
        <label className="switch"><input type="checkbox" checked={comb} onChange={(event) => set({ comb: event.target.checked })} />Curvature comb</label>
        <label className="comb-scale">Teeth
          <input type="range" min={-2} max={3} step={0.1} value={Math.log2(combScale)} disabled={!comb} aria-valuetext={`${combScale.toFixed(1)} times`} onChange={(event) => set({ combScale: 2 ** Number(event.target.value) })} />
        </label>
      </div>
      <p className="hint">
        {ratio ? 'Teeth show how fast the slope changes.' : 'Teeth are on the outside of the bend, longer where it is tighter.'} ✕: it bends the other way. Dot: a peak of bend. The fewer of each, the fairer.
      </p>
      {tried ? <Figures now={tried.after} then={tried.before} board={boardOf(rest.points)} ratio={ratio} unit={unit} /> : <Present name={name} ratio={ratio} unit={unit} />}
      <fieldset>
        <legend>Fair this: {kind.title.toLowerCase()}</legend>
        <div className="segments" role="group" aria-label="Kind of fairing">
          {MEASURES.map(({ id, label }) => <button key={id} type="button" aria-pressed={measure === id} onClick={() => setMeasure(id)}>{label}</button>)}
        </div>
        <p className="hint">
          Smooths the curve and moves points no farther than the limit.
          {isOutline(rest) ? ' Points move square to the outline; its ends stay.' : ' Points keep their stations.'} Corners stay.
        </p>
        <FigureField
          label="No point moves farther than" unit={ratio ? '' : unit === 'mm' ? 'mm' : 'in'} shown={lineText(name, limit, unit, 2)} allowed={allowed}
          read={(text) => readValue(name, text, unit)}
          put={(value) => {
            if (value === undefined || !(value > 0) || value > most) {
              return [{ field: 'limit', value: value === undefined ? 'nothing' : { of, value }, allowed, message: 'is out of range' }];
            }
            setLimits({ ...limits, [name]: value });
            return [];
          }}
        />
        {!isOutline(rest) && <label className="switch"><input type="checkbox" checked={freeEnds} onChange={(event) => setFreeEnds(event.target.checked)} />Ends may move too</label>}
        <p className="buttons">
          <button type="button" className="ruled strong" disabled={ends < 1 && !freeEnds} onClick={attempt}>Try it</button>
          {ends < 1 && !freeEnds && <span className="hint">There is no point between the ends.</span>}
        </p>
        {errors.length > 0 && <p role="alert" className="field-error">{errors[0].field}: <Fault error={errors[0]} /> Your board is unchanged.</p>}
        {tried && <Moves result={tried} kind={kind} unit={unit} />}
        <details>
          <summary>Details</summary>
          <p className="hint">
            The smallest sum is found of how far the points move, squared, plus a weight times {MEASURES.find(({ id }) => id === measure)?.says}. The weight grows until a point reaches the limit.
            {tried && ` The second sum: ${short(tried.roughness.before)} before, ${short(tried.roughness.after)} after.`}
          </p>
        </details>
      </fieldset>
      {rest.points.length < 3 && <p className="hint">A curve of two points is as fair as it can be; add points to shape it.</p>}
    </>
  );
}
