/** The construction's main sizes: each a field and a slider, planned as they are typed and moved. */
import { useState } from 'react';
import { allowedAt, fieldRange } from '../../../geometry/design/fields';
import type { FieldError } from '../../../geometry/errors';
import type { Design } from '../../../geometry/design/schema';
import { evenRibs } from '../../../geometry/frame/spacing';
import type { ReadResult } from '../../../geometry/design/read';
import { range, type Said, size as given } from '../../../geometry/said';
import { shownDesign, useDesign } from '../../state/design';
import { type SizePath, sizeAt, withRibs, withSize } from '../../state/edits';
import { boardLength } from '../../state/starters';
import { useUnits } from '../../state/unit';
import { fieldLength, readLength, readNumber, unitSign } from '../../say/units';
import { useComma } from '../../ui/fields';
import { Fault } from '../../ui/Said';
import { Worded, WordedLabel } from '../../ui/Term';
import { Drawer } from '../../ui/Drawer';
import { WhatThisDoes } from './WhatThisDoes';
import './sizes.css';

interface Size {
  readonly path: SizePath;
  readonly label: string;
  /** The slider's range; the field takes all that the board file takes. */
  readonly low: number;
  readonly high: number;
  readonly step: number;
  readonly count?: boolean;
}

interface Group {
  readonly title: string;
  readonly sizes: readonly Size[];
}

const GROUPS: readonly Group[] = [
  {
    title: 'Strips',
    sizes: [
      { path: 'rail.stripWidth', label: 'Strip width', low: 6, high: 30, step: 0.5 },
      { path: 'rail.soleThickness', label: 'Sole thickness', low: 2, high: 15, step: 0.5 },
      { path: 'rail.capThickness', label: 'Cap thickness', low: 2, high: 15, step: 0.5 },
      { path: 'rail.spacerWidth', label: 'Spacer width', low: 2, high: 20, step: 0.5 },
      { path: 'rail.spacerHeight', label: 'Spacer height', low: 2, high: 20, step: 0.5 },
      { path: 'rail.rows', label: 'Rows at most', low: 1, high: 8, step: 1, count: true },
    ],
  },
  {
    title: 'Skins',
    sizes: [
      { path: 'rail.outerLayers', label: 'Outer skins, layers', low: 1, high: 6, step: 1, count: true },
      { path: 'rail.outerThickness', label: 'Outer skins, each', low: 1, high: 12, step: 0.5 },
      { path: 'skins.bottom', label: 'Bottom skin', low: 1, high: 10, step: 0.5 },
      { path: 'skins.deck', label: 'Deck skin', low: 1, high: 10, step: 0.5 },
    ],
  },
  { title: 'Clearance', sizes: [{ path: 'rail.clearance', label: 'Clearance over a row', low: 0, high: 3, step: 0.1 }] },
];

interface FieldProps {
  readonly id: string;
  readonly label: string;
  /** The size of the board shown, and of any. */
  readonly value: number;
  readonly sizeOf: (design: Design) => number;
  readonly low: number;
  readonly high: number;
  readonly step: number;
  readonly count?: boolean;
  readonly allowed: Said;
  /** Puts a value into the design, checked. */
  readonly put: (value: number) => ReadResult;
}

function SizeField({ id, label, value, sizeOf, low, high, step, count, allowed, put }: FieldProps) {
  const unit = useUnits((state) => state.unit);
  const { commit, sketch, keepDraft, dropDraft } = useDesign();
  const [typed, setTyped] = useState<string | null>(null);
  const [errors, setErrors] = useState<readonly FieldError[]>([]);
  const shown = count ? String(value) : fieldLength(value, unit, 2);

  const tryPut = (next: number, take: (design: Design) => void) => {
    const read = put(next);
    setErrors(read.ok ? [] : read.errors);
    if (read.ok) take(read.design);
    return read.ok;
  };
  const enter = (text = typed) => {
    if (text === null || comma.unclear(text)) return;
    const next = count ? readNumber(text) : readLength(text, unit);
    setTyped(text);
    if (next === null) {
      setErrors([{ field: label, value: `“${text}”`, allowed, message: count ? 'is not a number' : 'is not a length' }]);
      return;
    }
    const { design, draft } = useDesign.getState();
    if (next === sizeOf(design)) cancel();
    else if (tryPut(next, (made) => (draft && sizeOf(draft) === next ? keepDraft() : commit(made)))) setTyped(null);
  };
  /** Shows what is typed, where it is a size that can be; else the board as it is. */
  const preview = (text: string) => {
    setTyped(text);
    const next = count ? readNumber(text) : readLength(text, unit);
    const read = next === null ? null : put(next);
    if (read?.ok && next !== sizeOf(useDesign.getState().design)) sketch(read.design);
    else dropDraft();
  };
  const comma = useComma(enter);
  const cancel = () => {
    comma.unclear(null);
    setTyped(null);
    setErrors([]);
    dropDraft();
  };
  return (
    <div className="figure-row">
      <WordedLabel of={id} text={label} />
      <input
        id={id} className="figure-input" inputMode={unit === 'in16' && !count ? 'text' : 'decimal'} value={typed ?? shown}
        aria-label={label} aria-invalid={errors.length > 0} aria-describedby={errors.length > 0 ? `${id}-error ${id}-unit` : `${id}-unit`}
        onFocus={(event) => event.target.select()} onChange={(event) => preview(event.target.value)} onBlur={() => enter()}
        onKeyDown={(event) => {
          if (event.key === 'Enter') enter();
          if (event.key === 'Escape') cancel();
        }}
      />
      <span id={`${id}-unit`} className="sign">{count ? '' : unitSign(unit)}</span>
      <input
        type="range" aria-label={`${label}, slider`} aria-valuetext={count ? shown : `${shown} ${unitSign(unit)}`} min={Math.min(low, value)} max={Math.max(high, value)} step={step} value={value}
        onChange={(event) => {
          setTyped(null);
          tryPut(Number(event.target.value), sketch);
        }}
        onPointerUp={keepDraft} onKeyUp={(event) => (event.key === 'Escape' ? cancel() : keepDraft())} onBlur={keepDraft}
      />
      {comma.question ?? (errors.length > 0 && (
        <ul role="alert" id={`${id}-error`} className="field-error">
          {errors.slice(0, 3).map((error, i) => (
            <li key={i}>
              {error.field} <Fault error={error} /> Your board is unchanged.
            </li>
          ))}
        </ul>
      ))}
    </div>
  );
}

/** The spacing of the ribs: the mean of their bays, mm; 0 with fewer than two ribs. */
function spacingOf({ frames: { ribs } }: Design): number {
  if (ribs.length < 2) return 0;
  const sorted = [...ribs].sort((a, b) => a - b);
  return (sorted[sorted.length - 1] - sorted[0]) / (sorted.length - 1);
}

/** Least spacing of ribs, mm: the project's own choice. */
const LEAST_SPACING = 80;

export function SizesPanel() {
  const design = useDesign(shownDesign);
  const length = boardLength(design);
  const spacing = spacingOf(design);
  // Wider than the board is long, and not even one rib fits.
  const spacings = range(LEAST_SPACING, length, 'mm', 0);
  return (
    <Drawer label="Sizes" className="sizes">
      {GROUPS.map(({ title, sizes }) => (
        <fieldset key={title}>
          <legend><Worded text={title} /></legend>
          {sizes.map((size) => {
            const held = fieldRange(size.path.split('.'));
            return (
              <SizeField
                key={size.path} id={size.path} label={size.label} value={sizeAt(design, size.path)} sizeOf={(of) => sizeAt(of, size.path)} count={size.count}
                low={Math.max(size.low, held?.min ?? size.low)} high={Math.min(size.high, held?.max ?? size.high)} step={size.step}
                allowed={allowedAt(size.path.split('.'))} put={(value) => withSize(useDesign.getState().design, size.path, value)}
              />
            );
          })}
        </fieldset>
      ))}
      <fieldset>
        <legend><Worded text="Ribs" /></legend>
        <SizeField
          id="rib-spacing" label="Rib spacing" value={spacing} sizeOf={spacingOf} low={LEAST_SPACING} high={500} step={5} allowed={spacings}
          put={(value) => {
            const ribs = evenRibs(length, value);
            if (value < spacings.value[0] || ribs.length === 0) {
              return { ok: false, errors: [{ field: 'Rib spacing', value: given(value), allowed: spacings, message: 'is out of range' }] };
            }
            return withRibs(useDesign.getState().design, ribs);
          }}
        />
        <p className="hint">{design.frames.ribs.length} ribs. A new spacing sets all ribs evenly about mid-length.</p>
      </fieldset>
      <WhatThisDoes />
    </Drawer>
  );
}
