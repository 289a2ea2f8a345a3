/** How the shop that cuts wants its files: names and colours of the layers, and how curves are written. The maker's own, for all boards. */
import { useState } from 'react';
import { range } from '../../../geometry/said';
import type { FieldError } from '../../../geometry/errors';
import { DRAWING_LAYERS, type DrawingLayer } from '../../papers/drawing';
import { LAYER_WORK, PLAIN_SHOP, SHOP_COLOURS, type Shop, type ShopColour, type ShopLayer } from '../../papers/shop';
import { asShopFile, checkShop, readShop, writeShop } from '../../papers/shopFile';
import { asGiven, readNumber } from '../../say/units';
import { capital } from '../../say/words';
import { handOver } from '../../state/boardFile';
import { useShop } from '../../state/shop';
import { ChoiceField, FigureField, TextField } from '../../ui/fields';
import { FilePick } from '../../ui/FilePick';
import { Refused } from './BoardField';
import './timber.css';

const COLOURS = (Object.keys(SHOP_COLOURS) as readonly ShopColour[]).map((colour) => [colour, colour] as const);
const SENT = [['yes', 'yes'], ['no', 'no']] as const;

/** Puts a profile in place of the present one; what is wrong where it cannot be. */
function keep(shop: Shop): readonly FieldError[] {
  const read = checkShop(asShopFile(shop));
  if (!read.ok) return read.errors;
  useShop.getState().put(read.shop);
  return [];
}

function Layer({ id, shop }: { readonly id: DrawingLayer; readonly shop: Shop }) {
  const [errors, setErrors] = useState<readonly FieldError[]>([]);
  const layer = shop.layers[id];
  const change = (to: Partial<ShopLayer>) => keep({ ...shop, layers: { ...shop.layers, [id]: { ...layer, ...to } } });
  const title = capital(LAYER_WORK[id]);
  return (
    <>
      <TextField label={`${title}: layer`} shown={layer.name} put={(name) => change({ name })} />
      <ChoiceField label={`${title}: colour`} value={layer.colour} choices={COLOURS} onChoose={(colour) => setErrors(change({ colour }))} />
      {id !== 'cut' && <ChoiceField label={`${title}: in the files`} value={layer.sent ? 'yes' : 'no'} choices={SENT} onChoose={(sent) => setErrors(change({ sent: sent === 'yes' }))} />}
      <Refused errors={errors} />
    </>
  );
}

export function ShopProfile() {
  const shop = useShop((state) => state.shop);
  const [errors, setErrors] = useState<readonly FieldError[]>([]);
  const open = async (file: File) => {
    const read = readShop(await file.text());
    setErrors(read.ok ? keep(read.shop) : read.errors);
  };
  return (
    <>
      <p className="hint">Ask the shop what its machine goes by: names of layers, or colours. The profile is kept in this browser for all your boards, and goes along as a file for the command line.</p>
      <div className="timber">
        {DRAWING_LAYERS.map((id) => (
          <fieldset key={id}>
            <legend>{capital(LAYER_WORK[id])}</legend>
            <Layer id={id} shop={shop} />
          </fieldset>
        ))}
        <fieldset>
          <legend>Curves in SVG and DXF</legend>
          <div className="segments">
            <button type="button" aria-pressed={shop.curves === 'arcs'} title="Few long pieces: a machine runs smoothly" onClick={() => keep({ ...shop, curves: 'arcs' })}>As arcs</button>
            <button type="button" aria-pressed={shop.curves === 'lines'} title="For a program that knows no arcs" onClick={() => keep({ ...shop, curves: 'lines' })}>As short lines</button>
          </div>
          {shop.curves === 'arcs' && (
            <FigureField
              label="Arcs stray at most" shown={asGiven(shop.within)} unit="mm" allowed={range(0.001, 0.5, 'mm')}
              read={readNumber} put={(within) => keep({ ...shop, within: within ?? Number.NaN })}
            />
          )}
        </fieldset>
      </div>
      <p>
        <button type="button" className="ruled" onClick={() => handOver('laser', '.shop.json', writeShop(shop))}>Save the profile</button>{' '}
        <FilePick className="ruled" label="Open a profile" accept=".json,application/json" name="shop-file" onFile={(file) => void open(file)} />{' '}
        <button type="button" className="ruled" disabled={writeShop(shop) === writeShop(PLAIN_SHOP)} onClick={() => useShop.getState().put(PLAIN_SHOP)}>As it comes</button>
      </p>
      <Refused errors={errors} />
    </>
  );
}
