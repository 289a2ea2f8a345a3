/** The papers: how they are wanted, each with its preview and its file, or all of them in one. */
import { useMemo, useState } from 'react';
import type { PaperEntry } from '../../papers';
import { SHELVES } from '../../papers/shelves';
import { isBusy, useJob, useJobs } from '../../state/jobs';
import { lengthText, readLength, unitSign, UNITS } from '../../say/units';
import { FigureField } from '../../ui/fields';
import { useBench } from './pages';
import { usePaperList } from './paperTrust';
import { download, type Made, makeThese, packThese, usePapers, type Wanted } from './papers';
import type { PageProps } from './RailPages';
import './papers.css';
import { AddressField } from '../../ui/AddressField';
import { Said } from '../../ui/Said';
import './bench.css';

const SIZE_NAMES: Readonly<Record<Wanted['paper'], string>> = { A4: 'A4', A3: 'A3', Letter: 'Letter', roll: 'Roll' };

const SIZES = Object.keys(SIZE_NAMES) as readonly Wanted['paper'][];

const want = (change: Partial<Wanted>) => usePapers.setState(({ wanted }) => ({ wanted: { ...wanted, ...change } }));

function Choices({ unit }: Pick<PageProps, 'unit'>) {
  const wanted = usePapers((state) => state.wanted);
  const failure = useJobs(({ paperList }) => paperList.failure);
  const units = wanted.units ?? unit;
  return (
    <div className="choices">
      <fieldset>
        <legend>Paper</legend>
        <div className="segments">
          {SIZES.map((paper) => <button key={paper} type="button" aria-pressed={paper === wanted.paper} onClick={() => want({ paper })}>{SIZE_NAMES[paper]}</button>)}
        </div>
      </fieldset>
      <fieldset>
        <legend>Units of the papers</legend>
        <div className="segments">
          {UNITS.map(({ id, label, hint }) => <button key={id} type="button" title={hint} aria-pressed={id === units} onClick={() => want({ units: id })}>{label}</button>)}
        </div>
      </fieldset>
      <fieldset>
        <legend>Lines for the laser</legend>
        <div className="segments">
          <button type="button" aria-pressed={wanted.kerf === 'compensated'} title="Moved outward by half the kerf, so that parts come out to size" onClick={() => want({ kerf: 'compensated' })}>Moved for the kerf</button>
          <button type="button" aria-pressed={wanted.kerf === 'drawn'} title="On the parts’ edges: the laser’s own program allows for the kerf" onClick={() => want({ kerf: 'drawn' })}>As drawn</button>
        </div>
      </fieldset>
      <div className="choices-row">
        <label>Date <input type="date" value={wanted.date} min="1980-01-01" max="2099-12-31" onChange={(event) => want({ date: event.target.value })} /></label>
        <FigureField
          label="Steps on the bench sheet" unit={unitSign(unit)} allowed={`${lengthText(10, unit)} to ${lengthText(1000, unit)} ${unitSign(unit)}, or empty for the usual spacing`} placeholder={units === 'mm' ? lengthText(100, unit, 0) : lengthText(101.6, unit, 0)}
          shown={wanted.step === undefined ? '' : lengthText(wanted.step, unit, 0)}
          read={(text) => (text.trim() === '' ? undefined : readLength(text, unit))}
          put={(step) => {
            want({ step });
            return [];
          }}
        />
      </div>
      <AddressField label="Address for the bench sheet’s codes" />
      {failure && <p role="alert" className="field-error"><Said text={failure.message} /></p>}
    </div>
  );
}

/** Lines a printer draws hair-thin are made to show on a screen, whatever the scale. */
const ON_SCREEN = '<style>path{vector-effect:non-scaling-stroke;stroke-width:1px}</style>';

function Preview({ made }: { readonly made: Made }) {
  const { paper } = made;
  const text = useMemo(() => new TextDecoder().decode(paper.bytes), [paper]);
  if (paper.mime !== 'image/svg+xml') return <pre className="preview">{text}</pre>;
  const seen = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(text.replace('<title>', `${ON_SCREEN}<title>`))}`;
  return <div className="preview"><img src={seen} alt={`${paper.title}, preview`} /></div>;
}

const SEEN = new Set(['image/svg+xml', 'text/csv;charset=utf-8']);
const OPENED = new Set(['application/pdf', 'image/svg+xml']);

interface EntryProps {
  readonly entry: PaperEntry;
  readonly chosen: boolean;
  readonly onChoose: (on: boolean) => void;
  readonly busy: boolean;
}

function Entry({ entry, chosen, onChoose, busy }: EntryProps) {
  const made = usePapers((state) => state.made.get(entry.id));
  const { title } = entry;
  const [preview, setPreview] = useState(false);
  const kind = entry.name.replace(/^.*\./, '').toUpperCase();
  const save = async () => {
    const done = (await makeThese([entry.id])).get(entry.id);
    if (done) download(done);
  };
  return (
    <li data-paper={entry.id}>
      <label><input type="checkbox" checked={chosen} onChange={(event) => onChoose(event.target.checked)} /> {title}</label>
      <small>{kind}</small>
      <span className="doing">
        {SEEN.has(entry.mime) && (
          <button
            type="button" className="ruled" aria-expanded={preview && made !== undefined} disabled={busy && !made}
            onClick={() => {
              setPreview(!(preview && made));
              if (!made) void makeThese([entry.id]);
            }}
          >
            Preview
          </button>
        )}
        {entry.mime === 'application/pdf' && <button type="button" className="ruled" onClick={() => useBench.getState().look(entry.id)}>Preview</button>}
        {made && OPENED.has(entry.mime) && <a href={made.url} target="_blank" rel="noreferrer">Open</a>}
        <button type="button" className="ruled" disabled={busy && !made} aria-label={`Download ${title}, ${kind}`} onClick={() => void save()}>Download</button>
      </span>
      {preview && made && <Preview made={made} />}
    </li>
  );
}

const NONE: readonly never[] = [];

export function PapersPage({ plan, parts, unit }: PageProps) {
  const list = useJob('paperList');
  const busy = useJobs(({ papers }) => isBusy(papers));
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set());
  usePaperList(plan, parts, unit);
  const entries = list.failure ? NONE : (list.result ?? NONE);
  const whole = entries.find(({ group }) => group === 'all');
  const single = entries.filter(({ group }) => group !== 'all');
  const picked = single.filter(({ id }) => chosen.has(id)).map(({ id }) => id);
  const choose = (ids: readonly string[], on: boolean) => setChosen((before) => {
    const after = new Set(before);
    for (const id of ids) {
      if (on) after.add(id);
      else after.delete(id);
    }
    return after;
  });
  const saveAll = async () => {
    if (!whole) return;
    const done = (await makeThese([whole.id])).get(whole.id);
    if (done) download(done);
  };
  const saveChosen = async () => {
    const done = await packThese(picked, 'chosen');
    if (done) download(done);
  };
  return (
    <>
      <header className="page-head">
        <h2>All papers</h2>
        <p>Each paper for itself, the chosen together, or everything in one zip.</p>
      </header>
      <Choices unit={unit} />
      <div className="all-papers">
        <button type="button" className="ruled chief" disabled={busy || !whole} onClick={() => void saveAll()}>Download everything, one zip</button>
        <button type="button" className="ruled" disabled={busy || picked.length === 0} onClick={() => void saveChosen()}>{picked.length === 0 ? 'Download the chosen' : `Download the ${picked.length} chosen, one zip`}</button>
      </div>
      {SHELVES.map(({ id, title }) => {
        const group = single.filter((entry) => entry.group === id);
        if (group.length === 0) return null;
        const all = group.every((entry) => chosen.has(entry.id));
        return (
          <details key={id} className="paper-group" open={id !== 'solids'}>
            <summary>{title} <small>{group.length}</small></summary>
            {group.length > 1 && <label className="whole-group"><input type="checkbox" checked={all} onChange={() => choose(group.map((entry) => entry.id), !all)} /> All of these</label>}
            <ul className="papers">
              {group.map((entry) => <Entry key={entry.id} entry={entry} busy={busy} chosen={chosen.has(entry.id)} onChoose={(on) => choose([entry.id], on)} />)}
            </ul>
          </details>
        );
      })}
      <p className="hint">The same board, date and choices give identical files. Print templates at 100 %, and measure the check bar before you cut.</p>
    </>
  );
}
