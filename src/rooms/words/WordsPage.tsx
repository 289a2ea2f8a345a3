/** Words: one labelled section, a sketch of the rail, sixteen words with their meanings, and a list of all others. */
import { useEffect, useMemo, useRef } from 'react';
import { sectionDrawing } from '../../../geometry/rail/query';
import type { Plan } from '../../../geometry/types';
import { MEANINGS } from '../../say/meanings';
import { OTHER_TERMS, TERMS } from '../../say/terms';
import { lengthWithUnit } from '../../say/units';
import { useUnits } from '../../state/unit';
import { ROOMS, useView } from '../../state/view';
import { Drawer } from '../../ui/Drawer';
import { LabelledSection } from './LabelledSection';
import { RailSketch } from './RailSketch';
import './words.css';

export function WordsPage({ plan }: { readonly plan: Plan }) {
  const unit = useUnits((state) => state.unit);
  const room = useView((state) => state.room);
  const over = useView((state) => state.drawer);
  const term = useView((state) => state.term);
  const on = useRef<HTMLDivElement>(null);
  useEffect(() => {
    on.current?.scrollIntoView({ block: 'nearest' });
  }, [term]);
  const ribs = plan.rail.ribs;
  const rib = ribs.at(Math.floor((ribs.length - 1) / 2));
  const drawing = useMemo(() => (rib ? sectionDrawing(plan, rib.s) : null), [plan, rib]);
  const back = ROOMS.find(({ id }) => id === room)?.label ?? '';
  return (
    <Drawer label="Words" className="words" back={over ? 'Back' : `Back to ${back}`}>
      <p className="words-lead">Sixteen words and one section{rib && `: rib ${rib.index + 1}, ${lengthWithUnit(rib.x, unit)} from the tail`}.</p>
      <div className="words-body">
        <div className="words-drawn">
          {drawing && <LabelledSection plan={plan} drawing={drawing} term={term} />}
          <RailSketch plan={plan} term={term} />
        </div>
        <dl className="words-terms">
          {TERMS.map(({ id, name }, i) => (
            <div key={id} data-on={term === id || undefined} ref={term === id ? on : undefined}>
              <dt><button type="button" aria-pressed={term === id} onClick={() => useView.setState({ term: term === id ? null : id })}><i>{i + 1}</i> {name}</button></dt>
              <dd>{MEANINGS[id]}</dd>
            </div>
          ))}
        </dl>
      </div>
      <h3>All other words</h3>
      <dl className="words-others">
        {OTHER_TERMS.map(({ id, name }) => <div key={id} data-on={term === id || undefined} ref={term === id ? on : undefined}><dt>{name}</dt><dd>{MEANINGS[id]}</dd></div>)}
      </dl>
    </Drawer>
  );
}
