/** What the maker takes on to bend each kind of strip at either end, and what fills an end where the strips stop. */
import { useState } from 'react';
import type { FieldError } from '../../../geometry/design/fields';
import type { Method } from '../../../geometry/design/methods';
import { blockAt } from '../../../geometry/frame/ends';
import type { Plan } from '../../../geometry/types';
import { BEND_WORDS } from '../../say/words';
import { BoardFigure, Refused } from './BoardField';
import { put, type FieldPath } from './edits';
import { Worded } from '../../ui/Term';
import './timber.css';

const KINDS = [['sole', 'Sole'], ['rows', 'Spacer rows'], ['cap', 'Cap'], ['skins', 'Outer skins']] as const;
const ENDS = ['tail', 'nose'] as const;
/** Methods that may be chosen for flat strips, and for outer skins; each allows those before it. */
const FOR_STRIPS: readonly Method[] = ['cold', 'forced', 'wet', 'split', 'strap'];
const FOR_SKINS: readonly Method[] = ['cold', 'forced', 'wet', 'layers', 'strap'];

interface ChoiceProps {
  readonly label: string;
  readonly value: string | undefined;
  /** Value and words of each choice; the first stands for none. */
  readonly choices: readonly (readonly [string, string])[];
  readonly path: FieldPath;
  readonly onErrors: (errors: readonly FieldError[]) => void;
}

function Choice({ label, value, choices, path, onErrors }: ChoiceProps) {
  return (
    <select aria-label={label} value={value ?? ''} onChange={(event) => onErrors(put(path, event.target.value === '' ? undefined : event.target.value))}>
      {choices.map(([id, words]) => <option key={id} value={id}>{words}</option>)}
    </select>
  );
}

/** An end's filling; undecided is none. */
const BLOCKS = [['', 'not decided'], ['ring', 'a ring'], ['solid', 'solid']] as const;

/** Where the outer skins end at a block. */
const AT_BLOCK = [['wrapped', 'go round it'], ['butted', 'butt on it']] as const;

export function MethodChoices({ plan }: { readonly plan: Plan }) {
  const { design, rail } = plan;
  const [errors, setErrors] = useState<readonly FieldError[]>([]);
  const consent = (what: 'split' | 'strap', words: string) => (
    <label className="tick">
      <input type="checkbox" checked={design.consents?.[what] ?? false} onChange={(event) => setErrors(put(['consents', what], event.target.checked || undefined))} /> {words}
    </label>
  );
  const fill = (end: 'tail' | 'nose', block: string) =>
    setErrors(put(['ends', end], block === '' ? undefined : { skins: 'wrapped', ...design.ends?.[end], block }));
  /** What the plan fills an end with where nothing is decided yet. */
  const planned = (end: 'tail' | 'nose') => design.ends?.[end]?.block ?? (rail.ends[end]?.cause === 'bend' ? 'ring' : 'solid');
  const blocked = ENDS.some((end) => rail.ends[end]);
  return (
    <fieldset className="methods">
      <legend><Worded text="Methods and ends" /></legend>
      <table>
        <thead><tr><th scope="col">the most you do</th>{ENDS.map((end) => <th key={end} scope="col">toward the {end}</th>)}</tr></thead>
        <tbody>
          {KINDS.map(([kind, name]) => (
            <tr key={kind}>
              <th scope="row"><Worded text={name} /></th>
              {ENDS.map((end) => (
                <td key={end}>
                  <Choice
                    label={`${name} toward the ${end}, the most you do`} value={design.methods?.[kind]?.[end]} path={['methods', kind, end]} onErrors={setErrors}
                    choices={[['', 'what it takes'], ...(kind === 'skins' ? FOR_SKINS : FOR_STRIPS).map((method): [string, string] => [method, BEND_WORDS[method]])]}
                  />
                </td>
              ))}
            </tr>
          ))}
          <tr>
            <th scope="row"><Worded text="Block" /></th>
            {ENDS.map((end) => (
              <td key={end}>
                <select aria-label={`Block at the ${end}`} value={design.ends?.[end]?.block ?? ''} onChange={(event) => fill(end, event.target.value)}>
                  {BLOCKS.map(([id, words]) => <option key={id} value={id}>{words}</option>)}
                </select>
              </td>
            ))}
          </tr>
          {blocked && (
            <tr>
              <th scope="row"><Worded text="Outer skins at the block" /></th>
              {ENDS.map((end) => (
                <td key={end}>
                  {rail.ends[end] ? (
                    <select
                      aria-label={`Outer skins at the ${end} block`} value={design.ends?.[end]?.skins ?? 'wrapped'}
                      onChange={(event) => setErrors(put(['ends', end], { block: planned(end), skins: event.target.value }))}
                    >
                      {AT_BLOCK.map(([id, words]) => <option key={id} value={id}>{words}</option>)}
                    </select>
                  ) : blockAt(plan, end) ? 'go by it' : 'no block'}
                </td>
              ))}
            </tr>
          )}
        </tbody>
      </table>
      <BoardFigure path={['ends', 'ringWidth']} label="Width of a ring" kind="length" empty="usual" />
      {consent('split', 'Strips may be split on their width, bent in wet heat and glued side by side')}
      {consent('strap', 'Strips may be bent wet with a metal strap on their back')}
      <p className="hint">Left to the plan, each stretch gets the least trouble that does: cold, then with force, then in wet heat; outer skins in layers too. Where none does, the strips stop on a block: the outer skins go round it, or lap it and butt on it, and it is shaped to the outline itself. Bend a trial piece first: wood differs from tree to tree.</p>
      <Refused errors={errors} />
    </fieldset>
  );
}
