/** What the stage shows, over the picture itself: the finished board or its parts, skins on, lifted, faded or off, the cut-away side, the cap's colour and labels. */
import { LAYERS, type OpenSide, type SkinShow, useView } from '../../state/view';
import { usePlan } from '../../state/plan';
import { LieKey } from '../../stage/LieKey';
import { Drawer } from '../../ui/Drawer';
import { usePartsOf } from '../../work/parts';
import { Worded } from '../../ui/Term';
import './layers.css';

type BottomShow = Exclude<SkinShow, 'lift'>;
const BOTTOM_SHOWS: readonly { readonly id: BottomShow; readonly label: string }[] = [
  { id: 'on', label: 'On' },
  { id: 'fade', label: 'Faded' },
  { id: 'off', label: 'Off' },
];
const DECK_SHOWS: readonly { readonly id: SkinShow; readonly label: string }[] = [...BOTTOM_SHOWS, { id: 'lift', label: 'Lifted' }];
const SIDES: readonly { readonly id: OpenSide; readonly label: string }[] = [
  { id: 'starboard', label: 'Starboard' },
  { id: 'port', label: 'Port' },
  { id: 'both', label: 'Both' },
  { id: 'none', label: 'None' },
];

interface ChoiceProps<T extends string> {
  readonly label: string;
  readonly options: readonly { readonly id: T; readonly label: string }[];
  readonly value: T;
  readonly onChoose: (value: T) => void;
}

function Choice<T extends string>({ label, options, value, onChoose }: ChoiceProps<T>) {
  return (
    <fieldset className="choice">
      <legend><Worded text={label} /></legend>
      <div className="segments">
        {options.map((option) => (
          <button key={option.id} type="button" aria-pressed={option.id === value} onClick={() => onChoose(option.id)}>{option.label}</button>
        ))}
      </div>
    </fieldset>
  );
}

interface SwitchProps {
  readonly label: string;
  readonly on: boolean;
  readonly onChange: (on: boolean) => void;
}

function Switch({ label, on, onChange }: SwitchProps) {
  return (
    <label className="switch">
      <input type="checkbox" checked={on} onChange={(event) => onChange(event.target.checked)} />
      {label}
    </label>
  );
}

/** What the cap is coloured by. */
const CAP_COLOURS = [{ id: 'bevel', label: 'Bevel' }, { id: 'lie', label: 'How it lies' }, { id: 'timber', label: 'Timber' }] as const;
const BOARDS = [{ id: 'parts', label: 'Its parts' }, { id: 'finished', label: 'Finished' }] as const;

export function LayersPanel() {
  const parts = usePartsOf(usePlan());
  const view = useView();
  return (
    <Drawer label="Layers" className="layers">
      <Choice label="The board" options={BOARDS} value={view.finished ? 'finished' : 'parts'} onChoose={(id) => view.setFinished(id === 'finished')} />
      <fieldset className="parts" disabled={view.finished}>
        <legend className="spoken">Shown</legend>
        {LAYERS.map(({ id, label }) => (
          <Switch key={id} label={label} on={view.layers[id]} onChange={() => view.toggleLayer(id)} />
        ))}
        <Switch label="Labels" on={view.labels} onChange={view.setLabels} />
        <Switch label="Decisions" on={view.pins} onChange={view.setPins} />
        <Switch label="Cut at the station" on={view.cut} onChange={view.setCut} />
      </fieldset>
      {/* A press on a layer's name shows or hides it: what it is called is told here. */}
      <p className="hint">What these are: <Worded text="rib, sole, row, cap, hollow, outer skins, station" />.</p>
      <fieldset className="skins" disabled={view.finished}>
        <legend className="spoken">How it is shown</legend>
        <Choice label="Deck skin" options={DECK_SHOWS} value={view.deck} onChoose={view.setDeck} />
        <Choice label="Bottom skin" options={BOTTOM_SHOWS} value={view.bottom} onChoose={view.setBottom} />
        <Choice label="Cut-away rail" options={SIDES} value={view.openSide} onChoose={view.setOpenSide} />
        <Choice label="Colour of the cap" options={CAP_COLOURS} value={view.capColour} onChoose={view.setCapColour} />
        {view.capColour === 'lie' && <LieKey parts={parts} inDrawer />}
      </fieldset>
    </Drawer>
  );
}
