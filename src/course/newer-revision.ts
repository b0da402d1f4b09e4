import type { BodyOf } from './event-kinds.ts';

/** A revision of a pattern as the record keeps it. */
export type RevisionKept = BodyOf<'revision-made'> & { readonly atMs: number };

/**
 * The newest revision of a pattern that was made, step by step, from the one a build follows.
 *
 * @param revisions  all revisions the record knows, in any order
 * @param from       id of the revision the build follows
 * @returns          undefined when nothing newer stands on it
 * @source           arithmetic
 */
export function newerRevision(revisions: Iterable<RevisionKept>, from: string): RevisionKept | undefined {
  const patterns = [...revisions].filter((r) => r.what === 'pattern' && r.revision !== from);
  const family = new Set([from]);
  for (let size = 0; size < family.size; ) {
    size = family.size;
    for (const r of patterns) if (r.parent !== undefined && family.has(r.parent)) family.add(r.revision);
  }
  return patterns
    .filter((r) => family.has(r.revision))
    .reduce<RevisionKept | undefined>((a, b) => (a === undefined || later(b, a) ? b : a), undefined);
}

const later = (b: RevisionKept, a: RevisionKept): boolean =>
  b.atMs > a.atMs || (b.atMs === a.atMs && b.revision > a.revision);
