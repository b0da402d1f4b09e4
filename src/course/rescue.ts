import type { TopInput } from '../mechanics/top-problem.ts';
import { formatInches } from '../quantity/print-length.ts';

/** What to do now, in the words of the shop. */
export type Action = 'carry on' | 'adjust' | 'stop';
/** What becomes of the piece. */
export type Decision = 'carry on' | 'repair' | 'replace';

/** One number of a rescue. */
export interface RescueNumber {
  readonly label: string;
  readonly value: number;
  readonly unit: string;
  /** Figure or input this number is the new value of: taking the rescue writes it into the build. */
  readonly figure?: string;
}

/** What a thin top is computed from as a whole plate. */
export interface ThinTop {
  /** As drawn, with everything else of the build in it. */
  readonly drawn: TopInput;
  readonly measuredMm: number;
  /** Carved bars cannot be left higher. */
  readonly barsAreCarved?: boolean;
}

/** What to do about a reading outside its limits, computed from this build. */
export interface Rescue {
  readonly title: string;
  readonly action: Action;
  readonly decision: Decision;
  readonly sentence: string;
  readonly numbers: readonly RescueNumber[];
  /** A thin top that the plate engine can look at, when it is asked to. */
  readonly thinTop?: ThinTop;
  /** Replacing the piece is offered beside it, introduced with these words. */
  readonly orReplace?: string;
}

/** Blanks of bars are planed this much higher than drawn, mm. */
export const blankSpareMm = 1;

/** A number as it is read in the shop: two decimals, no needless zeros. */
export function shown(value: number, places = 2): string {
  return String(Number(value.toFixed(places)));
}

/** How lengths are said in the sentences of one build. */
export type SayLength = (valueMm: number, places?: number) => string;

/** In millimetres: `2.46 mm`. */
export const sayMm: SayLength = (valueMm, places) => `${shown(valueMm, places)} mm`;

/** As a calliper in the unit of the class shows them: `2.46 mm`, `.097 in`. @source inch-1959 */
export function sayIn(unit: 'mm' | 'in' = 'mm'): SayLength {
  return unit === 'mm' ? sayMm : (valueMm) => `${formatInches(valueMm)} in`;
}
