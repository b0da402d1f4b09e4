import { allRules } from '../figures/catalogue.ts';
import { patternCatalogue, sheetOfPattern } from '../figures/pattern-sheet.ts';
import { ruleJson } from '../figures/rule-json.ts';
import { judgeAll } from '../graph/remedy.ts';
import { computeDear, type Sheet } from '../graph/sheet.ts';
import { figureList, type SheetFigure, sheetFigures } from '../graph/sheet-json.ts';
import { formatDecimal } from '../quantity/print-length.ts';
import { type ShopJudged, shopRulesOf } from '../settings/shop-rules.ts';
import { shopArgument } from './cards.ts';
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
  const sheet = sheetOfPattern(pattern, options.structure ? { dear: computeDear } : {});
  const judged = judgeAll(sheet, allRules).filter((j) => j.state !== 'absent');
  const shopJudged = options.shop === undefined ? [] : shopRulesOf(sheet, shopArgument(options.shop));
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
      rules: [...judged.map((j) => ruleJson(sheet, j)), ...shopJudged.map(shopRuleJson)],
    });
  } else {
    for (const [id, f] of Object.entries(figures)) say(figureLine(id, f));
    printRules(sheet, judged);
    for (const j of shopJudged) say(`${j.state.padEnd(9)} ${j.label}: ${j.text}`);
  }
  return options.judge &&
    [...judged, ...shopJudged].some((j) => j.state === 'broken' || j.state === 'blocked')
    ? 1
    : 0;
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

function printRules(sheet: Sheet, judged: ReturnType<typeof judgeAll>): void {
  say('');
  for (const j of judged) {
    const r = ruleJson(sheet, j);
    say(
      `${j.state.padEnd(9)} ${j.rule.label}: ${r.text}${r.remedy && j.state !== 'met' ? ` ${r.remedy}` : ''}`,
    );
  }
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
