/** Kinds of file that may be kept, by their first bytes; what a sender says of a file does not count. */
export type MediaType = 'image/jpeg' | 'image/png' | 'image/webp' | 'video/mp4' | 'video/webm';

const ascii = (bytes: Uint8Array, from: number, to: number): string =>
  String.fromCharCode(...bytes.subarray(from, to));

/** The kind of a file from its content; undefined for anything that may not be kept. */
export function mediaTypeOf(bytes: Uint8Array): MediaType | undefined {
  if (bytes.length < 16) return undefined;
  if (bytes[0] === 0xff && bytes[1] === 0xd8 && bytes[2] === 0xff) return 'image/jpeg';
  if (bytes[0] === 0x89 && ascii(bytes, 1, 4) === 'PNG') return 'image/png';
  if (ascii(bytes, 0, 4) === 'RIFF' && ascii(bytes, 8, 12) === 'WEBP') return 'image/webp';
  if (ascii(bytes, 4, 8) === 'ftyp') return 'video/mp4';
  if (bytes[0] === 0x1a && bytes[1] === 0x45 && bytes[2] === 0xdf && bytes[3] === 0xa3) return 'video/webm';
  return undefined;
}
