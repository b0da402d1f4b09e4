import { InputError } from '../quantity/input-error.ts';
import { checkPlateProblem } from './plate/check-plate-problem.ts';
import type { PlacePair, PlateBar, PlateLayer, PlateMaterial, PlateProblem } from './plate/plate-problem.ts';

/** A wood with its grain named: along the grain, across it, shear. */
export type TopWood = PlateMaterial;

/** A brace under the top, in the frame of the pattern (x across, y from the neck end toward the tail). */
export interface TopBar {
  readonly id: string;
  readonly fromMm: PlacePair;
  readonly toMm: PlacePair;
  readonly widthMm: number;
  readonly heightMm: number;
  /** Carved height along the bar: [position 0..1 from `fromMm`, height mm]. */
  readonly heightsMm?: readonly PlacePair[];
  readonly eMPa: number;
  readonly shearMPa: number;
  readonly densityKgPerM3: number;
}

/** A top as drawn or as built, in the frame of the pattern. */
export interface TopInput {
  /** Closed outline, either way round. */
  readonly outlineMm: readonly PlacePair[];
  readonly hole?: { readonly centreMm: PlacePair; readonly radiusMm: number };
  readonly thicknessMm: number;
  /** Grain along y. */
  readonly wood: TopWood;
  readonly bars: readonly TopBar[];
  readonly bridge: {
    /** Middle of its foot. */
    readonly centreMm: PlacePair;
    /** Length across the top and width along it. */
    readonly acrossMm: number;
    readonly alongMm: number;
    /** Mean thickness of its wood; 0 leaves its stiffness out. */
    readonly thicknessMm: number;
    /** Grain along its length, so across the top. */
    readonly wood: TopWood;
  };
  /** Hard plate under the top; a convex piece. */
  readonly bridgePlate?: {
    readonly pointsMm: readonly PlacePair[];
    readonly thicknessMm: number;
    /** Grain along the bridge, so across the top. */
    readonly wood: TopWood;
  };
  /** All strings together, and their height above the top at the saddle. */
  readonly tensionN: number;
  readonly stringHeightMm: number;
  /** How the rim holds the top. */
  readonly rim: 'hinged' | 'clamped';
  readonly modes: number;
  readonly meshMm?: number;
}

/** The plate problem of a top, and which bar of the problem is which. */
export interface TopProblem {
  readonly problem: PlateProblem;
  readonly barIds: readonly string[];
  /** Frame of the plate back to the pattern: plate x = pattern y - this. */
  readonly middleYMm: number;
}

/** Bars that end within this of the outline are let into the lining and held there. */
const liningReachMm = 8;

/**
 * The plate problem of an instrument's top under its strings.
 *
 * @param top  outline, hole, braces, bridge, strings, in the frame of the pattern
 * @returns    the checked problem in the frame of the plate (x = pattern y, counted from the middle of the length;
 *             y = pattern x); a positive deflection is a lift
 * @assumes    flat top (its dome adds a little stiffness), grain parallel to the centre line, back and sides stand
 *             still, the string force acts as a couple of tension times height over the foot of the bridge; braces
 *             that end within 8 mm of the outline are let into the lining; what bends only in plane is left free
 * @throws InputError naming the member that does not fit
 * @source     common practice, no published source
 */
export function topProblem(top: TopInput): TopProblem {
  const ys = top.outlineMm.map(([, y]) => y);
  const middleYMm = (Math.min(...ys) + Math.max(...ys)) / 2;
  const turn = ([x, y]: PlacePair): PlacePair => [y - middleYMm, x];
  const outline = top.outlineMm.map(turn);
  if (!(top.tensionN > 0) || !(top.stringHeightMm > 0))
    throw new InputError(
      'top-strings',
      `The strings pull with ${top.tensionN} N at ${top.stringHeightMm} mm above the top; both must be above 0.`,
      'strings',
    );
  const problem = {
    plate: {
      outline: { kind: 'polygon', pointsMm: outline },
      thicknessMm: top.thicknessMm,
      material: top.wood,
      holes: top.hole
        ? [{ kind: 'circle', centreMm: turn(top.hole.centreMm), radiusMm: top.hole.radiusMm }]
        : [],
      layers: topLayers(top, turn),
    },
    bars: top.bars.map((bar) => plateBar(bar, outline, turn)),
    support: { bending: top.rim, inPlane: 'pinned' },
    loads: [
      {
        kind: 'couple',
        patchMm: {
          centreMm: turn(top.bridge.centreMm),
          alongMm: top.bridge.alongMm,
          acrossMm: top.bridge.acrossMm,
        },
        newtonMetres: (top.tensionN * top.stringHeightMm) / 1000,
      },
    ],
    modes: top.modes,
    ...(top.meshMm === undefined ? {} : { meshMm: top.meshMm }),
  };
  return { problem: checkPlateProblem(problem), barIds: top.bars.map(({ id }) => id), middleYMm };
}

function topLayers(top: TopInput, turn: (p: PlacePair) => PlacePair): PlateLayer[] {
  const { centreMm, acrossMm, alongMm, thicknessMm, wood } = top.bridge;
  const [cx, cy] = centreMm;
  const corner = (sx: number, sy: number): PlacePair =>
    turn([cx + (sx * acrossMm) / 2, cy + (sy * alongMm) / 2]);
  const bridge: PlateLayer = {
    pointsMm: [corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)],
    thicknessMm,
    face: 'opposite',
    material: turnedWood(wood),
  };
  const plate = top.bridgePlate;
  return [
    ...(thicknessMm > 0 ? [bridge] : []),
    ...(plate
      ? [
          {
            pointsMm: plate.pointsMm.map(turn),
            thicknessMm: plate.thicknessMm,
            face: 'bars' as const,
            material: turnedWood(plate.wood),
          },
        ]
      : []),
  ];
}

/** The same wood with its grain turned across the top. */
function turnedWood(wood: TopWood): TopWood {
  return {
    ...wood,
    eAlongMPa: wood.eAcrossMPa,
    eAcrossMPa: wood.eAlongMPa,
    poissonAlongAcross: (wood.poissonAlongAcross * wood.eAcrossMPa) / wood.eAlongMPa,
  };
}

function plateBar(bar: TopBar, outline: readonly PlacePair[], turn: (p: PlacePair) => PlacePair): PlateBar {
  const [fromMm, toMm] = [turn(bar.fromMm), turn(bar.toMm)];
  return {
    fromMm: ontoRim(fromMm, toMm, outline),
    toMm: ontoRim(toMm, fromMm, outline),
    widthMm: bar.widthMm,
    heightMm: bar.heightMm,
    eMPa: bar.eMPa,
    shearMPa: bar.shearMPa,
    densityKgPerM3: bar.densityKgPerM3,
    ...(bar.heightsMm ? { heightsMm: bar.heightsMm } : {}),
  };
}

/** The end of a bar, moved along the bar onto the outline where it lies beyond it or within the lining. */
function ontoRim(end: PlacePair, other: PlacePair, outline: readonly PlacePair[]): PlacePair {
  const length = Math.hypot(end[0] - other[0], end[1] - other[1]);
  const [ux, uy] = [(end[0] - other[0]) / length, (end[1] - other[1]) / length];
  // distances from the other end at which the bar's line meets the outline
  const meets: number[] = [];
  outline.forEach((p, i) => {
    const q = outline[(i + 1) % outline.length]!;
    const [ex, ey] = [q[0] - p[0], q[1] - p[1]];
    const det = ux * ey - uy * ex;
    if (Math.abs(det) < 1e-12) return;
    const [wx, wy] = [p[0] - other[0], p[1] - other[1]];
    const along = (wx * ey - wy * ex) / det;
    const part = (wx * uy - wy * ux) / det;
    if (part >= -1e-9 && part <= 1 + 1e-9 && along > length / 2) meets.push(along);
  });
  const first = Math.min(...meets);
  if (!Number.isFinite(first) || first > length + liningReachMm) return end;
  return [other[0] + ux * first, other[1] + uy * first];
}
