import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type Catalogue, createCatalogue } from '../graph/catalogue.ts';
import type { Figure } from '../graph/figure.ts';
import { firstRemedy } from '../graph/remedy.ts';
import { figuresOfRule, judgeRule, type Rule } from '../graph/rule.ts';
import { evaluate, numberOf, type Sheet } from '../graph/sheet.ts';
import { inputTable } from '../pattern/input-table.ts';
import { readPattern } from '../pattern/pattern-file.ts';
import { airVolumeFigures } from './air-volume.ts';
import { allowanceFigures, allowanceRules } from './allowances.ts';
import { bendingFigures, bendingRules } from './bending.ts';
import { blockFigures, blockRules } from './blocks.ts';
import { braceEndFigures, braceEndRules } from './brace-ends.ts';
import { braceFanFigures, braceFanRules } from './brace-fan.ts';
import { braceXFigures, braceXRules } from './brace-x.ts';
import { braceFigures, braceRules } from './braces.ts';
import { bridgePlateFigures, bridgePlateRules } from './bridge-plate.ts';
import { domeFigures, domeRules } from './dome.ts';
import { holeFigures, holeRules } from './hole.ts';
import { givenInputs } from './inputs.ts';
import { liningFigures, liningRules } from './linings.ts';
import { outlineFigures, outlineRules } from './outline.ts';
import { proportionFigures, proportionRules } from './outline-proportions.ts';
import { rimFigures, rimRules } from './rim.ts';
import { rosetteFigures, rosetteRules } from './rosette.ts';
import { sideStripFigures } from './side-strip.ts';
import { stockFitFigures } from './stock-fit.ts';
import { stockFitRules } from './stock-fit-rules.ts';
import { thicknessFigures, thicknessRules } from './thickness.ts';

const rules: readonly Rule[] = [
  ...allowanceRules,
  ...bendingRules,
  ...blockRules,
  ...braceEndRules,
  ...braceFanRules,
  ...braceXRules,
  ...braceRules,
  ...bridgePlateRules,
  ...domeRules,
  ...holeRules,
  ...liningRules,
  ...outlineRules,
  ...proportionRules,
  ...rimRules,
  ...rosetteRules,
  ...stockFitRules,
  ...thicknessRules,
];
const figures: readonly Figure[] = [
  ...airVolumeFigures,
  ...allowanceFigures,
  ...bendingFigures,
  ...blockFigures,
  ...braceEndFigures,
  ...braceFanFigures,
  ...braceXFigures,
  ...braceFigures,
  ...bridgePlateFigures,
  ...domeFigures,
  ...holeFigures,
  ...liningFigures,
  ...outlineFigures,
  ...proportionFigures,
  ...rimFigures,
  ...rosetteFigures,
  ...sideStripFigures,
  ...stockFitFigures,
  ...thicknessFigures,
];
const catalogue: Catalogue = createCatalogue([...figures, ...rules.flatMap(figuresOfRule)]);

const patterns = ['small-steel-string', 'nylon-string', 'tenor-ukulele'].map((name) =>
  givenInputs(
    readPattern(readFileSync(new URL(`../../data/patterns/${name}.yaml`, import.meta.url), 'utf8')),
  ),
);
const names = ['steel', 'nylon', 'uke'];
const limits = new Map(inputTable.map((i) => [i.id as string, i as { low: number; high: number }]));
const limitsOf = (id: string) => limits.get(id);
const starts: readonly Sheet[] = patterns.map((inputs) => evaluate(catalogue, { inputs }));
const changed = (sheet: Sheet, id: string, value: number): Sheet =>
  evaluate(catalogue, { inputs: new Map(sheet.given.inputs).set(id, value) }, sheet);

/** A sheet on which the rule is broken by moving one of its remedy inputs, and that can be judged. */
function* breakings(rule: Rule): Generator<Sheet> {
  for (const start of starts)
    for (const { input } of rule.remedies) {
      const range = limitsOf(input.id);
      const now = numberOf(start, input.id);
      if (!range || now === undefined) continue;
      for (const end of [range.high, range.low])
        for (let share = 0.02; share <= 1; share += share < 0.3 ? 0.02 : 0.1) {
          const sheet = changed(start, input.id, now + (end - now) * share);
          const { state } = judgeRule(sheet, rule);
          if (state === 'broken') yield sheet;
          if (state === 'broken' || state === 'blocked') break;
        }
    }
}

describe('rules of the body', () => {
  it.each(names.map((name, i) => [name, i] as const))('are all met by the starting pattern, %s', (_, i) => {
    const bad = rules
      .map((rule) => judgeRule(starts[i]!, rule))
      .filter((j) => j.state !== 'met' && j.state !== 'absent')
      .map((j) => `${j.rule.id} ${j.state} ${j.value ?? j.reason}`);
    expect(bad).toEqual([]);
  });

  it.each(names.map((name, i) => [name, i] as const))(
    'are all met at the low and the high limit of every thickness, %s',
    (_, i) => {
      const start = starts[i]!;
      for (const part of ['top', 'back', 'side'])
        for (const end of ['scrap', 'most']) {
          const sheet = changed(
            start,
            `${part}.thickness.final`,
            numberOf(start, `${part}.thickness.${end}`) as number,
          );
          const bad = rules
            .map((rule) => judgeRule(sheet, rule))
            .filter((j) => j.state !== 'met' && j.state !== 'absent')
            .map((j) => `${part} ${end}: ${j.rule.id} ${j.state} ${j.value ?? j.reason}`);
          expect(bad).toEqual([]);
        }
    },
  );

  it.each(rules.map((rule) => [rule.id, rule] as const))(
    '%s can be broken, and its remedy mends it',
    (_, rule) => {
      let brokenCount = 0;
      for (const sheet of breakings(rule)) {
        brokenCount++;
        const mending = firstRemedy(sheet, rule, limitsOf);
        if (!mending) continue;
        expect(judgeRule(changed(sheet, mending.inputId, mending.to), rule).state).toBe('met');
        return;
      }
      expect.fail(`${rule.id}: broken ${brokenCount} times, never mended`);
    },
  );

  it('has an own id, sentence and remedy for each', () => {
    expect(new Set(rules.map((r) => r.id)).size).toBe(rules.length);
    expect(rules.length).toBeGreaterThanOrEqual(22);
    for (const rule of rules) {
      expect(rule.why).toMatch(/^[A-Z].{30,}\.$/);
      expect(rule.remedies.length).toBeGreaterThan(0);
      expect(rule.subject.id).not.toBe('');
    }
  });
});
