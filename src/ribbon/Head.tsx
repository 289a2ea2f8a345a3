/** The ribbon's head: what its colours and hatches mean, and the switch of the bands. */
import type { ReactNode } from 'react';
import { type Method, METHODS } from '../../geometry/design/methods';
import type { Plan } from '../../geometry/types';
import { METHOD_WORDS } from '../say/bands';
import { BEND_WORDS } from '../say/words';
import { useView } from '../state/view';
import { Term } from '../ui/Term';
import { askBands, useBands, useShownBands } from '../work/bands';
import { usePartsOf } from '../work/parts';
import { useShownBuilt } from '../work/readings';
import { hatchFill } from './Hatches';
import css from './Head.module.css';

/** What a method is called in the key: a stretch that no method bears is told as what it is. */
const named = (method: Method): string => (method === 'block' ? 'too tight to bend' : BEND_WORDS[method]);

function Sign({ of, children }: { readonly of: string; readonly children: ReactNode }) {
  return <span><i data-sign={of} /><span>{children}</span></span>;
}

function Hatched({ id, of, children }: { readonly id: string; readonly of: Method | 'end'; readonly children: ReactNode }) {
  return (
    <span data-key={of}>
      <svg width="18" height="11" aria-hidden="true">
        <rect className={css.timber} width="18" height="11" />
        <rect className={css.hatch} x="0.5" y="0.5" width="17" height="10" fill={hatchFill(id, of)} />
      </svg>
      {children}
    </span>
  );
}

/** What is drawn of this very plan, beside what each plan has. */
function SettledKey({ plan, id }: { readonly plan: Plan; readonly id: string }) {
  const parts = usePartsOf(plan);
  const bands = useShownBands(plan);
  const built = useShownBuilt(plan);
  const methods = new Set(parts?.bending.flatMap(({ zones }) => zones.map(({ method }) => method)));
  const jointed = (parts?.joints?.joints.length ?? 0) > 0;
  return (
    <>
      {METHODS.filter((method) => method !== 'cold' && methods.has(method)).map((method) => <Hatched key={method} id={id} of={method}>{named(method)}</Hatched>)}
      {jointed && <Sign of="joint">joint</Sign>}
      {jointed && <Sign of="port">port only</Sign>}
      {bands && <Sign of="bands"><Term id="band">band</Term>: 95 of 100 boards, {METHOD_WORDS[bands.method]}</Sign>}
      {built && <Sign of="drawn">as drawn, under the rail as built</Sign>}
    </>
  );
}

function Bands() {
  const shown = useBands((state) => state.shown);
  const room = useView((state) => state.room);
  const drawer = useView((state) => state.drawer);
  const open = useView((state) => state.open);
  return (
    <div className={css.bands}>
      <button type="button" role="switch" aria-checked={shown} title="How far stops and figures may vary, since wood, glue and saw are never exact" onClick={() => askBands({ shown: !shown })}>
        Bands<span className={css.what}>: how far stops may vary</span><i className={css.knob} />
      </button>
      {room === 'plan' && (
        <button type="button" className={css.spreads} aria-expanded={drawer === 'spreads'} title="What the bands come from" onClick={() => open(drawer === 'spreads' ? null : 'spreads')}>Spreads</button>
      )}
    </div>
  );
}

/** `settled`: puts what is made of a settled plan where it vanishes while another is drawn. @param id of the hatches */
export function Head({ plan, id, settled }: { readonly plan: Plan; readonly id: string; readonly settled: (children: ReactNode) => ReactNode }) {
  const ends = Object.values(plan.rail.ends).length > 0;
  return (
    <header className={css.head}>
      <h2>Ribbon</h2>
      <div className={css.key} role="group" aria-label="Key to the ribbon">
        <Sign of="strip"><Term id="sole">sole</Term>, <Term id="cap">cap</Term></Sign>
        <Sign of="row"><Term id="row">rows</Term></Sign>
        <Sign of="hollow"><Term id="hollow">hollow</Term></Sign>
        {ends && <Hatched id={id} of="end"><Term id="block">block</Term></Hatched>}
        <Sign of="stop"><Term id="stop">stop</Term></Sign>
        {settled(<SettledKey plan={plan} id={id} />)}
      </div>
      <Bands />
    </header>
  );
}
