/** Sharing: the whole board in a link and a QR code, to be opened at this station on another device. */
import { useMemo, useRef, useState } from 'react';
import { sectionAt } from '../../geometry/rail/query';
import type { Plan } from '../../geometry/types';
import { useBuild } from '../build/state';
import { useDesign } from '../store/design';
import { cursorRun, nearerEnd } from '../store/station';
import { unitSign, useUnits } from '../store/units';
import { useView } from '../store/view';
import { isThisMachineOnly, ownBase, useAddress } from './address';
import { boardLink, checkBase, LINK_LIMIT, QR_LIMIT } from './boardLink';
import { qrCode, qrPath, QUIET } from './qr';
import './share.css';

/** Smallest module a phone's camera reads well off paper, mm: the project's own choice. */
const MODULE = 0.4;

function Code({ href, label }: { readonly href: string; readonly label: string }) {
  const code = useMemo(() => qrCode(href), [href]);
  const side = code.size + 2 * QUIET;
  return (
    <figure className="qr">
      <svg viewBox={`0 0 ${side} ${side}`} role="img" aria-label={label} shapeRendering="crispEdges" data-modules={code.size}>
        <rect width={side} height={side} fill="#fff" />
        <path d={qrPath(code)} fill="#000" />
      </svg>
      <figcaption>Printed, it wants {Math.ceil((side * MODULE) / 5) * 5} mm a side or more.</figcaption>
    </figure>
  );
}

/** The address the link begins with, given by the maker where the page's own will not do. */
function AddressField() {
  const { given, give } = useAddress();
  const [typed, setTyped] = useState<string | null>(null);
  const [error, setError] = useState<string | null>(null);
  const own = ownBase();
  const base = given || own;
  const enter = () => {
    if (typed === null) return;
    const read = checkBase(typed);
    setError(read.ok ? null : `“${read.error.value}” ${read.error.message}. Allowed: ${read.error.allowed}.`);
    if (!read.ok) return;
    give(read.base === own ? '' : read.base);
    setTyped(null);
  };
  return (
    <form
      className="address"
      onSubmit={(event) => {
        event.preventDefault();
        enter();
      }}
    >
      <label htmlFor="share-address">Address of this page</label>
      <input
        id="share-address" type="url" inputMode="url" value={typed ?? base} placeholder="https://" aria-invalid={error !== null}
        aria-describedby="share-address-note" onChange={(event) => setTyped(event.target.value)} onBlur={enter}
      />
      {error && <p role="alert" className="field-error">{error}</p>}
      <p className="hint" id="share-address-note">
        {base === ''
          ? 'This page was opened from a file and has no address. Give the one it is served from, and there will be a code.'
          : isThisMachineOnly(base)
            ? 'Only this machine goes by this name. For a phone, give the address by which it reaches this page.'
            : 'What follows the # stays in the browser: no server sees the board.'}
      </p>
    </form>
  );
}

function CopyButton({ href }: { readonly href: string }) {
  const [said, setSaid] = useState('');
  const field = useRef<HTMLTextAreaElement>(null);
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(href);
      setSaid('Copied.');
    } catch {
      field.current?.select();
      setSaid('This browser does not let the page copy. The link is selected: copy it by hand.');
    }
  };
  return (
    <>
      <textarea ref={field} readOnly rows={3} aria-label="The link" value={href} onFocus={(event) => event.target.select()} />
      <p className="share-way">
        <button type="button" onClick={() => void copy()}>Copy link</button>
        <span role="status">{said}</span>
      </p>
    </>
  );
}

export function SharePanel({ plan }: { readonly plan: Plan }) {
  const unit = useUnits((state) => state.unit);
  const design = useDesign((state) => state.design);
  const s = cursorRun(plan, useView((state) => state.s));
  const step = useBuild((state) => state.step);
  const { given } = useAddress();
  const [at, setAt] = useState<'station' | 'step' | 'board'>('station');
  const place = `${nearerEnd(plan, sectionAt(plan, s).x, unit)}, ${unitSign(unit)}`;
  const link = useMemo(
    () => boardLink(design, at === 'board' ? Number.NaN : s, given || ownBase(), at === 'step' ? step : undefined),
    [design, at, s, given, step],
  );
  return (
    <section className="panel share" aria-label="Share">
      <h2>Share</h2>
      <p className="hint">The whole board is in the link. Whoever opens it gets a board of their own on their shelf.</p>
      <fieldset className="choice">
        <legend>Opens at</legend>
        <div className="segments">
          <button type="button" aria-pressed={at === 'station'} onClick={() => setAt('station')}>this station</button>
          <button type="button" aria-pressed={at === 'step'} onClick={() => setAt('step')}>build step {step}</button>
          <button type="button" aria-pressed={at === 'board'} onClick={() => setAt('board')}>the board</button>
        </div>
      </fieldset>
      {link.fitsQr
        ? <Code href={link.href} label={`QR code: opens ${plan.design.name}${at === 'board' ? '' : ` at ${place}`}`} />
        : <p className="share-none" role="status">
            {link.length > QR_LIMIT
              ? `No code: the link has ${link.length} characters, and a QR code holds ${QR_LIMIT}. Fewer points on the lines, or a shorter note, make it shorter.`
              : 'No code without an address.'}
          </p>}
      <AddressField />
      {link.fitsLink
        ? <CopyButton href={link.href} />
        : <p className="field-error" role="alert">No link: it would have {link.length} characters, and at most {LINK_LIMIT} travel safely. Hand the board on as a file.</p>}
      <p className="hint">{link.length} characters; a QR code holds {QR_LIMIT}, a link {LINK_LIMIT}.</p>
    </section>
  );
}
