/** When the board is first seen: what the first picture does without waits for it. */

/** There will be no picture, or none until more is done: what waits for one goes on. */
export const noPicture = (): void => void performance.mark('no-picture');

let seen: Promise<void> | undefined;

/** Comes true when the first picture of the board is on the screen, or when it is known that there will be none. */
export function firstPicture(): Promise<void> {
  seen ??= new Promise((resolve) => {
    new PerformanceObserver((list) => {
      if (['first-picture', 'no-picture'].some((name) => list.getEntriesByName(name).length > 0)) resolve();
    }).observe({ type: 'mark', buffered: true });
  });
  return seen;
}

/** A frame later: what is seen next, the station card, is asked for before what comes then. */
export const nextPicture = (): Promise<void> => firstPicture().then(() => new Promise((resolve) => {
  requestAnimationFrame(() => setTimeout(resolve));
}));
