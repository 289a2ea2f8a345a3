/** The four rooms with their statuses, as they stand. */
import type { ReactElement } from 'react';
import { RoomTabs } from './RoomTabs';
import { useRoomStatus } from './useRoomStatus';

export function RoomsNow(): ReactElement {
  return <RoomTabs status={useRoomStatus()} />;
}
