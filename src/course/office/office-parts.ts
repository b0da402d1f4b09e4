import { consentTable } from './consents.ts';
import { costLinesTable, costsTable, materialsTable } from './costs.ts';
import { hoursTable } from './hours.ts';
import { incidentsTable } from './incidents.ts';
import { keysTable } from './keys-register.ts';
import { machineChecksTable, machineDaysTable } from './machine-checks.ts';
import type { OfficeInput, OfficeTable } from './office-table.ts';
import { outsideTable } from './outside-readings.ts';
import { shopJigsTable, shopMachinesTable } from './shop-tables.ts';
import { minutesTable, termBuildsTable, termTable } from './term.ts';

/** A table and the name it is asked for by. */
export interface NamedTable {
  readonly id: string;
  readonly make: (input: OfficeInput) => OfficeTable;
}

/** A part of the office: a page, and a print of its own. */
export interface OfficePart {
  readonly id: string;
  readonly name: string;
  /** On screen and paper. */
  readonly tables: readonly NamedTable[];
  /** Only as a file: too long to read. */
  readonly fileOnly?: readonly NamedTable[];
}

const named = (id: string, make: NamedTable['make']): NamedTable => ({ id, make });

/** The parts of the office in the order of its page. */
export const officeParts: readonly OfficePart[] = [
  { id: 'hours', name: 'Hours', tables: [named('hours', hoursTable)] },
  { id: 'keys', name: 'Keys', tables: [named('keys', keysTable)] },
  {
    id: 'machines',
    name: 'Machine checks',
    tables: [named('machine-days', machineDaysTable)],
    fileOnly: [named('machine-checks', machineChecksTable)],
  },
  {
    id: 'shop',
    name: 'Shop',
    tables: [named('shop-machines', shopMachinesTable), named('shop-jigs', shopJigsTable)],
  },
  { id: 'incidents', name: 'Incidents', tables: [named('incidents', incidentsTable)] },
  { id: 'consent', name: 'Consent', tables: [named('consent', consentTable)] },
  {
    id: 'cost',
    name: 'Material and cost',
    tables: [named('materials', materialsTable), named('costs', costsTable)],
    fileOnly: [named('cost-lines', costLinesTable)],
  },
  {
    id: 'term',
    name: 'End of term',
    tables: [
      named('term', termTable),
      named('term-builds', termBuildsTable),
      named('outside', outsideTable),
      named('minutes', minutesTable),
    ],
  },
];

/** All tables of the office, those for files too. @source arithmetic */
export const officeTables: readonly NamedTable[] = officeParts.flatMap((p) => [
  ...p.tables,
  ...(p.fileOnly ?? []),
]);

/** A table of the office by its id; undefined when there is none. @source arithmetic */
export function officeTable(input: OfficeInput, id: string): OfficeTable | undefined {
  return officeTables.find((t) => t.id === id)?.make(input);
}
