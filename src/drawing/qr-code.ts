/// <reference path="./qrcode-core.d.ts" />
import { create } from 'qrcode/lib/core/qrcode.js';
import { box, type Entity, type PointMm } from './model.ts';

/** The squares of a QR code, row by row; true is dark. */
export interface QrModules {
  readonly sizeCount: number;
  isDark(rowIndex: number, columnIndex: number): boolean;
}

/** White that readers need around the code, in squares (ISO/IEC 18004, from memory). */
const QUIET_ZONE_COUNT = 4;

/** Neighbouring runs overlap a little, so that no viewer shows white hairs between them, mm. */
const OVERLAP_MM = 0.01;

/**
 * The squares of the QR code for some words, error correction M (15 % may be lost).
 *
 * @param words  1 to about 2300 characters; an address stays well readable under 100
 * @throws Error when there are none or too many
 * @source from memory
 */
export function qrModules(words: string): QrModules {
  const { size, data } = create(words, { errorCorrectionLevel: 'M' }).modules;
  return { sizeCount: size, isDark: (row, column) => data[row * size + column] === 1 };
}

/**
 * A QR code as filled boxes, white rim included.
 *
 * @param corner  upper left corner of the whole, rim included
 * @param sizeMm  side of the whole; a phone reads squares of 0.5 mm and more (common practice, no published source)
 * @returns       one box for each run of dark squares in a row
 * @source        from memory
 */
export function qrCode(words: string, corner: PointMm, sizeMm: number): readonly Entity[] {
  const modules = qrModules(words);
  const squareMm = sizeMm / (modules.sizeCount + 2 * QUIET_ZONE_COUNT);
  const at = (index: number) => (index + QUIET_ZONE_COUNT) * squareMm;
  return darkRuns(modules).map(({ row, from, to }) =>
    box(
      'text',
      {
        minX: corner.x + at(from) - OVERLAP_MM,
        maxX: corner.x + at(to) + OVERLAP_MM,
        minY: corner.y + at(row) - OVERLAP_MM,
        maxY: corner.y + at(row + 1) + OVERLAP_MM,
      },
      { fill: 'black', isStroked: false },
    ),
  );
}

interface DarkRun {
  readonly row: number;
  readonly from: number;
  /** One past the last dark square. */
  readonly to: number;
}

function darkRuns({ sizeCount, isDark }: QrModules): readonly DarkRun[] {
  const runs: DarkRun[] = [];
  for (let row = 0; row < sizeCount; row++) {
    let from: number | undefined;
    for (let column = 0; column <= sizeCount; column++) {
      const dark = column < sizeCount && isDark(row, column);
      if (dark) from ??= column;
      else if (from !== undefined) {
        runs.push({ row, from, to: column });
        from = undefined;
      }
    }
  }
  return runs;
}
