/** Says that a newer version is ready, and updates when the maker agrees. */
import { useOffline } from './register';
import '../notices.css';

export function UpdateNotice() {
  const { waiting, replaced, update, later } = useOffline();
  if (replaced) {
    return (
      <div className="update" role="status">
        <span>A newer Railwright was taken in another tab. Your board is kept.</span>
        <button type="button" onClick={() => location.reload()}>Load it here too</button>
      </div>
    );
  }
  if (!waiting) return null;
  return (
    <div className="update" role="status">
      <span>A newer Railwright is ready. Your board is kept.</span>
      <button type="button" onClick={update}>Update</button>
      <button type="button" onClick={later}>Later</button>
    </div>
  );
}
