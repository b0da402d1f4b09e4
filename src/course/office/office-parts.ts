import { consentTable } from './consents.ts';
import { costLinesTable, costsTable, materialsTable } from './costs.ts';
import { hoursTable } from './hours.ts';
import { incidentsTable } from './incidents.ts';
import { keysTable } from './keys-register.ts';
import { machineChecksTable, machineDaysTable } from './machine-checks.ts';
import type { OfficeInput, OfficeTable } from './office-table.ts';
import { outsideTable } from './outside-readings.ts';
import { minutesTable, termBuildsTable, termTable } from './term.ts';

/** A part of the office: a page, and a print of its own. */
export interface OfficePart {
  readonly id: string;
  readonly name: string;
  /** On screen and paper. */
  readonly tables: readonly ((input: OfficeInput) => OfficeTable)[];
  /** Only as a file: too long to read. */
  readonly fileOnly?: readonly ((input: OfficeInput) => OfficeTable)[];
}

/** The parts of the office in the order of its page. */
export const officeParts: readonly OfficePart[] = [
  { id: 'hours', name: 'Hours', tables: [hoursTable] },
  { id: 'keys', name: 'Keys', tables: [keysTable] },
  { id: 'machines', name: 'Machine checks', tables: [machineDaysTable], fileOnly: [machineChecksTable] },
  { id: 'incidents', name: 'Incidents', tables: [incidentsTable] },
  { id: 'consent', name: 'Consent', tables: [consentTable] },
  { id: 'cost', name: 'Material and cost', tables: [materialsTable, costsTable], fileOnly: [costLinesTable] },
  {
    id: 'term',
    name: 'End of term',
    tables: [termTable, termBuildsTable, outsideTable, minutesTable],
  },
];

/** A table of the office by its id; undefined when there is none. @source arithmetic */
export function officeTable(input: OfficeInput, id: string): OfficeTable | undefined {
  for (const part of officeParts)
    for (const make of [...part.tables, ...(part.fileOnly ?? [])]) {
      const table = make(input);
      if (table.id === id) return table;
    }
  return undefined;
}
