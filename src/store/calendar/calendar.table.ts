/** The secret address a calendar program reads the sessions of one course from. */
export interface CalendarFeedTable {
  readonly course: string;
  /** Kept as it is, like a join code: the teacher's page shows the address again. */
  readonly token: string;
  /** A name such as Europe/Vienna, as the teacher's device gave it. */
  readonly time_zone: string;
  readonly made_ms: number;
}
