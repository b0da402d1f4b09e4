import { describe, expect, it } from 'vitest';
import { STARTING, startingPattern } from '../../test/support/patterns.ts';
import { placeOfSpot, thicknessMap } from '../drawing/thickness-map.ts';
import { sheetOfPattern } from '../figures/pattern-sheet.ts';
import { numberOf } from '../graph/sheet.ts';
import { ownRoute } from '../route/route.ts';
import { foldBuild } from './build-facts.ts';
import type { RecordEvent } from './event.ts';
import { topThicknesses } from './top-thickness.ts';

const event = (counter: number, kind: string, body: object): RecordEvent => ({
  id: `e${counter}`,
  stream: 'build:b1',
  kind,
  device: 'd',
  counter,
  time: counter * 1000,
  by: 'p1',
  body,
});
const read = (n: number, op: string, spot: string | undefined, value: number, state = 'met') =>
  event(n, 'reading', {
    op,
    reading: `${op}.1`,
    value,
    unit: 'mm',
    ...(spot ? { spot } : {}),
    verdict: { state, words: 'as kept' },
  });
const setUp = { course: 'c', person: 'p1', instrument: 'steel', pattern: 'r1', handed: 'right' };

describe('the thickness of a top by spot', () => {
  it('is the last one read at each spot, with the verdict as it was kept; the back stays out', () => {
    const facts = foldBuild([
      event(1, 'build-set-up', setUp),
      read(2, 'T4', 'bridge, treble side', 4.1),
      read(3, 'T4', 'lower bout, centre', 4.0),
      read(9, 'T10', 'bridge, treble side', 2.71, 'doubtful'),
      read(10, 'K2', 'bridge, bass side', 2.5),
      read(11, 'T10', undefined, 2.9),
    ]);
    expect(topThicknesses(ownRoute(), facts)).toEqual([
      { spot: 'bridge, treble side', thicknessMm: 2.71, state: 'doubtful' },
      { spot: 'lower bout, centre', thicknessMm: 4.0, state: 'met' },
    ]);
  });
  it('stands on every pattern at places inside the outline, the sides apart', () => {
    for (const name of STARTING) {
      const sheet = sheetOfPattern(startingPattern(name));
      const length = numberOf(sheet, 'body.length') as number;
      for (const where of ['bridge', 'upper bout', 'waist', 'lower bout']) {
        const treble = placeOfSpot(sheet, `${where}, treble side`);
        const bass = placeOfSpot(sheet, `${where}, bass side`);
        expect(treble, where).toBeDefined();
        expect(treble?.x).toBe(-(bass?.x ?? 0));
        expect(treble?.y).toBeGreaterThan(0);
        expect(treble?.y).toBeLessThan(length);
      }
      expect(placeOfSpot(sheet, 'somewhere else')).toBeUndefined();
      const words = thicknessMap(sheet, [{ spot: 'lower bout, centre', thicknessMm: 2.6 }]).entities.flatMap(
        (e) => (e.kind === 'text' ? [e.text] : []),
      );
      expect(words).toContain('2.60');
    }
  });
});

describe('handedness chosen later', () => {
  it('counts as if the build had begun with it', () => {
    const facts = foldBuild([
      event(1, 'build-set-up', setUp),
      event(2, 'choice-made', { choice: 'handed', value: 'left' }),
    ]);
    expect(facts.setUp?.handed).toBe('left');
    const back = foldBuild([
      event(1, 'build-set-up', setUp),
      event(2, 'choice-made', { choice: 'handed', value: 'left' }),
      event(3, 'event-withdrawn', { event: 'e2' }),
    ]);
    expect(back.setUp?.handed).toBe('right');
  });
});
