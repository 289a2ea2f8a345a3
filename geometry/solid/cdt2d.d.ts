/** The constrained Delaunay triangulation used for flat solids; the package brings no types. */
declare module 'cdt2d' {
  /** Triangles as triples of point numbers; edges as pairs of them, which all become edges of triangles. */
  export default function cdt2d(
    points: readonly (readonly [number, number])[], edges: readonly (readonly [number, number])[],
    options?: { readonly delaunay?: boolean; readonly interior?: boolean; readonly exterior?: boolean },
  ): [number, number, number][];
}
