/** Work under way on another thread: how far it is, and the way to stop it. */
interface WorkingProps {
  readonly text: string;
  /** 0 to 1 where it is known. */
  readonly share?: number;
  readonly onStop: () => void;
}

export function Working({ text, share, onStop }: WorkingProps) {
  return (
    <div className="study-working">
      <progress value={share} max={share === undefined ? undefined : 1} aria-label={text} />
      <span role="status">{text}</span>
      <button type="button" className="ruled" onClick={onStop}>Stop</button>
    </div>
  );
}
