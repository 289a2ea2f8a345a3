/** What stage and ribbon show, for those who hear the page: fixed texts, and a polite message when the station changes. */
import { useEffect, useMemo, useRef, useState } from 'react';
import type { Plan } from '../../geometry/types';
import { useUnits } from '../state/unit';
import { useLeading } from '../station/Leading';
import { useShownBuilt } from '../work/readings';
import { boardWords, ribbonWords, stationWords } from '../say/placeWords';

/** Quiet time before a change is spoken, ms: a drag is spoken once, where it ends. */
const QUIET = 700;

function StationSpoken({ plan }: { readonly plan: Plan }) {
  const unit = useUnits((state) => state.unit);
  const { drawing, tag } = useLeading(plan) ?? {};
  const [said, setSaid] = useState('');
  const words = useMemo(() => (drawing ? `${tag ? 'As built. ' : ''}${stationWords(plan, drawing, unit)}` : ''), [plan, drawing, tag, unit]);
  const first = useRef(words);
  useEffect(() => {
    // The station the page opens at is not news.
    if (words === first.current) return undefined;
    first.current = '';
    const timer = setTimeout(() => setSaid(words), QUIET);
    return () => clearTimeout(timer);
  }, [words]);
  return <p className="spoken" role="status" data-spoken="station">{said}</p>;
}

/** Ids that stage and ribbon are described by. */
export function Spoken({ plan }: { readonly plan: Plan }) {
  const unit = useUnits((state) => state.unit);
  // As built leads here too, where readings are shown.
  const built = useShownBuilt(plan);
  const lead = built?.plan ?? plan;
  const board = useMemo(() => boardWords(lead, unit), [lead, unit]);
  const ribbon = useMemo(() => ribbonWords(lead, unit), [lead, unit]);
  return (
    <aside className="spoken" aria-label="The board in words">
      <p id="stage-words">{built && 'As built. '}{board}</p>
      <ul id="ribbon-words">{ribbon.map((line) => <li key={line}>{line}</li>)}</ul>
      <StationSpoken plan={plan} />
    </aside>
  );
}
