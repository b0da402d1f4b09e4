import type { Catalogue } from './catalogue.ts';
import { type Judged, judgeRule, type Remedy, type Rule } from './rule.ts';
import { evaluate, type Given, numberOf, type Sheet } from './sheet.ts';

/** A change of one input after which a rule is met. */
export interface Mending {
  readonly inputId: string;
  readonly from: number;
  readonly to: number;
}

/** Limits an input must stay within while a remedy is sought. */
export type InputLimits = (inputId: string) => { readonly low: number; readonly high: number } | undefined;

const changedInput = (given: Given, id: string, value: number): Given => ({
  ...given,
  inputs: new Map(given.inputs).set(id, value),
});

/** Walks away from the present value in growing steps until the rule is met; returns the last bad and first good value. */
function bracket(
  isMet: (value: number) => boolean,
  from: number,
  stepSigned: number,
  limit: number,
): { readonly bad: number; readonly good: number } | undefined {
  let bad = from;
  for (
    let distance = Math.abs(stepSigned);
    ;
    distance = Math.max(distance * 1.2, distance + Math.abs(stepSigned))
  ) {
    const wanted = from + Math.sign(stepSigned) * distance;
    const value = stepSigned > 0 ? Math.min(wanted, limit) : Math.max(wanted, limit);
    if (value === bad) return undefined;
    if (isMet(value)) return { bad, good: value };
    if (value === limit) return undefined;
    bad = value;
  }
}

function nearestOneWay(
  isMet: (value: number) => boolean,
  from: number,
  step: number,
  up: boolean,
  limits: { readonly low: number; readonly high: number },
): number | undefined {
  const found = bracket(isMet, from, up ? step : -step, up ? limits.high : limits.low);
  if (!found) return undefined;
  let { bad, good } = found;
  while (Math.abs(good - bad) > step / 4) {
    const middle = (good + bad) / 2;
    if (isMet(middle)) good = middle;
    else bad = middle;
  }
  const onGrid = (up ? Math.ceil(good / step - 1e-6) : Math.floor(good / step + 1e-6)) * step;
  const rounded = Number(onGrid.toFixed(6));
  for (const value of [rounded, Number((rounded + (up ? step : -step)).toFixed(6)), good])
    if (value >= limits.low && value <= limits.high && isMet(value)) return value;
  return undefined;
}

/**
 * The nearest value of one input at which a rule that is not met would be met, everything else kept.
 *
 * @param sheet     the sheet on which the rule is not met
 * @param limitsOf  plausible limits of inputs
 * @returns         the change, rounded to the remedy's step away from the limit; undefined when this input cannot mend the rule
 * @source          arithmetic
 */
export function findRemedy(
  sheet: Sheet,
  rule: Rule,
  remedy: Remedy,
  limitsOf: InputLimits,
): Mending | undefined {
  const id = remedy.input.id;
  const from = numberOf(sheet, id);
  const limits = limitsOf(id);
  if (from === undefined || !limits) return undefined;
  const isMet = (value: number): boolean =>
    judgeRule(evaluate(sheet.catalogue, changedInput(sheet.given, id, value), sheet), rule).state === 'met';
  const step = remedy.step ?? 0.1;
  const candidates = [
    ...(remedy.toward === 'less' ? [] : [nearestOneWay(isMet, from, step, true, limits)]),
    ...(remedy.toward === 'more' ? [] : [nearestOneWay(isMet, from, step, false, limits)]),
  ].filter((v): v is number => v !== undefined);
  if (candidates.length === 0) return undefined;
  const to = candidates.reduce((a, b) => (Math.abs(b - from) < Math.abs(a - from) ? b : a));
  return { inputId: id, from, to };
}

/** The first remedy of a rule that works, or undefined when none of its inputs can mend it alone. @source arithmetic */
export function firstRemedy(sheet: Sheet, rule: Rule, limitsOf: InputLimits): Mending | undefined {
  for (const remedy of rule.remedies) {
    const found = findRemedy(sheet, rule, remedy, limitsOf);
    if (found) return found;
  }
  return undefined;
}

/** Judges all rules and sorts them by how bad they are: broken, doubtful, without a number, met; nearest to the limit first. @source arithmetic */
export function judgeAll(sheet: Sheet, rules: readonly Rule[]): readonly Judged[] {
  const rank = { broken: 0, blocked: 1, doubtful: 2, pending: 3, met: 4, absent: 5 } as const;
  const room = (j: Judged): number => {
    if (j.marginAbs === undefined) return 0;
    const scale = Math.max(Math.abs(j.hard.low ?? 0), Math.abs(j.hard.high ?? 0), 1e-9);
    return j.marginAbs / scale;
  };
  return rules
    .map((rule) => judgeRule(sheet, rule))
    .sort((a, b) => rank[a.state] - rank[b.state] || room(a) - room(b) || a.rule.id.localeCompare(b.rule.id));
}

/** The catalogue a set of rules needs is the one that holds their figures. @throws RangeError naming a rule whose subject is not in it */
export function checkRules(catalogue: Catalogue, rules: readonly Rule[]): void {
  const seen = new Set<string>();
  for (const rule of rules) {
    if (seen.has(rule.id)) throw new RangeError(`Two rules are called ${rule.id}; give one another id.`);
    seen.add(rule.id);
    if (!catalogue.byId.has(rule.subject.id))
      throw new RangeError(`Rule ${rule.id} looks at ${rule.subject.id}, which is not in the catalogue.`);
  }
}
