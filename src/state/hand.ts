/** A screen that one hand holds. */
export const inHand = (): boolean => window.matchMedia('(max-width: 760px), (max-height: 500px) and (pointer: coarse)').matches;
