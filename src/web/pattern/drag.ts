import type { Pattern, StraightBar } from '../../pattern/pattern.ts';
import { inputSpec } from '../../pattern/pattern-file.ts';
import type { LargeUnit } from '../frame/preferences.ts';
import { spokenText } from '../parts/amount-text.ts';
import type { Draggable } from '../parts/drawing-view/grip-marks.tsx';
import { type Change, shiftedBar } from './draft.ts';

/** Handles of single bars are called so, with the id of the bar behind it; their value is the middle of the bar, from the neck end. */
const BAR_PREFIX = 'brace.bars.';

const barOf = (pattern: Pattern, inputId: string): StraightBar | undefined => {
  if (!inputId.startsWith(BAR_PREFIX)) return undefined;
  const id = inputId.slice(BAR_PREFIX.length);
  const bar = pattern.topBars.find((b) => b.id === id);
  return bar?.kind === 'straight' ? bar : undefined;
};

const middleYMm = ({ from, to }: StraightBar): number => (from.yMm + to.yMm) / 2;

/** What can be dragged behind a handle: a number of the pattern, or a bar along the body. */
export function draggableOf(pattern: Pattern, inputId: string, largeUnit: LargeUnit): Draggable | undefined {
  const bar = barOf(pattern, inputId);
  if (bar) {
    const value = middleYMm(bar);
    const high = pattern.numbers.get('body.length') ?? value;
    const label = `${bar.id}, ${bar.role}, from the neck end`;
    return { label, value, low: 0, high, words: spokenText(value, 'mm', largeUnit) };
  }
  const spec = inputSpec(inputId);
  const value = pattern.numbers.get(inputId);
  if (!spec || value === undefined) return undefined;
  const { label, low, high, unit } = spec;
  return { label, value, low, high, words: spokenText(value, unit, largeUnit) };
}

/** The change that puts a handle at a value. */
export function changeByDrag(pattern: Pattern, inputId: string, value: number): Change {
  const bar = barOf(pattern, inputId);
  if (bar) return { kind: 'bar', id: bar.id, ends: shiftedBar(bar, value - middleYMm(bar)) };
  return { kind: 'number', id: inputId, value };
}
