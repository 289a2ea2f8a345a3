/** The lines of a text file's bytes, decoded piece by piece: a large one is never one string. */
const PIECE = 1 << 20;

export function* linesOf(bytes: Uint8Array): Generator<string> {
  const decoder = new TextDecoder('utf-8');
  let rest = '';
  for (let at = 0; at < bytes.length; at += PIECE) {
    const lines = (rest + decoder.decode(bytes.subarray(at, at + PIECE), { stream: true })).split(/\r\n|\n|\r/);
    rest = lines.pop() ?? '';
    yield* lines;
  }
  if (rest !== '') yield rest;
}

/** Numbers that grow in number. */
export class Growing<T extends Float32Array | Uint32Array> {
  length = 0;
  constructor(private values: T) {}

  push(value: number): void {
    if (this.length === this.values.length) {
      const more = new (this.values.constructor as new (n: number) => T)(2 * this.length);
      more.set(this.values);
      this.values = more;
    }
    this.values[this.length++] = value;
  }

  taken(): T {
    return this.values.slice(0, this.length) as T;
  }
}
