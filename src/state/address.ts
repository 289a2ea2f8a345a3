/** The address links are made for: the page's own, or one the maker gives (a phone cannot reach this machine's "localhost"). */
import { create } from 'zustand';
import { createJSONStorage, persist } from 'zustand/middleware';
import { checkBase } from '../link/boardLink';
import { local } from './storage';

interface AddressState {
  /** What the maker gave; empty for the page's own address. */
  readonly given: string;
  give(base: string): void;
}

export const useAddress = create<AddressState>()(
  persist((set) => ({ given: '', give: (given) => set({ given }) }), {
    name: 'railwright-address',
    storage: createJSONStorage(() => local),
    partialize: ({ given }) => ({ given }),
    merge: (stored, current) => {
      const read = checkBase(String((stored as { given?: unknown } | undefined)?.given ?? ''));
      return read.ok ? { ...current, given: read.base } : current;
    },
  }),
);

/** The page's own address without what follows ? or #; empty where it was opened from a file. */
export function ownBase(): string {
  const read = checkBase(location.href);
  return read.ok ? read.base : '';
}

/** The address for papers: the maker's, or the page's own where other devices reach it; empty for none. */
export function sharedBase(): string {
  const own = ownBase();
  return useAddress.getState().given || (isThisMachineOnly(own) ? '' : own);
}

/** Whether other devices can hardly reach an address: it names the machine it is read on. */
export function isThisMachineOnly(base: string): boolean {
  if (base === '') return false;
  return /^(localhost|.*\.localhost|127(\.\d+){3}|\[::1\])$/.test(new URL(base).hostname);
}
