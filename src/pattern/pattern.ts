/** The three kinds of instrument a route and its limits know. */
export type Instrument = 'steel' | 'nylon' | 'uke';

/** A place in the pattern's frame: x across (0 centre line, + treble side seen from the front), y from the neck end of the body toward the tail. */
export interface PatternPoint {
  readonly xMm: number;
  readonly yMm: number;
}

/** One string of the set, treble to bass. */
export interface StringSpec {
  /** Pitch name, e.g. `E4`. */
  readonly note: string;
  readonly frequencyHz: number;
  readonly diameterMm: number;
  readonly massGPerM: number;
  /** E A of what stretches (the core of a wound string). */
  readonly axialStiffnessN: number;
  /** E I of what bends (the core of a wound string). */
  readonly bendingStiffnessNmm2: number;
}

/** A bar whose two ends are given. */
export interface StraightBar {
  readonly kind: 'straight';
  readonly id: string;
  readonly role: string;
  readonly from: PatternPoint;
  readonly to: PatternPoint;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** A fan strut: it lies on a ray from the focus; `index` counts from the centre strut 0, + toward the treble. */
export interface FanStrut {
  readonly kind: 'fan';
  readonly id: string;
  readonly role: string;
  readonly index: number;
  readonly fromYMm: number;
  readonly toYMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** A bar as the pattern gives it. The X legs are not in the list: they follow from `brace.x`. */
export type BarSpec = StraightBar | FanStrut;

/** One line of rough wood. */
export interface StockSpec {
  readonly part: string;
  readonly count: number;
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly thicknessMm: number;
  readonly material: string;
}

/** The inputs of one instrument, read and checked. */
export interface Pattern {
  readonly name: string;
  readonly instrument: Instrument;
  readonly handed: 'right' | 'left';
  readonly scheme: 'x' | 'fan' | 'ladder';
  /** Numbers by input id (`src/pattern/input-table.ts`), in the unit of the table. An id not there is not given. */
  readonly numbers: ReadonlyMap<string, number>;
  /** Ids the teacher gave or confirmed; everything else is not yet his. */
  readonly mine: ReadonlySet<string>;
  readonly strings: readonly StringSpec[];
  readonly topBars: readonly BarSpec[];
  readonly backBars: readonly BarSpec[];
  readonly bridgePlate: {
    readonly outline: readonly PatternPoint[];
    readonly fitted: 'one-piece' | 'between-struts' | 'none';
  };
  readonly stock: readonly StockSpec[];
  /** A template's own outline: half widths at measured places, from the neck end to the tail. Drives everything when given. */
  readonly ownOutline?: readonly PatternPoint[];
}
