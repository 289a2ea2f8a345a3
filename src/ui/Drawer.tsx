/** What lies over a room until it is closed. Focus goes to it when it opens, and back to what opened it. */
import { type ReactNode, type RefObject, useEffect, useEffectEvent, useLayoutEffect, useRef } from 'react';
import { openedFrom, useView } from '../state/view';
import css from './Drawer.module.css';

interface DrawerProps {
  readonly label: string;
  /** What its head says, where that is not its label. */
  readonly head?: ReactNode;
  /** What its way out says, where it is a page that leads back somewhere. */
  readonly back?: string;
  readonly className?: string;
  readonly children: ReactNode;
}

const FOCUSED = 'button, input, select, textarea, a[href], summary, [tabindex="0"]';

/** Leaves out, as each press of Tab comes, what lies under a drawer: nothing is focused that cannot be seen. */
function useNothingUnder(over: RefObject<HTMLElement | null>): void {
  useEffect(() => {
    const left: Element[] = [];
    const giveBack = () => {
      for (const element of left.splice(0)) {
        if (element instanceof HTMLElement) element.inert = false;
        else element.setAttribute('tabindex', '0');
      }
    };
    const onKey = ({ key }: KeyboardEvent) => {
      if (key !== 'Tab') return;
      giveBack();
      const own = over.current;
      for (const element of document.querySelectorAll(FOCUSED)) {
        const { left: x, top: y, width, height } = element.getBoundingClientRect();
        if (width === 0 || own?.contains(element) || !own?.contains(document.elementFromPoint(x + width / 2, y + height / 2))) continue;
        left.push(element);
        if (element instanceof HTMLElement) element.inert = true;
        else element.setAttribute('tabindex', '-1');
      }
    };
    // What has been left out can be pressed again by finger or pointer, where it shows.
    window.addEventListener('keydown', onKey, { capture: true });
    window.addEventListener('keyup', giveBack, { capture: true });
    return () => {
      window.removeEventListener('keydown', onKey, { capture: true });
      window.removeEventListener('keyup', giveBack, { capture: true });
      giveBack();
    };
  }, [over]);
}

/** For what lies over the page: it is focused when it opens, and what opened it (`from`) when it goes; nothing under it can be. */
export function useFocusHere<E extends HTMLElement>(from: () => Element | null = openedFrom): RefObject<E | null> {
  const over = useRef<E>(null);
  useNothingUnder(over);
  const opener = useEffectEvent(from);
  useLayoutEffect(() => {
    const before = opener();
    const own = over.current;
    own?.focus({ preventScroll: true });
    // On a phone it may open under what is seen of the page.
    own?.scrollIntoView({ block: 'nearest' });
    return () => {
      // A press elsewhere has the focus already.
      if (!own?.contains(document.activeElement) && document.activeElement !== document.body) return;
      // Once what was under it can be seen again, and unless another drawer has opened in its place.
      queueMicrotask(() => {
        if (document.activeElement === document.body && before instanceof HTMLElement && before.isConnected) before.focus({ preventScroll: true });
      });
    };
  }, []);
  return over;
}

export function Drawer({ label, head = label, back, className = '', children }: DrawerProps) {
  const drawer = useFocusHere<HTMLElement>();
  return (
    <section className={`panel ${className}`} data-area="drawer" aria-label={label} tabIndex={-1} ref={drawer}>
      <header className={css.head}>
        <h2>{head}</h2>
        <button type="button" aria-label={back ?? `Close ${label.toLowerCase()}`} title={`${back ?? 'Close'} (Esc)`} onClick={() => useView.getState().open(null)}>{back} ✕</button>
      </header>
      {children}
    </section>
  );
}
