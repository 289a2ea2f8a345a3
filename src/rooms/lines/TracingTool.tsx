/** A picture of a plan under the outline or the rocker: placed by two known places, faded, removed. */
import type { LineName } from '../../../geometry/shape/line';
import { range, size } from '../../../geometry/said';
import type { Point } from '../../../geometry/shape/tracing';
import { FilePick } from '../../ui/FilePick';
import { useDesign } from '../../state/design';
import { useUnits } from '../../state/unit';
import { lengthText, readLength, unitSign } from '../../say/units';
import { FigureField } from '../../ui/fields';
import { Fault, Said } from '../../ui/Said';
import { Worded } from '../../ui/Term';
import { kindOf } from './kinds';
import { useLines } from './lines';
import { changeTracing, loadTracing, PICTURE_TYPES, placeTracing, removeTracing, type TracedLine, type Tracing, useTracing } from './tracing';
import { isTraced } from './TracingLayer';
import './tools.css';

/** Board length in mm, from the design. */
const boardLength = () => useDesign.getState().design.lines.outline.points.at(-1)?.x ?? 0;

/** Takes a picture for the line whose tracing is open, or the outline. */
export function takePicture(file: File): void {
  const { line, set, open } = useLines.getState();
  const under: TracedLine = isTraced(line) ? line : 'outline';
  open(under);
  set({ tool: 'tracing' });
  void loadTracing(under, file, boardLength());
}

function Place({ line, tracing, which }: { readonly line: TracedLine; readonly tracing: Tracing; readonly which: 0 | 1 }) {
  const unit = useUnits((state) => state.unit);
  const letter = 'AB'[which];
  const put = (axis: 0 | 1) => (value: number | undefined) => {
    if (value === undefined || Math.abs(value) > 10_000) return [{ field: letter, value: value === undefined ? 'nothing' : size(value), allowed: range(-10_000, 10_000), message: 'is out of range' }];
    const at: Point = axis === 0 ? [value, tracing.board[which][1]] : [tracing.board[which][0], value];
    changeTracing(line, { board: which === 0 ? [at, tracing.board[1]] : [tracing.board[0], at] });
    return [];
  };
  const [x, y] = tracing.board[which];
  return (
    <tr>
      <th scope="row">{letter}</th>
      <td><FigureField bare unit={unitSign(unit)} label={`Place ${letter} station`} shown={lengthText(x, unit)} allowed="a length" read={(text) => readLength(text, unit)} put={put(0)} /></td>
      <td><FigureField bare unit={unitSign(unit)} label={`Place ${letter} ${line === 'outline' ? 'half-breadth' : 'height'}`} shown={lengthText(y, unit)} allowed="a length" read={(text) => readLength(text, unit)} put={put(1)} /></td>
      <td className="still">{tracing.picture[which].map((v) => v.toFixed(0)).join(', ')}</td>
    </tr>
  );
}

export function TracingTool({ name }: { readonly name: LineName }) {
  const unit = useUnits((state) => state.unit);
  const state = useTracing();
  if (!isTraced(name)) {
    return (
      <>
        <p className="hint">A picture can lie under the outline or the rocker.</p>
        <p className="buttons">
          {(['outline', 'rocker'] as const).map((line) => <button key={line} type="button" className="ruled" onClick={() => useLines.getState().open(line)}>{kindOf(line).title}</button>)}
        </p>
      </>
    );
  }
  const tracing = state[name];
  return (
    <>
      <p className="hint">A photograph or scan of a plan under the {name}, to draw over. It stays on this page only and is gone when the page is closed.</p>
      <p className="buttons">
        <FilePick className="ruled" label={tracing ? 'Another picture' : 'Choose a picture'} accept={PICTURE_TYPES.join(',')} name="tracing-file" onFile={(file) => void loadTracing(name, file, boardLength())} />
        {tracing && <button type="button" className="ruled" onClick={() => removeTracing(name)}>Remove</button>}
        {state.loading && <span className="hint" role="status">Reading the picture…</span>}
      </p>
      {state.refused && <p role="alert" className="field-error">{state.refused}</p>}
      {tracing && (
        <>
          <p className="hint file-name" data-tracing="name">
            {tracing.name}, {tracing.original.width} × {tracing.original.height}
            {tracing.original.width !== tracing.width && `, shown at ${tracing.width} × ${tracing.height}`}; <Said text={size(tracing.placed.scale)} /> per pixel.
          </p>
          <ol className="steps-list">
            <li>Move the marks A and B in the drawing onto two places you know, far apart. Arrow keys move them by a pixel.</li>
            <li>Enter where those places are on the board.</li>
            <li>Press Place.</li>
          </ol>
          <table className="points">
            <thead><tr><th scope="col">mark</th><th scope="col"><Worded text={`station, ${unitSign(unit)}`} /></th><th scope="col"><Worded text={`${name === 'outline' ? 'half-breadth' : 'height'}, ${unitSign(unit)}`} /></th><th scope="col">pixel</th></tr></thead>
            <tbody>
              <Place line={name} tracing={tracing} which={0} />
              <Place line={name} tracing={tracing} which={1} />
            </tbody>
          </table>
          <p className="buttons"><button type="button" className="ruled strong" onClick={() => placeTracing(name)}>Place</button></p>
          {state.errors.map((error) => <p key={error.field} role="alert" className="field-error"><Fault error={error} /></p>)}
          <label className="comb-scale">Opacity
            <input type="range" min={0.1} max={1} step={0.05} value={tracing.opacity} onChange={(event) => changeTracing(name, { opacity: Number(event.target.value) })} />
          </label>
        </>
      )}
    </>
  );
}
