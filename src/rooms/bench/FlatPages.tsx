/** Flat parts: skin blanks and the boards they come from, ribs and stringer and the laser's sheets. */
import { AsDrawn } from './AsDrawn';
import { list, said } from '../../../geometry/said';
import { blockTable } from '../../papers/listTables';
import { Said } from '../../ui/Said';
import { Chapters } from './Chapters';
import { FittingsFields } from './FittingsFields';
import { listOf } from './lists';
import { limbersOf } from '../../../geometry/frame/holes';
import type { Blank, BlankPiece } from '../../../geometry/parts/types';
import { skinSpan } from '../../../geometry/rail/laid';
import { grainWords } from '../../papers/laserTable';
import { fixed, lengthText, lengthWithUnit, unitSign } from '../../say/units';
import { nearerEnd } from '../../say/words';
import { FittingSection } from './FittingSection';
import { FlatLines, FlatPart, FlatSheet } from './Flat';
import { Missing } from './Missing';
import { PanelSection } from './PanelSection';
import { ShopProfile } from './ShopProfile';
import { TestPage } from './TestPage';
import { leadTo, nearestSpot, PlaceList, useCursor } from './places';
import type { PageProps } from './RailPages';
import './drawings.css';
import './bench.css';
import './timber.css';
import './lists.css';

const BLANK_CODES = ['not-made', 'boards-short', 'blank-joints', 'blank-wide', 'skin-planks', 'skin-planks-short'];
const FRAME_CODES = ['not-made', 'sheet-small', 'sheet-grain', 'stringer-sheet', 'tab-low', 'rib-in-block', 'no-air', 'vent-in-way', 'fitting-in-way', 'fitting-deep', 'fitting-overlap', 'notch-web', 'label-room', 'rib-end-open', 'notch-tight'];
/** Whole layers are long and low: their heights are drawn this many times as large. */
const TALL = 4;

const share = (ratio: number): string => `${fixed(ratio * 100, 0)} %`;

/** Where along the rail a piece of a layer begins: the layer's own end, or the joint with the piece before. */
function beginOf(blank: Blank, piece: BlankPiece, first: number): number {
  return blank.pieces[piece.index - 1]?.joint?.s ?? first;
}

export function BlanksPage({ plan, parts, unit }: PageProps) {
  const { boards } = plan.design.timber;
  const covered = skinSpan(plan.rail);
  return (
    <>
      <AsDrawn plan={plan} />
      <Missing parts={parts} codes={BLANK_CODES} what={parts.blanks.length === 0 ? 'There are no skin blanks.' : undefined} />
      {parts.blanks.map((blank) => (
        <section key={blank.layer} aria-label={`Outer skin ${blank.layer}`}>
          <h4>
            Outer skin {blank.layer}{' '}
            <small>{lengthWithUnit(blank.length, unit)} developed, {lengthWithUnit(blank.gain, unit)} longer than the box face; heights ×{TALL}</small>
          </h4>
          <FlatPart shape={blank.whole} tall={TALL} label={`Outer skin ${blank.layer}, the whole layer, heights four times as large`} />
          <PlaceList
            plan={plan} label={`Pieces of outer skin ${blank.layer}`}
            columns={[
              { title: 'piece' }, { title: 'cut', hint: 'How many to cut; the second is turned over for port' }, { title: 'long' }, { title: 'wide' },
              { title: 'board', words: true }, { title: 'to the next', words: true },
            ]}
            lines={blank.pieces.map((piece) => {
              const board = piece.board === undefined ? undefined : boards[piece.board];
              return {
                key: String(piece.index), spot: { s: beginOf(blank, piece, covered.s0), until: piece.joint?.s ?? covered.s1 },
                cells: [
                  String(piece.index + 1), `${piece.count * piece.layers}${piece.layers > 1 ? ` of ${lengthText(piece.thickness, unit, 2)}` : ''}${piece.wraps ? `, round the ${piece.wraps}` : ''}`, lengthText(piece.boxLength, unit), lengthText(piece.boxWidth, unit),
                  board ? `${lengthText(board.length, unit, 0)} × ${lengthText(board.width, unit, 0)}` : 'none is wide enough',
                  piece.joint ? `${piece.joint.kind} at ${lengthText(piece.joint.s, unit, 0)}` : '',
                ],
              };
            })}
          />
          {blank.pieces.map((piece) => (
            <FlatPart key={piece.index} shape={piece.shape} label={`Outer skin ${blank.layer}, piece ${piece.index + 1}, as it is cut`} />
          ))}
        </section>
      ))}
      {parts.boards && parts.boards.boards.length > 0 && (
        <section aria-label="Boards">
          <h4>Boards <small>{share(parts.boards.yield)} of the timber becomes skin blanks; {unitSign(unit)}</small></h4>
          {parts.boards.boards.map((board, n) => (
            // Boards have no name but their place in the list.
            // oxlint-disable-next-line react/no-array-index-key
            <figure key={n} className="stock-drawing">
              <FlatSheet label={`Board ${n + 1} with ${board.pieces.length} pieces`} width={board.length} height={board.width} stock>
                {board.pieces.map(({ layer, index, copy, blank: nth, x, y }) => {
                  const piece = parts.blanks.find((blank) => blank.layer === layer)?.pieces[index];
                  if (!piece) return null;
                  return (
                    <g key={`${layer} ${index} ${copy} ${nth}`} transform={copy === 2 ? `translate(${x} ${y + piece.boxWidth}) scale(1 -1)` : `translate(${x} ${y})`}>
                      <title>{`Outer skin ${layer}, piece ${index + 1}${copy === 2 ? ', turned over for port' : ''}`}</title>
                      <FlatLines shape={piece.shape} />
                    </g>
                  );
                })}
              </FlatSheet>
              <figcaption>
                Board {n + 1}: {lengthText(board.length, unit, 0)} × {lengthText(board.width, unit, 0)} × {lengthText(board.thickness, unit)}, {share(board.yield)} used:{' '}
                {board.pieces.map(({ layer, index, copy }) => `${layer}.${index + 1}${copy === 2 ? ' turned over' : ''}`).join(', ')}
              </figcaption>
            </figure>
          ))}
        </section>
      )}
      <PanelSection plan={plan} parts={parts} unit={unit} />
    </>
  );
}

function Sheets({ plan, parts, unit }: PageProps) {
  const { frames, nest } = parts;
  return (
    <>
      <Missing parts={parts} codes={FRAME_CODES} what={frames.length === 0 ? 'There are no ribs and no stringer.' : undefined} />
      {nest && <p>{share(nest.yield)} of the sheets becomes frames; {lengthText(plan.design.frames.sheet.length, unit, 0)} × {lengthWithUnit(plan.design.frames.sheet.width, unit, 0)}</p>}
      <div className="sheets">
        {nest?.sheets.map((sheet, n) => (
          // Sheets have no name but their place in the list.
          // oxlint-disable-next-line react/no-array-index-key
          <figure key={n} className="stock-drawing">
            <FlatSheet label={`Sheet ${n + 1} with ${sheet.parts.length} parts`} width={sheet.length} height={sheet.width} stock>
              {sheet.parts.map(({ id, x, y, turn }) => {
                const part = frames.find((one) => one.id === id);
                return part && (
                  <g key={id} transform={`translate(${x} ${y}) rotate(${(turn * 180) / Math.PI})`}>
                    <title>{part.label}</title>
                    <FlatLines shape={part.shape} />
                  </g>
                );
              })}
            </FlatSheet>
            <figcaption>Sheet {n + 1}, {lengthWithUnit(sheet.thickness, unit)} thick: {sheet.parts.length} parts, {share(sheet.yield)} used; face grain along the sheet, {grainWords(plan)}</figcaption>
          </figure>
        ))}
      </div>
      {nest && nest.unplaced.length > 0 && <p className="advice">Too large for the sheet: {nest.unplaced.join(', ')}. Cut them by hand from the full-size template.</p>}
    </>
  );
}

function FrameParts({ plan, parts, unit }: PageProps) {
  const s = useCursor(plan);
  const { frames } = parts;
  const runs = frames.map(({ rib }) => plan.rail.ribs.find(({ index }) => index === rib)?.s);
  const near = nearestSpot(runs.map((run) => (run === undefined ? undefined : { s: run })), s);
  return (
    <ul className="frame-parts">
      {frames.map((part, i) => {
        const run = runs[i];
        const rib = run === undefined ? undefined : plan.rail.ribs.find(({ index }) => index === part.rib);
        return (
          <li key={part.id} className={i === near ? 'near' : undefined}>
            {run === undefined ? <span>{part.label}</span> : <button type="button" className="lead go" onClick={() => leadTo(run)}>{part.label}</button>}
            <small>
              {rib ? ` ${nearerEnd(plan, rib.x, unit, 1)}, ` : ' '}
              {lengthWithUnit(part.thickness, unit)} thick, {part.shape.holes.length} {part.shape.holes.length === 1 ? 'hole' : 'holes'}
              {limbersOf(part.shape.holes).length > 0 && `, ${limbersOf(part.shape.holes).length} of them limber`}
            </small>
            <FlatPart shape={part.shape} label={part.label} />
          </li>
        );
      })}
    </ul>
  );
}

/** What each end block is glued up from. */
function Blocks({ plan, parts, unit }: PageProps) {
  const { columns, lines } = listOf(blockTable(parts), [
    { id: 'end' }, { id: 'shape' }, { id: 'inner face' }, { id: 'length' }, { id: 'width' }, { id: 'stack', title: 'deep' }, { id: 'layers' }, { id: 'layer', title: 'layer, thick' }, { id: 'glued when set', title: 'glued', long: true },
  ], unit);
  return lines.length === 0 ? <p className="hint">There is no end block: the strips reach both tips.</p> : <PlaceList plan={plan} label="End blocks" columns={columns} lines={lines} />;
}

export function FramesPage(props: PageProps) {
  const { plan, parts } = props;
  const { frames, nest, jigs } = parts;
  const templates = list([
    ...(jigs ? [said('Full size among the papers: {supports} rocker supports to stand the board on, and {rounds} templates of the rail round, at ribs and at stops.', { supports: jigs.supports.length, rounds: jigs.rounds.length })] : []),
    ...(jigs && jigs.blocks.length > 0 ? [said('{blocks} templates for the end blocks.', { blocks: jigs.blocks.length })] : []),
  ]);
  return (
    <Chapters
      title="Frames" says={`${frames.length} parts${nest ? ` from ${nest.sheets.length} ${nest.sheets.length === 1 ? 'sheet' : 'sheets'}` : ''}, for the laser or the saw.`}
      chapters={[
        { title: 'Sheets', body: <Sheets {...props} /> },
        { title: 'Ribs and stringer', body: <FrameParts {...props} /> },
        { title: 'End blocks', body: <Blocks {...props} /> },
        {
          title: 'Vent and fittings',
          body: (
            <div className="beside">
              <div><FittingSection {...props} /></div>
              <div className="timber"><FittingsFields design={plan.design} /></div>
            </div>
          ),
        },
        ...(frames.length > 0 ? [{ title: 'Test piece', body: <TestPage {...props} /> }] : []),
        { title: 'Shop profile', body: <ShopProfile /> },
        ...(jigs ? [{ title: 'Templates and supports', body: <p className="hint"><Said text={templates} /></p> }] : []),
      ]}
    />
  );
}
