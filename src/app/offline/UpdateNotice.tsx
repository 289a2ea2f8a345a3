/** Says that a newer version waits, and takes it when the maker agrees. */
import { useOffline } from './register';
import '../notices.css';

export function UpdateNotice() {
  const { waiting, takeOver, later } = useOffline();
  if (!waiting) return null;
  return (
    <div className="update" role="status">
      <span>A newer Railwright is ready. Your board is kept and comes back with it.</span>
      <button type="button" onClick={takeOver}>Take it now</button>
      <button type="button" onClick={later}>Later</button>
    </div>
  );
}
