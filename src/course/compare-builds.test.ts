import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { startingPattern } from '../../test/support/patterns.ts';
import { numberOf } from '../graph/sheet.ts';
import { ownRoute } from '../route/route.ts';
import { type BuildFacts, foldBuild } from './build-facts.ts';
import { type JudgeContext, judgeContext, sheetOfBuild } from './build-sheet.ts';
import { compareCauses, comparePairs } from './compare-builds.ts';
import type { RecordEvent } from './event.ts';

const route = ownRoute();
type Read = readonly [id: string, value: number, spot?: string];

function factsOf(build: string, instrument: string, read: readonly Read[]): BuildFacts {
  const events = read.map(([id, value, spot], i): RecordEvent => {
    const op = route.operations.find((o) => o.readings.some((r) => r.id === id));
    const unit = op?.readings.find((r) => r.id === id)?.unit;
    const body = { op: op?.id ?? '', reading: id, value, unit, ...(spot === undefined ? {} : { spot }) };
    return { ...base(build, i + 2), kind: 'reading', body };
  });
  const setUp = { course: 'c', person: build, instrument, pattern: 'r', handed: 'right' };
  return foldBuild([{ ...base(build, 1), kind: 'build-set-up', body: setUp }, ...events]);
}
const base = (build: string, counter: number) => ({
  id: `${build}-${counter}`,
  stream: `build:${build}` as const,
  device: 'd',
  counter,
  time: counter,
  by: build,
});

const patterns = { steel: 'small-steel-string', nylon: 'nylon-string', uke: 'tenor-ukulele' } as const;
function contextOf(build: string, instrument: keyof typeof patterns, read: readonly Read[]): JudgeContext {
  return judgeContext(route, startingPattern(patterns[instrument]), factsOf(build, instrument, read), []);
}

describe('comparePairs', () => {
  const a = contextOf('a', 'steel', [
    ['T10.1', 2.8, 'bridge, bass side'],
    ['F3.1', 43.6],
    ['S9.2', 92],
    ['R2.1', 33],
  ]);
  const b = contextOf('b', 'steel', [
    ['T10.1', 2.5, 'bridge, bass side'],
    ['F3.1', 43.62],
    ['S9.2', 93],
  ]);
  const pairs = comparePairs(a, b);

  it('puts first what the limits do not allow in both, and leaves out what only one of them has', () => {
    expect(pairs.map((p) => [p.id, p.state])).toEqual([
      ['T10.1', 'broken'],
      ['S9.2', 'met'],
      ['F3.1', 'met'],
    ]);
  });

  it('holds a difference against the width between the limits of the route', () => {
    const [top] = pairs;
    expectClose(top?.difference as number, -0.3, { tol: 1e-9, source: 'arithmetic' });
    // T10.1 stands from 0.05 under to 0.1 over what was drawn
    expectClose(top?.shareFrac as number, 0.3 / 0.15, { tol: 1e-6, source: 'arithmetic' });
    expect(top?.words).toBe('200 % of the room between the limits: both cannot lie inside.');
    expect([top?.a.drawn, top?.a.verdict?.state, top?.b.verdict?.state]).toEqual([2.8, 'met', 'broken']);
  });

  it('says that a difference is no more than the tool can tell', () => {
    expect(pairs.find((p) => p.id === 'F3.1')?.words).toBe('No more than the tool can tell.');
  });

  it('turns round with the builds', () => {
    const back = comparePairs(b, a);
    expect(back.map((p) => p.id)).toEqual(pairs.map((p) => p.id));
    expect(back.map((p) => -p.difference)).toEqual(pairs.map((p) => p.difference));
  });

  it('compares different instruments in what both have, each by its own limits', () => {
    const uke = contextOf('u', 'uke', [
      ['T10.1', 1.9, 'bridge, bass side'],
      ['F3.1', 36],
    ]);
    const across = comparePairs(a, uke);
    expect(across.map((p) => p.id).sort()).toEqual(['F3.1', 'T10.1']);
    const top = across.find((p) => p.id === 'T10.1');
    expect(top?.a.drawn).not.toBe(top?.b.drawn);
    expect(top?.b.verdict?.high).toBeLessThan(2.5);
  });

  it('gives density and stiffness of the top plates from mass, size and note', () => {
    const plate = (massG: number): readonly Read[] => [
      ['T5.1', massG],
      ['T5.2', 500],
      ['T5.6', 400],
      ['T5.3', 60],
      ['T4.1', 3, 'one'],
      ['T4.1', 3.2, 'two'],
    ];
    const both = comparePairs(contextOf('x', 'steel', plate(250)), contextOf('y', 'steel', plate(280)));
    const density = both.find((p) => p.id === 'board.densityKgPerM3');
    expectClose(density?.a.value as number, 250e-3 / (0.5 * 0.4 * 0.0031), {
      tol: 0.01,
      source: 'mass over volume',
    });
    const stiff = both.find((p) => p.id === 'board.eAlongMPa');
    // a free beam: E = 0.9464 m f^2 l^3 / (w t^3); the same note of a heavier plate means a stiffer one
    expectClose(stiff?.a.value as number, (0.9464 * 0.25 * 60 ** 2 * 0.5 ** 3) / (0.4 * 0.0031 ** 3) / 1e6, {
      tol: 1,
      source: 'free-free-beam: Euler-Bernoulli, first mode',
    });
    expectClose((stiff?.b.value as number) / (stiff?.a.value as number), 280 / 250, {
      tol: 1e-9,
      source: 'stiffness follows mass at one note',
    });
    expect([density?.state, density?.words]).toEqual([undefined, expect.stringMatching(/^More than mass/)]);
  });
});

describe('compareCauses', () => {
  const read = (topMm: number, rimMm: number): readonly Read[] => [
    ['T10.1', topMm, 'bridge, bass side'],
    ['S9.2', rimMm],
  ];
  const a = contextOf('a', 'steel', read(2.8, 92));
  const b = contextOf('b', 'steel', read(2.5, 94));
  const causes = compareCauses(a, b);

  it('puts each difference alone into the first build and reports what its sheet then says', () => {
    expect(causes.map((c) => c.figure).sort()).toEqual(['rim.height.neck', 'top.thickness.final']);
    const pattern = startingPattern('small-steel-string');
    const top = causes.find((c) => c.figure === 'top.thickness.final');
    const direct = sheetOfBuild(route, pattern, factsOf('d', 'steel', read(2.5, 92)));
    const before = sheetOfBuild(route, pattern, factsOf('e', 'steel', read(2.8, 92)));
    const slope = top?.effects.find((e) => e.id === 'structure.tilt.by_beam');
    for (const effect of top?.effects.filter((e) => !e.id.startsWith('brace.')) ?? []) {
      expect(effect.to, effect.id).toBe(numberOf(direct, effect.id));
      expect(effect.from, effect.id).toBe(numberOf(before, effect.id));
    }
    expect(slope?.to as number, 'a thinner top gives more').toBeGreaterThan(slope?.from as number);
    expect(top?.effects.some((e) => e.id.startsWith('brace.stiffness_on_plate.'))).toBe(true);
  });

  it('says nothing of builds that came out alike', () => {
    expect(compareCauses(a, contextOf('c', 'steel', read(2.8, 92)))).toEqual([]);
  });

  it('names rules that turn', () => {
    const thin = compareCauses(a, contextOf('d', 'steel', read(1.6, 92)));
    expect(thin[0]?.figure).toBe('top.thickness.final');
    expect(thin[0]?.turned.map((t) => t.to)).toContain('broken');
  });

  it('works between different instruments', () => {
    const uke = contextOf('u', 'uke', [['T10.1', 1.9, 'bridge, bass side']]);
    for (const c of compareCauses(a, uke)) {
      expect(Number.isFinite(c.a) && Number.isFinite(c.b), c.figure).toBe(true);
      expect(c.effects.length).toBeGreaterThan(0);
    }
  });
});
