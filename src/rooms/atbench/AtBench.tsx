/** At the bench, in one hand: one rib, stop or step on one screen, what is next under the thumb, and a keypad for what is measured. */
import { useEffect, useEffectEvent, useState } from 'react';
import { heldRun, nearestMark, stopsAt } from '../../../geometry/rail/query';
import { stopsOf } from '../../../geometry/rail/laid';
import type { Plan, RibAtRail, Stop } from '../../../geometry/types';
import { capital, rowsText } from '../../say/words';
import { BENCH_MODES, useAtBench } from '../../state/atBench';
import { useBuild, useStepAsked } from '../../state/build';
import { useDesign } from '../../state/design';
import { inHand } from '../../state/hand';
import { nextRib, nextStop } from '../../state/station';
import { useView } from '../../state/view';
import { useFocusHere } from '../../ui/Drawer';
import { SidePick } from '../../ui/SidePick';
import { usePartsOf } from '../../work/parts';
import { useShownBuilt } from '../../work/readings';
import { Keypad } from './Keypad';
import { Measured } from './Measured';
import { RibFace } from './RibFace';
import { StepFace } from './StepFace';
import { StopFace } from './StopFace';
import { useSwipe } from './useSwipe';
import { useAwake, useWake } from './wake';
import './atbench.css';
import './face.css';

/** What the foot of the screen leads to. */
interface Neighbour {
  readonly label: string;
  readonly go: () => void;
}

/** Where a mode leads: to the place it stands at, and to those before and after. */
interface Round {
  readonly here: Neighbour | undefined;
  readonly before: Neighbour | undefined;
  readonly after: Neighbour | undefined;
}

function useRound(plan: Plan): Round {
  const mode = useAtBench((state) => state.mode);
  const s = heldRun(plan, useView((state) => state.s));
  const lead = useShownBuilt(plan)?.plan ?? plan;
  const steps = usePartsOf(plan)?.steps ?? [];
  const asked = useStepAsked();
  const { moveTo } = useView.getState();
  if (mode === 'steps') {
    const at = Math.min(asked, steps.length) - 1;
    const step = (i: number): Neighbour | undefined => steps[i] && { label: steps[i].title, go: () => useBuild.getState().goTo(steps[i].index) };
    return { here: step(at), before: step(at - 1), after: step(at + 1) };
  }
  if (mode === 'ribs') {
    const rib = (to: RibAtRail | undefined): Neighbour | undefined => to && { label: `Rib ${to.index + 1}`, go: () => moveTo(to.s) };
    const at = nearestMark(plan.rail.ribs, s);
    return { here: rib(at), before: rib(at && nextRib(plan, at.s, -1)), after: rib(at && nextRib(plan, at.s, 1)) };
  }
  const stop = (to: Stop | undefined): Neighbour | undefined => to && { label: capital(rowsText(stopsAt(lead, to.s).map(({ row }) => row))), go: () => moveTo(to.s) };
  const at = nearestMark(stopsOf(lead.rail), s);
  return { here: stop(at), before: stop(at && nextStop(lead, at.s, -1)), after: stop(at && nextStop(lead, at.s, 1)) };
}

interface AtBenchProps {
  readonly plan: Plan;
  /** The page is kept and opens without a network. */
  readonly offline: boolean;
}

function Bar({ plan, offline }: AtBenchProps) {
  const open = useView((state) => state.open);
  const wake = useWake((state) => state.state);
  const awake = useAtBench((state) => state.awake);
  const sleeps = !awake || wake === 'refused' || wake === 'none';
  return (
    <header className="bench-bar">
      <button type="button" className="bench-menu" aria-haspopup="dialog" onClick={() => open('menu')}>
        <span className="spoken">Menu, </span><em>Railwright</em> <span>{plan.design.name}</span> <i className="chevron" aria-hidden="true" />
      </button>
      {!inHand() && <button type="button" onClick={() => open(null)}>Close</button>}
      <p role="status">{sleeps ? 'screen will sleep' : offline ? <><b aria-hidden="true">✓</b> works offline</> : 'awake'}</p>
    </header>
  );
}

export function AtBench({ plan, offline }: AtBenchProps) {
  useAwake();
  const face = useFocusHere<HTMLElement>();
  const mode = useAtBench((state) => state.mode);
  const board = useDesign(({ design }) => design.name);
  const s = heldRun(plan, useView((state) => state.s));
  const { here, before, after } = useRound(plan);
  const [measuring, setMeasuring] = useState(false);
  const swipe = useSwipe((way) => (way > 0 ? after : before)?.go());
  // A mode stands at its own place nearest to the cursor; after that the hand leads.
  const stand = useEffectEvent(() => {
    if (mode !== 'steps') here?.go();
  });
  useEffect(() => stand(), [mode]);
  useEffect(() => {
    useAtBench.setState({ board, s });
  }, [board, s]);
  if (measuring) return <Keypad plan={plan} onLeave={() => setMeasuring(false)} />;
  return (
    <section className="atbench" data-area="atbench" aria-label="At the bench" tabIndex={-1} ref={face}>
      <Bar plan={plan} offline={offline} />
      <SidePick className="bench-sides" />
      <div className="bench-face" {...swipe}>
        {mode === 'ribs' && <RibFace plan={plan} />}
        {mode === 'stops' && <StopFace plan={plan} />}
        {mode === 'steps' && <StepFace plan={plan} />}
      </div>
      <Measured onMeasure={() => setMeasuring(true)} />
      <div className="bench-modes" role="group" aria-label="Go through">
        {BENCH_MODES.map(({ id, label }) => <button key={id} type="button" aria-pressed={mode === id} onClick={() => useAtBench.setState({ mode: id })}>{label}</button>)}
      </div>
      <nav className="bench-thumb" aria-label="Before and next">
        <button type="button" disabled={!before} onClick={before?.go}><b aria-hidden="true">‹</b> <span>{before?.label ?? 'first'}</span></button>
        <button type="button" disabled={!after} onClick={after?.go}><span>{after?.label ?? 'last'}</span> <b aria-hidden="true">›</b></button>
      </nav>
    </section>
  );
}
