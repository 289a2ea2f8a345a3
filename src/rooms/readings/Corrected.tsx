/** What the readings changed: stops, rows, and gap, bevel, planing and cover at the ribs; the design beside it. */
import type { AsBuilt } from '../../../geometry/trust/types';
import type { Plan, RailSection } from '../../../geometry/types';
import { angleText, lengthText, type Unit, unitSign } from '../../say/units';
import { useView } from '../../state/view';
import { signed } from '../../say/bands';
import { Worded } from '../../ui/Term';

type Shown = keyof Pick<RailSection, 'gap' | 'bevel' | 'planing' | 'cover'>;
const FIGURES: readonly { readonly what: Shown; readonly label: string; readonly least: number }[] = [
  { what: 'gap', label: 'gap', least: 0.05 },
  { what: 'bevel', label: 'bevel', least: 0.0008 },
  { what: 'planing', label: 'planing depth', least: 0.05 },
  { what: 'cover', label: 'cover', least: 0.05 },
];

interface CorrectedProps {
  readonly plan: Plan;
  readonly built: AsBuilt;
  readonly unit: Unit;
}

function Stops({ built, unit }: CorrectedProps) {
  const moveTo = useView((state) => state.moveTo);
  const mm = (v: number) => lengthText(v, unit, 1);
  const rows = built.plan.rail.rows;
  const changes = built.changes.filter(({ what }) => what === 'stop' || what === 'rows');
  if (changes.length === 0) return <p className="hint">Every stop stays where it was drawn.</p>;
  return (
    <table className="trial-table">
      <caption><Worded text={`Stops, along the rail from the tail, ${unitSign(unit)}; ${rows.length === 0 ? 'no rows' : `rows: ${rows.length}`}`} /></caption>
      <thead><tr><th scope="col"><Worded text="row, end" /></th><th scope="col">drawn</th><th scope="col">as built</th><th scope="col">change</th></tr></thead>
      <tbody>
        {changes.map((change) => change.what === 'stop' ? (
          <tr key={`${change.row} ${change.end} ${change.s}`} data-corrected={`${change.row} ${change.end}`}>
            <th scope="row"><button type="button" className="go" onClick={() => moveTo(change.s)}>{change.row}, {change.end}</button></th>
            <td>{mm(change.was ?? Number.NaN)}</td>
            <td className="moved">{mm(change.is ?? Number.NaN)}</td>
            <td>{signed((change.is ?? 0) - (change.was ?? 0), mm)}</td>
          </tr>
        ) : (
          <tr key={`${change.row} ${change.s}`}>
            <th scope="row"><button type="button" className="go" onClick={() => moveTo(change.s)}>row {change.row}</button></th>
            <td colSpan={3} className="moved">{change.is === undefined ? `no longer fits: ${mm(change.was ?? 0)} long as drawn` : `fits now: ${mm(change.is)} long`}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Ribs({ plan, built, unit }: CorrectedProps) {
  const moveTo = useView((state) => state.moveTo);
  const text = (what: Shown, value: number) => (what === 'bevel' ? angleText(value) : lengthText(value, unit));
  const pairs = plan.rail.ribs.flatMap((rib) => {
    const is = built.plan.rail.ribs.find(({ index }) => index === rib.index);
    return is ? [{ rib, was: rib.section, is: is.section, rows: [rib.rows, is.rows] as const }] : [];
  });
  return (
    <table className="trial-table">
      <caption><Worded text={`At the ribs: as built over drawn, ${unitSign(unit)}`} /></caption>
      <thead><tr><th scope="col"><Worded text="rib" /></th>{FIGURES.map(({ what, label }) => <th key={what} scope="col"><Worded text={label} /></th>)}<th scope="col"><Worded text="rows" /></th></tr></thead>
      <tbody>
        {pairs.map(({ rib, was, is, rows }) => (
          <tr key={rib.index} data-rib={rib.index + 1}>
            <th scope="row"><button type="button" className="go" onClick={() => moveTo(rib.s)}>{rib.index + 1}</button></th>
            {FIGURES.map(({ what, least }) => {
              const moved = Math.abs(is[what] - was[what]) >= least;
              return <td key={what} className={moved ? 'moved' : undefined}>{text(what, is[what])}{moved && <small>{text(what, was[what])}</small>}</td>;
            })}
            <td className={rows[0] === rows[1] ? undefined : 'moved'}>{rows[1]}{rows[0] !== rows[1] && <small>{rows[0]}</small>}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

export function Corrected(props: CorrectedProps) {
  return (
    <>
      <Stops {...props} />
      <Ribs {...props} />
    </>
  );
}
