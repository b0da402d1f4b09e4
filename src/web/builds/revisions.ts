import type { ClassState } from '../../course/class-state.ts';
import type { BodyOf } from '../../course/event-kinds.ts';
import { newerRevision, type RevisionKept } from '../../course/newer-revision.ts';
import type { Pattern } from '../../pattern/pattern.ts';
import { readPattern } from '../../pattern/pattern-file.ts';
import { bundledPatterns } from '../keeping/bundled.ts';
import type { RecordView } from '../record/record.ts';

/** The stream that keeps the patterns of the shop, the demo's too. */
const PATTERNS = 'shop:main';

/** Every revision this device knows. */
export function revisionsKnown(record: RecordView, state: ClassState): readonly RevisionKept[] {
  const shop = (record.streams.get(PATTERNS) ?? [])
    .filter((e) => e.kind === 'revision-made')
    .map((e) => ({ ...(e.body as BodyOf<'revision-made'>), atMs: e.time }));
  const known = new Map<string, RevisionKept>();
  for (const r of [...shop, ...state.shop.revisions.values(), ...state.course.revisions.values()])
    if (!known.has(r.revision)) known.set(r.revision, r);
  return [...known.values()];
}

/** The newest revision made from the one given. */
export const newerOf = (record: RecordView, state: ClassState, from: string): RevisionKept | undefined =>
  newerRevision(revisionsKnown(record, state), from);

/** The pattern of a revision; undefined when this device does not know it or cannot read it. */
export function patternOfRevision(record: RecordView, state: ClassState, id: string): Pattern | undefined {
  const text = revisionsKnown(record, state).find((r) => r.revision === id)?.text;
  try {
    return text === undefined ? undefined : readPattern(text);
  } catch {
    return undefined;
  }
}

/** What a revision is called. */
export function revisionName(record: RecordView, state: ClassState, id: string): string {
  const kept = revisionsKnown(record, state).find((r) => r.revision === id);
  const starting = bundledPatterns.find((p) => p.id === id)?.name;
  return `${kept?.name ?? starting ?? 'pattern'} (${id.slice(0, 6)})`;
}
