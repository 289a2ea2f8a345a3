/** Searching among rising numbers, and along chords. */

/** Which of rising numbers is the first beyond x; how many there are where none is. */
export function firstBeyond(rising: ArrayLike<number>, x: number): number {
  let [low, high] = [0, rising.length];
  while (low < high) {
    const mid = (low + high) >> 1;
    if (rising[mid] <= x) low = mid + 1;
    else high = mid;
  }
  return low;
}

/** How far along a chord, 0 to 1, it comes nearest to a place; all from where it begins. */
export const nearestOn = (chordX: number, chordY: number, x: number, y: number): number =>
  Math.min(1, Math.max(0, (x * chordX + y * chordY) / (chordX * chordX + chordY * chordY || 1)));
