import { describe, expect, it } from 'vitest';
import text from '../../../data/patterns/small-steel-string.yaml?raw';
import { expectClose } from '../../../test/support/expect-close.ts';
import { sheetOfPattern } from '../../figures/pattern-sheet.ts';
import { readPattern } from '../../pattern/pattern-file.ts';
import { barNumbers, changeByType, movedAs, ownedAs, pageSpec } from './bar-inputs.ts';
import { changedState, emptyDraftState, patternOfDraft } from './draft.ts';
import { groupsOf } from './figure-list.ts';

const base = readPattern(text);
const own = { tol: 1e-9, source: 'arithmetic: the value that was typed' };

describe('numbers of bars', () => {
  it('lists both ends of each straight bar with the values of the file', () => {
    const numbers = barNumbers(sheetOfPattern(base));
    expect(numbers).toHaveLength(4 * base.topBars.filter((b) => b.kind === 'straight').length);
    expectClose(numbers.find((n) => n.id === 'brace.bars.TB1.to.y')?.value ?? 0, 428.7, own);
    const braces = groupsOf(sheetOfPattern(base)).find((g) => g.name === 'Braces');
    const family = braces?.rows.find((r) => r.id === 'brace.bars');
    expect(family?.members?.every((m) => m.isInput && pageSpec(m.id) !== undefined)).toBe(true);
  });

  it('moves the one end that was typed and nothing else', () => {
    const change = changeByType(base, 'brace.bars.TB1.to.y', 430);
    const next = patternOfDraft(base, changedState(emptyDraftState, base, change));
    const [before, after] = [base, next].map((p) => p.topBars.find((b) => b.id === 'TB1'));
    if (before?.kind !== 'straight' || after?.kind !== 'straight') throw new Error('TB1 is no straight bar');
    expect(after).toEqual({ ...before, to: { ...before.to, yMm: 430 } });
    expect(next.topBars.filter((b) => b.id !== 'TB1')).toEqual(base.topBars.filter((b) => b.id !== 'TB1'));
  });

  it('keeps other numbers what they are', () => {
    expect(changeByType(base, 'hole.radius', 50, '50 mm')).toEqual({
      kind: 'number',
      id: 'hole.radius',
      value: 50,
      text: '50 mm',
    });
    expect(pageSpec('hole.radius')?.label).toBe('Hole radius');
    expect(pageSpec('hole.diameter')).toBeUndefined();
    expect([ownedAs('brace.bars.TB1.to.y'), movedAs('brace.bars.TB1.to.y')]).toEqual([
      'brace.bars',
      'brace.bars.TB1',
    ]);
  });
});
