import type { FigureUnit } from '../graph/figure.ts';

/** One typed number of a pattern: where it stands in the file (dots are levels), unit, plain label and the limits beyond which it is a slip of the pen. */
export interface InputSpec {
  readonly id: string;
  readonly unit: FigureUnit;
  readonly label: string;
  /** Plausible limits, unit of the input; beyond them it is refused. */
  readonly low: number;
  readonly high: number;
  readonly group: string;
}
