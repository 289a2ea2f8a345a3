/** Every timber a board can name: the built-in table with the source of each value, and the maker's own to add and change. */
import { useState } from 'react';
import type { FieldError } from '../../../geometry/design/fields';
import type { Design, SpeciesDesign } from '../../../geometry/design/schema';
import { allSpecies, BUILT_IN_SPECIES, type BuiltInSpecies, type How } from '../../../geometry/design/timber';
import { fixed } from '../../say/units';
import { BoardFigure, BoardText, Refused } from './BoardField';
import { put } from './edits';
import { limitsOf, limitSources } from '../../../geometry/wood/limits';
import { useDesign } from '../../state/design';
import { useUnits } from '../../state/unit';
import { useRecord } from '../../work/readings';
import { textOf } from '../../say/said';
import { strainText } from '../../say/bendWords';
import { ChoiceField } from '../../ui/fields';
import './timber.css';

const HOW: Readonly<Record<How, string>> = { read: 'read in the source', 'second-hand': 'second-hand', memory: 'from memory', 'own choice': 'our own choice' };

const VALUES: readonly { readonly id: 'density' | 'moe' | 'mor'; readonly label: string; readonly sign: string }[] = [
  { id: 'density', label: 'Density', sign: 'kg/m³' },
  { id: 'moe', label: 'Stiffness (MOE)', sign: 'MPa' },
  { id: 'mor', label: 'Bending strength (MOR)', sign: 'MPa' },
];

const LIMITS = [['cold', 'Strain it takes cold'], ['forced', 'Cold, forced'], ['wet', 'In wet heat']] as const;

/** The batch's limits as the board is planned with them, where trial bends of this timber, or of strips or skins made of it, are in. */
function Batch({ species }: { readonly species: SpeciesDesign }) {
  const { rail, outer } = useDesign((state) => state.design.timber);
  const trials = useRecord().trials?.filter(({ of }) => of === species.id || (of === 'rail' && rail === species.id) || (of === 'outer' && outer === species.id)) ?? [];
  if (trials.length === 0) return null;
  const limits = limitsOf(species, trials);
  const told = LIMITS.flatMap(([id, label]) => (limits[id] === undefined ? [] : [`${label.toLowerCase()} ${strainText(limits[id])}`]));
  return <p className="hint">With {trials.length === 1 ? 'the trial bend' : `the ${trials.length} trial bends`} of your batch: {told.join(', ')}.</p>;
}

function BuiltIn({ wood, species }: { readonly wood: BuiltInSpecies; readonly species: SpeciesDesign }) {
  const unit = useUnits((state) => state.unit);
  const limits = limitsOf(species);
  const sources = limitSources(species);
  return (
    <details>
      <summary>{wood.name} <small>{fixed(wood.density.value, 0)} kg/m³, cold to {strainText(limits.cold)}</small></summary>
      <table className="sources">
        <tbody>
          {VALUES.map(({ id, label, sign }) => (
            <tr key={id}>
              <th scope="row">{label}</th><td>{fixed(wood[id].value, 0)} {sign}</td><td>{wood[id].source} <em>({HOW[wood[id].how]})</em></td>
            </tr>
          ))}
          {LIMITS.map(([id, label]) => (
            <tr key={id}>
              <th scope="row">{label}</th><td>{limits[id] === undefined ? 'no room of its own' : strainText(limits[id])}</td><td>{textOf(sources[id], unit)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <Batch species={species} />
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
      {VALUES.map(({ id, label, sign }) => <BoardFigure key={id} path={at(id)} label={label} kind="plain" sign={sign} />)}
      <BoardFigure path={at('dryLimit')} label="Strain it takes cold" kind="share" sign="%" empty={strainText(limitsOf({ ...wood, dryLimit: undefined }).cold)} />
      <BoardFigure path={at('steamLimit')} label="Strain it takes in wet heat" kind="share" sign="%" empty={strainText(limitsOf({ ...wood, steamLimit: undefined }).wet)} />
      <ChoiceField label="Class" value={wood.woodClass ?? 'softwood'} choices={[['softwood', 'softwood'], ['hardwood', 'hardwood']]} onChoose={(to) => setErrors(put(at('woodClass'), to))} />
      <Batch species={wood} />
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
      {BUILT_IN_SPECIES.filter(({ id }) => !ownIds.has(id)).map((wood) => {
        const one = species.find(({ id }) => id === wood.id);
        return one && <BuiltIn key={wood.id} wood={wood} species={one} />;
      })}
      <p className="hint">Timber differs from tree to tree. Weigh your own, bend a trial strip, and enter what you find.</p>
    </fieldset>
  );
}
