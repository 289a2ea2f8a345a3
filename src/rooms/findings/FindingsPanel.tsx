/** The findings, each leading to its place and, asked, to changes that would help. */
import { lazy, Suspense, useState } from 'react';
import { runOfPlace } from '../../../geometry/rail/query';
import type { Finding, FindingLevel, Plan } from '../../../geometry/types';
import { useFindings } from '../../work/parts';
import { findingFigures, findingPlace } from '../../say/findings';
import { capital, SEVERITY_WORDS } from '../../say/words';
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

export function FindingsPanel({ plan }: { readonly plan: Plan }) {
  const unit = useUnits((state) => state.unit);
  const { moveTo, ask } = useView();
  const { findings, whole } = useFindings(plan);
  const [open, setOpen] = useState<string | null>(null);
  const go = ({ place }: Finding) => {
    if (!place) return;
    moveTo(runOfPlace(plan, place));
    ask('station');
  };
  return (
    <section className="panel findings" aria-label="Findings">
      <h2>Findings</h2>
      {!whole && <p className="hint">Bending, joints and cutting are not worked out yet; their findings will appear here.</p>}
      {whole && findings.length === 0 && <p className="hint">No findings for this board.</p>}
      <ul>
        {findings.map((finding) => (
          <li key={finding.id} data-level={finding.level}>
            <button type="button" className="found" onClick={() => go(finding)} disabled={!finding.place}>
              <b className="sign" role="img" aria-label={capital(SEVERITY_WORDS[finding.level])} title={capital(SEVERITY_WORDS[finding.level])}>{SIGNS[finding.level]}</b>
              <strong><Said text={finding.title} /></strong>
              <span className="where">
                <Said text={findingPlace(plan, finding) ?? ''} />
                <Figures finding={finding} />
              </span>
              <span><Said text={finding.advice} /></span>
            </button>
            <button type="button" className="offers-open" aria-expanded={open === finding.id} aria-label={`${open === finding.id ? 'Close' : 'What would help?'} ${textOf(finding.title, unit)}`} onClick={() => setOpen(open === finding.id ? null : finding.id)}>
              {open === finding.id ? 'Close' : 'What would help?'}
            </button>
            {open === finding.id && <Suspense><Offers plan={plan} finding={finding} /></Suspense>}
          </li>
        ))}
      </ul>
    </section>
  );
}
