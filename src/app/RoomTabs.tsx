/** The four rooms, with how far each has come. */
import type { ReactElement } from 'react';
import { ROOMS, type RoomId, useView } from '../state/view';
import css from './RoomTabs.module.css';

export interface RoomStatus {
  readonly text: string;
  /** The maker is needed. */
  readonly wants?: boolean;
  /** Being worked out: it is what was known last, if anything was. */
  readonly open?: boolean;
}
export type RoomStatuses = Readonly<Record<RoomId, RoomStatus>>;

export const WORKING: RoomStatus = { text: '…', open: true };

function Status({ text, wants, open }: RoomStatus) {
  return <small data-wants={wants || undefined} data-open={open || undefined} aria-busy={open || undefined}>{text}</small>;
}

/** `status` is there once the page is. */
export function RoomTabs({ status }: { readonly status?: RoomStatuses }): ReactElement {
  const room = useView((state) => state.room);
  const goTo = useView((state) => state.goTo);
  return (
    <nav className={css.rooms} aria-label="Rooms">
      {ROOMS.map(({ id, label }) => (
        <button key={id} type="button" aria-current={room === id ? 'page' : undefined} onClick={() => goTo(id)}>
          <span>{label}</span>
          <Status {...status?.[id] ?? WORKING} />
        </button>
      ))}
    </nav>
  );
}
