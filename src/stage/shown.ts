/** Which parts are shown, and how. */
import type { Body, PartKind } from '../../geometry/types';
import { type Standing, useBuild } from '../state/build';
import { type CapColour, type LayerId, type OpenSide, type SkinShow, useView } from '../state/view';

const LAYER_OF: Readonly<Record<Exclude<PartKind, 'bottom-skin' | 'deck-skin'>, LayerId>> = {
  rib: 'frames', stringer: 'frames', sole: 'sole', row: 'row',
  cap: 'cap', hollow: 'hollow', 'outer-skin': 'outer-skin', round: 'round', block: 'round', fitting: 'fitting',
};

interface Settings {
  readonly layers: Readonly<Record<LayerId, boolean>>;
  readonly deck: SkinShow;
  readonly bottom: SkinShow;
  readonly openSide: OpenSide;
}

/** As one would hang it: skins on, the outer ones shaped to the round. */
const FINISHED: Settings = { layers: { frames: true, sole: true, row: true, cap: true, hollow: false, 'outer-skin': false, round: true, fitting: true }, deck: 'on', bottom: 'on', openSide: 'none' };

/** What of the view says which parts are shown. */
export const partsShown = ({ layers, deck, bottom, openSide, finished }: Settings & { readonly finished: boolean }): Settings => (finished ? FINISHED : { layers, deck, bottom, openSide });

/** Whether the finished board is shown: not while the build's steps are. */
export function useFinished(): boolean {
  const built = useBuild(({ standing }) => standing !== null);
  return useView(({ finished }) => finished) && !built;
}

/** What the cap is coloured by: as the layers have it, and by its timber as finished; while the build is shown by its bevel in the steps about bevels. */
export function useCapColour(): CapColour {
  const standing = useBuild((state) => state.standing);
  const asked = useView(({ capColour, finished }) => (finished ? 'timber' : capColour));
  return !standing ? asked : standing.bevels ? 'bevel' : 'timber';
}

/** How a part of one side is shown: skins by their own setting, the rest by layer and by the side that is opened. */
export function showOf(kind: PartKind, side: Body['side'], { layers, deck, bottom, openSide }: Settings): SkinShow {
  if (kind === 'deck-skin') return deck;
  if (kind === 'bottom-skin') return bottom;
  const outside = kind === 'outer-skin' || kind === 'round';
  if (outside && (openSide === 'both' || openSide === side)) return 'off';
  return layers[LAYER_OF[kind]] ? 'on' : 'off';
}

const BOX: readonly PartKind[] = ['sole', 'row', 'cap', 'hollow'];

/** Whether a part is there at a step of the build, or arrives in it. Shaping turns the outer skins into the round. */
export function standsOf({ kind, side }: Pick<Body, 'kind' | 'side'>, { places, fresh, box, arrives }: Standing): 'stands' | 'arrives' | 'off' {
  if (BOX.includes(kind) && box === 'starboard' && side === 'port') return 'off';
  if (kind === 'hollow') return places.includes('cap') && !places.includes('deck-skin') ? 'stands' : 'off';
  if (kind === 'outer-skin' && places.includes('round')) return 'off';
  if (!places.includes(kind)) return 'off';
  const coming = fresh.includes(kind) && (side === 'centre' || arrives === 'both' || arrives === side);
  return coming ? 'arrives' : 'stands';
}
