/** Corners of a file by number: those whose figures are the same are one. */

const bits = (room: number): number => 1 << Math.ceil(Math.log2(2 * room + 2));

/** A growing table of open places, found by a corner's three whole figures (Knuth, The Art of Computer Programming, vol. 3, 6.4; from memory). */
export class CornerNumbers {
  /** Three of each corner, in the order of their numbers. */
  figures: Float64Array;
  count = 0;
  private table: Int32Array;

  /** `room`: about how many there will be. */
  constructor(room: number) {
    this.figures = new Float64Array(3 * Math.max(1, room));
    this.table = new Int32Array(bits(room));
  }

  /** The number of the corner with these whole figures: as many as there were before, where it is new. */
  numberOf(x: number, y: number, z: number): number {
    const { figures, table } = this;
    let at = this.foundAt(x, y, z);
    for (; table[at] > 0; at = (at + 1) & (table.length - 1)) {
      const i = 3 * (table[at] - 1);
      if (figures[i] === x && figures[i + 1] === y && figures[i + 2] === z) return table[at] - 1;
    }
    if (3 * this.count === figures.length) {
      this.grow();
      return this.numberOf(x, y, z);
    }
    const i = 3 * this.count;
    // Adding nothing makes 0 of a -0.
    figures[i] = x + 0;
    figures[i + 1] = y + 0;
    figures[i + 2] = z + 0;
    table[at] = ++this.count;
    return this.count - 1;
  }

  private foundAt(x: number, y: number, z: number): number {
    const mixed = Math.imul(Math.imul(Math.imul(x, 73856093) ^ y, 19349663) ^ z, 83492791);
    return (mixed ^ (mixed >>> 15)) & (this.table.length - 1);
  }

  private grow(): void {
    const { figures, count } = this;
    this.figures = new Float64Array(2 * figures.length);
    this.figures.set(figures);
    this.table = new Int32Array(bits(2 * count));
    for (let i = 0; i < count; i++) {
      let at = this.foundAt(figures[3 * i], figures[3 * i + 1], figures[3 * i + 2]);
      while (this.table[at] > 0) at = (at + 1) & (this.table.length - 1);
      this.table[at] = i + 1;
    }
  }
}
