/** The maker's choice of unit, kept between visits. */
import { create } from 'zustand';
import { createJSONStorage, persist } from 'zustand/middleware';
import { type Unit, UNITS } from '../say/units';
import { local } from './storage';

interface UnitState {
  readonly unit: Unit;
  setUnit(unit: Unit): void;
}

/** The unit in which lengths are shown and typed. */
export const useUnits = create<UnitState>()(
  persist((set) => ({ unit: 'mm', setUnit: (unit) => set({ unit }) }), {
    name: 'railwright-unit',
    storage: createJSONStorage(() => local),
    partialize: ({ unit }) => ({ unit }),
    merge: (stored, current) => {
      const unit = (stored as { unit?: Unit } | undefined)?.unit;
      return UNITS.some((u) => u.id === unit) && unit ? { ...current, unit } : current;
    },
  }),
);
