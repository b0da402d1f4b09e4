import { type SaddleResponse, saddleRiseMm, type TopGrowth } from '../mechanics/top-swelling.ts';
import { type Finding, finding, isFinding } from '../quantity/finding.ts';
import { equilibriumMoistureFrac, type RoomAir } from './moisture.ts';
import { dimensionalChange } from './movement.ts';
import { densityKgPerM3, speciesPropertyMPa, specificGravityAt } from './properties-at.ts';
import { type RestDays, restingDays } from './resting.ts';
import type { Species } from './species.ts';

/** What a top does when the air of its room changes. */
export interface TopSeason {
  readonly fromMoistureFrac: number;
  readonly toMoistureFrac: number;
  /** Free change of the widest place of the top, + grows. */
  readonly acrossMm: number;
  /** Free change of its length. */
  readonly alongMm: number;
  /** Free growth of each wood. */
  readonly growth: TopGrowth;
  /** Modulus along and density at the new moisture over those at the old one; a finding where a table has one state. */
  readonly modulusRatio: number | Finding;
  readonly densityRatio: number | Finding;
  /** Days until nine tenths of it have happened, bare wood open on both faces. */
  readonly rest: RestDays;
  readonly isFromMemory: boolean;
}

/** What the model of the saddle leaves out, for the page. */
export const seasonModelLimits =
  'The whole top with its braces, bridge and dome is computed as an elastic plate whose wood wants to grow. The first number is for sides that hold the top in its plane, the second for sides that give way to it; a real box lies between. Left out: creep (a swelling that lasts is partly given back, often by half), the back and the slope of the neck, and that the outer face dries first.';

/** Size of a top, as far as the air matters to it. */
export interface TopSize {
  readonly widthMm: number;
  readonly lengthMm: number;
  readonly thicknessMm: number;
}

/**
 * The size of a top.
 *
 * @param outlineMm    closed outline in the frame of the pattern
 * @param thicknessMm  of the top
 * @source             arithmetic
 */
export function topSize(outlineMm: readonly (readonly [number, number])[], thicknessMm: number): TopSize {
  const xs = outlineMm.map(([x]) => x);
  const ys = outlineMm.map(([, y]) => y);
  return {
    widthMm: Math.max(...xs) - Math.min(...xs),
    lengthMm: Math.max(...ys) - Math.min(...ys),
    thicknessMm,
  };
}

/**
 * What a quartered top does between two states of the air.
 *
 * @param size     of the top
 * @param species  its wood
 * @param fromAir  the shop in which it was glued
 * @param toAir    the air it comes into
 * @returns        movement, growth of each wood, properties and time; a finding when the species has no value
 * @assumes        the wood has come to rest in both; braces and bridge move along their grain as the top does, the bridge
 *                 across its grain as the top does across its own
 * @throws InputError when the air is none a room can have
 * @source         wood-handbook
 */
export function topSeason(
  size: TopSize,
  species: Species,
  fromAir: RoomAir,
  toAir: RoomAir,
): TopSeason | Finding {
  const [from, to] = [equilibriumMoistureFrac(fromAir), equilibriumMoistureFrac(toAir)];
  const across = dimensionalChange(size.widthMm, from, to, species, 'radial');
  const along = dimensionalChange(size.lengthMm, from, to, species, 'along');
  if (isFinding(across)) return across;
  if (isFinding(along)) return along;
  const [acrossFrac, alongFrac] = [across.changeMm / size.widthMm, along.changeMm / size.lengthMm];
  return {
    fromMoistureFrac: from,
    toMoistureFrac: to,
    acrossMm: across.changeMm,
    alongMm: along.changeMm,
    growth: {
      topAcrossFrac: acrossFrac,
      topAlongFrac: alongFrac,
      bracesFrac: alongFrac,
      bridgeAlongGrainFrac: alongFrac,
      bridgeAcrossGrainFrac: acrossFrac,
    },
    modulusRatio: ratioOf((frac) => speciesPropertyMPa(species, 'modulus', frac), from, to),
    densityRatio: ratioOf((frac) => densityAt(species, frac), from, to),
    rest: restingDays(Math.min(60, Math.max(0.5, size.thicknessMm))),
    isFromMemory: across.isFromMemory,
  };
}

/** How the saddle answers to swelling at the two ends of what sides can do. */
export interface RimResponses {
  readonly held: SaddleResponse;
  readonly free: SaddleResponse;
}

/**
 * The saddle's way through a season, mm, + rises: with the rim held in its plane, then with a rim that gives way.
 *
 * @source timoshenko-bimetal
 */
export function saddleRange(responses: RimResponses, season: TopSeason): readonly [number, number] {
  return [saddleRiseMm(responses.held, season.growth), saddleRiseMm(responses.free, season.growth)];
}

function ratioOf(property: (frac: number) => number | Finding, from: number, to: number): number | Finding {
  const [before, after] = [property(from), property(to)];
  if (isFinding(before)) return before;
  return isFinding(after) ? after : after / before;
}

function densityAt(species: Species, moistureFrac: number): number | Finding {
  const green = species.values.specific_gravity_green;
  if (!green)
    return finding({
      code: 'species-one-state',
      level: 'blocked',
      text: `${species.name} has no specific gravity on green volume in the tables here; choose a listed species that is near to it.`,
      source: 'wood-handbook',
    });
  return densityKgPerM3(specificGravityAt(green.value, moistureFrac), moistureFrac);
}
