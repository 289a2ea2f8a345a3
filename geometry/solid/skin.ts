/** The two faces of a skin over the plan: outside on the panel, inside on its true offset as far as the board is thick enough. */
import { acrossProbes, heightsAcross, innerAcross, panelProbe } from '../hull/panel';
import type { Plan } from '../types';

/** An inner face lies no farther over the finished bottom than this many times the skin, however it leans: own choice, 75 degrees. */
const FAR_OFF = 4;

/** Heights at a station, on `columns` even steps from the centreline to half-breadth y: writes columns + 1 of them. */
type Across = (x: number, y: number, heights: Float64Array) => void;

/** The faces of the deck's skin (1) or the bottom's (-1). */
export function skinAcross({ hull, design: { skins } }: Plan, face: 1 | -1, columns: number): { readonly outside: Across; readonly inside: Across } {
  const probes = { out: panelProbe(), in: acrossProbes(), deck: panelProbe(), bottom: panelProbe(), bottomIn: acrossProbes() };
  const [deck, bottom] = [0, 1].map(() => new Float64Array(columns + 1));
  const own = face === 1 ? hull.deck : hull.bottom;
  return {
    outside: (x, y, heights) => heightsAcross(own, x, 0, y, columns, probes.out, heights),
    inside(x, y, heights) {
      innerAcross(own, face, face === 1 ? skins.deck : skins.bottom, x, 0, y, columns, probes.in, heights);
      // Where the board is thinner than its skins the bottom reaches to the deck's outside, and the deck is trimmed to the bottom.
      heightsAcross(hull.deck, x, 0, y, columns, probes.deck, deck);
      if (face === -1) {
        for (let j = 0; j <= columns; j++) heights[j] = Math.min(heights[j], deck[j]);
        return;
      }
      heightsAcross(hull.bottom, x, 0, y, columns, probes.bottom, bottom);
      let near = false;
      for (let j = 0; j <= columns; j++) near ||= heights[j] < bottom[j] + FAR_OFF * skins.bottom;
      if (!near) return;
      innerAcross(hull.bottom, -1, skins.bottom, x, 0, y, columns, probes.bottomIn, bottom);
      for (let j = 0; j <= columns; j++) heights[j] = Math.max(heights[j], Math.min(deck[j], bottom[j]));
    },
  };
}
