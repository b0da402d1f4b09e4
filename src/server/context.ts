import type { CalendarRepository } from '../store/calendar/calendar.repository.ts';
import type { OpenStore } from '../store/dialect/open-sqlite.ts';
import type { EventsRepository } from '../store/events/events.repository.ts';
import type { PeopleRepository } from '../store/people/people.repository.ts';
import type { SessionsRepository } from '../store/sessions/sessions.repository.ts';
import type { SecureDoor } from './doors/secure-door.ts';
import type { PdfMaker } from './prints/pdf-maker.ts';
import type { Live } from './record/live.ts';
import type { ServerRecorder } from './record/recorder.ts';

/** What every route can use. */
export interface Context {
  readonly store: OpenStore;
  readonly events: EventsRepository;
  readonly people: PeopleRepository;
  readonly sessions: SessionsRepository;
  readonly calendar: CalendarRepository;
  readonly live: Live;
  readonly recorder: ServerRecorder;
  readonly pdf: PdfMaker;
  readonly nowMs: () => number;
  readonly randomBytes: (count: number) => Uint8Array;
  /** The https door, when the server has one. */
  readonly secureDoor?: SecureDoor;
  /** Folder of data/ with the starting patterns, the route and the shop. */
  readonly dataFolder: string;
}
