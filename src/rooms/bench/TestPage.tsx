/** The test piece: what it looks like, what is measured on it, and the kerf and clearance that follow. */
import { useState } from 'react';
import type { FieldError } from '../../../geometry/errors';
import { fitMeasured, kerfMeasured, testPieces } from '../../../geometry/frame/testPiece';
import { range } from '../../../geometry/said';
import { notchWords } from '../../say/testPiece';
import { fieldLength, fineUnit, lengthText, lengthWithUnit, readLength, unitSign } from '../../say/units';
import { ChoiceField, FigureField } from '../../ui/fields';
import { Refused } from './BoardField';
import { putAll } from './edits';
import { FlatPart } from './Flat';
import { usePapers } from './papers';
import type { PageProps } from './RailPages';
import './drawings.css';
import './timber.css';

/** What a caliper can read on the square, mm. */
const READ = { min: 1, max: 60 };

interface Measured {
  readonly hole?: number;
  readonly square?: number;
  readonly notch?: string;
}

export function TestPage({ plan: { design }, unit }: Pick<PageProps, 'plan' | 'unit'>) {
  // The laser's own program then allows for the kerf, and it is entered there.
  const drawn = usePapers(({ wanted }) => wanted.kerf === 'drawn');
  const [{ hole, square, notch }, setMeasured] = useState<Measured>({});
  const [taken, setTaken] = useState(false);
  const [errors, setErrors] = useState<readonly FieldError[]>([]);
  const measure = (change: Measured) => {
    setTaken(false);
    setMeasured((before) => ({ ...before, ...change }));
  };
  const pieces = testPieces(design);
  const [{ notches, square: side }] = pieces;
  const fine = fineUnit(unit);
  const bad = hole !== undefined && square !== undefined && square > hole;
  const kerf = hole === undefined || square === undefined || bad ? undefined : kerfMeasured(hole, square);
  const tried = notches.find(({ letter }) => letter === notch);
  const fit = tried && hole !== undefined ? fitMeasured(tried.fit, hole, side) : undefined;
  const allowed = range(READ.min, READ.max, 'mm');
  const caliper = (name: 'hole' | 'square', value: number | undefined, label: string) => (
    <FigureField
      label={label} shown={value === undefined ? '' : fieldLength(value, fine)} unit={unitSign(fine)} allowed={allowed}
      read={(text) => (text.trim() === '' ? undefined : readLength(text, unit))}
      put={(typed) => {
        if (typed !== undefined && !(typed >= READ.min && typed <= READ.max)) return [{ field: label, value: lengthWithUnit(typed, fine, 2), allowed, message: 'does not fit this square' }];
        measure({ [name]: typed });
        return [];
      }}
    />
  );
  const take = () => {
    const found = putAll([
      ...(kerf === undefined || drawn ? [] : [[['frames', 'kerf'], kerf] as const]),
      ...(fit === undefined ? [] : [[['frames', 'notchFit'], fit] as const]),
    ]);
    setErrors(found);
    if (found.length > 0) return;
    // What was measured told of the piece as it was cut; it is in the board now.
    setMeasured({});
    setTaken(true);
  };
  return (
    <>
      <p className="hint">Cut it first, from the sheet the frames come from: test pieces are among the laser files. Then measure, and enter what you found here.</p>
      <div className="beside">
        <fieldset>
          <legend>Measured with a caliper</legend>
          {caliper('hole', hole, 'The square hole, across')}
          {caliper('square', square, 'The square that fell out, across')}
          <ChoiceField
            label={`Notch that an offcut is pushed into by hand, with its clearance, ${unitSign(fine)}`} value={notch ?? ''} choices={[['', 'not tried yet'], ...notches.map((each) => [each.letter, notchWords(each, unit)] as const)]}
            onChoose={(letter) => measure({ notch: letter === '' ? undefined : letter })}
          />
          {kerf !== undefined && (
            <p role="status">
              The kerf is {lengthWithUnit(kerf, fine, 2)}{drawn ? ': enter it in the laser’s own program.' : `; the board has ${lengthText(design.frames.kerf, fine, 2)}.`}
            </p>
          )}
          {bad && <p role="alert" className="field-error">The square that fell out cannot be larger than its hole: measure both again.</p>}
          {fit !== undefined && <p role="status">The half-lap clearance is {lengthWithUnit(fit, fine, 2)}; the board has {lengthText(design.frames.notchFit, fine, 2)}.</p>}
          {tried && hole === undefined && <p className="hint">Measure the hole too: it tells how much wider the notches came out than drawn.</p>}
          {taken && <p role="status">They are in the board.</p>}
          <button type="button" className="ruled add" disabled={bad || ((kerf === undefined || drawn) && fit === undefined)} onClick={take}>Take these into the board</button>
          <Refused errors={errors} />
        </fieldset>
        <ul className="test-pieces">
          {pieces.map(({ id, of, thickness, into, shape }) => (
            <li key={id}>
              <FlatPart shape={shape} label={`Test piece for the ${of}`} />
              <small>For the {of}, {lengthWithUnit(thickness, unit)} thick; notches {notches[0].letter} to {notches.at(-1)?.letter} from the left, for an offcut of {lengthWithUnit(into, unit)}</small>
            </li>
          ))}
        </ul>
      </div>
    </>
  );
}
