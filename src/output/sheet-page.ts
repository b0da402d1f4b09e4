import type { BoundsMm, PlainEntity, PointMm } from '../drawing/model.ts';
import type { SizeMm } from './paper.ts';
import type { PageStretch } from './printer-correction.ts';

/** Entities in one place of a page. */
export interface SheetGroup {
  readonly entities: readonly PlainEntity[];
  /** Added to every coordinate, mm. */
  readonly shift: PointMm;
  /** Nothing is drawn outside, mm on the page. */
  readonly clip?: BoundsMm;
}

/** One page of paper with all that stands on it, in mm from its upper left corner, before the printer's correction. */
export interface SheetPage {
  /** What a reader lists it as, e.g. `Front face, A1 of 8`. */
  readonly label: string;
  /** The real paper. */
  readonly paper: SizeMm;
  /** Stretch of everything on the page. */
  readonly stretch: PageStretch;
  readonly groups: readonly SheetGroup[];
}

/** Room on a paper as the drawing's mm see it: a stretched drawing has less of it. @source arithmetic */
export function roomOn({ widthMm, heightMm }: SizeMm, stretch: PageStretch): SizeMm {
  return { widthMm: widthMm / stretch.xRatio, heightMm: heightMm / stretch.yRatio };
}
