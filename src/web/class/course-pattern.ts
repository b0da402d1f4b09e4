import type { BuildFacts } from '../../course/build-facts.ts';
import type { ClassState } from '../../course/class-state.ts';
import type { Pattern } from '../../pattern/pattern.ts';
import { readPattern } from '../../pattern/pattern-file.ts';
import { bundledPatterns } from '../keeping/bundled.ts';
import { patternOfBuild } from './build-context.ts';

/** The pattern whose cards hang in the shop: that of the course, or the starting pattern. */
export function coursePattern(state: ClassState | undefined): {
  readonly pattern: Pattern;
  readonly revision: string;
} {
  const first: BuildFacts | undefined = [...(state?.builds.values() ?? [])][0];
  if (state && first)
    return { pattern: patternOfBuild(state, first), revision: (first.pattern ?? '').slice(0, 6) };
  return { pattern: readPattern(bundledPatterns[0]?.text ?? ''), revision: 'starting' };
}
