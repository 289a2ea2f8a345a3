/** Work under way on another thread: what it is, how far, and the way to stop it. Shown once it has taken a moment. */
import { useEffect, useState } from 'react';

/** Work shorter than this is not worth a bar, ms. */
const MOMENT = 300;

interface WorkingProps {
  readonly text: string;
  /** 0 to 1 where it is known. */
  readonly share?: number;
  readonly onStop: () => void;
}

export function Working({ text, share, onStop }: WorkingProps) {
  const [shown, setShown] = useState(false);
  useEffect(() => {
    const timer = setTimeout(() => setShown(true), MOMENT);
    return () => clearTimeout(timer);
  }, []);
  if (!shown) return null;
  return (
    <div className="working">
      <progress value={share} max={share === undefined ? undefined : 1} aria-label={text} />
      <span role="status">{text}</span>
      <button type="button" className="ruled" onClick={onStop}>Stop</button>
    </div>
  );
}
