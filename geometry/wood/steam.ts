/** How long a strip stands in the steam. */

/** Minutes of steam for each millimetre of a strip's lesser side: an hour an inch. Common practice, no source. */
const MINUTES = 60 / 25.4;

/** Minutes that a strip of a thickness (mm) stands in the steam before it is bent. */
export const steamMinutes = (thickness: number): number => MINUTES * thickness;
