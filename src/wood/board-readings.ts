/** A reading and how far it may be off (one standard deviation, same unit). */
export interface Reading {
  readonly value: number;
  readonly plusMinus: number;
}

/** The board on two rests with a known weight in the middle. */
export interface BendingTest {
  readonly spanMm: Reading;
  readonly weightG: Reading;
  /** Change of the dial or ruler when the weight is put on. */
  readonly deflectionMm: Reading;
}

/** What a class can measure on one board. */
export interface BoardReadings {
  /** Along the grain. */
  readonly lengthMm: Reading;
  readonly widthMm: Reading;
  readonly thicknessMm: Reading;
  readonly massG: Reading;
  /** Rests square to the grain: bends along it. */
  readonly bending?: BendingTest;
  /** Rests parallel to the grain: bends across it. */
  readonly bendingAcross?: BendingTest;
  /** Lowest notes of the free board. */
  readonly tapAlongHz?: Reading;
  readonly tapAcrossHz?: Reading;
  readonly tapTwistHz?: Reading;
  readonly species: BoardSpecies;
}

/** Woods whose bands and ratios are known here; `other` has neither. */
export type BoardSpecies = 'spruce' | 'cedar' | 'other';

/** Where to hold a free board and where to tap it for each note. */
export const tapAdvice = {
  along: {
    hold: 'two fingers or soft threads across the board at 22.4 % of its length from each end',
    strike: 'in the middle of the board, or at the middle of one end',
    listen: 'over the middle of the board',
    source: 'free-free-beam',
  },
  across: {
    hold: 'soft threads along the grain at 22.4 % of the width from each long edge',
    strike: 'in the middle of the board, or at the middle of a long edge',
    listen: 'over the middle of the board',
    source: 'free-free-beam',
  },
  twist: {
    hold: 'where the two centre lines cross, and at the middle of one edge',
    strike: 'at a corner',
    listen: 'over another corner',
    source: 'twist-of-plate',
  },
} as const;
