import { readFileSync } from 'node:fs';
import { inflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { unpackWoff } from './unpack-woff.ts';

const woff = new Uint8Array(
  readFileSync(
    new URL(
      '../../node_modules/@fontsource/encode-sans/files/encode-sans-latin-400-normal.woff',
      import.meta.url,
    ),
  ),
);

/** Sum of a table's 32 bit words, as its directory entry has to say (the table `head` has a field of its own). */
function wordSum(bytes: Uint8Array): number {
  const padded = new Uint8Array(Math.ceil(bytes.length / 4) * 4);
  padded.set(bytes);
  const view = new DataView(padded.buffer);
  let sum = 0;
  for (let at = 0; at < padded.length; at += 4) sum = (sum + view.getUint32(at)) >>> 0;
  return sum;
}

describe('unpackWoff', () => {
  const sfnt = unpackWoff(woff, inflateSync);
  const view = new DataView(sfnt.buffer);
  const entries = Array.from({ length: view.getUint16(4) }, (_, index) => {
    const at = 12 + index * 16;
    const tag = String.fromCharCode(...sfnt.subarray(at, at + 4));
    const [checksum, offset, length] = [
      view.getUint32(at + 4),
      view.getUint32(at + 8),
      view.getUint32(at + 12),
    ];
    return { tag, checksum, bytes: sfnt.subarray(offset, offset + length) };
  });

  it('has the tables a font needs, in order of their tags', () => {
    const tags = entries.map(({ tag }) => tag);
    expect(tags).toEqual(expect.arrayContaining(['cmap', 'glyf', 'head', 'hhea', 'hmtx', 'loca', 'maxp']));
    expect(tags).toEqual([...tags].sort());
  });

  it('has tables whose words add up to the checksum that the font maker wrote', () => {
    const checked = entries.filter(({ tag }) => tag !== 'head');
    expect(checked.length).toBeGreaterThan(8);
    for (const { tag, bytes, checksum } of checked) expect([tag, wordSum(bytes)]).toEqual([tag, checksum]);
  });

  it('refuses what is no WOFF', () => {
    expect(() => unpackWoff(sfnt, inflateSync)).toThrow('bytes that are no WOFF font');
    expect(() => unpackWoff(new Uint8Array(3), inflateSync)).toThrow('3 bytes');
    expect(() => unpackWoff(woff, () => new Uint8Array(1))).toThrow('a table has 1 bytes');
  });
});
