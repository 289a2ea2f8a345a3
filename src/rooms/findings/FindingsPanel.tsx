/** Findings by cause: what is to be decided first, each with the changes that would help; then the notes. */
import { lazy, Suspense, useState } from 'react';
import { causeOf, type Decision } from '../../../geometry/rail/findings';
import { runOfPlace } from '../../../geometry/rail/query';
import type { Finding, FindingLevel, Plan } from '../../../geometry/types';
import { useDecisions, useFindings } from '../../work/parts';
import { findingFigures, findingPlace } from '../../say/findings';
import { capital, SEVERITY_WORDS } from '../../say/words';
import { useDesign } from '../../state/design';
import { useUnits } from '../../state/unit';
import { textOf } from '../../say/said';
import { useView } from '../../state/view';
import { Said } from '../../ui/Said';
import './findings.css';

const Offers = lazy(async () => ({ default: (await import('./Offers')).Offers }));

const SIGNS: Readonly<Record<FindingLevel, string>> = { cannot: '✕', check: '!', note: 'i' };

function Figures({ finding }: { readonly finding: Finding }) {
  const figures = findingFigures(finding);
  return figures !== undefined && <> · <Said text={figures} /></>;
}

/** Marks a cause as settled at the bench, or opens it again. One step of history. */
function settle(cause: string, settled: boolean): void {
  const { design, commit } = useDesign.getState();
  const others = (design.settled ?? []).filter((one) => one !== cause);
  const { settled: _, ...rest } = design;
  const next = settled ? [...others, cause] : others;
  commit(next.length > 0 ? { ...rest, settled: next } : rest);
}

interface ItemProps {
  readonly plan: Plan;
  readonly cause: string;
  readonly findings: Decision['findings'];
  readonly open: boolean;
  readonly onOpen: () => void;
}

/** One cause: its worst finding in full, and where else it is. */
function Item({ plan, cause, findings: [finding, ...others], open, onOpen }: ItemProps) {
  const unit = useUnits((state) => state.unit);
  const { moveTo, ask } = useView();
  const go = ({ place }: Finding) => {
    if (!place) return;
    moveTo(runOfPlace(plan, place));
    ask('station');
  };
  return (
    <li data-level={finding.level}>
      <button type="button" className="found" onClick={() => go(finding)} disabled={!finding.place}>
        <b className="sign" role="img" aria-label={capital(SEVERITY_WORDS[finding.level])} title={capital(SEVERITY_WORDS[finding.level])}>{SIGNS[finding.level]}</b>
        <strong><Said text={finding.title} /></strong>
        <span className="where">
          <Said text={findingPlace(plan, finding) ?? ''} />
          <Figures finding={finding} />
          {finding.settled && ' · you settle it at the bench'}
        </span>
        <span><Said text={finding.advice} /></span>
      </button>
      {others.length > 0 && (
        <p className="places">
          also
          {others.map((other) => (
            <button key={other.id} type="button" disabled={!other.place} onClick={() => go(other)}><Said text={findingPlace(plan, other) ?? other.title} /></button>
          ))}
        </p>
      )}
      <div className="acts">
        <button type="button" className="offers-open" aria-expanded={open} aria-label={`${open ? 'Close' : 'What would help?'} ${textOf(finding.title, unit)}`} onClick={onOpen}>
          {open ? 'Close' : 'What would help?'}
        </button>
        {(finding.level === 'check' || finding.settled) && (
          <button type="button" className="offers-open" aria-label={`${finding.settled ? 'Decide it now' : 'Settle it at the bench'}: ${textOf(finding.title, unit)}`} onClick={() => settle(cause, !finding.settled)}>
            {finding.settled ? 'Decide it now' : 'Settle it at the bench'}
          </button>
        )}
      </div>
      {open && <Suspense><Offers plan={plan} finding={finding} /></Suspense>}
    </li>
  );
}

export function FindingsPanel({ plan }: { readonly plan: Plan }) {
  const { findings, whole } = useFindings(plan);
  const [open, setOpen] = useState<string | null>(null);
  const { length } = plan.hull;
  const decisions = useDecisions(plan);
  const notes = findings.filter(({ level }) => level === 'note');
  const item = (key: string, cause: string, list: Decision['findings']) => (
    <Item key={key} plan={plan} cause={cause} findings={list} open={open === key} onOpen={() => setOpen(open === key ? null : key)} />
  );
  return (
    <section className="panel findings" aria-label="Findings">
      <h2>Findings</h2>
      {!whole && <p className="hint">Bending, joints and cutting are not worked out yet; their findings will appear here.</p>}
      {whole && findings.length === 0 && <p className="hint">No findings for this board.</p>}
      {decisions.length > 0 && <h3>To decide</h3>}
      {whole && decisions.length === 0 && findings.length > 0 && <p className="hint">Nothing to decide: this board can be built as listed.</p>}
      <ul>{decisions.map(({ cause, findings: list }) => item(cause, cause, list))}</ul>
      {notes.length > 0 && <h3>Notes</h3>}
      <ul>{notes.map((finding) => item(finding.id, causeOf(finding, length), [finding]))}</ul>
    </section>
  );
}
