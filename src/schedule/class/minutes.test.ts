import { describe, expect, it } from 'vitest';
import { expectClose } from '../../../test/support/expect-close.ts';
import { makeRandom } from '../../numeric/random.ts';
import { quantile } from '../../numeric/statistics.ts';
import { doesCount, learnMinutes, logSpread, type WorkRecord } from './minutes.ts';

const minutes = { lowMin: 15, likelyMin: 25, highMin: 45 };
const record = (more: Partial<WorkRecord> = {}): WorkRecord => ({
  operationId: 'S3',
  partIndex: 0,
  learnerId: 'Ada',
  minutes,
  tookMin: 25,
  startedBy: 'Ada',
  doneBy: 'Ada',
  isOneSession: true,
  hasBellBetween: false,
  ...more,
});

/** A class in which operation factors and paces are known. */
function simulatedClass(
  seed: number,
  learnerCount: number,
  operationCount: number,
): { records: WorkRecord[]; operations: number[]; paces: number[] } {
  const random = makeRandom(seed);
  const operations = Array.from({ length: operationCount }, () => 0.25 * random.normal());
  const paces = Array.from({ length: learnerCount }, () => 0.18 * random.normal());
  const records = paces.flatMap((pace, l) =>
    operations.map((effect, o) =>
      record({
        operationId: `op${o}`,
        learnerId: `L${l}`,
        tookMin: 25 * Math.exp(effect + pace + logSpread(minutes) * random.normal()),
      }),
    ),
  );
  return { records, operations, paces };
}

describe('minutes of work', () => {
  it('are lognormal: 1 in 20 shorter than low, 1 in 20 longer than high when likely is their geometric mean', () => {
    const own = { lowMin: 10, likelyMin: 20, highMin: 40 };
    const random = makeRandom(5);
    const sample = Array.from({ length: 60_000 }, () => 20 * Math.exp(logSpread(own) * random.normal())).sort(
      (a, b) => a - b,
    );
    expectClose(quantile(sample, 0.05), 10, { tol: 0.2, source: 'definition of the distribution' });
    expectClose(quantile(sample, 0.5), 20, { tol: 0.2, source: 'definition of the distribution' });
    expectClose(quantile(sample, 0.95), 40, { tol: 0.8, source: 'definition of the distribution' });
    expect(() => logSpread({ lowMin: 0, likelyMin: 1, highMin: 2 })).toThrow('low 0');
  });

  it.each([
    ['another person ended it', { doneBy: 'Ben' }],
    ['it went over two sessions', { isOneSession: false }],
    ['a bell fell in between', { hasBellBetween: true }],
    ['it is shorter than a third of low', { tookMin: 4.9 }],
    ['it is longer than three times high', { tookMin: 136 }],
  ])('do not count when %s', (_, change) => {
    expect(doesCount(record())).toBe(true);
    expect(doesCount(record(change))).toBe(false);
    expectClose(learnMinutes([record(), record(change)]).usedFrac, 0.5, { tol: 1e-9, source: 'arithmetic' });
  });
});

describe('learning', () => {
  it('starts at the guess: nothing seen, nothing believed', () => {
    expect(learnMinutes([])).toEqual({ operations: [], learners: [], usedFrac: 0 });
  });

  it('shrinks one record exactly as two normal guesses and one normal record do', () => {
    // y = ln 2 = a + b + e; variances 0.3^2, 0.2^2, s^2: a = 0.09 y / (0.09 + 0.04 + s^2), b = 0.04 y / (...)
    const s2 = logSpread(minutes) ** 2;
    const { operations, learners } = learnMinutes([record({ tookMin: 50 })]);
    expectClose(Math.log(operations[0]!.factor), (0.09 * Math.log(2)) / (0.13 + s2), {
      tol: 1e-6,
      source: 'conditional mean of the normal distribution',
    });
    expectClose(Math.log(learners[0]!.factor), (0.04 * Math.log(2)) / (0.13 + s2), {
      tol: 1e-6,
      source: 'conditional mean of the normal distribution',
    });
  });

  it('recovers known factors and paces of simulated classes (seeds 1 to 3)', () => {
    for (const seed of [1, 2, 3]) {
      const { records, operations, paces } = simulatedClass(seed, 12, 60);
      const learned = learnMinutes(records);
      const error = (
        values: readonly number[],
        ids: string,
        list: readonly { id: string; factor: number }[],
      ): number => {
        const by = new Map(list.map((b) => [b.id, Math.log(b.factor)]));
        return Math.sqrt(
          values.reduce((sum, v, i) => sum + (v - by.get(`${ids}${i}${ids === 'op' ? '.1' : ''}`)!) ** 2, 0) /
            values.length,
        );
      };
      // standard errors: s / sqrt(12) = 0.096 and s / sqrt(60) = 0.043 with s = 0.334, and the common level shared between both
      expect(error(operations, 'op', learned.operations)).toBeLessThan(0.14);
      expect(error(paces, 'L', learned.learners)).toBeLessThan(0.11);
      // better than the guess of 1 by far
      const spread = Math.sqrt(operations.reduce((sum, v) => sum + v * v, 0) / operations.length);
      expect(error(operations, 'op', learned.operations)).toBeLessThan(0.6 * spread);
    }
  });

  it('comes nearer the more it sees', () => {
    const sdOf = (learners: number): number =>
      learnMinutes(simulatedClass(4, learners, 30).records).operations[0]!.logSd;
    expect(sdOf(24)).toBeLessThan(sdOf(6));
  });
});
