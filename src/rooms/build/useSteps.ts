/** The order of work of a plan: the bench's own once its parts are made, until then one without joints and skin blanks. */
import { useMemo } from 'react';
import { planBending } from '../../../geometry/parts/bending';
import type { WorkStep } from '../../../geometry/parts/types';
import { workSteps } from '../../../geometry/parts/work';
import type { Plan } from '../../../geometry/types';
import { whatOf } from '../../../geometry/errors';
import type { Said } from '../../../geometry/said';
import { usePartsOf } from '../../work/parts';

export interface OrderOfWork {
  /** Empty where they could not be made. */
  readonly steps: readonly WorkStep[];
  /** Joints and skin blanks are in. */
  readonly whole: boolean;
  /** Why there are none; null where there are. */
  readonly failure: Said | null;
}

/** Bending takes some tens of milliseconds, so the first steps are there as soon as they are asked for. */
export function useSteps(plan: Plan): OrderOfWork {
  const parts = usePartsOf(plan);
  return useMemo(() => {
    if (parts && parts.steps.length > 0) return { steps: parts.steps, whole: true, failure: null };
    try {
      return { steps: workSteps(plan, planBending(plan)), whole: false, failure: null };
    } catch (error) {
      return { steps: [], whole: false, failure: whatOf(error) };
    }
  }, [plan, parts]);
}
