import { type Finding, isFinding } from '../quantity/finding.ts';
import type { Catalogue } from './catalogue.ts';
import { type Absent, type Figure, isAbsent, type Member } from './figure.ts';

/** A dear figure that is not computed yet, or something that rests on one. */
export interface Pending {
  readonly kind: 'pending';
  /** Ids of the dear figures waited for. */
  readonly waitsFor: readonly string[];
  /** Last number known, for other inputs. */
  readonly last?: unknown;
}

/** Whether a value is `Pending`. */
export function isPending(value: unknown): value is Pending {
  return typeof value === 'object' && value !== null && (value as { kind?: unknown }).kind === 'pending';
}

/** Whether a cell holds a value rather than a `Finding`, an `Absent` or a `Pending`. */
export function hasValue(cell: unknown): boolean {
  return !isFinding(cell) && !isAbsent(cell) && !isPending(cell);
}

/** A measured value that takes the place of a figure in one build. */
export interface Override {
  readonly value: unknown;
  /** Where it comes from, e.g. "measured, plate calliper, 3 Nov". */
  readonly by: string;
}

/** What one evaluation is made of. */
export interface Given {
  /** Values of inputs by id. */
  readonly inputs: ReadonlyMap<string, unknown>;
  /** Measured values by figure id. */
  readonly overrides?: ReadonlyMap<string, Override>;
  /**
   * What is known of dear figures. Returns undefined when it has to be computed first (the cell is then pending).
   * Use `computeDear` to compute on the spot.
   */
  readonly dear?: (figure: Figure, values: readonly unknown[]) => unknown;
}

/** The result of one evaluation. Immutable. */
export interface Sheet {
  readonly catalogue: Catalogue;
  readonly given: Given;
  /** Values in the order of `catalogue.ordered`: the value itself, a Finding, an Absent or a Pending. */
  readonly cells: readonly unknown[];
}

/** Computes dear figures on the spot; for the command line and workers. */
export const computeDear = (f: Figure, values: readonly unknown[]): unknown => f.compute(values);

const sameValue = (a: unknown, b: unknown): boolean => {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a) && Array.isArray(b))
    return a.length === b.length && a.every((x, i) => sameValue(x, b[i]));
  if (ArrayBuffer.isView(a) || ArrayBuffer.isView(b)) return false;
  const ka = Object.keys(a);
  const kb = Object.keys(b);
  return (
    ka.length === kb.length &&
    ka.every((k) => sameValue((a as Record<string, unknown>)[k], (b as Record<string, unknown>)[k]))
  );
};

/** Why a figure cannot be computed from these inputs, or undefined when it can. */
function hindrance(f: Figure, values: readonly unknown[]): Finding | Absent | Pending | undefined {
  let wait: Set<string> | undefined;
  let missing: Absent | undefined;
  for (let i = 0; i < values.length; i++) {
    const v = values[i];
    if (isFinding(v)) return v;
    if (isAbsent(v) && !f.optional[i]) missing ??= v;
    if (isPending(v)) {
      wait ??= new Set();
      for (const id of v.waitsFor) wait.add(id);
    }
  }
  if (missing) return missing;
  return wait ? { kind: 'pending', waitsFor: [...wait] } : undefined;
}

function computeCell(f: Figure, values: readonly unknown[], given: Given): unknown {
  const hindered = hindrance(f, values);
  if (hindered) return hindered;
  const clean = values.some(isAbsent) ? values.map((v) => (isAbsent(v) ? undefined : v)) : values;
  if (f.role === 'dear') {
    const known = given.dear?.(f, clean);
    return known === undefined ? { kind: 'pending', waitsFor: [f.id] } : placed(f, known);
  }
  return placed(f, f.compute(clean));
}

/** Fills in where a finding began and turns numbers that are none into findings. */
function placed(f: Figure, value: unknown): unknown {
  if (typeof value === 'number' && !Number.isFinite(value))
    return {
      kind: 'finding',
      code: 'not-a-number',
      level: 'blocked',
      figure: f.id,
      text: `${f.label} cannot be computed from these values; check the numbers it comes from.`,
    } satisfies Finding;
  if (isFinding(value) && value.figure === '') return { ...value, figure: f.id };
  return value;
}

/**
 * Computes all figures from the inputs given.
 *
 * @param previous  an earlier sheet of the same catalogue: only what a change reaches is computed anew
 * @returns         a new sheet
 * @source          arithmetic
 */
export function evaluate(catalogue: Catalogue, given: Given, previous?: Sheet): Sheet {
  const old = previous !== undefined && previous.catalogue === catalogue ? previous : undefined;
  const count = catalogue.ordered.length;
  const cells = new Array<unknown>(count);
  const changed = new Uint8Array(count);
  for (let i = 0; i < count; i++) {
    const f = catalogue.ordered[i] as Figure;
    const from = catalogue.inputIndices[i] as readonly number[];
    const override = given.overrides?.get(f.id);
    const before = old?.given.overrides?.get(f.id);
    const mustCompute =
      !old ||
      override !== undefined ||
      before !== undefined ||
      f.role !== 'figure' ||
      from.some((j) => changed[j] === 1);
    if (!mustCompute) {
      cells[i] = old.cells[i];
      continue;
    }
    const value =
      override !== undefined
        ? override.value
        : f.role === 'input' && given.inputs.has(f.id)
          ? placed(f, given.inputs.get(f.id))
          : computeCell(
              f,
              from.map((j) => cells[j]),
              given,
            );
    const same = old !== undefined && sameValue(old.cells[i], value);
    cells[i] = same ? old.cells[i] : value;
    changed[i] = same ? 0 : 1;
  }
  return { catalogue, given, cells };
}

/** The cell of a figure as it is: value, Finding, Absent or Pending. @throws RangeError when the catalogue has no such figure */
export function cellOf(sheet: Sheet, id: string): unknown {
  const index = sheet.catalogue.indexById.get(id);
  if (index === undefined) throw new RangeError(`No figure is called ${id}.`);
  return sheet.cells[index];
}

/** The value of a figure, or undefined when it is blocked, absent or pending. */
export function figureValue<V>(sheet: Sheet, figure: Figure<V>): V | undefined {
  const cell = cellOf(sheet, figure.id);
  return hasValue(cell) ? (cell as V) : undefined;
}

/** The member of a family behind an id (`fret.place.7`), with its family; undefined when there is none. */
export function memberOf(
  sheet: Sheet,
  id: string,
): { readonly family: Figure; readonly member: Member } | undefined {
  const cut = id.lastIndexOf('.');
  const family = cut > 0 ? sheet.catalogue.byId.get(id.slice(0, cut)) : undefined;
  if (!family?.members) return undefined;
  const cell = cellOf(sheet, family.id);
  if (!hasValue(cell)) return undefined;
  const member = family.members(cell).find((m) => m.key === id.slice(cut + 1));
  return member && { family, member };
}

/** The number behind an id, also of one member of a family (`fret.place.7`); undefined when there is none. */
export function numberOf(sheet: Sheet, id: string): number | undefined {
  const index = sheet.catalogue.indexById.get(id);
  if (index === undefined) return memberOf(sheet, id)?.member.value;
  const cell = sheet.cells[index];
  return typeof cell === 'number' ? cell : undefined;
}
