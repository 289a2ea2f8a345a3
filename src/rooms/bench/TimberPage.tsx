/** The timber: which species each part is of, the stock there is and what it costs, and how it is cut and joined. */
import { useState } from 'react';
import type { FieldError } from '../../../geometry/design/fields';
import type { Design } from '../../../geometry/design/schema';
import { allSpecies } from '../../../geometry/design/timber';
import { useDesign } from '../../state/design';
import { useUnits } from '../../state/unit';
import { lengthText, lengthWithUnit, type Unit } from '../../say/units';
import { BoardFigure, BoardText, Refused } from './BoardField';
import { put } from './edits';
import { SpeciesList } from './SpeciesList';
import { ChoiceField } from '../../ui/fields';
import { Worded } from '../../ui/Term';
import './timber.css';

const PARTS: readonly { readonly id: 'rail' | 'outer' | 'skins' | 'frames'; readonly label: string }[] = [
  { id: 'rail', label: 'Sole, rows and cap' },
  { id: 'outer', label: 'Outer skins and blocks' },
  { id: 'skins', label: 'Bottom and deck skin' },
  { id: 'frames', label: 'Ribs and stringer' },
];

function SpeciesOfParts({ design }: { readonly design: Design }) {
  const [errors, setErrors] = useState<readonly FieldError[]>([]);
  const species = allSpecies(design);
  return (
    <fieldset>
      <legend>Timber of each part</legend>
      {PARTS.map(({ id, label }) => (
        <ChoiceField key={id} label={label} value={design.timber[id]} choices={species.map((one) => [one.id, one.name] as const)} onChoose={(to) => setErrors(put(['timber', id], to))} />
      ))}
      <Refused errors={errors} />
    </fieldset>
  );
}

type StockName = 'strips' | 'spacers' | 'boards' | 'planks' | 'skinPlanks';

interface StockProps {
  readonly design: Design;
  readonly name: StockName;
  readonly title: string;
  /** The first of a list that may be left out altogether. */
  readonly first?: object;
}

/** One kind of stock: lengths, prices, and how many are on hand. */
function Stock({ design, name, title, first }: StockProps) {
  const [errors, setErrors] = useState<readonly FieldError[]>([]);
  const stock = design.timber[name];
  const wide = name !== 'strips' && name !== 'spacers';
  const thick = name === 'planks';
  if (!stock) {
    return (
      <fieldset className="stock-list">
        <legend><Worded text={title} /></legend>
        <p className="hint">None: bought ready.</p>
        <button type="button" className="ruled add" onClick={() => setErrors(put(['timber', name], [first]))}>Add a plank</button>
        <Refused errors={errors} />
      </fieldset>
    );
  }
  return (
    <fieldset className="stock-list">
      <legend><Worded text={title} /></legend>
      <table>
        <thead>
          <tr><th scope="col">length</th>{thick && <th scope="col">thickness</th>}{wide && <th scope="col">width</th>}<th scope="col">price each, {design.timber.currency}</th><th scope="col">on hand</th><th scope="col"><span className="spoken">remove</span></th></tr>
        </thead>
        <tbody>
          {stock.map((_, i) => (
            // Stock has no name but its place in the list.
            // oxlint-disable-next-line react/no-array-index-key
            <tr key={i}>
              <td><BoardFigure bare path={['timber', name, i, 'length']} label={`${title} ${i + 1}, length`} kind="length" /></td>
              {thick && <td><BoardFigure bare path={['timber', name, i, 'thickness']} label={`${title} ${i + 1}, thickness`} kind="length" /></td>}
              {wide && <td><BoardFigure bare path={['timber', name, i, 'width']} label={`${title} ${i + 1}, width`} kind="length" /></td>}
              <td><BoardFigure bare path={['timber', name, i, 'price']} label={`${title} ${i + 1}, price each`} kind="plain" sign={design.timber.currency} /></td>
              <td><BoardFigure bare path={['timber', name, i, 'onHand']} label={`${title} ${i + 1}, on hand`} kind="plain" empty="to buy" /></td>
              <td><button type="button" aria-label={`Remove ${title} ${i + 1}`} disabled={stock.length === 1 && !first} onClick={() => setErrors(put(stock.length === 1 ? ['timber', name] : ['timber', name, i], undefined))}>✕</button></td>
            </tr>
          ))}
        </tbody>
      </table>
      {thick && <p className="hint">Strips and spacers that a plank gives are ripped from these, as the mill list says; the lengths above serve the rest.</p>}
      <button type="button" className="ruled add" onClick={() => setErrors(put(['timber', name, stock.length], { ...stock[stock.length - 1], onHand: undefined }))}>Add a length</button>
      <Refused errors={errors} />
    </fieldset>
  );
}

function stripTitle({ rail }: Design, unit: Unit): string {
  const heights = [...new Set([rail.soleThickness, rail.capThickness])].map((mm) => lengthText(mm, unit)).join(' / ');
  return `Flat strips, ${lengthText(rail.stripWidth, unit)} × ${heights}`;
}

function Joints({ design }: { readonly design: Design }) {
  const [errors, setErrors] = useState<readonly FieldError[]>([]);
  const { joint } = design.rail;
  return (
    <fieldset>
      <legend>Joints</legend>
      <div className="segments" role="group" aria-label="Kind of joint">
        {(['butt', 'scarf'] as const).map((kind) => (
          <button key={kind} type="button" aria-pressed={kind === joint} onClick={() => setErrors(put(['rail', 'joint'], kind))}>{kind === 'butt' ? 'Butt, over a tab' : 'Scarf'}</button>
        ))}
      </div>
      {joint === 'scarf' && <BoardFigure path={['rail', 'scarfRatio']} label="Scarf, length over thickness" kind="plain" sign=": 1" />}
      <BoardFigure path={['rail', 'jointStagger']} label="Stagger between neighbouring layers" kind="length" />
      <BoardFigure path={['rail', 'leastPiece']} label="Shortest piece" kind="length" />
      <Refused errors={errors} />
    </fieldset>
  );
}

/** How ribs and stringer lie to the sheet's face grain. */
function Grain({ design }: { readonly design: Design }) {
  const [errors, setErrors] = useState<readonly FieldError[]>([]);
  return (
    <>
      <ChoiceField
        label="Face grain, along the sheet" value={design.frames.grain ?? 'along'} choices={[['along', 'along every part'], ['either', 'of no matter']]}
        onChoose={(to) => setErrors(put(['frames', 'grain'], to === 'along' ? undefined : to))}
      />
      <Refused errors={errors} />
    </>
  );
}

/** The glue by its data sheet, and what goes on beside timber and glue. */
function Glue({ design }: { readonly design: Design }) {
  const [errors, setErrors] = useState<readonly FieldError[]>([]);
  return (
    <fieldset>
      <legend>Glue and finish</legend>
      {design.adhesive ? (
        <>
          <BoardText path={['adhesive', 'name']} label="Glue" />
          <BoardFigure path={['adhesive', 'spread']} label="Spread" kind="plain" />
          <BoardFigure path={['adhesive', 'openMinutes']} label="Open time" kind="plain" />
          <BoardFigure path={['adhesive', 'clampMinutes']} label="Time in clamps" kind="plain" />
          <button type="button" className="ruled add" onClick={() => setErrors(put(['adhesive'], undefined))}>Remove the glue</button>
        </>
      ) : (
        <>
          <p className="hint">No glue chosen: 200 g/m2 stands in for its data sheet.</p>
          <button type="button" className="ruled add" onClick={() => setErrors(put(['adhesive'], { name: '', spread: 200, openMinutes: 15, clampMinutes: 240 }))}>Add a glue</button>
        </>
      )}
      <BoardFigure path={['weights', 'finish']} label="Cloth, resin and finish" kind="plain" empty="not weighed" />
      <BoardFigure path={['weights', 'vent']} label="Vent" kind="plain" empty="not weighed" />
      <BoardFigure path={['weights', 'fittings']} label="Fin boxes, leash plug, handle" kind="plain" empty="not weighed" />
      <p className="hint">Spread and times are the glue maker’s own: read the data sheet of yours.</p>
      <Refused errors={errors} />
    </fieldset>
  );
}

export function TimberPage() {
  const design = useDesign((state) => state.design);
  const unit = useUnits((state) => state.unit);
  const { rail, timber, frames } = design;
  return (
    <div className="timber">
      <SpeciesOfParts design={design} />
      <Stock design={design} name="strips" title={stripTitle(design, unit)} />
      <Stock design={design} name="spacers" title={`Spacer strips, ${lengthText(rail.spacerWidth, unit)} × ${lengthText(rail.spacerHeight, unit)}`} />
      <Stock design={design} name="boards" title={`Boards for outer skins, ${lengthWithUnit(rail.outerThickness, unit)} thick`} />
      <Stock design={design} name="planks" title="Planks that strips and spacers are ripped from" first={{ length: 2400, width: 150, thickness: 25, price: 0 }} />
      <Stock design={design} name="skinPlanks" title="Planks for bottom and deck skin, as thick as the skins" first={{ length: 2400, width: 150, price: 0 }} />
      <fieldset>
        <legend>Sheets and panels</legend>
        <BoardFigure path={['frames', 'sheet', 'length']} label={`Sheet for frames, ${lengthWithUnit(frames.ribThickness, unit)}: length`} kind="length" />
        <BoardFigure path={['frames', 'sheet', 'width']} label="Sheet: width" kind="length" />
        <BoardFigure path={['frames', 'sheet', 'price']} label="Sheet: price" kind="plain" sign={timber.currency} />
        <Grain design={design} />
        <BoardFigure path={['timber', 'skinPricePerM2']} label="Skin panel, price of a square metre" kind="plain" sign={timber.currency} />
        <BoardText path={['timber', 'currency']} label="Currency" />
      </fieldset>
      <Joints design={design} />
      <Glue design={design} />
      <fieldset>
        <legend>Cutting</legend>
        <BoardFigure path={['timber', 'sawKerf']} label="Saw kerf" kind="length" />
        <BoardFigure path={['rail', 'blankOversize']} label="Oversize of skin blanks" kind="length" />
        <BoardFigure path={['frames', 'kerf']} label="Laser kerf" kind="length" />
        <BoardFigure path={['frames', 'notchFit']} label="Half-lap clearance" kind="length" />
        <BoardFigure path={['frames', 'leastWeb']} label="Least web round a lightening hole" kind="length" />
      </fieldset>
      <SpeciesList design={design} />
      <p className="hint">The starter boards’ timber batches and prices are made up. Put your own here: joints, cutting, cost and bending follow.</p>
    </div>
  );
}
