import { type EventDraft, makeEvent, type RecordEvent, type Recorder, seenBy } from '../../course/event.ts';

/** Makes the server's own events (revisions, forgetting a person). */
export interface ServerRecorder {
  make(draft: EventDraft): RecordEvent;
  /** Lets it know of events that came in, so that its own come after them. */
  saw(events: readonly RecordEvent[]): void;
}

/** A recorder under the name of this run of the server, so that counters never clash with an earlier run. */
export function serverRecorder(
  runId: string,
  lastTimeMs: number,
  nowMs: () => number,
  randomBytes: (count: number) => Uint8Array,
): ServerRecorder {
  let recorder: Recorder = { device: `server.${runId}`, counter: 0, lastTimeMs };
  return {
    make: (draft) => {
      const made = makeEvent(recorder, draft, nowMs(), randomBytes(16));
      recorder = made.recorder;
      return made.event;
    },
    saw: (events) => {
      for (const e of events) recorder = seenBy(recorder, e);
    },
  };
}
