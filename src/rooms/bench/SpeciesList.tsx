/** Every timber a board can name: the built-in table with the source of each value, and the maker's own to add and change. */
import { useState } from 'react';
import type { FieldError } from '../../../geometry/design/fields';
import type { Design, SpeciesDesign } from '../../../geometry/design/schema';
import { allSpecies, BUILT_IN_SPECIES, type BuiltInSpecies, type How } from '../../../geometry/design/timber';
import { fixed } from '../../say/units';
import { BoardFigure, BoardText, Refused } from './BoardField';
import { put, type FigureKind } from './edits';
import './timber.css';

const HOW: Readonly<Record<How, string>> = { read: 'read in the source', 'second-hand': 'second-hand', memory: 'from memory', 'own choice': 'our own choice' };

const VALUES: readonly { readonly id: 'density' | 'moe' | 'mor' | 'dryLimit' | 'steamLimit'; readonly label: string; readonly sign: string; readonly kind: FigureKind }[] = [
  { id: 'density', label: 'Density', sign: 'kg/m³', kind: 'plain' },
  { id: 'moe', label: 'Stiffness (MOE)', sign: 'MPa', kind: 'plain' },
  { id: 'mor', label: 'Bending strength (MOR)', sign: 'MPa', kind: 'plain' },
  { id: 'dryLimit', label: 'Strain it takes dry', sign: '%', kind: 'share' },
  { id: 'steamLimit', label: 'Strain it takes steamed', sign: '%', kind: 'share' },
];

const figure = (value: number, kind: FigureKind): string => (kind === 'share' ? fixed(value * 100, 2) : fixed(value, 0));

function BuiltIn({ wood }: { readonly wood: BuiltInSpecies }) {
  return (
    <details>
      <summary>{wood.name} <small>{fixed(wood.density.value, 0)} kg/m³, dry to {figure(wood.dryLimit.value, 'share')} %</small></summary>
      <table className="sources">
        <tbody>
          {VALUES.map(({ id, label, sign, kind }) => (
            <tr key={id}>
              <th scope="row">{label}</th><td>{figure(wood[id].value, kind)} {sign}</td><td>{wood[id].source} <em>({HOW[wood[id].how]})</em></td>
            </tr>
          ))}
        </tbody>
      </table>
      {wood.note && <p className="hint">{wood.note}</p>}
    </details>
  );
}

function Own({ index, wood }: { readonly index: number; readonly wood: SpeciesDesign }) {
  const [errors, setErrors] = useState<readonly FieldError[]>([]);
  const at = (field: string) => ['timber', 'species', index, field];
  return (
    <details open>
      <summary>{wood.name} <small>your own</small></summary>
      <BoardText path={at('name')} label="Name" />
      {VALUES.map(({ id, label, sign, kind }) => <BoardFigure key={id} path={at(id)} label={label} kind={kind} sign={sign} />)}
      {wood.note && <p className="hint">{wood.note}</p>}
      <button type="button" className="ruled" onClick={() => setErrors(put(['timber', 'species', index], undefined))}>Remove this timber</button>
      <Refused errors={errors} />
    </details>
  );
}

/** A name for a new timber that none has yet. */
function freeId(design: Design): string {
  const taken = new Set(allSpecies(design).map(({ id }) => id));
  let n = 1;
  while (taken.has(`own-${n}`)) n += 1;
  return `own-${n}`;
}

export function SpeciesList({ design }: { readonly design: Design }) {
  const species = allSpecies(design);
  const [like, setLike] = useState(design.timber.rail);
  const [errors, setErrors] = useState<readonly FieldError[]>([]);
  const { species: own } = design.timber;
  const ownIds = new Set(own.map(({ id }) => id));
  const add = () => {
    const wood = species.find(({ id }) => id === like) ?? species[0];
    const { note: _, ...values } = wood;
    setErrors(put(['timber', 'species', own.length], { ...values, id: freeId(design), name: `${wood.name}, my batch` }));
  };
  return (
    <fieldset className="species">
      <legend>Timbers</legend>
      {own.map((wood, i) => <Own key={wood.id} index={i} wood={wood} />)}
      <div className="new-species">
        <label>Add your own, starting from <select value={like} onChange={(event) => setLike(event.target.value)}>{species.map(({ id, name }) => <option key={id} value={id}>{name}</option>)}</select></label>
        <button type="button" className="ruled" onClick={add}>Add</button>
      </div>
      <Refused errors={errors} />
      {BUILT_IN_SPECIES.filter(({ id }) => !ownIds.has(id)).map((wood) => <BuiltIn key={wood.id} wood={wood} />)}
      <p className="hint">Timber differs from tree to tree. Weigh your own, bend a trial strip, and enter what you find.</p>
    </fieldset>
  );
}
