/** The address by which other devices reach this page: links begin with it, and the bench sheet's codes lead to it. */
import { useState } from 'react';
import { said, type Said as What } from '../../geometry/said';
import { isThisMachineOnly, ownBase, useAddress } from '../state/address';
import { checkBase } from '../link/boardLink';
import { Said } from './Said';
import css from './AddressField.module.css';

export function AddressField({ label = 'Address of this page' }: { readonly label?: string }) {
  const { given, give } = useAddress();
  const [typed, setTyped] = useState<string | null>(null);
  const [error, setError] = useState<What | null>(null);
  const own = ownBase();
  const base = given || own;
  const enter = () => {
    if (typed === null) return;
    const read = checkBase(typed);
    setError(read.ok ? null : said('“{value}” {message}. Allowed: {allowed}.', { value: read.error.value, message: read.error.message, allowed: read.error.allowed }));
    if (!read.ok) return;
    give(read.base === own ? '' : read.base);
    setTyped(null);
  };
  return (
    <form
      className={css.address}
      onSubmit={(event) => {
        event.preventDefault();
        enter();
      }}
    >
      <label htmlFor="share-address">{label}</label>
      <input
        id="share-address" className="text-field" type="url" inputMode="url" value={typed ?? base} placeholder="https://" aria-invalid={error !== null}
        aria-describedby="share-address-note" onChange={(event) => setTyped(event.target.value)} onBlur={enter}
      />
      {error && <p role="alert" className="field-error"><Said text={error} /></p>}
      <p className="hint" id="share-address-note">
        {base === ''
          ? 'This page was opened from a file and has no address. Enter the address it is served from to get a code.'
          : isThisMachineOnly(base)
            ? 'Only this machine knows this name. For a phone, enter the address at which it reaches this page.'
            : 'What follows the # stays in the browser: no server sees the board.'}
      </p>
    </form>
  );
}
