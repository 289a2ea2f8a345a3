/** A whole board in: a body of triangles from a file, how it lies confirmed, lines fitted to it, and how far it lies off them. */
import { useEffect } from 'react';
import { shorten } from '../../../geometry/design/fields';
import { mm, said, type Said as What } from '../../../geometry/said';
import type { TableUnit } from '../../../geometry/shape/lengths';
import type { HullFit } from '../../../geometry/shape/hullIn/hullIn';
import { OFF_CLASSES, offWords } from '../../say/hullMap';
import { textOf } from '../../say/said';
import { lengthText, unitSign } from '../../say/units';
import { useHullMap } from '../../state/hullMap';
import type { HullRead } from '../../state/jobKinds';
import { isBusy, useJob } from '../../state/jobs';
import { useProposal } from '../../state/proposal';
import { useUnits } from '../../state/unit';
import { FilePick } from '../../ui/FilePick';
import { Said } from '../../ui/Said';
import { stagesOf, Working } from '../../ui/Working';
import { changeHull, dropHull, fitHull, HULL_FILES, HULL_TITLE, readHull, stopHull, takeHull, useHull } from './hull';
import './hull.css';
import './tools.css';

const UNITS: readonly { readonly id: TableUnit; readonly label: string }[] = [
  { id: 'mm', label: 'mm' }, { id: 'cm', label: 'cm' }, { id: 'm', label: 'm' }, { id: 'inch', label: 'inches' }, { id: 'foot', label: 'feet' },
];

/** What was wrong with the body, and what became of it. */
function faultsOf({ faults: { open, crowded, slivers }, inner, stated, unit }: HullRead): What[] {
  return [
    ...(open > 0 ? [said('{n} edges have one triangle only: the surface has holes. It is measured where it is.', { n: open })] : []),
    ...(crowded > 0 ? [said('{n} edges have more than two triangles. The outermost of each cut counts.', { n: crowded })] : []),
    ...(slivers > 0 ? [said('{n} triangles without area are left out.', { n: slivers })] : []),
    ...(inner > 0 ? [said('{n} shells inside it are left out.', { n: inner })] : []),
    ...(stated && stated !== unit ? [said('The file states {stated}.', { stated })] : []),
  ];
}

/** The body from above, from starboard, and cut at half its length: to be looked at before it is taken. */
function Silhouettes({ read: { silhouette: { x, port, starboard, low, high, middle }, length, width, depth } }: { readonly read: HullRead }) {
  const path = (a: readonly number[], b: readonly number[]) => `M${[...x.map((at, i) => `${at.toFixed(0)} ${(-a[i]).toFixed(1)}`), ...x.map((at, i) => `${at.toFixed(0)} ${(-b[i]).toFixed(1)}`).reverse()].join('L')}Z`;
  const cut = Array.from({ length: Math.floor(middle.length / 4) }, (_, i) => `M${middle[4 * i].toFixed(1)} ${(-middle[4 * i + 1]).toFixed(1)}L${middle[4 * i + 2].toFixed(1)} ${(-middle[4 * i + 3]).toFixed(1)}`).join('');
  return (
    <figure className="hull-views">
      <svg viewBox={`0 ${-width / 2 - 5} ${length} ${width + 10}`} role="img" aria-label="From above, tail to the left"><path d={path(starboard, port)} /></svg>
      <svg viewBox={`0 ${-depth - 5} ${length} ${depth + 10}`} role="img" aria-label="From the side, tail to the left, deck up"><path d={path(high, low)} /></svg>
      <svg viewBox={`${-width / 2 - 5} ${-depth - 5} ${width + 10} ${depth + 10}`} role="img" aria-label="Cut at half its length, deck up"><path className="cut" d={cut} /></svg>
      <figcaption>From above and from the side, the nose to the right; cut at half its length, the deck up.</figcaption>
    </figure>
  );
}

function Lies({ read }: { readonly read: HullRead }) {
  const { endForEnd = false, overturned = false } = useHull();
  const unit = useUnits((state) => state.unit);
  return (
    <fieldset>
      <legend>Is it so?</legend>
      <Silhouettes read={read} />
      <p data-hull="size"><Said text={said('{triangles} triangles; {length} long, {width} wide, {depth} high from keel to highest point.', { triangles: read.triangles, length: mm(read.length), width: mm(read.width), depth: mm(read.depth) })} /></p>
      {faultsOf(read).map((what) => <p key={textOf(what, unit)} className="hint">{textOf(what, unit)}</p>)}
      <div className="reading">
        <label>Unit of the file
          <select value={read.unit} onChange={(event) => changeHull({ unit: event.target.value as TableUnit })}>
            {UNITS.map(({ id, label }) => <option key={id} value={id}>{label}</option>)}
          </select>
        </label>
      </div>
      <p className="buttons">
        <button type="button" className="ruled" aria-pressed={endForEnd} onClick={() => changeHull({ endForEnd: !endForEnd })}>Nose is the other end</button>
        <button type="button" className="ruled" aria-pressed={overturned} onClick={() => changeHull({ overturned: !overturned })}>Deck is the other side</button>
      </p>
    </fieldset>
  );
}

/** What the colours on the stage are. */
function Key() {
  const unit = useUnits((state) => state.unit);
  const wanted = useHullMap((state) => state.wanted);
  return (
    <fieldset>
      <legend>Distances on the stage</legend>
      <label className="choice"><input type="checkbox" checked={wanted} onChange={(event) => useHullMap.setState({ wanted: event.target.checked })} /> Show them on the board</label>
      <ul className="hull-key">
        {OFF_CLASSES.map((each, i) => <li key={each.from}><i style={{ background: each.in }} /><i style={{ background: each.out }} /> {textOf(offWords(i), unit)}</li>)}
      </ul>
      <p className="hint">Blue: the body lies inside the lines. Brown: it stands out of them.</p>
    </fieldset>
  );
}

function Fitted({ fit }: { readonly fit: HullFit }) {
  const unit = useUnits((state) => state.unit);
  const [x, y, z] = fit.place;
  return (
    <>
      <dl className="hull-figures" data-hull="fit">
        <div><dt>Farthest off, {unitSign(unit)}</dt><dd data-hull="greatest">{lengthText(fit.greatest, unit === 'in16' ? 'in' : unit, 2)}</dd></div>
        <div><dt>Usual (root mean square), {unitSign(unit)}</dt><dd data-hull="rms">{lengthText(fit.rms, unit === 'in16' ? 'in' : unit, 3)}</dd></div>
      </dl>
      <p className="hint"><Said text={Math.abs(y) < 0.5
        ? said('Of {n} corners of the body. The farthest stands {x} from the tail, on the centreline, {z} up.', { n: fit.corners, x: mm(x, 0), z: mm(z, 0) })
        : said('Of {n} corners of the body. The farthest stands {x} from the tail, {y} to {side}, {z} up.', { n: fit.corners, x: mm(x, 0), y: mm(Math.abs(y), 0), side: y < 0 ? 'port' : 'starboard', z: mm(z, 0) })} /></p>
      {fit.remarks.length > 0 && (
        <>
          <h4>What the lines cannot hold</h4>
          <ul className="hull-remarks" data-hull="remarks">{fit.remarks.map((what) => <li key={textOf(what, unit)}>{textOf(what, unit)}</li>)}</ul>
        </>
      )}
      <Key />
    </>
  );
}

export function HullTool() {
  const { file } = useHull();
  const read = useJob('hullRead');
  const fit = useJob('hullFit');
  const proposed = useProposal((state) => state.proposal?.title === HULL_TITLE);
  useEffect(() => {
    // Ended as the tool was closed.
    if (useHull.getState().file && read.status === 'idle') void readHull();
    return stopHull;
    // Only as the tool is opened: later the file is read as it changes.
    // oxlint-disable-next-line react/exhaustive-deps
  }, []);
  const busy = isBusy(read);
  const known = file && read.of?.file === file && !read.failure ? read.result : null;
  return (
    <>
      {!known && <p className="hint">A whole board as a body of triangles, drawn or scanned: STL, OBJ, glTF or 3MF, lying any way, in any unit.</p>}
      {known && !fit.result && !isBusy(fit) && <p className="hint">Next: see whether it lies as it is shown, then fit the lines, below.</p>}
      <p className="buttons">
        <FilePick className="ruled" label={file ? 'Another file' : 'Choose a file'} accept={HULL_FILES} name="hull-file" onFile={takeHull} />
        {file && <button type="button" className="ruled" onClick={dropHull}>Clear</button>}
        {file && <span className="hint file-name">{shorten(file.name, 48)}</span>}
      </p>
      <Working job="hullRead" tell={() => ({ text: 'Reading the body' })} failed="Your board is unchanged." again={() => void readHull()} />
      {known && <Lies read={known} />}
      {known && !busy && !isBusy(fit) && !proposed && <p className="buttons"><button type="button" className="ruled strong" onClick={() => void fitHull()}>{fit.result ? 'Fit again' : 'Fit the lines'}</button></p>}
      <Working job="hullFit" tell={stagesOf('Fitting the lines')} failed="Your board is unchanged." again={() => void fitHull()} />
      {known && fit.result && fit.of?.file === file && <Fitted fit={fit.result} />}
    </>
  );
}
