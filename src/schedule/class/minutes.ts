/**
 * The one distribution for minutes of work, stated here and nowhere else: lognormal. The likely minutes are its
 * median; one in twenty is shorter than low and one in twenty longer than high.
 */
export interface Minutes {
  readonly lowMin: number;
  readonly likelyMin: number;
  readonly highMin: number;
}

/** The point of the normal distribution that 1 in 20 lie beyond. */
const oneInTwenty = 1.6448536269514722;

/**
 * Spread of the logarithm of the minutes.
 *
 * @param minutes  low, likely, high; 0 < low <= likely <= high
 * @returns        standard deviation of ln(minutes), 0 when low equals high
 * @source         from memory
 */
export function logSpread(minutes: Minutes): number {
  if (!(minutes.lowMin > 0) || minutes.highMin < minutes.lowMin)
    throw new RangeError(
      `logSpread: low ${minutes.lowMin} and high ${minutes.highMin} must be 0 < low <= high`,
    );
  return Math.log(minutes.highMin / minutes.lowMin) / (2 * oneInTwenty);
}

/** One piece of work as it was given in the shop. */
export interface WorkRecord {
  readonly operationId: string;
  readonly partIndex: number;
  readonly learnerId: string;
  readonly minutes: Minutes;
  readonly tookMin: number;
  readonly startedBy: string;
  readonly doneBy: string;
  /** Start and done lie in the same session. */
  readonly isOneSession: boolean;
  /** A bell or a break fell in between. */
  readonly hasBellBetween: boolean;
}

/** What is believed about an operation's minutes or a learner's pace: a factor on the likely minutes. */
export interface Belief {
  readonly id: string;
  readonly factor: number;
  /** Standard deviation of the logarithm of the factor. */
  readonly logSd: number;
  readonly count: number;
}

export interface LearnedMinutes {
  readonly operations: readonly Belief[];
  readonly learners: readonly Belief[];
  /** Share of the records that count. */
  readonly usedFrac: number;
}

/** How far the trade's guesses are trusted before anything was seen: standard deviation of the logarithm. */
const guessLogSd = { operation: 0.3, learner: 0.2 } as const;

/**
 * Whether a record says how long the work takes: given by the same person at start and end, within one session, no bell
 * between, and from a third of low to three times high.
 *
 * @param record  the record
 * @returns       whether it counts
 * @source        common practice, no published source
 */
export function doesCount(record: WorkRecord): boolean {
  const { minutes, tookMin } = record;
  return (
    record.startedBy === record.doneBy &&
    record.isOneSession &&
    !record.hasBellBetween &&
    tookMin >= minutes.lowMin / 3 &&
    tookMin <= minutes.highMin * 3
  );
}

/**
 * Learns from what really happened: ln(took / likely) is an operation's part plus a learner's part plus chance. All three
 * normal, so the belief is the exact posterior mean; it starts at the trade's guess (factor 1).
 *
 * @param records  pieces of work
 * @returns        factors per operation part (id `operation.part`, parts counted from 1) and per learner
 * @source         from memory
 */
export function learnMinutes(records: readonly WorkRecord[]): LearnedMinutes {
  const used = records.filter(doesCount).map((r) => ({
    operation: `${r.operationId}.${r.partIndex + 1}`,
    learner: r.learnerId,
    log: Math.log(r.tookMin / r.minutes.likelyMin),
    weight: 1 / Math.max(0.05, logSpread(r.minutes)) ** 2,
  }));
  const operations = new Map(used.map((r) => [r.operation, 0]));
  const learners = new Map(used.map((r) => [r.learner, 0]));
  // two blocks in turn until nothing moves: each step is the exact answer given the other block
  for (let round = 0; round < 500; round++) {
    const moved = Math.max(
      update(
        operations,
        guessLogSd.operation,
        used,
        (r) => r.operation,
        (r) => learners.get(r.learner)!,
      ),
      update(
        learners,
        guessLogSd.learner,
        used,
        (r) => r.learner,
        (r) => operations.get(r.operation)!,
      ),
    );
    if (moved < 1e-10) break;
  }
  return {
    operations: beliefs(operations, guessLogSd.operation, used, (r) => r.operation),
    learners: beliefs(learners, guessLogSd.learner, used, (r) => r.learner),
    usedFrac: records.length === 0 ? 0 : used.length / records.length,
  };
}

interface UsedRecord {
  readonly operation: string;
  readonly learner: string;
  readonly log: number;
  readonly weight: number;
}

function update(
  values: Map<string, number>,
  guess: number,
  used: readonly UsedRecord[],
  idOf: (r: UsedRecord) => string,
  other: (r: UsedRecord) => number,
): number {
  const sums = new Map<string, { pull: number; weight: number }>();
  for (const r of used) {
    const sum = sums.get(idOf(r)) ?? { pull: 0, weight: 1 / guess ** 2 };
    sum.pull += r.weight * (r.log - other(r));
    sum.weight += r.weight;
    sums.set(idOf(r), sum);
  }
  let moved = 0;
  for (const [id, { pull, weight }] of sums) {
    moved = Math.max(moved, Math.abs(pull / weight - values.get(id)!));
    values.set(id, pull / weight);
  }
  return moved;
}

function beliefs(
  values: ReadonlyMap<string, number>,
  guess: number,
  used: readonly UsedRecord[],
  idOf: (r: UsedRecord) => string,
): Belief[] {
  return [...values].map(([id, log]) => {
    const own = used.filter((r) => idOf(r) === id);
    const weight = own.reduce((sum, r) => sum + r.weight, 1 / guess ** 2);
    return { id, factor: Math.exp(log), logSd: 1 / Math.sqrt(weight), count: own.length };
  });
}
