import { type HalfOutline, outlineEndYMm, pointAtArc } from '../geometry/half-outline.ts';
import { distanceMm } from '../geometry/point.ts';
import { type Absent, absent, type Figure, figure } from '../graph/figure.ts';
import type { TopBar, TopInput, TopWood } from '../mechanics/top-problem.ts';
import { braceModulus } from './brace-stiffness.ts';
import { type BraceSegment, braceSegments } from './braces.ts';
import { stringHeight } from './bridge.ts';
import { plateShape } from './bridge-plate.ts';
import { input } from './inputs.ts';
import { totalTension } from './load.ts';
import { outline } from './outline.ts';
import { bridgeBackY, bridgeFrontY } from './saddle-place.ts';
import { braceEnds, braceWood, topWood } from './top-wood.ts';

/** Dense hardwood of bridge and bridge plate; only its order matters. */
const hardwood: TopWood = {
  eAlongMPa: 13_000,
  eAcrossMPa: 1_800,
  shearMPa: 1_300,
  poissonAlongAcross: 0.35,
  densityKgPerM3: 800,
};
const outlinePoints = 60;
const modesWanted = 10;

/** The outline as a closed polygon, both halves. */
export function closedOutline(shape: HalfOutline): (readonly [number, number])[] {
  const half = Array.from({ length: outlinePoints + 1 }, (_, i) =>
    pointAtArc(shape, (shape.lengthMm * i) / outlinePoints),
  );
  const inner = half.slice(1, -1);
  const tail: readonly [number, number] = [0, outlineEndYMm(shape)];
  return [
    [0, (half[0] as { yMm: number }).yMm],
    ...inner.map((p): readonly [number, number] => [p.xMm, p.yMm]),
    tail,
    ...inner.reverse().map((p): readonly [number, number] => [-p.xMm, p.yMm]),
  ];
}

/** A brace carved down over its last stretch at both ends. */
function carvedBar(
  s: BraceSegment,
  wood: Omit<TopBar, 'id' | 'fromMm' | 'toMm' | 'widthMm' | 'heightMm'>,
  end: CarvedEnd,
): TopBar {
  const lengthMm = distanceMm(s.from, s.to);
  const low = Math.min(end.heightMm, s.heightMm);
  const part = Math.min(0.4, end.lengthMm / lengthMm);
  return {
    ...wood,
    id: s.id,
    fromMm: [s.from.xMm, s.from.yMm],
    toMm: [s.to.xMm, s.to.yMm],
    widthMm: s.widthMm * end.sectionFrac,
    heightMm: s.heightMm,
    heightsMm: [
      [0, low],
      [part, s.heightMm],
      [1 - part, s.heightMm],
      [1, low],
    ],
  };
}

interface CarvedEnd {
  /** Width that a square bar of the same stiffness would have, over its width. */
  readonly sectionFrac: number;
  readonly heightMm: number;
  readonly lengthMm: number;
}

/** Mean thickness of the bridge: full height over the saddle slot, wings beside it. */
function bridgeThicknessMm(v: {
  slotMm: number;
  lengthMm: number;
  heightMm: number;
  wingMm: number;
}): number {
  const middle = Math.min(v.slotMm, v.lengthMm);
  return (middle * v.heightMm + (v.lengthMm - middle) * v.wingMm) / v.lengthMm;
}

/** The top with braces, bridge and strings, ready for the plate engine. */
export const topInput: Figure<TopInput> = figure({
  id: 'structure.top',
  unit: 'shape',
  label: 'Top, braces and bridge as a plate',
  formula:
    'outline, hole, final thickness, bars with carved ends, bridge at its mean thickness, bridge plate, tension of the strings at their height; rim hinged',
  source: 'common practice, no published source',
  from: {
    shape: outline,
    holeMm: input('hole.centre_y'),
    radiusMm: input('hole.radius'),
    thicknessMm: input('top.thickness.final'),
    bars: braceSegments,
    eBarMPa: braceModulus,
    barShearMPa: braceWood.shear,
    barDensity: braceWood.density,
    endMm: braceEnds.height,
    endLengthMm: braceEnds.length,
    sectionFrac: braceEnds.section,
    eAlongMPa: topWood.along,
    eAcrossMPa: topWood.across,
    shearMPa: topWood.shear,
    poissonAlongAcross: topWood.poisson,
    densityKgPerM3: topWood.density,
    frontMm: bridgeFrontY,
    backMm: bridgeBackY,
    lengthMm: input('bridge.length'),
    heightMm: input('bridge.height'),
    wingMm: input('bridge.wing'),
    slotMm: input('bridge.saddle_slot.length'),
    tensionN: totalTension,
    stringHeightMm: stringHeight,
  },
  maybe: { plate: plateShape, plateMm: input('bridge_plate.thickness') },
  compute: (v): TopInput | Absent => {
    if (!(v.tensionN > 0)) return absent('the strings do not pull');
    const wood = { eMPa: v.eBarMPa, shearMPa: v.barShearMPa, densityKgPerM3: v.barDensity };
    return {
      outlineMm: closedOutline(v.shape),
      hole: { centreMm: [0, v.holeMm], radiusMm: v.radiusMm },
      thicknessMm: v.thicknessMm,
      wood: {
        eAlongMPa: v.eAlongMPa,
        eAcrossMPa: v.eAcrossMPa,
        shearMPa: v.shearMPa,
        poissonAlongAcross: v.poissonAlongAcross,
        densityKgPerM3: v.densityKgPerM3,
      },
      bars: v.bars.map((s) =>
        carvedBar(s, wood, { sectionFrac: v.sectionFrac, heightMm: v.endMm, lengthMm: v.endLengthMm }),
      ),
      bridge: {
        centreMm: [0, (v.frontMm + v.backMm) / 2],
        acrossMm: v.lengthMm,
        alongMm: v.backMm - v.frontMm,
        thicknessMm: bridgeThicknessMm(v),
        wood: hardwood,
      },
      ...(v.plate && v.plateMm !== undefined && v.plateMm > 0
        ? {
            bridgePlate: {
              pointsMm: v.plate.map((p): readonly [number, number] => [p.xMm, p.yMm]),
              thicknessMm: v.plateMm,
              wood: hardwood,
            },
          }
        : {}),
      tensionN: v.tensionN,
      stringHeightMm: v.stringHeightMm,
      rim: 'hinged',
      modes: modesWanted,
    };
  },
});
