/** Keeps the screen awake while the maker has both hands at the work (W3C Screen Wake Lock API). */
import { create } from 'zustand';

interface WakeState {
  /** `none`: this browser has no such lock, or the page is not served securely. */
  readonly state: 'off' | 'on' | 'refused' | 'none';
  toggle(): void;
}

let lock: WakeLockSentinel | null = null;

async function take(): Promise<void> {
  try {
    lock = await navigator.wakeLock.request('screen');
    useWake.setState({ state: 'on' });
  } catch {
    // The browser refuses: battery saving, or a page in the background.
    useWake.setState({ state: 'refused' });
  }
}

export const useWake = create<WakeState>()((set, get) => ({
  state: 'wakeLock' in navigator ? 'off' : 'none',
  toggle: () => {
    const { state } = get();
    if (state === 'none') return;
    if (state !== 'on') {
      void take();
      return;
    }
    void lock?.release();
    lock = null;
    set({ state: 'off' });
  },
}));

// The browser lets the lock go when the page is hidden; it is taken again when the page comes back.
document.addEventListener('visibilitychange', () => {
  if (document.visibilityState === 'visible' && useWake.getState().state === 'on') void take();
});
