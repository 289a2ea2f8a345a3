/** What the page loads once the board is seen: one script, which no picture waits for. */
import { nextPicture } from '../work/picture';

export async function afterwards(): Promise<typeof import('./afterwards')> {
  await nextPicture();
  return import('./afterwards');
}
