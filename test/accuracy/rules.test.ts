import { describe, expect, it } from 'vitest';
import { allRules } from '../../src/figures/catalogue.ts';
import { inputLimits, patternCatalogue, sheetOfPattern } from '../../src/figures/pattern-sheet.ts';
import { firstRemedy } from '../../src/graph/remedy.ts';
import { figuresOfRule, judgeRule, type Rule } from '../../src/graph/rule.ts';
import { evaluate, numberOf, type Sheet } from '../../src/graph/sheet.ts';
import { inputsUnder } from '../../src/graph/why.ts';
import { withNumbers } from '../../src/pattern/edit-pattern.ts';
import { STARTING, startingPattern } from '../support/patterns.ts';

const withInput = (sheet: Sheet, id: string, value: number): Sheet =>
  evaluate(patternCatalogue, { ...sheet.given, inputs: new Map(sheet.given.inputs).set(id, value) }, sheet);

/** Inputs whose change may break a rule: the ones it does not name as a remedy first, so that the remedy has to work on a fault of another origin. */
function levers(rule: Rule): string[] {
  const under = new Set(figuresOfRule(rule).flatMap((f) => [...inputsUnder(f)]));
  const remedies = rule.remedies.map((r) => r.input.id);
  return [...[...under].filter((id) => !remedies.includes(id)), ...remedies].filter(
    (id) => inputLimits(id) !== undefined,
  );
}

interface Broken {
  readonly pattern: string;
  readonly lever: string;
  readonly sheet: Sheet;
}

/** Patterns with one number changed just so far that the rule is broken. */
function* brokenPatterns(rule: Rule): Generator<Broken> {
  for (const pattern of STARTING) {
    const nominal = sheetOfPattern(startingPattern(pattern));
    if (judgeRule(nominal, rule).state !== 'met') continue;
    for (const lever of levers(rule)) {
      const from = numberOf(nominal, lever);
      const limits = inputLimits(lever);
      if (from === undefined || !limits) continue;
      for (const end of [limits.high, limits.low])
        for (let step = 1; step <= 40; step++) {
          const sheet = withInput(nominal, lever, from + ((end - from) * step) / 40);
          const { state } = judgeRule(sheet, rule);
          if (state === 'blocked') break;
          if (state === 'broken') {
            yield { pattern, lever, sheet };
            break;
          }
        }
    }
  }
}

/** Chance with a seed: the same numbers in every run. */
function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

/** Patterns with several numbers changed at once, for rules that another one guards against a single change. */
function* brokenTogether(rule: Rule): Generator<Broken> {
  const chance = seeded(11);
  for (const pattern of STARTING) {
    const nominal = sheetOfPattern(startingPattern(pattern));
    if (judgeRule(nominal, rule).state !== 'met') continue;
    const ids = levers(rule);
    for (let attempt = 0; attempt < 4000; attempt++) {
      const inputs = new Map(nominal.given.inputs);
      const changed = ids.filter(() => chance() < 0.35);
      for (const id of changed) {
        const limits = inputLimits(id);
        const from = numberOf(nominal, id);
        if (limits && from !== undefined)
          inputs.set(id, Math.min(limits.high, Math.max(limits.low, from * (0.55 + chance()))));
      }
      const sheet = evaluate(patternCatalogue, { ...nominal.given, inputs }, nominal);
      if (judgeRule(sheet, rule).state === 'broken') yield { pattern, lever: changed.join(', '), sheet };
    }
  }
}

function* allBroken(rule: Rule): Generator<Broken> {
  yield* brokenPatterns(rule);
  yield* brokenTogether(rule);
}

describe('every rule can be broken and mended', () => {
  it.each(allRules.map((rule) => [rule.id, rule] as const))('%s', (_id, rule) => {
    let brokenCount = 0;
    for (const { sheet, pattern, lever } of allBroken(rule)) {
      brokenCount++;
      const mending = firstRemedy(sheet, rule, inputLimits);
      if (!mending) continue;
      const mended = judgeRule(withInput(sheet, mending.inputId, mending.to), rule);
      expect(
        mended.state,
        `${pattern} with ${lever} changed, then ${mending.inputId} put at ${mending.to}`,
      ).toBe('met');
      return;
    }
    expect.fail(
      brokenCount === 0
        ? 'nothing breaks this rule'
        : `broken in ${brokenCount} ways, and no named remedy mends any of them`,
    );
  });

  it('has at least forty rules, each with a reason, a remedy and a source', () => {
    expect(allRules.length).toBeGreaterThanOrEqual(40);
    for (const rule of allRules) {
      expect(rule.why, rule.id).toMatch(/^[A-Z].{20,}\.$/);
      expect(rule.remedies.length, rule.id).toBeGreaterThan(0);
    }
  });
});

const THICKNESSES = [
  ['top.thickness.final', 'top.thickness.scrap', 'top.thickness.most'],
  ['back.thickness.final', 'back.thickness.scrap', 'back.thickness.most'],
  ['side.thickness.final', 'side.thickness.scrap', 'side.thickness.most'],
] as const;

describe('the starting patterns meet every rule', () => {
  const unmet = (sheet: Sheet): string[] =>
    allRules
      .map((rule) => judgeRule(sheet, rule))
      .filter((j) => j.state !== 'met' && j.state !== 'absent')
      .map((j) => `${j.rule.id} is ${j.state} at ${j.value} (${j.reason ?? ''})`);

  it.each(STARTING)('%s as drawn', (name) => {
    expect(unmet(sheetOfPattern(startingPattern(name)))).toEqual([]);
  });

  it.each(STARTING)('%s at the low and the high limit of every thickness', (name) => {
    const pattern = startingPattern(name);
    for (const [final, low, high] of THICKNESSES)
      for (const limit of [low, high]) {
        const value = pattern.numbers.get(limit) as number;
        expect(
          unmet(sheetOfPattern(withNumbers(pattern, new Map([[final, value]])))),
          `${final} at ${value}`,
        ).toEqual([]);
      }
  });
});
