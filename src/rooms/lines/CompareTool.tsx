/** Compare: shows an earlier board, and how the present one differs, in figures. */
import { size } from '../../../geometry/said';
import { COMPARE_STEP } from '../../../geometry/shape/compare';
import { signed } from '../../say/bands';
import { useDesign } from '../../state/design';
import { useUnits } from '../../state/unit';
import { angleText, fixed, lengthText, lengthWithUnit, type Unit, unitSign } from '../../say/units';
import { nearerEnd } from '../../say/words';
import { Said } from '../../ui/Said';
import { Worded } from '../../ui/Term';
import { type Comparison, useComparison, useCompare, useEarlier } from './compare';
import { kindOf, lineText } from './kinds';
import './tools.css';

function Figures({ comparison: { lines, now, earlier: then }, unit }: { readonly comparison: Comparison; readonly unit: Unit }) {
  const sizes: readonly (readonly [string, number, number, (v: number) => string])[] = [
    ['Length', now.length, then.length, (v) => lengthText(v, unit, 0)],
    ['Width', now.width, then.width, (v) => lengthText(v, unit)],
    ['Thickness', now.thickness, then.thickness, (v) => lengthText(v, unit)],
    ['Volume, litres', now.volume / 1e6, then.volume / 1e6, (v) => fixed(v, 2)],
    ['Bevel, least', now.bevel.min, then.bevel.min, (v) => angleText(v)],
    ['Bevel, greatest', now.bevel.max, then.bevel.max, (v) => angleText(v)],
    ['Least cover', now.cover, then.cover, (v) => lengthText(v, unit)],
  ];
  const stops = (ends: 'fromTail' | 'fromNose') => {
    const row = (figures: typeof now) => figures.rows.filter((r) => r.row === 1).reduce<number | null>((least, r) => (least === null ? r[ends] : Math.min(least, r[ends])), null);
    return { now: row(now), earlier: row(then) };
  };
  const [tail, nose] = [stops('fromTail'), stops('fromNose')];
  return (
    <>
      <table className="figure-table">
        <thead><tr><th scope="col">size</th><th scope="col">earlier</th><th scope="col">now</th><th scope="col">difference</th></tr></thead>
        <tbody>
          {sizes.map(([label, a, b, show]) => <tr key={label} data-compare={label}><th scope="row"><Worded text={label} /></th><td>{show(b)}</td><td>{show(a)}</td><td>{signed(a - b, show)}</td></tr>)}
          {([['Row 1 from tail', tail], ['Row 1 from nose', nose]] as const).map(([label, stop]) => (
            <tr key={label}><th scope="row"><Worded text={label} /></th><td>{stop.earlier === null ? 'none' : lengthText(stop.earlier, unit, 0)}</td><td>{stop.now === null ? 'none' : lengthText(stop.now, unit, 0)}</td>
              <td>{stop.now !== null && stop.earlier !== null && signed(stop.now - stop.earlier, (v) => lengthText(v, unit, 0))}</td></tr>
          ))}
        </tbody>
      </table>
      <table className="figure-table">
        <thead><tr><th scope="col">line</th><th scope="col">greatest, now less earlier</th><th scope="col"><Worded text="at station" /></th></tr></thead>
        <tbody>
          {lines.map(({ line, greatest, x }) => (
            <tr key={line} data-difference={line}><th scope="row"><Worded text={kindOf(line).title} /></th><td>{signed(greatest, (v) => lineText(line, v, unit, 2))}</td><td>{nearerEnd({ hull: now }, x, unit)}</td></tr>
          ))}
        </tbody>
      </table>
      <p className="hint">Lines are compared at equal distance from the tail, every <Said text={size(COMPARE_STEP)} />. Lengths in {unitSign(unit)}.</p>
    </>
  );
}

export function CompareTool() {
  const unit = useUnits((state) => state.unit);
  const { shown, kept, show, keep } = useCompare();
  const earlier = useEarlier();
  const comparison = useComparison();
  const length = earlier?.lines.outline.points.at(-1)?.x;
  return (
    <>
      <label className="switch"><input type="checkbox" checked={shown} onChange={(event) => show(event.target.checked)} />Show the earlier board</label>
      <p className="buttons">
        <button type="button" className="ruled" aria-pressed={shown && kept === null} onClick={() => keep(null)}>As last opened or saved</button>
        <button type="button" className="ruled" aria-pressed={shown && kept !== null} onClick={() => keep(useDesign.getState().design)}>As it is now</button>
      </p>
      {earlier && length !== undefined && <p className="hint">Earlier board: {earlier.name}, {lengthWithUnit(length, unit, 0)}{kept ? ', as you kept it' : ', as last opened or saved'}.</p>}
      {comparison && <Figures comparison={comparison} unit={unit} />}
      {shown && !comparison && <p className="hint">One of the two boards cannot be planned, so only the lines are drawn.</p>}
    </>
  );
}
