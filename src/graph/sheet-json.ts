import { isFinding } from '../quantity/finding.ts';
import type { Catalogue } from './catalogue.ts';
import { type Figure, isAbsent } from './figure.ts';
import { hasValue, isPending, type Sheet } from './sheet.ts';

/** A figure as scripts get it. */
export interface SheetFigure {
  /** Number or word; null for shapes and where there is none. */
  readonly value: number | string | null;
  readonly unit: string;
  readonly label: string;
  readonly formula: string;
  readonly source: string;
  readonly inputs: readonly string[];
  /** Why there is no value. */
  readonly reason?: string;
  /** Figure where the trouble began. */
  readonly began_at?: string;
  /** Id of the family it belongs to. */
  readonly family?: string;
  /** Where a measured value comes from. */
  readonly measured_by?: string;
}

/** A line of the list of all figures. */
export interface ListedFigure {
  readonly id: string;
  readonly unit: string;
  readonly label: string;
  readonly formula: string;
  readonly source: string;
  readonly role: Figure['role'];
  /** True when it stands for many: fret 1, fret 2, ... */
  readonly family: boolean;
}

/** All figures of a catalogue, in the order of evaluation. @source arithmetic */
export function figureList(catalogue: Catalogue): readonly ListedFigure[] {
  return catalogue.ordered.map((f) => ({
    id: f.id,
    unit: f.unit,
    label: f.label,
    formula: f.formula,
    source: f.source,
    role: f.role,
    family: f.members !== undefined,
  }));
}

function one(sheet: Sheet, f: Figure, cell: unknown): SheetFigure {
  const by = sheet.given.overrides?.get(f.id)?.by;
  const common = {
    unit: f.unit,
    label: f.label,
    formula: by === undefined ? f.formula : 'measured',
    source: f.source,
    inputs: f.inputs.map((i) => i.id),
    ...(by === undefined ? {} : { measured_by: by }),
  };
  if (isFinding(cell)) return { value: null, ...common, reason: cell.text, began_at: cell.figure };
  if (isAbsent(cell)) return { value: null, ...common, reason: cell.reason };
  if (isPending(cell))
    return { value: null, ...common, reason: 'computed only when asked for (--structure)' };
  return { value: typeof cell === 'number' || typeof cell === 'string' ? cell : null, ...common };
}

/**
 * The figures of a sheet as plain data; members of a family stand as `family.member`.
 *
 * @param only  ids that begin so; all when left out
 * @source      arithmetic
 */
export function sheetFigures(sheet: Sheet, only = ''): Record<string, SheetFigure> {
  const out: Record<string, SheetFigure> = {};
  sheet.catalogue.ordered.forEach((f, i) => {
    const cell = sheet.cells[i];
    if (isAbsent(cell) && f.role === 'input') return;
    const members = hasValue(cell) ? f.members?.(cell) : undefined;
    if (!members) {
      if (f.id.startsWith(only)) out[f.id] = one(sheet, f, cell);
      return;
    }
    for (const m of members) {
      const id = `${f.id}.${m.key}`;
      if (id.startsWith(only)) out[id] = { ...one(sheet, f, m.value), label: m.label, family: f.id };
    }
  });
  return out;
}
