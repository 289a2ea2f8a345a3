/** Says that a newer version is ready, and updates when the maker agrees. */
import { useOffline } from '../../state/offline';
import { Corner } from '../Corner';

export function UpdateNotice() {
  const { waiting, replaced, update, later } = useOffline();
  if (replaced) {
    return (
      <Corner role="status">
        <span>A newer Railwright was taken in another tab. Your board is kept.</span>
        <button type="button" onClick={() => location.reload()}>Load it here too</button>
      </Corner>
    );
  }
  if (!waiting) return null;
  return (
    <Corner role="status">
      <span>A newer Railwright is ready. Your board is kept.</span>
      <button type="button" onClick={update}>Update</button>
      <button type="button" onClick={later}>Later</button>
    </Corner>
  );
}
