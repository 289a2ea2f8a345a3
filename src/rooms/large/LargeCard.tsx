/** The station card for the bench: large figures, one hand, from rib to rib by thumb or swipe. */
import type { ReactNode } from 'react';
import type { Plan } from '../../../geometry/types';
import { Distances } from '../../station/Distances';
import { SectionView } from '../../station/SectionView';
import { stepFine, stepRib } from '../../state/station';
import { useUnits } from '../../state/unit';
import { angleText, lengthText, unitSign } from '../../say/units';
import { useView } from '../../state/view';
import { BOX_WORDS, capital, placeName } from '../../say/words';
import { BevelSense, SideSwitch, useLeading } from '../../station/Leading';
import { useSwipe } from './useSwipe';
import { useWake } from './wake';
import './large.css';

const WAKE_WORDS = {
  off: 'Screen sleeps as usual', on: 'Screen stays awake', refused: 'This browser lets the screen sleep', none: 'The screen cannot be kept awake here',
} as const;

function Wake() {
  const { state, toggle } = useWake();
  return (
    <button type="button" className="wake" aria-pressed={state === 'on'} disabled={state === 'none'} onClick={toggle}>
      <b>Keep awake</b>
      <small role="status">{WAKE_WORDS[state]}</small>
    </button>
  );
}

function Big({ name, warn, children }: { readonly name: string; readonly warn?: boolean; readonly children: ReactNode }) {
  return (
    <div className={warn ? 'warn' : undefined}>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  );
}

export function LargeCard({ plan }: { readonly plan: Plan }) {
  const unit = useUnits((state) => state.unit);
  const { setPanel, theme, setTheme } = useView();
  const leading = useLeading(plan);
  const swipe = useSwipe(stepRib);
  if (!leading) return null;
  const { drawing, boxed, tag, told } = leading;
  const { section: c, state, x } = drawing;
  const fromNose = plan.hull.length - x;
  const mm = (value: number, decimals = 1) => lengthText(value, unit, decimals);
  const tail = x <= fromNose;
  return (
    <section className="large" aria-label="Large figures">
      <header>
        <h2>{placeName(plan, c.s)}</h2>
        <button type="button" onClick={() => setTheme(theme === 'paper' ? 'bench' : 'paper')}>{theme === 'paper' ? 'Dark colours' : 'Light colours'}</button>
        <button type="button" onClick={() => setPanel('station')}>Close</button>
      </header>
      <div className="large-body" {...swipe}>
        <SideSwitch plan={plan} />
        <p className="large-place">
          <strong>{mm(tail ? x : fromNose)}</strong> <span>{unitSign(unit)} from {tail ? 'tail' : 'nose'}</span>
        </p>
        <p className="large-state">{capital(BOX_WORDS[state])}{tag} · {mm(tail ? fromNose : x)} from {tail ? 'nose' : 'tail'}</p>
        <dl>
          <Big name="Bevel">{told(({ bevel }) => angleText(bevel), 'bevel')}{boxed && <BevelSense bevel={c.bevel} />}</Big>
          <Big name="Planing depth">{told(({ planing }) => mm(planing))}</Big>
          <Big name="Gap">{told(({ gap }) => mm(gap), 'gap', false)}</Big>
          <Big name="Rows">{told(({ rows }) => `${rows} of ${plan.design.rail.rows}`, undefined, false)}</Big>
          <Big name="Cap left" warn={boxed && c.capLeft < 0}>{told(({ capLeft }) => mm(capLeft))}</Big>
          <Big name="Cover" warn={boxed && c.cover < plan.design.rail.leastCover}>{told(({ cover }) => mm(cover), 'cover')}</Big>
        </dl>
        <SectionView drawing={drawing} design={plan.design} unit={unit} />
        <div className="large-distances"><Distances plan={plan} drawing={drawing} unit={unit} /></div>
      </div>
      <footer>
        <div className="large-fine">
          <button type="button" aria-label="Step toward the tail" onClick={() => stepFine(-1)}>←</button>
          <Wake />
          <button type="button" aria-label="Step toward the nose" onClick={() => stepFine(1)}>→</button>
        </div>
        <button type="button" onClick={() => stepRib(-1)}>⇤ Previous rib</button>
        <button type="button" onClick={() => stepRib(1)}>Next rib ⇥</button>
      </footer>
    </section>
  );
}
