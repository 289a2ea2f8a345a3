/** What the page begins once the board is seen, in one script. */
import { takeReadingsFiles } from '../work/readingsFile';
import { startLaunches } from './offline/launch';
import { startOffline } from './offline/register';

export { Notices } from './Notices';
export { PrintHead, PrintRibs } from './PrintSheet';
export { RoomsNow } from './RoomsNow';
export { Spoken } from './Spoken';
export { Taken } from './Taken';
export { Undo } from './Undo';

export function startAfterwards(): void {
  takeReadingsFiles();
  startLaunches();
  void startOffline();
}
