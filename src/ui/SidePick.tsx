/** Which side of the board is measured, ticked and shown. */
import { useReadings } from '../work/readings';

const SIDES = [['port', 'Port'], ['starboard', 'Starboard']] as const;

interface SidePickProps {
  readonly className?: string;
  /** Called when another side is picked. */
  readonly onPick?: () => void;
}

export function SidePick({ className = 'segments', onPick }: SidePickProps) {
  const side = useReadings((state) => state.side);
  return (
    <div className={className} role="group" aria-label="Side">
      {SIDES.map(([id, label]) => (
        <button
          key={id} type="button" aria-pressed={side === id}
          onClick={() => {
            useReadings.setState({ side: id });
            onPick?.();
          }}
        >
          {label}
        </button>
      ))}
    </div>
  );
}
