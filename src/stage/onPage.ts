/** Where a place of the board is on the page: set by the stage, asked by the test probe, which comes before the stage's script. */

type Projector = (x: number, y: number, z: number) => { x: number; y: number };

let projector: Projector | null = null;

/** Page position, px, of a kernel point; null while there is no stage. */
export function onPage(x: number, y: number, z: number): { x: number; y: number } | null {
  return projector?.(x, y, z) ?? null;
}

export function setProjector(next: Projector | null): void {
  projector = next;
}
