/** Where the vent goes, and the blocks for leash, fins and handle: fields of the board file. */
import { useState } from 'react';
import type { FieldError } from '../../../geometry/design/fields';
import type { Design } from '../../../geometry/design/schema';
import { BoardFigure, BoardText, Refused } from './BoardField';
import { put, type FieldPath } from './edits';
import { ChoiceField } from '../../ui/fields';
import './timber.css';

const KINDS = [['leash', 'Leash plug'], ['fin', 'Fin box'], ['handle', 'Handle']] as const;
const SKINS = ['deck', 'bottom'] as const;

/** Place of a thing on the board. */
function At({ path, name }: { readonly path: FieldPath; readonly name: string }) {
  return (
    <>
      <BoardFigure path={[...path, 'x']} label={`${name}: from the tail`} kind="length" />
      <BoardFigure path={[...path, 'y']} label={`${name}: to starboard of the centreline`} kind="length" />
    </>
  );
}

export function FittingsFields({ design }: { readonly design: Design }) {
  const [errors, setErrors] = useState<readonly FieldError[]>([]);
  const { vent, fittings = [], lines: { outline: { points } } } = design;
  const { x: length } = points[points.length - 1];
  const pick = (label: string, path: FieldPath, value: string, choices: readonly (readonly [string, string])[]) => (
    <ChoiceField label={label} value={value} choices={choices} onChoose={(to) => setErrors(put(path, to))} />
  );
  const skins = SKINS.map((skin): readonly [string, string] => [skin, skin]);
  return (
    <fieldset>
      <legend>Vent and fittings</legend>
      {vent ? (
        <>
          <At path={['vent']} name="Vent" />
          <BoardFigure path={['vent', 'diameter']} label="Vent: diameter" kind="length" />
          {pick('Vent: through the', ['vent', 'through'], vent.through, skins)}
          <button type="button" className="ruled add" onClick={() => setErrors(put(['vent'], undefined))}>Remove the vent</button>
        </>
      ) : (
        <button type="button" className="ruled add" onClick={() => setErrors(put(['vent'], { x: Math.round(length * 0.45), y: 40, through: 'deck', diameter: 12 }))}>Add a vent</button>
      )}
      {fittings.map((fitting, i) => {
        const name = fitting.name || (KINDS.find(([kind]) => kind === fitting.kind)?.[1] ?? '');
        const at: FieldPath = ['fittings', i];
        return (
          // A fitting has no name but its place in the list.
          // oxlint-disable-next-line react/no-array-index-key
          <details key={i}>
            <summary>{name}</summary>
            {pick('For', [...at, 'kind'], fitting.kind, KINDS)}
            <BoardText path={[...at, 'name']} label="Name" />
            <At path={at} name={name} />
            <BoardFigure path={[...at, 'length']} label={`${name}: length of its block`} kind="length" />
            <BoardFigure path={[...at, 'width']} label={`${name}: width of its block`} kind="length" />
            {pick('Glued under the', [...at, 'under'], fitting.under, skins)}
            <BoardFigure path={[...at, 'depth']} label={`${name}: depth of its block`} kind="length" empty="skin to skin" />
            <button type="button" className="ruled add" onClick={() => setErrors(put(fittings.length === 1 ? ['fittings'] : at, undefined))}>Remove it</button>
          </details>
        );
      })}
      {fittings.length < 20 && (
        <button type="button" className="ruled add" onClick={() => setErrors(put(['fittings', fittings.length], { kind: 'leash', x: Math.round(length * 0.08), y: 0, length: 60, width: 40, under: 'deck', depth: 20 }))}>Add a fitting</button>
      )}
      <p className="hint">A closed hollow board needs a vent: its air swells in the sun and shrinks in the water.</p>
      <Refused errors={errors} />
    </fieldset>
  );
}
