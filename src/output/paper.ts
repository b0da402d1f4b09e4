/** The papers a print can be made on. `sheet` is one sheet as large as the drawing needs. */
export const PAPER_NAMES = ['letter', 'a4', 'a3', 'sheet'] as const;

export type PaperName = (typeof PAPER_NAMES)[number];

/** Width and height, mm. */
export interface SizeMm {
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Papers upright, mm. @source iso-216; Letter is 8 1/2 x 11 in (inch-1959) */
export const PAPER_SIZES: Readonly<Record<Exclude<PaperName, 'sheet'>, SizeMm>> = {
  letter: { widthMm: 8.5 * 25.4, heightMm: 11 * 25.4 },
  a4: { widthMm: 210, heightMm: 297 },
  a3: { widthMm: 297, heightMm: 420 },
};

/** The same paper lying on its side. @source arithmetic */
export function turned({ widthMm, heightMm }: SizeMm): SizeMm {
  return { widthMm: heightMm, heightMm: widthMm };
}
