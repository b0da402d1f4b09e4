import { type Judged, judgeRule, type Rule } from './rule.ts';
import { hasValue, type Sheet } from './sheet.ts';

/** One number that differs between two sheets. `undefined` where one of them has none. */
export interface ChangedNumber {
  readonly id: string;
  readonly label: string;
  readonly unit: string;
  readonly from: number | string | undefined;
  readonly to: number | string | undefined;
  /** Whether it was typed rather than computed. */
  readonly isInput: boolean;
}

/** A rule whose verdict differs. */
export interface ChangedRule {
  readonly id: string;
  readonly label: string;
  readonly from: Judged['state'];
  readonly to: Judged['state'];
}

const plain = (cell: unknown): number | string | undefined =>
  typeof cell === 'number' || typeof cell === 'string' ? cell : undefined;
const differs = (a: number | string | undefined, b: number | string | undefined): boolean =>
  typeof a === 'number' && typeof b === 'number'
    ? Math.abs(a - b) > 1e-9 * Math.max(1, Math.abs(a), Math.abs(b))
    : a !== b;

/**
 * What differs between two sheets of one catalogue: single figures and members of families.
 *
 * @returns  changed numbers in the order of evaluation; shapes are reported through the numbers that follow from them
 * @throws RangeError when the sheets are of different catalogues
 * @source   arithmetic
 */
export function compareSheets(a: Sheet, b: Sheet): readonly ChangedNumber[] {
  if (a.catalogue !== b.catalogue) throw new RangeError('Only sheets of one catalogue can be compared.');
  const changed: ChangedNumber[] = [];
  a.catalogue.ordered.forEach((f, i) => {
    const from = a.cells[i];
    const to = b.cells[i];
    if (from === to) return;
    const isInput = f.role === 'input';
    if (f.members) {
      const before = new Map(hasValue(from) ? f.members(from).map((m) => [m.key, m]) : []);
      const after = new Map(hasValue(to) ? f.members(to).map((m) => [m.key, m]) : []);
      for (const key of new Set([...before.keys(), ...after.keys()])) {
        const x = before.get(key);
        const y = after.get(key);
        if (differs(x?.value, y?.value))
          changed.push({
            id: `${f.id}.${key}`,
            label: (y ?? x)?.label ?? f.label,
            unit: f.unit,
            from: x?.value,
            to: y?.value,
            isInput,
          });
      }
      return;
    }
    if (differs(plain(from), plain(to)))
      changed.push({ id: f.id, label: f.label, unit: f.unit, from: plain(from), to: plain(to), isInput });
  });
  return changed;
}

/** Rules whose verdict differs between two sheets. @source arithmetic */
export function compareRules(a: Sheet, b: Sheet, rules: readonly Rule[]): readonly ChangedRule[] {
  return rules.flatMap((rule) => {
    const from = judgeRule(a, rule).state;
    const to = judgeRule(b, rule).state;
    return from === to ? [] : [{ id: rule.id, label: rule.label, from, to }];
  });
}
