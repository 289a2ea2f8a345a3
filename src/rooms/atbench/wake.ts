/** Keeps the screen awake while the bench is shown (W3C Screen Wake Lock API). */
import { useEffect } from 'react';
import { create } from 'zustand';
import { useAtBench } from '../../state/atBench';

interface WakeState {
  /** `none`: this browser has no such lock, or the page is not served securely. */
  readonly state: 'off' | 'on' | 'refused' | 'none';
}

export const useWake = create<WakeState>()(() => ({ state: 'wakeLock' in navigator ? 'off' : 'none' }));

/** Holds the lock while it is shown and the maker wants it. The browser lets it go when the page is hidden; it is taken again when the page comes back. */
export function useAwake(): void {
  const awake = useAtBench((state) => state.awake);
  useEffect(() => {
    if (!awake || !('wakeLock' in navigator)) return undefined;
    let lock: WakeLockSentinel | null = null;
    let over = false;
    const take = async () => {
      if (document.visibilityState !== 'visible') return;
      try {
        const held = await navigator.wakeLock.request('screen');
        if (over) return void held.release();
        lock = held;
        useWake.setState({ state: 'on' });
      } catch {
        // The browser refuses: battery saving, or a page in the background.
        if (!over) useWake.setState({ state: 'refused' });
      }
    };
    void take();
    document.addEventListener('visibilitychange', take);
    return () => {
      over = true;
      document.removeEventListener('visibilitychange', take);
      void lock?.release();
      useWake.setState({ state: 'off' });
    };
  }, [awake]);
}
