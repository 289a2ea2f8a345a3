/** The profile of the shop that cuts: the maker's, not the board's, and kept by the browser for all boards. */
import { create } from 'zustand';
import { createJSONStorage, persist } from 'zustand/middleware';
import { PLAIN_SHOP, type Shop } from '../papers/shop';
import { asShopFile, checkShop } from '../papers/shopFile';
import { local } from './storage';

interface ShopState {
  readonly shop: Shop;
  put(shop: Shop): void;
}

export const useShop = create<ShopState>()(
  persist((set) => ({ shop: PLAIN_SHOP, put: (shop) => set({ shop }) }), {
    name: 'railwright-shop',
    storage: createJSONStorage(() => local),
    partialize: ({ shop }) => ({ shop }),
    merge: (stored, current) => {
      const read = checkShop(asShopFile((stored as { shop?: Shop } | undefined)?.shop ?? current.shop));
      return read.ok ? { ...current, shop: read.shop } : current;
    },
  }),
);
