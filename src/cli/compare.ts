import { allRules } from '../figures/catalogue.ts';
import { sheetOfPattern } from '../figures/pattern-sheet.ts';
import { compareRules, compareSheets } from '../graph/compare.ts';
import { judgeAll } from '../graph/remedy.ts';
import { InputError } from '../quantity/input-error.ts';
import { say, sayJson } from './door.ts';
import { patternArgument } from './pattern-argument.ts';

const shown = (v: number | string | undefined): string =>
  typeof v === 'number' ? String(Number(v.toFixed(3))) : (v ?? 'none');

/** `compare A B` or `compare A --set input=value`: what a change touches. Exit 1 with --judge and a broken rule in the second. */
export function compareCommand(
  a: string,
  b: string | undefined,
  options: { readonly set: readonly string[]; readonly judge?: boolean; readonly json?: boolean },
): number {
  if (b === undefined && options.set.length === 0)
    throw new InputError(
      'wrong-use',
      'compare needs a second pattern or a change: compare A B, or compare A --set input=value.',
    );
  const first = sheetOfPattern(patternArgument(a).pattern);
  const second = sheetOfPattern(patternArgument(b ?? a, options.set).pattern);
  const changed = compareSheets(first, second);
  const rules = compareRules(first, second, allRules);
  if (options.json)
    sayJson({
      changed: changed.map(({ id, from, to, unit }) => ({ id, from: from ?? null, to: to ?? null, unit })),
      rules: rules.map(({ id, from, to }) => ({ id, from, to })),
    });
  else {
    for (const c of changed)
      say(`${c.id.padEnd(38)} ${shown(c.from)} -> ${shown(c.to)} ${c.unit}  ${c.label}`);
    for (const r of rules) say(`rule ${r.label}: ${r.from} -> ${r.to}`);
  }
  return options.judge && judgeAll(second, allRules).some((j) => j.state === 'broken') ? 1 : 0;
}
