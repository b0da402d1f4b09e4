import { cornerRad, type Loop, loopLengthMm, type Place, placeAlong } from './mesh-loop.ts';

/** A place (an end of a stiff bar, a sharp inner corner, a point load) where the plate bends sharply. */
export interface FineSpot {
  readonly at: Place;
  /** Edge length at the place itself. */
  readonly sizeMm: number;
}

/** How long the edges of a mesh have to be. */
export interface SizeRequest {
  /** Wanted edge length. */
  readonly sizeMm: number;
  /** Places around which the edges have to be shorter. */
  readonly fineSpots?: readonly FineSpot[];
}

/** How fast the edge length may grow with the distance from a fine spot. */
const growthRatio = 0.4;

/** Wanted edge length at a place. */
export function wantedSize(request: SizeRequest, px: number, py: number): number {
  let size = request.sizeMm;
  for (const { at, sizeMm } of request.fineSpots ?? [])
    size = Math.min(size, sizeMm + growthRatio * Math.hypot(px - at[0], py - at[1]));
  return size;
}

/** How many edges a way wants, summed along it. */
export interface Demand {
  /** Sum of length / wanted spacing up to each sample, over one lap. */
  readonly sum: Float64Array;
  readonly stepMm: number;
}

/** How many edges a loop wants along its way: shorter ones where it is strongly curved. */
export function loopDemand(request: SizeRequest, loop: Loop): Demand {
  const { sizeMm } = request;
  const total = loopLengthMm(loop);
  const count = Math.min(20000, Math.max(64, Math.ceil(total / (sizeMm / 8))));
  const stepMm = total / count;
  const turns = new Float64Array(count);
  for (let i = 0; i < loop.x.length; i++) {
    const t = Math.abs(loop.turnRad[i]!);
    if (t <= cornerRad) turns[Math.min(count - 1, Math.floor(loop.lengthMm[i]! / stepMm))]! += t;
  }
  const reach = Math.max(1, Math.round(sizeMm / 4 / stepMm));
  const spacing = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    let t = 0;
    for (let k = -reach; k <= reach; k++) t += turns[(i + k + count) % count]!;
    const curvature = t / ((2 * reach + 1) * stepMm);
    const byCurve =
      curvature > 0 ? Math.max(0.26 / curvature, Math.sqrt((0.05 * sizeMm) / curvature)) : sizeMm;
    const [px, py] = placeAlong(loop, i * stepMm);
    spacing[i] = Math.min(wantedSize(request, px, py), byCurve);
  }
  for (let lap = 0; lap < 2; lap++) {
    for (let i = 1; i <= count; i++)
      spacing[i % count] = Math.min(spacing[i % count]!, spacing[i - 1]! + 0.3 * stepMm);
    for (let i = count - 1; i >= 0; i--)
      spacing[i] = Math.min(spacing[i]!, spacing[(i + 1) % count]! + 0.3 * stepMm);
  }
  const sum = new Float64Array(count + 1);
  for (let i = 0; i < count; i++) sum[i + 1] = sum[i]! + stepMm / spacing[i]!;
  return { sum, stepMm };
}

/** Distances from one key to the next (the last left out) that share the demand evenly. */
export function spread(
  demand: Demand,
  fromMm: number,
  toMm: number,
  total: number,
  leastCount: number,
): number[] {
  const count = demand.sum.length - 1;
  const lap = demand.sum[count]!;
  const demandAt = (alongMm: number): number => {
    const laps = Math.floor(alongMm / total);
    const place = (alongMm - laps * total) / demand.stepMm;
    const i = Math.max(0, Math.min(count - 1, Math.floor(place)));
    return laps * lap + demand.sum[i]! + (place - i) * (demand.sum[i + 1]! - demand.sum[i]!);
  };
  const [start, end] = [demandAt(fromMm), demandAt(toMm)];
  const pieces = Math.max(leastCount, Math.ceil(end - start - 0.05));
  const places = [fromMm];
  for (let k = 1; k < pieces; k++) {
    const goal = start + ((end - start) * k) / pieces;
    let [lo, hi] = [fromMm, toMm];
    for (let i = 0; i < 40; i++) {
      const mid = (lo + hi) / 2;
      if (demandAt(mid) < goal) lo = mid;
      else hi = mid;
    }
    places.push((lo + hi) / 2);
  }
  return places;
}
