import type { Figure, FigureUnit } from '../../graph/figure.ts';
import { isAbsent } from '../../graph/figure.ts';
import { hasValue, isPending, type Sheet } from '../../graph/sheet.ts';
import { inputSpec } from '../../pattern/pattern-file.ts';
import { isFinding } from '../../quantity/finding.ts';
import { BARS_ID, barNumbers, pageSpec } from './bar-inputs.ts';

/** One line of the list of numbers. */
export interface Row {
  readonly id: string;
  readonly label: string;
  readonly unit: FigureUnit;
  /** A number or a word; undefined: there is no value, and `reason` says why. */
  readonly value: number | string | undefined;
  readonly reason?: string;
  readonly isInput: boolean;
  /** Numbers of a family, shown when it is opened. */
  readonly members?: readonly Row[];
}

/** Rows under one heading. */
export interface Group {
  readonly name: string;
  readonly rows: readonly Row[];
}

/** Which group a computed figure stands in, by the first word of its id. */
const GROUP_OF: Readonly<Record<string, string>> = {
  outline: 'Outline',
  body: 'Outline',
  brace: 'Braces',
  x: 'Braces',
  fan: 'Braces',
  bar: 'Braces',
  hole: 'Hole and ring',
  rosette: 'Hole and ring',
  ring: 'Hole and ring',
  channel: 'Hole and ring',
  bridge: 'Bridge',
  saddle: 'Bridge',
  bridge_plate: 'Bridge',
  top: 'Top',
  back: 'Back',
  side: 'Sides',
  strip: 'Sides',
  scale: 'Scale',
  fret: 'Scale',
  slot: 'Scale',
  nut: 'Strings',
  string: 'Strings',
  strings: 'Strings',
  board: 'Board',
  neck: 'Neck',
  head: 'Head',
  rim: 'Box',
  dome: 'Box',
  box: 'Box',
  block: 'Blocks, linings, bindings',
  lining: 'Blocks, linings, bindings',
  binding: 'Blocks, linings, bindings',
  setup: 'Set-up',
  action: 'Set-up',
  air: 'Air',
  weight: 'Weight',
  allowance: 'Allowances',
};

const ORDER = [
  'Outline',
  'Braces',
  'Hole and ring',
  'Bridge',
  'Top',
  'Back',
  'Sides',
  'Scale',
  'Strings',
  'Board',
  'Neck',
  'Head',
  'Set-up',
  'Box',
  'Blocks, linings, bindings',
  'Allowances',
];

const groupOf = (figure: Figure): string => {
  const word = figure.id.split('.')[0] as string;
  const known = inputSpec(figure.id)?.group ?? GROUP_OF[word];
  return known ?? word.replaceAll('_', ' ').replace(/^./, (c) => c.toUpperCase());
};

function shownValue(cell: unknown): Pick<Row, 'value' | 'reason'> {
  if (isFinding(cell)) return { value: undefined, reason: cell.text };
  if (isPending(cell)) return { value: undefined, reason: 'It is still being computed.' };
  return { value: typeof cell === 'number' || typeof cell === 'string' ? cell : undefined };
}

function rowOf(figure: Figure, cell: unknown): Row | undefined {
  if (isAbsent(cell)) return undefined;
  const { id, label, unit } = figure;
  const isInput = figure.role === 'input';
  const shown = shownValue(cell);
  if (!figure.members || shown.reason !== undefined)
    return unit === 'shape' && shown.reason === undefined
      ? undefined
      : { id, label, unit, ...shown, isInput };
  const members = figure
    .members(cell)
    .map((m): Row => ({ id: `${id}.${m.key}`, label: m.label, unit, value: m.value, isInput: false }));
  return members.length === 0 ? undefined : { id, label, unit, value: undefined, isInput, members };
}

/** Both ends of the top bars as one family of typed numbers; undefined when no bar has two given ends. */
function barsRow(sheet: Sheet): Row | undefined {
  const members = barNumbers(sheet).map(
    ({ id, value }): Row => ({ id, label: pageSpec(id)?.label ?? id, unit: 'mm', value, isInput: true }),
  );
  if (members.length === 0) return undefined;
  return {
    id: BARS_ID,
    label: 'Ends of the top bars',
    unit: 'mm',
    value: undefined,
    isInput: false,
    members,
  };
}

/** All numbers of a sheet in groups, in the order of the page: inputs first as the file has them, then what follows. */
export function groupsOf(sheet: Sheet): readonly Group[] {
  const groups = new Map<string, Row[]>(ORDER.map((name) => [name, []]));
  const add = (figure: Figure, index: number) => {
    const row = rowOf(figure, sheet.cells[index]);
    if (!row) return;
    const name = groupOf(figure);
    const rows = groups.get(name) ?? [];
    rows.push(row);
    groups.set(name, rows);
  };
  const { ordered } = sheet.catalogue;
  ordered.forEach((figure, index) => {
    if (inputSpec(figure.id)) add(figure, index);
  });
  const bars = barsRow(sheet);
  if (bars) groups.get('Braces')?.push(bars);
  ordered.forEach((figure, index) => {
    if (!inputSpec(figure.id) && figure.unit !== 'text') add(figure, index);
  });
  return [...groups].filter(([, rows]) => rows.length > 0).map(([name, rows]) => ({ name, rows }));
}

/** Numbers of a sheet by id, members of families too, for the column of the last revision. */
export function numbersOf(sheet: Sheet): ReadonlyMap<string, number | string> {
  const numbers = new Map<string, number | string>();
  sheet.catalogue.ordered.forEach((figure, index) => {
    const cell = sheet.cells[index];
    if (typeof cell === 'number' || typeof cell === 'string') numbers.set(figure.id, cell);
    else if (figure.members && hasValue(cell))
      for (const m of figure.members(cell)) numbers.set(`${figure.id}.${m.key}`, m.value);
  });
  for (const { id, value } of barNumbers(sheet)) numbers.set(id, value);
  return numbers;
}
