import { describe, expect, it } from 'vitest';
import text from '../../../data/patterns/small-steel-string.yaml?raw';
import { expectClose } from '../../../test/support/expect-close.ts';
import { readPattern } from '../../pattern/pattern-file.ts';
import {
  changed,
  type Draft,
  fromKept,
  isEmptyState,
  marked,
  newDraft,
  patternOfDraft,
  redone,
  shiftedBar,
  textOfDraft,
  toKept,
  undone,
} from './draft.ts';

const base = readPattern(text);
const own = { tol: 1e-6, source: 'arithmetic: the value that was typed' };
const put = (draft: Draft, id: string, value: number, written?: string) =>
  changed(draft, base, { kind: 'number', id, value, ...(written ? { text: written } : {}) });

describe('draft', () => {
  it('goes back and forward step by step', () => {
    const two = put(put(newDraft(null), 'body.lower_bout.width', 376), 'brace.x.crossing_y', 219);
    const one = undone(two);
    expect([...one.now.typed.keys()]).toEqual(['body.lower_bout.width']);
    expect(redone(one).now).toEqual(two.now);
    expect(isEmptyState(undone(one).now)).toBe(true);
    expect(undone(undone(one))).toEqual(undone(one));
  });

  it('counts a whole drag as one step', () => {
    let draft = marked(newDraft(null));
    for (const value of [371, 372, 373])
      draft = { ...draft, now: put(draft, 'body.lower_bout.width', value).now };
    expect(draft.past).toHaveLength(1);
    expectClose(draft.now.typed.get('body.lower_bout.width')?.value ?? 0, 373, own);
    expect(isEmptyState(undone(draft).now)).toBe(true);
  });

  it('forgets a number that was put back, but it stays the teacher\u2019s own', () => {
    const back = put(put(newDraft(null), 'hole.radius', 50), 'hole.radius', 49);
    expect(back.now.typed.size).toBe(0);
    expect(back.now.mine.has('hole.radius')).toBe(true);
  });

  it('writes the next revision with the notation that was typed, and reads back the same pattern', () => {
    let draft = put(newDraft(null), 'body.length', (18 + 7 / 8) * 25.4, '18 7/8 in');
    draft = put(draft, 'brace.x.crossing_y', 219);
    draft = changed(draft, base, { kind: 'handed', handed: 'left' });
    const bar = base.topBars.find((b) => b.id === 'TB1');
    if (bar?.kind !== 'straight') throw new Error('TB1 is no straight bar');
    draft = changed(draft, base, { kind: 'bar', id: 'TB1', ends: shiftedBar(bar, 5) });
    const next = textOfDraft(text, draft.now);
    expect(next).toContain('length: 18 7/8 in');
    expect(readPattern(next)).toEqual(patternOfDraft(base, draft.now));
  });

  it('comes back from the store of the device as it was', () => {
    const draft = put(put(newDraft('abc'), 'hole.radius', 50), 'body.length', 482);
    expect(fromKept(structuredClone(toKept(draft)))).toEqual(draft);
    expect(toKept(newDraft('abc'))).toBeUndefined();
    expect(fromKept({ version: 99 })).toBeUndefined();
  });
});
