import { firstRemedy } from '../graph/remedy.ts';
import type { Band, Judged } from '../graph/rule.ts';
import type { Sheet } from '../graph/sheet.ts';
import { inputSpec } from '../pattern/pattern-file.ts';
import { formatDecimal } from '../quantity/print-length.ts';
import { unitWord } from '../quantity/units.ts';
import { inputLimits } from './pattern-sheet.ts';

/** A rule as scripts and pages get it. */
export interface RuleJson {
  readonly id: string;
  readonly label: string;
  readonly state: Judged['state'];
  readonly value: number | null;
  readonly unit: string;
  readonly limits: { readonly hard: Band; readonly soft?: Band };
  /** The numbers and why it matters, in one or two sentences. */
  readonly text: string;
  /** What to change, with the computed amount; undefined where nothing has to be or no single input can. */
  readonly remedy?: string;
  readonly change?: { readonly input: string; readonly from: number; readonly to: number };
  readonly source: string;
}

const show = (value: number, unit: string): string => {
  const decimals = unit === 'count' ? 0 : unit === 'mm per mm' || unit === 'fraction' ? 3 : 2;
  return formatDecimal(value, decimals);
};

/** `at least 6.00 mm`, `between 6.00 and 16.00 mm`. @source arithmetic */
export function bandWords(band: Band, unit: string): string {
  const word = unitWord(unit);
  if (band.low !== undefined && band.high !== undefined)
    return `between ${show(band.low, unit)} and ${show(band.high, unit)}${word}`;
  if (band.low !== undefined) return `at least ${show(band.low, unit)}${word}`;
  return band.high === undefined ? 'without a limit' : `at most ${show(band.high, unit)}${word}`;
}

/** The sentence of a verdict: value, limits and why it matters. @source arithmetic */
export function ruleText(judged: Judged): string {
  const { rule, hard, soft, value, reason } = judged;
  const unit = rule.subject.unit;
  if (value === undefined) return `no value: ${reason ?? 'unknown'}`;
  const better = judged.state === 'doubtful' && soft ? `, better ${bandWords(soft, unit)}` : '';
  return `${show(value, unit)}${unitWord(unit)}, ${bandWords(hard, unit)}${better}. ${rule.why}`;
}

/** What to change so that a rule is met, computed on this sheet; undefined when it is met or no single input can. @source arithmetic */
export function remedyOf(
  sheet: Sheet,
  judged: Judged,
):
  | {
      readonly text: string;
      readonly change: { readonly input: string; readonly from: number; readonly to: number };
    }
  | undefined {
  if (judged.state !== 'broken' && judged.state !== 'doubtful') return undefined;
  const found = firstRemedy(sheet, judged.rule, inputLimits);
  if (!found) return undefined;
  const spec = inputSpec(found.inputId);
  const word = unitWord(spec?.unit ?? 'mm');
  return {
    text: `Put "${spec?.label ?? found.inputId}" at ${Number(found.to.toFixed(4))}${word} (now ${Number(found.from.toFixed(4))}).`,
    change: { input: found.inputId, from: found.from, to: found.to },
  };
}

/** A judged rule as plain data. @source arithmetic */
export function ruleJson(sheet: Sheet, judged: Judged): RuleJson {
  const { rule } = judged;
  const remedy = remedyOf(sheet, judged);
  const named = rule.remedies.map((r) => `"${r.input.label}"`).join(' or ');
  const isUnmet = judged.state === 'broken' || judged.state === 'doubtful';
  const none = named === '' ? undefined : `No single number mends it; change ${named}, or several together.`;
  const advice = isUnmet ? (remedy?.text ?? none) : undefined;
  return {
    id: rule.id,
    label: rule.label,
    state: judged.state,
    value: judged.value ?? null,
    unit: rule.subject.unit,
    limits: { hard: judged.hard, ...(judged.soft ? { soft: judged.soft } : {}) },
    text: ruleText(judged),
    ...(advice ? { remedy: advice } : {}),
    ...(remedy ? { change: remedy.change } : {}),
    source: rule.source,
  };
}
