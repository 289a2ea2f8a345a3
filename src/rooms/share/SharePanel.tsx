/** Sharing: the whole board in a link and a QR code, to be opened at this station on another device. */
import { useMemo, useRef, useState } from 'react';
import { version } from '../../../package.json';
import { heldRun, stationAt } from '../../../geometry/rail/query';
import type { Plan } from '../../../geometry/types';
import { useStepAsked } from '../../state/build';
import { useDesign } from '../../state/design';
import { nearerEnd } from '../../say/words';
import { useUnits } from '../../state/unit';
import { lengthWithUnit, unitSign } from '../../say/units';
import { useView } from '../../state/view';
import { ownBase, useAddress } from '../../state/address';
import { AddressField } from '../../ui/AddressField';
import { boardLink, leftOutText, LINK_LIMIT, QR_LIMIT } from '../../link/boardLink';
import { qrCode, qrPath, QUIET } from '../../link/qr';
import { Drawer } from '../../ui/Drawer';
import './share.css';

/** Smallest module a phone's camera reads well off paper, mm: the project's own choice. */
const MODULE = 0.4;

function Code({ href, label }: { readonly href: string; readonly label: string }) {
  const unit = useUnits((state) => state.unit);
  const code = useMemo(() => qrCode(href), [href]);
  const side = code.size + 2 * QUIET;
  return (
    <figure>
      <svg viewBox={`0 0 ${side} ${side}`} role="img" aria-label={label} shapeRendering="crispEdges" data-modules={code.size}>
        <rect width={side} height={side} fill="#fff" />
        <path d={qrPath(code)} fill="#000" />
      </svg>
      <figcaption>Print it {lengthWithUnit(Math.ceil((side * MODULE) / 5) * 5, unit, 0)} a side or larger.</figcaption>
    </figure>
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
      setSaid('This browser does not allow copying. The link is selected: copy it by hand.');
    }
  };
  return (
    <>
      <textarea ref={field} className="text-field" readOnly rows={3} aria-label="The link" value={href} onFocus={(event) => event.target.select()} />
      <p className="way">
        <button type="button" onClick={() => void copy()}>Copy link</button>
        <span role="status">{said}</span>
      </p>
    </>
  );
}

export function SharePanel({ plan }: { readonly plan: Plan }) {
  const unit = useUnits((state) => state.unit);
  const { design, record } = useDesign();
  const s = heldRun(plan, useView((state) => state.s));
  const step = useStepAsked();
  const { given } = useAddress();
  const [at, setAt] = useState<'station' | 'step' | 'board'>('station');
  const place = `${nearerEnd(plan, stationAt(plan, s), unit)}, ${unitSign(unit)}`;
  const link = useMemo(
    () => boardLink(design, at === 'board' ? Number.NaN : s, given || ownBase(), at === 'step' ? step : undefined, record),
    [design, record, at, s, given, step],
  );
  return (
    <Drawer label="Share" className="share">
      <p className="hint">The whole board is in the link, with what was measured, tried and ticked. Whoever opens it gets a copy on their own shelf.</p>
      <fieldset className="choice">
        <legend>Opens at</legend>
        <div className="segments">
          <button type="button" aria-pressed={at === 'station'} onClick={() => setAt('station')}>this station</button>
          <button type="button" aria-pressed={at === 'step'} onClick={() => setAt('step')}>build step {step}</button>
          <button type="button" aria-pressed={at === 'board'} onClick={() => setAt('board')}>the board</button>
        </div>
      </fieldset>
      {link.code
        ? <Code href={link.code.href} label={`QR code: opens ${plan.design.name}${at === 'board' ? '' : ` at ${place}`}`} />
        : <p className="none" role="status">
          {link.length > QR_LIMIT
            ? `No code: the link has ${link.length} characters, and a QR code holds ${QR_LIMIT}. Use fewer points on the lines or a shorter note.`
            : 'No code: the page has no address.'}
        </p>}
      {link.code && link.code.leavesOut.length > 0 && <p className="hint" role="status">{leftOutText(link.code.leavesOut)} {link.leavesOut.length === 0 ? 'The link has them.' : ''}</p>}
      <AddressField />
      {link.fitsLink && link.leavesOut.length > 0 && <p className="hint">The link: {leftOutText(link.leavesOut)} Send the readings file too.</p>}
      {link.fitsLink
        ? <CopyButton href={link.href} />
        : <p className="field-error" role="alert">No link: it would have {link.length} characters, and only {LINK_LIMIT} are safe to send. Save the board and send the file.</p>}
      <p className="hint">{link.length} characters; a QR code holds {QR_LIMIT}, a link {LINK_LIMIT}.</p>
      <p className="hint">Railwright {version}. <a href="notices.txt" target="_blank">Whose work is in it</a></p>
    </Drawer>
  );
}
