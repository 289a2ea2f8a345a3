/** What the sizes tried since the drawer opened do to the rail: its figures now and then, the earlier rail dashed on the ribbon; to be kept or taken back. */
import { useEffect, useState } from 'react';
import type { Design } from '../../../geometry/design/schema';
import { rowEnds } from '../../../geometry/search/family';
import type { Plan } from '../../../geometry/types';
import { angleText, fixed, lengthText, type Unit, unitSign } from '../../say/units';
import { outerStops } from '../../say/words';
import { shownDesign, useDesign } from '../../state/design';
import { useBoardBefore } from '../../state/boardBefore';
import { useJobs } from '../../state/jobs';
import { useUnits } from '../../state/unit';
import { Worded } from '../../ui/Term';
import { usePartsOf } from '../../work/parts';
import './sizes.css';

interface Basis {
  readonly design: Design;
  readonly plan: Plan;
  /** Of its timber, kg; undefined until the parts are made. */
  readonly mass: number | undefined;
}

type Line = readonly [name: string, text: (plan: Plan) => string];

const kilograms = (mass: number | undefined): string => (mass === undefined ? '…' : fixed(mass, 2));

function linesOf(plans: readonly Plan[], unit: Unit): readonly Line[] {
  const rows = Math.max(0, ...plans.flatMap(({ rail }) => rail.rows.map(({ row }) => row)));
  return [
    ...Array.from({ length: rows }, (_, i): Line => [i === 0 ? 'Row 1 stops, tail / nose' : `Row ${i + 1}`, (plan) => outerStops(rowEnds(plan), i + 1, unit)?.join(' / ') ?? 'none']),
    ['Greatest bevel', ({ rail }) => angleText(rail.range.bevel.max)],
    ['Greatest planing', ({ rail }) => lengthText(rail.range.planing.max, unit)],
    ['Least cover', ({ rail }) => lengthText(rail.range.cover.min, unit)],
  ];
}

export function WhatThisDoes() {
  const unit = useUnits((state) => state.unit);
  const shown = useDesign(shownDesign);
  const { commit, keepDraft } = useDesign.getState();
  const of = useJobs((jobs) => jobs.plan.of?.design ?? null);
  const plan = useJobs((jobs) => jobs.plan.result?.plan ?? null);
  const [basis, setBasis] = useState<Basis | null>(null);
  // The board as it was when the drawer opened, once its plan is there; another board is another basis.
  const mass = usePartsOf(plan)?.totals?.mass;
  const fresh = basis === null || basis.design.name !== shown.name;
  if (fresh && plan && of === shown) setBasis({ design: shown, plan, mass });
  else if (basis && basis.plan === plan && basis.mass === undefined && mass !== undefined) setBasis({ ...basis, mass });
  const earlier = fresh || basis.design === shown ? null : basis.plan;
  useEffect(() => {
    useBoardBefore.setState({ plan: earlier });
    return () => useBoardBefore.setState({ plan: null });
  }, [earlier]);
  if (fresh || !plan || basis.design === shown) return null;
  return (
    <section className="does" aria-label="What this does">
      <h3>What this does</h3>
      <table>
        <thead><tr><th scope="col">{unitSign(unit)}</th><th scope="col">now</th><th scope="col">then</th></tr></thead>
        <tbody>
          {linesOf([basis.plan, plan], unit).map(([name, text]) => {
            const [now, then] = [text(basis.plan), text(plan)];
            return <tr key={name} data-figure={name}><th scope="row"><Worded text={name} /></th><td>{now}</td><td data-moved={now !== then || undefined}>{then}</td></tr>;
          })}
          <tr data-figure="Timber, kg"><th scope="row">Timber, kg</th><td>{kilograms(basis.mass)}</td><td data-moved={(mass !== undefined && kilograms(basis.mass) !== kilograms(mass)) || undefined}>{kilograms(mass)}</td></tr>
        </tbody>
      </table>
      <p className="does-acts">
        <button type="button" className="keep" onClick={() => {
          keepDraft();
          setBasis({ design: shown, plan, mass });
        }}>Keep</button>
        <button type="button" className="ruled" onClick={() => commit(basis.design)}>Back to before</button>
      </p>
    </section>
  );
}
