import type { RecordEvent } from './event.ts';
import { type BodyOf, bodyFault, isKnownKind, type KnownEvent } from './event-kinds.ts';

/** Who said it, when. */
export interface Said {
  readonly event: string;
  readonly by: string;
  readonly atMs: number;
}

export interface NoteFact extends Said {
  readonly text: string;
  readonly op?: string;
  readonly station?: string;
  readonly person?: string;
  readonly forNext?: boolean;
}

export interface PhotoFact extends Said {
  readonly hash: string;
  readonly type: string;
  readonly op?: string;
  readonly words?: string;
  readonly person?: string;
}

export interface IncidentFact extends Said {
  readonly severity: BodyOf<'incident'>['severity'];
  readonly text: string;
  readonly person?: string;
  readonly station?: string;
  readonly key?: string;
  readonly firstAid?: string;
  readonly followUp?: string;
  readonly closed?: string;
}

/** What the record can say in every stream: of a build, of a course, of the shop. */
export interface StreamFacts {
  readonly notes: readonly NoteFact[];
  readonly photos: readonly PhotoFact[];
  readonly incidents: readonly IncidentFact[];
  readonly revisions: ReadonlyMap<string, BodyOf<'revision-made'> & Said>;
  /** When something was last heard of in this stream. */
  readonly lastMs: number;
  /** Kinds this version does not know, and bodies it cannot read: kept, passed on, not understood. */
  readonly unknown: readonly string[];
}

/** Facts while they are folded. */
export type Draft<F> = {
  -readonly [K in keyof F]: F[K] extends ReadonlyMap<infer A, infer B> ? Map<A, B> : F[K];
};

/** Facts of a stream in which nothing has happened. */
export const nothingSaid = (): StreamFacts => ({
  notes: [],
  photos: [],
  incidents: [],
  revisions: new Map(),
  lastMs: 0,
  unknown: [],
});

/** An event of a known kind with a body that can be read; anything else is noted and gives undefined. */
export function understood(d: Draft<StreamFacts>, event: RecordEvent): KnownEvent | undefined {
  d.lastMs = Math.max(d.lastMs, event.time);
  if (isKnownKind(event.kind) && bodyFault(event) === undefined) return event as KnownEvent;
  d.unknown = [...d.unknown, event.id];
  return undefined;
}

/** Who said an event, when. */
export const saidBy = (e: Pick<RecordEvent, 'id' | 'by' | 'time'>): Said => ({
  event: e.id,
  by: e.by,
  atMs: e.time,
});

/** Takes in what can be said in every stream. */
export function takeAnywhere(d: Draft<StreamFacts>, e: KnownEvent, said: Said): void {
  switch (e.kind) {
    case 'note':
      d.notes = [...d.notes, { ...said, ...e.body }];
      return;
    case 'photo':
      d.photos = [...d.photos, { ...said, ...e.body }];
      return;
    case 'incident':
      d.incidents = [...d.incidents, { ...said, ...e.body, atMs: e.body.atMs ?? e.time }];
      return;
    case 'incident-closed': {
      const { incident, text } = e.body;
      d.incidents = d.incidents.map((i) => (i.event === incident ? { ...i, closed: text } : i));
      return;
    }
    case 'revision-made':
      d.revisions.set(e.body.revision, { ...e.body, ...said });
      return;
    default:
      return;
  }
}
