/** Work under way: what is being made, how much is done, and a way to stop it. Shown once it has taken a moment. */
import { useEffect, useState } from 'react';
import type { Progress } from './parts.worker';

/** Work shorter than this is not worth a bar, ms. */
const MOMENT = 300;

interface WorkingProps {
  readonly progress: Progress | null;
  readonly what: string;
  readonly onCancel: () => void;
}

export function Working({ progress, what, onCancel }: WorkingProps) {
  const [shown, setShown] = useState(false);
  useEffect(() => {
    const timer = setTimeout(() => setShown(true), MOMENT);
    return () => clearTimeout(timer);
  }, []);
  if (!shown) return null;
  const share = progress?.share ?? 0;
  return (
    <div className="working" role="status">
      <span>{what}{progress && progress.title !== '' ? `: ${progress.title}` : ''}</span>
      <progress max={1} value={share} aria-label={what} />
      <button type="button" className="ruled" onClick={onCancel}>Cancel</button>
    </div>
  );
}
