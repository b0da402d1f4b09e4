import own from '../../data/glues.json' with { type: 'json' };
import { MINUTE_MS } from '../quantity/time.ts';

/** A kind of glue with its times at 20 degrees C. */
export interface Glue {
  readonly id: string;
  readonly name: string;
  /** Until the parts must touch, min. */
  readonly openMin: number;
  /** Until the clamps must be closed, min. */
  readonly closeByMin: number;
  readonly note: string;
  /** Not to be used in a colder room, degrees C. */
  readonly leastTempC?: number;
}

/** Kinds of glue, the usual one first. */
export const glues: readonly Glue[] = own.glues;

/** Minutes of a glue in a room. */
export interface GlueTimes {
  readonly openMin: number;
  readonly closeByMin: number;
  /** One sentence where the room is outside what the glue can do. */
  readonly says?: string;
}

/**
 * Open and closing minutes in a room: they double for each 10 degrees C colder than 20 and halve for each 10 warmer.
 *
 * @param glue   kind
 * @param tempC  of the room; -10 to 45; undefined: not read, 20 is taken
 * @returns      minutes
 * @throws RangeError for a temperature outside the range
 * @source       common practice, no published source
 */
export function glueTimes(glue: Glue, tempC: number | undefined): GlueTimes {
  const roomC = tempC ?? own.at.tempC;
  if (!(roomC >= -10 && roomC <= 45))
    throw new RangeError(`glueTimes: ${roomC} degrees C, must be between -10 and 45`);
  const ratio = 2 ** ((own.at.tempC - roomC) / own.doublesPerColderC);
  const isTooCold = glue.leastTempC !== undefined && roomC < glue.leastTempC;
  return {
    openMin: glue.openMin * ratio,
    closeByMin: glue.closeByMin * ratio,
    ...(isTooCold
      ? {
          says: `The room has ${roomC} degrees C and ${glue.name} wants at least ${glue.leastTempC}; warm the room, or take another glue.`,
        }
      : {}),
  };
}

/** Where a gluing stands. */
export type GlueStage = 'open' | 'closing' | 'over';

/**
 * Whole minutes that are left after the glue went on; never more than there are.
 *
 * @param times  of the glue in this room
 * @param sinceMs  since the glue went on, ms
 * @source arithmetic
 */
export function glueLeft(
  times: GlueTimes,
  sinceMs: number,
): { readonly stage: GlueStage; readonly leftMin: number } {
  const gone = Math.max(0, sinceMs) / MINUTE_MS;
  const left = (untilMin: number): number => Math.floor(untilMin - gone);
  if (gone < times.openMin) return { stage: 'open', leftMin: left(times.openMin) };
  if (gone < times.closeByMin) return { stage: 'closing', leftMin: left(times.closeByMin) };
  return { stage: 'over', leftMin: 0 };
}
