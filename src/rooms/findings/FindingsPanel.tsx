/** What there is to decide, one cause at a time, each with the ways out that were tried; under it what needs nothing. */
import { useEffect, useRef, useState } from 'react';
import { causeOf } from '../../../geometry/rail/decisions';
import type { Plan } from '../../../geometry/types';
import { findingPlace } from '../../say/findings';
import { textOf } from '../../say/said';
import { useDesign, useHistory } from '../../state/design';
import { discardProposal, useProposal, useTaken } from '../../state/proposal';
import { useUnits } from '../../state/unit';
import { useView } from '../../state/view';
import { useStanding } from '../../work/parts';
import { Drawer } from '../../ui/Drawer';
import { Said } from '../../ui/Said';
import { Topic } from './Topic';
import './findings.css';

/** The last way out that was taken, and the way back. */
function Taken() {
  const unit = useUnits((state) => state.unit);
  const design = useDesign((state) => state.design);
  const taken = useTaken((state) => state.taken);
  const { undo } = useHistory();
  const button = useRef<HTMLButtonElement>(null);
  const stands = taken?.design === design;
  useEffect(() => {
    if (stands && document.activeElement === document.body) button.current?.focus();
  }, [stands]);
  if (!taken || !stands) return null;
  const title = textOf(taken.title, unit);
  return (
    <p className="taken" role="status">
      <span>Done: {title}</span>
      <button type="button" className="ruled" ref={button} aria-label={`Undo: ${title}`} onClick={() => undo()}>Undo</button>
    </p>
  );
}

export function FindingsPanel({ plan: shown }: { readonly plan: Plan }) {
  // They stay while a way out is tried on the stage.
  const { plan: own, parts, findings, decisions } = useStanding();
  const plan = own ?? shown;
  const whole = parts !== null;
  const wanted = useView((state) => state.decision);
  const [note, setNote] = useState<string | null>(null);
  // A way that is tried goes with the drawer.
  useEffect(() => () => {
    if (useProposal.getState().proposal) discardProposal();
  }, []);
  const { length } = plan.hull;
  const at = Math.max(0, decisions.findIndex(({ cause }) => cause === wanted));
  const notes = findings.filter(({ level }) => level === 'note');
  const noted = notes.find(({ id }) => id === note);
  const turn = (to: number) => {
    discardProposal();
    useView.setState({ decision: decisions[(to + decisions.length) % decisions.length].cause });
  };
  const open = (id: string | null) => {
    discardProposal();
    setNote(id);
  };
  const decision = decisions.at(at);
  const topic = noted ? { cause: causeOf(noted, length), findings: [noted] as const } : decision;
  return (
    <Drawer label="Decisions" className="findings" head={noted ? 'Also noted' : decision ? <><b className="nth">{at + 1}</b> Decision {at + 1} of {decisions.length}</> : 'Nothing to decide'}>
      {(noted || decisions.length > 1) && (
        <p className="turn">
          {noted ? <button type="button" className="go" onClick={() => open(null)}>‹ back</button> : (
            <>
              <button type="button" className="go" onClick={() => turn(at - 1)}>‹ previous</button>
              <button type="button" className="go" onClick={() => turn(at + 1)}>next ›</button>
            </>
          )}
        </p>
      )}
      <Taken />
      {!whole && <p className="hint">Bending, joints and cutting are not worked out yet; their findings will appear here.</p>}
      {topic ? <Topic key={`${topic.cause} ${topic.findings[0].id}`} plan={plan} cause={topic.cause} findings={topic.findings} onDone={() => setNote(null)} /> : whole && <p className="hint">This board can be built as listed.</p>}
      {!noted && notes.length > 0 && (
        <>
          <h3>Also noted</h3>
          <ul className="noted">
            {notes.map((finding) => (
              <li key={finding.id} data-level="note">
                <button type="button" onClick={() => open(finding.id)}>
                  <Said text={finding.title} />
                  <small><Said text={findingPlace(plan, finding) ?? ''} />{finding.settled && ' · you settle it at the bench'}</small>
                </button>
              </li>
            ))}
          </ul>
        </>
      )}
    </Drawer>
  );
}
