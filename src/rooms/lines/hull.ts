/** A board from a file of triangles on the page: the file, how it is taken, and the lines fitted to it. */
import { create } from 'zustand';
import type { PoseAsked } from '../../../geometry/shape/hullIn/pose';
import { useDesign } from '../../state/design';
import { discardProposal, propose } from '../../state/proposal';
import { dropJob, endJob, runJob } from '../../work/jobs';
import { useLines } from './lines';

interface HullState extends PoseAsked {
  readonly file: File | null;
}

const NONE: HullState = { file: null };

export const useHull = create<HullState>()(() => NONE);

export const HULL_TITLE = 'Lines fitted to the body';

/** What files are offered and taken, by their endings. */
export const HULL_FILES = '.stl,.obj,.glb,.gltf,.3mf';

/** Whether a dropped file holds a body. */
export const isHull = (file: File): boolean => /\.(stl|obj|glb|gltf|3mf)$/i.test(file.name);

/** Reads the file as it is to be taken. */
export async function readHull(): Promise<void> {
  const { file, ...asked } = useHull.getState();
  if (file) await runJob('hullRead', { file, ...asked });
}

function change(state: HullState): void {
  discardProposal();
  dropJob('hullFit');
  useHull.setState(state, true);
  void readHull();
}

/** Takes a file. */
export function takeHull(file: File): void {
  useLines.getState().set({ tool: 'hull' });
  change({ ...NONE, file });
}

/** Takes it in another unit, turned end for end, or over. */
export const changeHull = (asked: PoseAsked): void => change({ ...useHull.getState(), ...asked });

/** Puts the file away. */
export function dropHull(): void {
  dropJob('hullRead');
  change(NONE);
}

/** Fits the present board's lines to it, and proposes them. */
export async function fitHull(): Promise<void> {
  const { file, ...asked } = useHull.getState();
  if (!file) return;
  const { design } = useDesign.getState();
  const fit = await runJob('hullFit', { file, ...asked, design });
  if (!fit) return;
  // The board was changed meanwhile: the fit is made again, on the board as it is now.
  if (design !== useDesign.getState().design) await fitHull();
  else propose(HULL_TITLE, fit.design);
}

/** Ends what is under way, as when the tool is closed. */
export function stopHull(): void {
  endJob('hullRead');
  endJob('hullFit');
}
