/** Input as large as the page takes, for tests of what becomes of it and for the bench. */
import { crc32, deflateSync } from 'node:zlib';

/** A table of offsets as a drawing office would paste it. */
export const offsetsText = (rows: number): string =>
  `station (mm)\thalf-breadth\trocker\tthickness\n${Array.from({ length: rows }, (_, i) => {
    const t = i / (rows - 1);
    return [1800 * t, 250 * Math.sqrt(Math.max(0, 1 - (2 * t - 1) ** 2)), 90 * (2 * t - 1) ** 2, 20 + 45 * Math.sin(Math.PI * t)].map((v) => v.toFixed(3)).join('\t');
  }).join('\n')}`;

/** A grey PNG of any size in few bytes: one bit a pixel, rows alike but for a black bar. */
export function bigPng(width: number, height: number): Buffer {
  const row = Buffer.alloc(1 + Math.ceil(width / 8), 0xff);
  row[0] = 0;
  row.fill(0, 1, 1 + Math.floor(width / 80));
  const chunk = (kind: string, data: Buffer) => {
    const body = Buffer.concat([Buffer.from(kind, 'latin1'), data]);
    const out = Buffer.alloc(body.length + 8);
    out.writeUInt32BE(data.length, 0);
    body.copy(out, 4);
    out.writeUInt32BE(crc32(body), body.length + 4);
    return out;
  };
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head[8] = 1;
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]), chunk('IHDR', head),
    chunk('IDAT', deflateSync(Buffer.concat(Array.from({ length: height }, () => row)))), chunk('IEND', Buffer.alloc(0)),
  ]);
}
