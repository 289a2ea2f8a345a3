/** The plan that a side is cut and built by: as measured where it was, else as drawn. */
import { useCallback } from 'react';
import type { Plan, Side } from '../../../geometry/types';
import { useMade } from '../../state/jobs';

export function useSidePlans(plan: Plan): (side: Side) => Plan {
  const built = useMade('built', plan);
  return useCallback((side) => built?.[side]?.plan ?? plan, [plan, built]);
}
