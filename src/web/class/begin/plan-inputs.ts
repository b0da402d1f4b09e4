import type { InputSpec } from '../../../pattern/input-spec.ts';
import { inputSpec } from '../../../pattern/pattern-file.ts';

/** The numbers that make a plan another instrument; everything else can follow on the pattern's own page. */
const ASKED = [
  'scale.length',
  'board.width.nut',
  'body.length',
  'body.upper_bout.width',
  'body.waist.width',
  'body.lower_bout.width',
  'rim.height.neck',
  'rim.height.tail',
  'top.thickness.final',
  'back.thickness.final',
  'side.thickness.final',
  'hole.radius',
] as const;

/** Inputs asked when a course begins. */
export const planInputs: readonly InputSpec[] = ASKED.flatMap((id) => inputSpec(id) ?? []);
