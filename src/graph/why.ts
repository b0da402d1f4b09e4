import { type Finding, isFinding } from '../quantity/finding.ts';
import { type Figure, type FigureUnit, isAbsent } from './figure.ts';
import { cellOf, isPending, memberOf, type Sheet } from './sheet.ts';

/** A figure with what it was computed from, down to what was typed. */
export interface WhyNode {
  readonly id: string;
  readonly label: string;
  readonly unit: FigureUnit;
  /** A number or a word; undefined for shapes and where there is none. */
  readonly value: number | string | undefined;
  readonly formula: string;
  readonly source: string;
  /** Where a measured value comes from. */
  readonly measuredBy?: string;
  /** Why there is no value. */
  readonly reason?: string;
  readonly finding?: Finding;
  readonly inputs: readonly WhyNode[];
}

/** What can be shown of a cell: its number or word, or the reason why there is none. */
function shown(cell: unknown): {
  readonly value: number | string | undefined;
  readonly reason?: string;
  readonly finding?: Finding;
} {
  if (isFinding(cell)) return { value: undefined, reason: cell.text, finding: cell };
  if (isAbsent(cell)) return { value: undefined, reason: cell.reason };
  if (isPending(cell)) return { value: undefined, reason: 'still being computed' };
  return { value: typeof cell === 'number' || typeof cell === 'string' ? cell : undefined };
}

function nodeOf(sheet: Sheet, f: Figure): WhyNode {
  const by = sheet.given.overrides?.get(f.id)?.by;
  return {
    id: f.id,
    label: f.label,
    unit: f.unit,
    ...shown(cellOf(sheet, f.id)),
    formula: by === undefined ? f.formula : 'measured',
    source: f.source,
    ...(by === undefined ? {} : { measuredBy: by }),
    inputs: by === undefined ? f.inputs.map((i) => nodeOf(sheet, i)) : [],
  };
}

/**
 * Why a figure has its value: formula, inputs and sources, down to what was typed. Also for one member of a family.
 *
 * @param id  figure id or `family.member`
 * @returns   the tree; a measured value ends its branch
 * @throws RangeError when no figure is called so
 * @source    arithmetic
 */
export function whyTree(sheet: Sheet, id: string): WhyNode {
  const figure = sheet.catalogue.byId.get(id);
  if (figure) return nodeOf(sheet, figure);
  const found = memberOf(sheet, id);
  if (!found) throw new RangeError(`No figure is called ${id}.`);
  const { family, member } = found;
  return { ...nodeOf(sheet, family), id, label: member.label, value: member.value };
}

/** Ids of all inputs a figure rests on. @source arithmetic */
export function inputsUnder(
  figure: Figure,
  found: Set<string> = new Set(),
  seen: Set<string> = new Set(),
): ReadonlySet<string> {
  if (seen.has(figure.id)) return found;
  seen.add(figure.id);
  if (figure.role === 'input') found.add(figure.id);
  for (const i of figure.inputs) inputsUnder(i, found, seen);
  return found;
}
