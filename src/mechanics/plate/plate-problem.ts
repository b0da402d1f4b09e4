/** Wood (or anything orthotropic): x runs along the grain. */
export interface PlateMaterial {
  readonly eAlongMPa: number;
  readonly eAcrossMPa: number;
  readonly shearMPa: number;
  /** Contraction across per stretch along. The other one follows from reciprocity. */
  readonly poissonAlongAcross: number;
  readonly densityKgPerM3: number;
}

export type PlacePair = readonly [number, number];

export type PlateShape =
  | { readonly kind: 'rectangle'; readonly alongMm: number; readonly acrossMm: number }
  | { readonly kind: 'ellipse'; readonly semiAlongMm: number; readonly semiAcrossMm: number }
  | { readonly kind: 'polygon'; readonly pointsMm: readonly PlacePair[] };

export type PlateHole =
  | { readonly kind: 'circle'; readonly centreMm: PlacePair; readonly radiusMm: number }
  | {
      readonly kind: 'ellipse';
      readonly centreMm: PlacePair;
      readonly semiAlongMm: number;
      readonly semiAcrossMm: number;
    }
  | {
      readonly kind: 'rectangle';
      readonly centreMm: PlacePair;
      readonly alongMm: number;
      readonly acrossMm: number;
    }
  | { readonly kind: 'polygon'; readonly pointsMm: readonly PlacePair[] };

/** A straight bar glued to one face of the plate. */
export interface PlateBar {
  readonly fromMm: PlacePair;
  readonly toMm: PlacePair;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly eMPa: number;
  readonly shearMPa: number;
  readonly densityKgPerM3: number;
  /** Height along the bar for a carved one: [position 0..1, height mm]. */
  readonly heightsMm?: readonly PlacePair[];
}

/** A sheet glued to one face (a bridge, a bridge plate): a convex piece of another material. */
export interface PlateLayer {
  readonly pointsMm: readonly PlacePair[];
  readonly thicknessMm: number;
  readonly face: 'bars' | 'opposite';
  readonly material: PlateMaterial;
}

export interface CouplePatch {
  readonly centreMm: PlacePair;
  readonly alongMm: number;
  readonly acrossMm: number;
}

export type PlateLoad =
  | { readonly kind: 'force'; readonly atMm: PlacePair; readonly newtons: number }
  | { readonly kind: 'couple'; readonly patchMm: CouplePatch; readonly newtonMetres: number }
  /** Even pressure over the whole plate, read at one place. */
  | { readonly kind: 'pressure'; readonly atMm: PlacePair; readonly pascals: number }
  | PlateSwelling;

/** Wood that takes on moisture; the movement is read at one place, positive away from the bars. */
export interface PlateSwelling {
  readonly kind: 'swelling';
  readonly atMm: PlacePair;
  /** How much each would grow if it were free, as a part of its length: the plate along x and along y. */
  readonly plateFrac: PlacePair;
  /** Bars along their length. */
  readonly barsFrac: number;
  /** Layers along x and along y. */
  readonly layersFrac: PlacePair;
}

/** One thin plate with its bars, support and loads, in the plate frame (x along the grain). */
export interface PlateProblem {
  readonly plate: {
    readonly outline: PlateShape;
    readonly thicknessMm: number;
    readonly material: PlateMaterial;
    readonly holes: readonly PlateHole[];
    readonly layers?: readonly PlateLayer[];
    /** Radius of a shallow dome with the bars on its hollow side; flat without it. */
    readonly domeRadiusMm?: number;
  };
  readonly bars: readonly PlateBar[];
  readonly support: { readonly bending: 'clamped' | 'hinged' | 'free'; readonly inPlane: 'pinned' | 'free' };
  readonly loads: readonly PlateLoad[];
  readonly modes: number;
  readonly meshMm?: number;
}

/** Whether the plate's stretching matters: where a bar, a layer or a dome ties it to the bending. */
export function stretches({ plate, bars }: PlateProblem): boolean {
  return bars.length > 0 || (plate.layers ?? []).length > 0 || plate.domeRadiusMm !== undefined;
}

export interface PlateLoadAnswer {
  readonly deflectionMm: number;
  /** Mean slope of the patch; for couples only. */
  readonly rotationDeg?: number;
}

/** Shapes for pictures, at the vertices of the mesh. */
export interface PlateShapes {
  readonly xMm: Float64Array;
  readonly yMm: Float64Array;
  readonly triangle: Int32Array;
  /** Deflection of each mode, scaled to a largest value of 1. */
  readonly modes: readonly Float64Array[];
  /** Deflection under each load, mm. */
  readonly loadsMm: readonly Float64Array[];
  /** Mass moved by each mode when its largest deflection is 1, kg. */
  readonly modalMassKg: readonly number[];
  /** Volume moved by each mode when its largest deflection is 1, as an area, m2 (signed). */
  readonly pistonAreaM2: readonly number[];
  /** Largest stress at the free face of each bar under each load, MPa: `[load][bar]`. */
  readonly barStressMPa: readonly (readonly number[])[];
}

export interface PlateElapsed {
  readonly mesh: number;
  readonly assemble: number;
  readonly factor: number;
  readonly static: number;
  readonly modes: number;
}

export interface PlateAnswer {
  readonly frequenciesHz: readonly number[];
  readonly loads: readonly PlateLoadAnswer[];
  readonly unknowns: number;
  readonly meshMm: number;
  /** Estimated relative error of the first six frequencies and the loads; only with `check`. */
  readonly estimatedErrorFrac?: number;
  readonly elapsedMs: PlateElapsed;
  /** Whether the count of negative pivots proved that no mode was missed. */
  readonly isCountProven: boolean;
  readonly shapes?: PlateShapes;
}
