import { operationsTouched } from '../course/as-changed.ts';
import { allRules } from '../figures/catalogue.ts';
import { sheetOfPattern } from '../figures/pattern-sheet.ts';
import { compareRules, compareSheets } from '../graph/compare.ts';
import { judgeAll } from '../graph/remedy.ts';
import { InputError } from '../quantity/input-error.ts';
import { ownRoute } from '../route/route.ts';
import { changedSettings, settingCards } from '../settings/settings-of.ts';
import { say, sayJson } from './door.ts';
import { patternArgument } from './pattern-argument.ts';
import { shopArgument } from './shop-argument.ts';

const shown = (v: number | string | undefined): string =>
  typeof v === 'number' ? String(Number(v.toFixed(3))) : (v ?? 'none');

/** `compare A B` or `compare A --set input=value`: what a change touches. Exit 1 with --judge and a broken rule in the second. */
export function compareCommand(
  a: string,
  b: string | undefined,
  options: {
    readonly set: readonly string[];
    readonly shop?: string;
    readonly judge?: boolean;
    readonly json?: boolean;
  },
): number {
  if (b === undefined && options.set.length === 0)
    throw new InputError(
      'wrong-use',
      'compare needs a second pattern or a change: compare A B, or compare A --set input=value.',
    );
  const first = sheetOfPattern(patternArgument(a).pattern);
  const after = patternArgument(b ?? a, options.set);
  const second = sheetOfPattern(after.pattern);
  const changed = compareSheets(first, second);
  const rules = compareRules(first, second, allRules);
  const shop = shopArgument(options.shop);
  const settings = changedSettings(settingCards(first, shop), settingCards(second, shop));
  const { instrument } = after.pattern;
  const operations = operationsTouched(ownRoute(), changed).filter((o) => o.instruments.includes(instrument));
  if (options.json)
    sayJson({
      changed: changed.map(({ id, from, to, unit }) => ({ id, from: from ?? null, to: to ?? null, unit })),
      rules: rules.map(({ id, from, to }) => ({ id, from, to })),
      settings: settings.map(({ id, card, label, from, to, unit }) => ({
        id,
        card,
        label,
        from: from ?? null,
        to: to ?? null,
        unit,
      })),
      operations: operations.map(({ id, name }) => ({ id, name })),
    });
  else {
    for (const c of changed)
      say(`${c.id.padEnd(38)} ${shown(c.from)} -> ${shown(c.to)} ${c.unit}  ${c.label}`);
    for (const r of rules) say(`rule ${r.label}: ${r.from} -> ${r.to}`);
    for (const s of settings) say(`set anew, ${s.card}: ${s.label} ${s.from ?? 'none'} -> ${s.to ?? 'none'}`);
    for (const o of operations) say(`operation ${o.id} ${o.name}`);
  }
  return options.judge && judgeAll(second, allRules).some((j) => j.state === 'broken') ? 1 : 0;
}
