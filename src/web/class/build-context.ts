import { useMemo } from 'react';
import type { BuildFacts } from '../../course/build-facts.ts';
import { type JudgeContext, judgeContext, sheetOfBuild } from '../../course/build-sheet.ts';
import type { ClassState } from '../../course/class-state.ts';
import { shopOfCourse } from '../../course/shop-of-record.ts';
import type { Sheet } from '../../graph/sheet.ts';
import type { Pattern } from '../../pattern/pattern.ts';
import { readPattern } from '../../pattern/pattern-file.ts';
import type { SettingCard } from '../../settings/setting.ts';
import { settingCards } from '../../settings/settings-of.ts';
import { usePreferences } from '../frame/preferences.ts';
import { bundledPatterns } from '../keeping/bundled.ts';

const read = new Map<string, Pattern>();

/** The pattern a build follows: its revision in the record, or the starting pattern of its instrument. */
export function patternOfBuild(state: ClassState, facts: BuildFacts): Pattern {
  const id = facts.pattern ?? facts.setUp?.pattern ?? '';
  const text =
    state.shop.revisions.get(id)?.text ??
    state.course.revisions.get(id)?.text ??
    facts.revisions.get(id)?.text ??
    startingText(facts.setUp?.instrument ?? 'steel');
  const known = read.get(text);
  if (known) return known;
  const pattern = readPattern(text);
  read.set(text, pattern);
  return pattern;
}

function startingText(instrument: string): string {
  return (
    (bundledPatterns.find((p) => p.text.includes(`instrument: ${instrument}`)) ?? bundledPatterns[0])?.text ??
    ''
  );
}

/** Everything computed for one build: its sheet as built, what readings are judged with, its setting cards. */
export interface BuildComputed {
  readonly pattern: Pattern;
  readonly sheet: Sheet;
  readonly judge: JudgeContext;
  readonly cards: readonly SettingCard[];
}

/**
 * Everything computed for a build.
 *
 * @param lengthUnit  in which lengths are said
 */
export function buildComputed(state: ClassState, facts: BuildFacts, lengthUnit: 'mm' | 'in'): BuildComputed {
  const pattern = patternOfBuild(state, facts);
  const sheet = sheetOfBuild(state.route, pattern, facts);
  return {
    pattern,
    sheet,
    judge: judgeContext(state.route, pattern, facts, [...state.builds.values()], lengthUnit),
    cards: settingCards(sheet, shopOfCourse(state)),
  };
}

/** Computes a build anew when its facts change. */
export function useBuildComputed(state: ClassState, facts: BuildFacts): BuildComputed {
  const { largeUnit } = usePreferences();
  return useMemo(() => buildComputed(state, facts, largeUnit), [state, facts, largeUnit]);
}
