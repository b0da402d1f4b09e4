import type { AgeBand } from '../../route/route-types.ts';

/** Age bands in plain words, the youngest first. */
export const BANDS: readonly (readonly [AgeBand, string])[] = [
  ['under16', 'under 16'],
  ['from16to17', '16 to 17'],
  ['adult', 'adult'],
];

/** Whether a key is given to a person one by one; bench tools come with the induction, some machines are the teacher's alone. */
export const isKeyed = (key: string): boolean => !['none', 'hand', 'teacher-only'].includes(key);
