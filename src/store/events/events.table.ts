import type { Generated } from 'kysely';

/** One event of the record. Rows are added; only forgetting a person writes a body anew. */
export interface EventTable {
  /** Order of arrival at this server; serves catch-up alone. */
  readonly arrival: Generated<number>;
  readonly id: string;
  readonly stream: string;
  readonly kind: string;
  readonly device: string;
  readonly counter: number;
  readonly time_ms: number;
  readonly by_person: string;
  /** JSON. */
  readonly body: string;
}
