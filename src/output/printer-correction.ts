import { InputError } from '../quantity/input-error.ts';

/** What a printer made of the 100 mm check lines across and down the paper, mm. */
export interface PrintedCheckMm {
  readonly x: number;
  readonly y: number;
}

/** Stretch of everything on the page, so that the paper comes out right. */
export interface PageStretch {
  readonly xRatio: number;
  readonly yRatio: number;
}

/** Beyond this a printer is not off but set to "fit to page" or the wrong line was measured. */
const LEAST_MM = 90;
const MOST_MM = 110;

/**
 * The stretch that undoes a printer's error.
 *
 * @param printed  measured length of the two 100 mm lines; undefined: the printer is true
 * @returns        100 / printed for each direction
 * @throws InputError when a length is not between 90 and 110 mm
 * @source         arithmetic
 */
export function pageStretch(printed: PrintedCheckMm | undefined): PageStretch {
  if (printed === undefined) return { xRatio: 1, yRatio: 1 };
  return { xRatio: 100 / checked(printed.x, 'across'), yRatio: 100 / checked(printed.y, 'down') };
}

function checked(lengthMm: number, way: string): number {
  if (lengthMm >= LEAST_MM && lengthMm <= MOST_MM) return lengthMm;
  throw new InputError(
    'printed-100-out-of-range',
    `The 100 mm check line ${way} the paper was given as ${lengthMm} mm, which is not between ${LEAST_MM} and ${MOST_MM} mm: print at actual size without fitting to the page, and measure the 100 mm side of the line again.`,
    'printed_100_mm',
  );
}
