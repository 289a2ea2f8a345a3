/** Whether the page is kept for offline use, and whether there is a newer version. The maker decides when to update. */
import { create } from 'zustand';

interface OfflineState {
  /** The page is kept and opens without a network. */
  readonly kept: boolean;
  /** A newer version was taken in another tab: the scripts of this page may be gone. */
  readonly replaced: boolean;
  /** The newer version that is ready. */
  readonly waiting: ServiceWorker | null;
  /** Takes the newer version; the board is kept on the shelf. */
  update(): void;
  later(): void;
}

export const useOffline = create<OfflineState>()((set, get) => ({
  kept: false,
  replaced: false,
  waiting: null,
  update: () => {
    const { waiting } = get();
    if (!waiting) return;
    navigator.serviceWorker.addEventListener('controllerchange', () => location.reload(), { once: true });
    waiting.postMessage('update');
  },
  later: () => set({ waiting: null }),
}));
