/** What the stage shows: layers, skins on, lifted, faded or off, the cut-away side, overlays and labels. */
import { LAYERS, type OpenSide, type SkinShow, useView } from '../../state/view';

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
      <legend>{label}</legend>
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

export function LayersPanel() {
  const view = useView();
  return (
    <section className="panel" aria-label="Layers">
      <h2>Layers</h2>
      <Choice label="Deck skin" options={DECK_SHOWS} value={view.deck} onChoose={view.setDeck} />
      <Choice label="Bottom skin" options={BOTTOM_SHOWS} value={view.bottom} onChoose={view.setBottom} />
      <Choice label="Cut-away rail" options={SIDES} value={view.openSide} onChoose={view.setOpenSide} />
      <fieldset>
        <legend>Parts</legend>
        {LAYERS.map(({ id, label }) => (
          <Switch key={id} label={label} on={view.layers[id]} onChange={() => view.toggleLayer(id)} />
        ))}
      </fieldset>
      <fieldset>
        <legend>Overlays</legend>
        <Switch label="Cut at the station" on={view.cut} onChange={view.setCut} />
        <Switch label="Bevel map on the cap" on={view.bevelMap} onChange={view.setBevelMap} />
        <Switch label="Labels" on={view.labels} onChange={view.setLabels} />
      </fieldset>
    </section>
  );
}
