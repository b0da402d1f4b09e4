import { allRules } from '../figures/catalogue.ts';
import { patternCatalogue, sheetOfPattern } from '../figures/pattern-sheet.ts';
import { type RuleJson, ruleJson } from '../figures/rule-json.ts';
import { coarseDear, structureRules } from '../figures/structure.ts';
import { judgeAll } from '../graph/remedy.ts';
import type { Judged } from '../graph/rule.ts';
import { computeDear, type Sheet } from '../graph/sheet.ts';
import { figureList, type SheetFigure, sheetFigures } from '../graph/sheet-json.ts';
import { formatDecimal } from '../quantity/print-length.ts';
import type { ShopJudged } from '../settings/shop-rules.ts';
import { say, sayJson } from './door.ts';
import { patternArgument } from './pattern-argument.ts';

/** Options of `sheet`. */
export interface SheetCommandOptions {
  readonly set: readonly string[];
  readonly only?: string;
  readonly structure?: boolean;
  readonly judge?: boolean;
  readonly shop?: string;
  readonly json?: boolean;
}

const decimalsOf = (unit: string): number =>
  unit === 'count' ? 0 : unit === 'mm per mm' || unit === 'fraction' ? 4 : 2;

/** One line of the printed sheet. */
export function figureLine(id: string, f: Omit<SheetFigure, 'inputs'>): string {
  const value =
    typeof f.value === 'number'
      ? `${formatDecimal(f.value, decimalsOf(f.unit))} ${f.unit}`
      : (f.value ?? f.reason ?? 'a shape');
  const inches =
    typeof f.value === 'number' && f.unit === 'mm' ? `  ${formatDecimal(f.value / 25.4, 3)} in` : '';
  return `${id.padEnd(38)} ${`${value}${inches}`.padEnd(26)} ${f.label}`;
}

/** `sheet PATTERN`: every figure and rule of a pattern. Exit 1 with --judge and a broken rule. */
export async function sheetCommand(name: string, options: SheetCommandOptions): Promise<number> {
  const { pattern } = patternArgument(name, options.set);
  const light = sheetOfPattern(pattern);
  const sheet = options.structure ? sheetOfPattern(pattern, { dear: computeDear, previous: light }) : light;
  const judged = [
    ...judgeAll(light, allRules).map((judgement) => ({ judgement, remedySheet: light })),
    ...(options.structure ? structureJudged(sheet) : []),
  ].filter(({ judgement }) => judgement.state !== 'absent');
  const ruleList = judged.map(({ judgement, remedySheet }) => ruleJson(remedySheet, judgement));
  const shopJudged = options.shop === undefined ? [] : await shopJudgedOf(sheet, options.shop);
  const figures = sheetFigures(sheet, options.only);
  if (options.json) {
    sayJson({
      pattern: {
        name: pattern.name,
        instrument: pattern.instrument,
        handed: pattern.handed,
        not_yet_mine: [...pattern.numbers.keys()].filter((id) => !pattern.mine.has(id)),
      },
      figures,
      rules: [...ruleList, ...shopJudged.map(shopRuleJson)],
    });
  } else {
    for (const [id, f] of Object.entries(figures)) say(figureLine(id, f));
    printRules(ruleList);
    for (const j of shopJudged) say(`${j.state.padEnd(9)} ${j.label}: ${j.text}`);
  }
  return options.judge &&
    [...ruleList, ...shopJudged].some((j) => j.state === 'broken' || j.state === 'blocked')
    ? 1
    : 0;
}

/** Rules of pattern against shop; what they need is loaded only when a shop is named. */
async function shopJudgedOf(sheet: Sheet, file: string): Promise<readonly ShopJudged[]> {
  const [rules, argument] = await Promise.all([
    import('../settings/shop-rules.ts'),
    import('./shop-argument.ts'),
  ]);
  return rules.shopRulesOf(sheet, argument.shopArgument(file));
}

/** A rule of pattern against shop in the same form as the others. */
const shopRuleJson = (j: ShopJudged): object => ({
  id: j.id,
  label: j.label,
  state: j.state,
  value: j.value,
  unit: j.unit,
  limits: { hard: j.hard, ...(j.soft ? { soft: j.soft } : {}) },
  text: j.text,
  remedy: j.remedy,
});

/** Rules over dear figures; their remedies are sought on a coarse mesh. */
function structureJudged(sheet: Sheet): { readonly judgement: Judged; readonly remedySheet: Sheet }[] {
  const remedySheet = { ...sheet, given: { ...sheet.given, dear: coarseDear } };
  return judgeAll(sheet, structureRules).map((judgement) => ({ judgement, remedySheet }));
}

function printRules(rules: readonly RuleJson[]): void {
  say('');
  for (const r of rules)
    say(`${r.state.padEnd(9)} ${r.label}: ${r.text}${r.remedy && r.state !== 'met' ? ` ${r.remedy}` : ''}`);
}

/** `figures`: every figure of the catalogue. */
export function figuresCommand(options: { readonly json?: boolean }): number {
  const list = figureList(patternCatalogue);
  if (options.json) sayJson(list);
  else
    for (const f of list)
      say(`${f.id.padEnd(38)} ${f.unit.padEnd(10)} ${f.label}: ${f.formula} (${f.source})`);
  return 0;
}
