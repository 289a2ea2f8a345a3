/**
 * Triangles of a polygon with holes, every vertex kept, also those in line: S. Hertel and K. Mehlhorn's plane
 * sweep (Fast triangulation of the plane with respect to simple polygons, Information and Control 64 (1985)
 * 52-76; from memory). Plates are bands with few edges abreast, so the sweep line is a short list.
 */

/** A stretch of interior on the sweep line: the edges under and over it, and the frontier of what is done. */
interface Region {
  /** Edges by their first vertex. */
  low: number;
  high: number;
  /** Frontier from the lower edge to the upper: no three of its vertices turn toward the interior. */
  chain: number[];
  /** The frontier's foremost vertex: the last that was added. */
  front: number;
}

/**
 * Triangles as vertex triples, each counter-clockwise or, where three vertices in line leave no other way,
 * without area: always n + 2 holes - 2 of them. Takes (x, y) pairs of all loops and the first vertex of each
 * loop; the outline counter-clockwise, holes clockwise, loops that neither cross nor touch. Throws a
 * RangeError where it finds loops that turn the wrong way; loops that cross may give triangles turned over.
 */
export function triangulate(points: ArrayLike<number>, starts: readonly number[]): number[] {
  const n = points.length / 2;
  const next = new Int32Array(n);
  const prev = new Int32Array(n);
  starts.forEach((from, l) => {
    const to = l + 1 < starts.length ? starts[l + 1] : n;
    for (let i = from; i < to; i++) {
      next[i] = i + 1 < to ? i + 1 : from;
      prev[next[i]] = i;
    }
  });
  const order = Array.from({ length: n }, (_, i) => i)
    .sort((a, b) => points[2 * a] - points[2 * b] || points[2 * a + 1] - points[2 * b + 1] || a - b);
  const rank = new Int32Array(n);
  order.forEach((v, i) => {
    rank[v] = i;
  });
  const turn = (a: number, b: number, c: number): number =>
    (points[2 * b] - points[2 * a]) * (points[2 * c + 1] - points[2 * a + 1]) - (points[2 * b + 1] - points[2 * a + 1]) * (points[2 * c] - points[2 * a]);
  const out: number[] = [];
  const regions: Region[] = [];

  /** Add p at the lower end of a frontier, or the upper, with every triangle it sees; all of them where `last`. */
  const addLow = (region: Region, p: number, last = false) => {
    const { chain } = region;
    let k = 0;
    while (k + 1 < chain.length && (last || turn(chain[k], p, chain[k + 1]) > 0)) {
      out.push(chain[k], p, chain[k + 1]);
      k++;
    }
    chain.splice(0, k, p);
    region.front = p;
  };
  const addHigh = (region: Region, p: number) => {
    const { chain } = region;
    while (chain.length > 1 && turn(chain[chain.length - 1], chain[chain.length - 2], p) > 0) {
      out.push(chain[chain.length - 1], chain[chain.length - 2], p);
      chain.pop();
    }
    chain.push(p);
    region.front = p;
  };
  const find = (test: (r: Region) => boolean): Region => {
    const region = regions.find(test);
    if (!region) throw new RangeError('the loops cross or turn the wrong way: they bound no area');
    return region;
  };

  for (const p of order) {
    const a = prev[p];
    const b = next[p];
    const fromLeft = rank[a] < rank[p];
    const toLeft = rank[b] < rank[p];
    if (fromLeft && !toLeft) {
      const region = find((r) => r.low === a);
      addLow(region, p);
      region.low = p;
    } else if (!fromLeft && toLeft) {
      const region = find((r) => r.high === p);
      addHigh(region, p);
      region.high = a;
    } else if (!fromLeft) {
      if (turn(p, b, a) > 0) {
        regions.push({ low: p, high: a, chain: [p], front: p });
        continue;
      }
      // A split: p sees the frontier's foremost vertex, and both halves grow from there.
      const region = find((r) => turn(r.low, next[r.low], p) > 0 && turn(r.high, next[r.high], p) > 0);
      const at = region.chain.indexOf(region.front);
      const above: Region = { low: p, high: region.high, chain: region.chain.slice(at), front: region.front };
      region.chain.length = at + 1;
      region.high = a;
      addHigh(region, p);
      addLow(above, p);
      regions.push(above);
    } else {
      const above = find((r) => r.low === a);
      const below = find((r) => r.high === p);
      if (above === below) {
        addLow(above, p, true);
        regions.splice(regions.indexOf(above), 1);
      } else {
        addHigh(below, p);
        addLow(above, p);
        below.chain.push(...above.chain.slice(1));
        below.high = above.high;
        regions.splice(regions.indexOf(above), 1);
      }
    }
  }
  return out;
}
