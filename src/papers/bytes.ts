/** Text as bytes, written as it comes: a file of a hundred thousand figures, which as strings put together would be made three times. */

const ENCODER = new TextEncoder();
const [ZERO, POINT, MINUS] = ['0', '.', '-'].map((sign) => sign.charCodeAt(0));
/** What a figure takes at most: a double's digits, sign and point. */
const LONGEST = 32;

/** A growing file. */
export class ByteText {
  private room = new Uint8Array(1 << 16);
  private length = 0;

  private reserve(more: number): void {
    if (this.length + more <= this.room.length) return;
    const wider = new Uint8Array(2 * (this.length + more));
    wider.set(this.room.subarray(0, this.length));
    this.room = wider;
  }

  /** Words of any letters. */
  words(text: string): this {
    this.reserve(3 * text.length);
    this.length += ENCODER.encodeInto(text, this.room.subarray(this.length)).written;
    return this;
  }

  /** Bytes as they are: words that come again and again, encoded once. */
  bytes(of: Uint8Array): this {
    this.reserve(of.length);
    // A call to set costs as much as a dozen of these.
    for (let i = 0; i < of.length; i++) this.room[this.length++] = of[i];
    return this;
  }

  /** A whole number, 0 or more, below 2^53. */
  count(value: number): this {
    this.reserve(LONGEST);
    let end = this.length + 1;
    for (let rest = value; rest >= 10; rest = Math.floor(rest / 10)) end++;
    let rest = value;
    for (let at = end - 1; at >= this.length; at--) {
      const tenth = Math.floor(rest / 10);
      this.room[at] = ZERO + rest - 10 * tenth;
      rest = tenth;
    }
    this.length = end;
    return this;
  }

  /** `value` / 10^places, value a whole number of at most fifteen digits, as shortly as it can be written: what String makes of it, without exponents. */
  decimal(value: number, places: number): this {
    this.reserve(LONGEST);
    let rest = value;
    if (rest < 0) {
      this.room[this.length++] = MINUS;
      rest = -rest;
    }
    const one = 10 ** places;
    const whole = Math.floor(rest / one);
    this.count(whole);
    rest -= whole * one;
    if (rest === 0) return this;
    this.room[this.length++] = POINT;
    for (let tenth = one / 10; rest > 0; tenth /= 10) {
      const digit = Math.floor(rest / tenth);
      this.room[this.length++] = ZERO + digit;
      rest -= digit * tenth;
    }
    return this;
  }

  /** What is written so far. */
  whole(): Uint8Array<ArrayBuffer> {
    return this.room.slice(0, this.length);
  }
}

/** Words to be written again and again. */
export const encoded = (text: string): Uint8Array => ENCODER.encode(text);
