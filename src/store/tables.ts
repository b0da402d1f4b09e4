import type { CalendarFeedTable } from './calendar/calendar.table.ts';
import type { EventTable } from './events/events.table.ts';
import type { StoredFileTable } from './files/files.table.ts';
import type { ContactTable, HealthNoteTable, PersonTable } from './people/people.table.ts';
import type { JoinCodeTable, PassphraseTable, TokenTable } from './sessions/sessions.table.ts';

/** All tables of the store. */
export interface Tables {
  readonly event: EventTable;
  readonly person: PersonTable;
  readonly contact: ContactTable;
  readonly health_note: HealthNoteTable;
  readonly token: TokenTable;
  readonly join_code: JoinCodeTable;
  readonly passphrase: PassphraseTable;
  readonly stored_file: StoredFileTable;
  readonly calendar_feed: CalendarFeedTable;
}
