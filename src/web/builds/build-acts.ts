import type { BodyOf } from '../../course/event-kinds.ts';
import { type Entry, enter } from '../record/record.ts';

/** Keeps a note about a build. */
export const noteOfBuild = (build: string, text: string) =>
  enter([{ stream: `build:${build}`, kind: 'note', body: { text } }]);

/** Says that an instrument went home; the server then takes away its maker's health note. */
export const handOver = (build: string) =>
  enter([{ stream: `build:${build}`, kind: 'build-handed-over', body: {} }]);

/** Applies a revision to builds; the course keeps its text, so that every device can compute with it. */
export function applyPattern(
  courseId: string,
  revision: BodyOf<'revision-made'>,
  isKept: boolean,
  builds: readonly string[],
  reason: string,
): Promise<readonly string[]> {
  const { what, revision: id, parent, name, text } = revision;
  const keep: Entry<'revision-made'> = {
    stream: `course:${courseId}`,
    kind: 'revision-made',
    body: { what, revision: id, text, ...(parent ? { parent } : {}), ...(name ? { name } : {}) },
  };
  const said = reason.trim();
  return enter([
    ...(isKept ? [] : [keep]),
    ...builds.map(
      (build): Entry<'pattern-applied'> => ({
        stream: `build:${build}`,
        kind: 'pattern-applied',
        body: { pattern: id, ...(said ? { reason: said } : {}) },
      }),
    ),
  ]);
}

/** Leaves builds with the revision they follow; the note says that it was looked at. */
export function leavePattern(builds: readonly string[], name: string, reason: string) {
  const why = reason.trim();
  return enter(
    builds.map(
      (build): Entry<'note'> => ({
        stream: `build:${build}`,
        kind: 'note',
        body: { text: `Newer revision "${name}" looked at and left${why ? `: ${why}` : ''}` },
      }),
    ),
  );
}
