/** Every solid of a board bounded by curves, by name, each made when it is asked for. */
import type { Plan } from '../../types';
import { blockBreps } from './blocks';
import { frameBreps } from './plates';
import { mirroredBrep, OpenShellError, type Brep } from './shell';
import { skinBreps } from './slabs';
import { railBreps } from './tube';

/** All parts, both sides, in their places; `short` names those that come to nothing somewhere and so cannot be closed. */
export function boardBreps(plan: Plan): { readonly solids: readonly Brep[]; readonly short: readonly string[] } {
  const solids: Brep[] = [];
  const short: string[] = [];
  for (const { id, make } of [...skinBreps(plan), ...blockBreps(plan), ...frameBreps(plan), ...railBreps(plan)]) {
    try {
      solids.push(make());
    } catch (error) {
      if (!(error instanceof OpenShellError)) throw error;
      short.push(id);
    }
  }
  return { solids: solids.flatMap((solid) => (solid.side === 'starboard' ? [solid, mirroredBrep(solid, solid.id.replace(/starboard$/, 'port'), 'port')] : [solid])), short };
}
