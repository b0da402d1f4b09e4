import type { Random } from '../../numeric/random.ts';
import type { CompiledProject } from './compile.ts';
import { type Decoder, makeSide, type Seen, type Side } from './decoder.ts';
import { drawList, type LongestWays } from './rules.ts';

/** Two groups of schedules, one generated from the beginning and one from the end, that feed each other. */
export interface Population {
  readonly members: Side[];
  /** Whether the members count from the beginning. */
  isForward: boolean;
}

/**
 * Draws a first population by sampling on the latest start and justifying once.
 *
 * @param project  the compiled project
 * @param ways     its longest ways
 * @param decoder  working decoder
 * @param random   seeded chance
 * @param size     members wanted, >= 2
 * @param seen     told of every schedule
 * @param already  members to begin with
 * @returns        a population of schedules from the beginning; shorter when `seen` stopped it
 * @source         from memory
 */
export function firstPopulation(
  project: CompiledProject,
  ways: LongestWays,
  decoder: Decoder,
  random: Random,
  size: number,
  seen: Seen,
  already: readonly Side[] = [],
): Population {
  const latestStart = ways.tails.map((tail, j) => ways.criticalPath - tail - project.durations[j]!);
  const latestFinish = ways.tails.map((tail) => ways.criticalPath - tail);
  const list = new Int32Array(project.count);
  const members: Side[] = [...already];
  for (let i = members.length; i < size; i++) {
    const keys = i % 2 === 0 ? latestFinish : latestStart;
    drawList(
      project,
      project.before,
      project.after,
      keys,
      i < 2 ? undefined : random,
      i % 3 === 0 ? 4 : 2,
      list,
    );
    const side = makeSide(project.count);
    decoder.forward(list, side);
    members.push(side);
    if (seen(side, true)) break;
    if (decoder.justify(side, seen)) break;
  }
  return { members, isForward: true };
}

/** Working store of the breeding step. */
export interface Breeder {
  /** One generation: every member fathers children that are generated from the other end. Answers whether it was stopped. */
  step(population: Population, seen: Seen): boolean;
}

/** Settings of the breeding step. */
export interface BreederSettings {
  /** Shares of the length that are handed on from the father. */
  readonly leastRangeFrac: number;
  readonly mostRangeFrac: number;
  /** Chance that a child has activities moved about. */
  readonly shuffleFrac: number;
}

/**
 * Makes the breeding step: the father hands on the stretch of time in which his resources are busiest, the
 * mother the order before and behind it; the child is generated from the other end of time, so every
 * generation is also a justification.
 *
 * @param project   the compiled project
 * @param decoder   working decoder
 * @param random    seeded chance
 * @param settings  see BreederSettings
 * @returns         the breeder
 * @source          from memory
 */
export function makeBreeder(
  project: CompiledProject,
  decoder: Decoder,
  random: Random,
  settings: BreederSettings,
): Breeder {
  const { count, durations, weight } = project;
  const load = new Float64Array(project.horizon + 2);
  const childKeys = new Int32Array(count);
  const list = new Int32Array(count);
  const shuffle = makeShuffle(project, random);
  const keys: Int32Array[] = [];
  let best = makeSide(count);
  let other = makeSide(count);

  const busiest = (father: Int32Array, makespan: number, length: number): number => {
    load.fill(0, 0, makespan + 2);
    for (let j = 0; j < count; j++) {
      load[father[j]!]! += weight[j]!;
      load[father[j]! + durations[j]!]! -= weight[j]!;
    }
    for (let s = 1; s <= makespan; s++) load[s]! += load[s - 1]!;
    let sum = 0;
    for (let s = 0; s < length; s++) sum += load[s]!;
    let most = sum;
    let from = 0;
    for (let s = 1; s + length <= makespan; s++) {
      sum += load[s + length - 1]! - load[s - 1]!;
      if (sum > most || (sum === most && random.next() < 0.5)) {
        most = sum;
        from = s;
      }
    }
    return from;
  };

  const cross = (
    father: Int32Array,
    fatherSpan: number,
    mother: Int32Array,
    motherSpan: number,
    isForward: boolean,
  ): void => {
    const span = settings.leastRangeFrac + (settings.mostRangeFrac - settings.leastRangeFrac) * random.next();
    const length = Math.max(1, Math.floor(fatherSpan * span));
    const from = busiest(father, fatherSpan, length);
    const to = from + length;
    const wide = Math.max(fatherSpan, motherSpan) + 1;
    for (let j = 0; j < count; j++) {
      const place = father[j]!;
      childKeys[j] = place < from ? mother[j]! : place > to ? mother[j]! + 2 * wide : place + wide;
    }
    if (isForward) decoder.sortForward(childKeys, 3 * wide, list);
    else decoder.sortBackward(childKeys, 3 * wide, list);
    if (random.next() < settings.shuffleFrac) shuffle(list, isForward);
  };

  const step = (population: Population, seen: Seen): boolean => {
    const { members } = population;
    const size = members.length;
    while (keys.length < size) keys.push(new Int32Array(count));
    members.forEach((member, i) => {
      decoder.turn(member, keys[i]!);
    });
    const spans = members.map((member) => member.makespan);
    const isForward = !population.isForward;
    population.isForward = isForward;
    const grow = (father: number, mother: number, into: Side): boolean => {
      cross(keys[father]!, spans[father]!, keys[mother]!, spans[mother]!, isForward);
      if (isForward) decoder.forward(list, into);
      else decoder.backward(list, into);
      return seen(into, isForward);
    };
    for (let i = 0; i < size; i++) {
      const mate = tournament(spans, i, random);
      let stopped = grow(i, mate, best);
      if (!stopped && size > 1) {
        stopped = grow(mate, i, other);
        if (other.makespan < best.makespan) [best, other] = [other, best];
      }
      const given = members[i]!;
      members[i] = best;
      best = given;
      if (stopped) {
        // the members not yet replaced still count from the other end: let them follow
        for (let k = i + 1; k < size; k++) members[k] = turned(decoder, members[k]!, count);
        return true;
      }
    }
    return false;
  };
  return { step };
}

function turned(decoder: Decoder, side: Side, count: number): Side {
  const starts = new Int32Array(count);
  decoder.turn(side, starts);
  return { starts, makespan: side.makespan };
}

function tournament(spans: readonly number[], notThis: number, random: Random): number {
  const draw = (): number => {
    if (spans.length < 2) return 0;
    const drawn = random.below(spans.length - 1);
    return drawn >= notThis ? drawn + 1 : drawn;
  };
  const a = draw();
  const b = draw();
  return spans[a]! <= spans[b]! ? a : b;
}

/** Moves a few activities to other places that precedence allows. */
function makeShuffle(
  project: CompiledProject,
  random: Random,
): (list: Int32Array, isForward: boolean) => void {
  const places = new Int32Array(project.count);
  return (list, isForward) => {
    const count = project.count;
    const before = isForward ? project.before : project.after;
    const after = isForward ? project.after : project.before;
    const moves = 1 + random.below(Math.max(1, count >> 4));
    for (let j = 0; j < count; j++) places[list[j]!] = j;
    for (let m = 0; m < moves; m++) {
      const job = list[random.below(count)]!;
      let low = 0;
      for (let p = before.row[job]!; p < before.row[job + 1]!; p++)
        low = Math.max(low, places[before.items[p]!]! + 1);
      let high = count - 1;
      for (let p = after.row[job]!; p < after.row[job + 1]!; p++)
        high = Math.min(high, places[after.items[p]!]! - 1);
      if (high <= low) continue;
      move(list, places, places[job]!, low + random.below(high - low + 1));
    }
  };
}

function move(list: Int32Array, places: Int32Array, from: number, to: number): void {
  const job = list[from]!;
  const step = from < to ? 1 : -1;
  for (let i = from; i !== to; i += step) {
    list[i] = list[i + step]!;
    places[list[i]!] = i;
  }
  list[to] = job;
  places[job] = to;
}
