/** Says that a newer version is ready, and updates when the maker agrees. */
import { useOffline } from './register';
import '../notices.css';

export function UpdateNotice() {
  const { waiting, update, later } = useOffline();
  if (!waiting) return null;
  return (
    <div className="update" role="status">
      <span>A newer Railwright is ready. Your board is kept.</span>
      <button type="button" onClick={update}>Update</button>
      <button type="button" onClick={later}>Later</button>
    </div>
  );
}
