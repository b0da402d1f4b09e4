/** Undoes zlib's deflate. */
export type Inflate = (packed: Uint8Array) => Uint8Array;

const WOFF_SIGNATURE = 0x774f4646;
const WOFF_HEADER_BYTES = 44;
const WOFF_ENTRY_BYTES = 20;
const SFNT_HEADER_BYTES = 12;
const SFNT_ENTRY_BYTES = 16;

/** One table of a font: four-letter tag, checksum, bytes. */
interface FontTable {
  readonly tag: number;
  readonly checksum: number;
  readonly bytes: Uint8Array;
}

/**
 * A WOFF font as the plain font inside it (sfnt). The PDF writer unpacks the tables of a WOFF anew for each document, in
 * plain script: about a quarter of a second, which this saves.
 *
 * @param inflate  the fast unpacker of the machine
 * @throws RangeError when the bytes are no WOFF font
 * @source woff-1
 */
export function unpackWoff(woff: Uint8Array, inflate: Inflate): Uint8Array {
  const view = new DataView(woff.buffer, woff.byteOffset, woff.byteLength);
  if (woff.byteLength < WOFF_HEADER_BYTES || view.getUint32(0) !== WOFF_SIGNATURE)
    throw new RangeError(`unpackWoff: ${woff.byteLength} bytes that are no WOFF font`);
  const flavour = view.getUint32(4);
  const tableCount = view.getUint16(12);
  const tables = Array.from({ length: tableCount }, (_, index) =>
    readTable(woff, view, WOFF_HEADER_BYTES + index * WOFF_ENTRY_BYTES, inflate),
  );
  return writeSfnt(flavour, tables);
}

function readTable(woff: Uint8Array, view: DataView, at: number, inflate: Inflate): FontTable {
  const [offset, packedBytes, plainBytes] = [
    view.getUint32(at + 4),
    view.getUint32(at + 8),
    view.getUint32(at + 12),
  ];
  const stored = woff.subarray(offset, offset + packedBytes);
  const bytes = packedBytes < plainBytes ? inflate(stored) : stored;
  if (bytes.length !== plainBytes)
    throw new RangeError(`unpackWoff: a table has ${bytes.length} bytes, ${plainBytes} are announced`);
  return { tag: view.getUint32(at), checksum: view.getUint32(at + 16), bytes };
}

function writeSfnt(flavour: number, tables: readonly FontTable[]): Uint8Array {
  const startBytes = SFNT_HEADER_BYTES + tables.length * SFNT_ENTRY_BYTES;
  const size = tables.reduce((sum, { bytes }) => sum + padded(bytes.length), startBytes);
  const sfnt = new Uint8Array(size);
  const view = new DataView(sfnt.buffer);
  const power = Math.floor(Math.log2(tables.length));
  view.setUint32(0, flavour);
  view.setUint16(4, tables.length);
  view.setUint16(6, 2 ** power * 16);
  view.setUint16(8, power);
  view.setUint16(10, tables.length * 16 - 2 ** power * 16);
  let offset = startBytes;
  tables.forEach(({ tag, checksum, bytes }, index) => {
    const at = SFNT_HEADER_BYTES + index * SFNT_ENTRY_BYTES;
    view.setUint32(at, tag);
    view.setUint32(at + 4, checksum);
    view.setUint32(at + 8, offset);
    view.setUint32(at + 12, bytes.length);
    sfnt.set(bytes, offset);
    offset += padded(bytes.length);
  });
  return sfnt;
}

/** Tables begin at whole words of four bytes. */
function padded(byteCount: number): number {
  return Math.ceil(byteCount / 4) * 4;
}
