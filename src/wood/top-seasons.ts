import type { PlacePair } from '../mechanics/plate/plate-problem.ts';
import type { TopInput } from '../mechanics/top-problem.ts';
import { type Finding, finding, isFinding } from '../quantity/finding.ts';
import { equilibriumMoistureFrac, type RoomAir } from './moisture.ts';
import { dimensionalChange } from './movement.ts';
import { densityKgPerM3, speciesPropertyMPa, specificGravityAt } from './properties-at.ts';
import { type RestDays, restingDays } from './resting.ts';
import type { Species } from './species.ts';
import { type HoldingBar, saddleRiseMm, type TopField } from './top-season.ts';

/** What a top does when the air of its room changes. */
export interface TopSeason {
  readonly fromMoistureFrac: number;
  readonly toMoistureFrac: number;
  /** Free change of the widest place of the top, + grows. */
  readonly acrossMm: number;
  /** Free change of its length. */
  readonly alongMm: number;
  /** The saddle, + rises. */
  readonly saddleMm: number;
  /** Modulus along and density at the new moisture over those at the old one; a finding where a table has one state. */
  readonly modulusRatio: number | Finding;
  readonly densityRatio: number | Finding;
  /** Days until nine tenths of it have happened, bare wood open on both faces. */
  readonly rest: RestDays;
  readonly isFromMemory: boolean;
}

/** The piece of a bar that lies behind a line across the top, or undefined. */
function behind(from: PlacePair, to: PlacePair, yMm: number): readonly [PlacePair, PlacePair] | undefined {
  const [a, b] = from[1] <= to[1] ? [from, to] : [to, from];
  if (b[1] <= yMm) return undefined;
  if (a[1] >= yMm) return [a, b];
  const part = (yMm - a[1]) / (b[1] - a[1]);
  return [[a[0] + part * (b[0] - a[0]), yMm], b];
}

/**
 * The field behind the hole of a top as the model of the seasons wants it.
 *
 * @param top  the top in the frame of the pattern
 * @returns    from the tail edge of the hole (or the middle of the length without one) to the tail, as wide as the top
 *             is there on average; the bars as they hold it
 * @assumes    bridge and bridge plate, which hold against each other from both faces of a small part, are left out
 * @source     plane-geometry
 */
export function seasonField(top: TopInput): TopField {
  const ys = top.outlineMm.map(([, y]) => y);
  const [low, high] = [Math.min(...ys), Math.max(...ys)];
  const startMm = top.hole ? top.hole.centreMm[1] + top.hole.radiusMm : (low + high) / 2;
  const alongMm = high - startMm;
  const bars = top.bars.flatMap((bar): HoldingBar[] => {
    const piece = behind(bar.fromMm, bar.toMm, startMm);
    if (!piece) return [];
    const [dx, dy] = [piece[1][0] - piece[0][0], piece[1][1] - piece[0][1]];
    return [
      {
        angleToAcrossRad: Math.atan2(Math.abs(dy), Math.abs(dx)),
        lengthMm: Math.hypot(dx, dy),
        partFrac: partInBow((piece[0][1] - startMm) / alongMm, (piece[1][1] - startMm) / alongMm),
        widthMm: bar.widthMm,
        heightMm: meanHeightMm(bar.heightMm, bar.heightsMm),
        modulusMPa: bar.eMPa,
        face: 'inside',
      },
    ];
  });
  const { wood } = top;
  return {
    alongMm,
    acrossMm: areaBehindMm2(top.outlineMm, startMm) / alongMm,
    thicknessMm: top.thicknessMm,
    eAlongMPa: wood.eAlongMPa,
    eAcrossMPa: wood.eAcrossMPa,
    shearMPa: wood.shearMPa,
    poissonAlongAcross: wood.poissonAlongAcross,
    bars,
    saddleAtFrac: Math.min(1, Math.max(0, (top.bridge.centreMm[1] - startMm) / alongMm)),
  };
}

/**
 * Mean of 2 sin2(pi u) between two places along the field, 0..1: the work that a half-wave bow asks of a bar there. A
 * ladder bar just behind the hole, where the field hardly moves, holds little of it.
 */
function partInBow(from: number, to: number): number {
  if (to - from < 1e-6) return 2 * Math.sin(Math.PI * from) ** 2;
  return 1 - (Math.sin(2 * Math.PI * to) - Math.sin(2 * Math.PI * from)) / (2 * Math.PI * (to - from));
}

/** Mean over the length of a bar whose height is given at places 0..1. */
function meanHeightMm(plainMm: number, heights: readonly PlacePair[] | undefined): number {
  if (!heights || heights.length === 0) return plainMm;
  const rows: readonly PlacePair[] = [[0, heights[0]![1]], ...heights, [1, heights.at(-1)![1]]];
  let sum = 0;
  for (let i = 1; i < rows.length; i++)
    sum += ((rows[i]![0] - rows[i - 1]![0]) * (rows[i]![1] + rows[i - 1]![1])) / 2;
  return sum;
}

/** Area of a closed line behind a line across, by cutting it off there. */
function areaBehindMm2(outline: readonly PlacePair[], yMm: number): number {
  let sum = 0;
  outline.forEach((p, i) => {
    const piece = behind(p, outline[(i + 1) % outline.length]!, yMm);
    if (!piece) return;
    const sense = p[1] <= outline[(i + 1) % outline.length]![1] ? 1 : -1;
    sum += (sense * (piece[0][0] + piece[1][0]) * (piece[1][1] - piece[0][1])) / 2;
  });
  return Math.abs(sum);
}

/**
 * What a quartered top does between two states of the air.
 *
 * @param top      the top in the frame of the pattern
 * @param species  its wood
 * @param fromAir  the shop in which it was glued
 * @param toAir    the air it comes into
 * @returns        movement, saddle, properties and time; a finding when the species has no value
 * @assumes        the wood has come to rest in both; see `seasonModelLimits`
 * @throws InputError when the air is none a room can have
 * @source         wood-handbook
 */
export function topSeason(
  top: TopInput,
  species: Species,
  fromAir: RoomAir,
  toAir: RoomAir,
): TopSeason | Finding {
  const [from, to] = [equilibriumMoistureFrac(fromAir), equilibriumMoistureFrac(toAir)];
  const xs = top.outlineMm.map(([x]) => x);
  const ys = top.outlineMm.map(([, y]) => y);
  const widthMm = Math.max(...xs) - Math.min(...xs);
  const across = dimensionalChange(widthMm, from, to, species, 'radial');
  const along = dimensionalChange(Math.max(...ys) - Math.min(...ys), from, to, species, 'along');
  if (isFinding(across)) return across;
  if (isFinding(along)) return along;
  return {
    fromMoistureFrac: from,
    toMoistureFrac: to,
    acrossMm: across.changeMm,
    alongMm: along.changeMm,
    saddleMm: saddleRiseMm(seasonField(top), across.changeMm / widthMm),
    modulusRatio: ratioOf((frac) => speciesPropertyMPa(species, 'modulus', frac), from, to),
    densityRatio: ratioOf((frac) => densityAt(species, frac), from, to),
    rest: restingDays(Math.min(60, Math.max(0.5, top.thicknessMm))),
    isFromMemory: across.isFromMemory,
  };
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
