import type { Polygon } from '../geometry/polygon.ts';
import { gapToPolygonMm } from '../geometry/polygon.ts';
import { type Rescue, type SayLength, sayMm } from './rescue.ts';

/** What is known of a hole that lies beside the joint. */
export interface HoleOffCentre {
  /** Hole centre beside the joint, + toward the treble side; mm. */
  readonly offsetMm: number;
  readonly centreYMm: number;
  readonly radiusMm: number;
  /** Feet of the bars where the plan puts them, seen in the body's frame, and the clearance each needs. */
  readonly bars: readonly { readonly id: string; readonly polygon: Polygon; readonly leastMm: number }[];
  /** Half width of the plate and of the body at its widest. */
  readonly plateHalfMm: number;
  readonly bodyHalfMm: number;
}

/** How far the joint may lie off the centre line of the body: better, and at most. */
export const seamOff = { softMm: 0.5, hardMm: 1 } as const;
/** Margin of plate outside the outline. */
const marginMm = 6;
/** Off the joint by no more than this, nobody sees or hears it. */
const carryOnMm = 0.5;
/** A pilot hole off by no more than this is plugged and drilled again, before the sound hole is cut. */
const plugMm = 1.5;

/** How far the outline may be shifted toward the hole. */
export interface ShiftWindow {
  readonly fromMm: number;
  readonly toMm: number;
}

/**
 * The shifts of the outline toward the hole at which the joint stays near enough to the centre line and the hole clear
 * enough of every bar.
 *
 * @param h  hole, bars, plate
 * @returns  from and to, mm, in the direction of the offset; undefined when no shift does both
 * @source   plane-geometry
 */
export function shiftWindow(h: HoleOffCentre): ShiftWindow | undefined {
  const size = Math.abs(h.offsetMm);
  const sign = Math.sign(h.offsetMm) || 1;
  const mostMm = Math.min(seamOff.hardMm, h.plateHalfMm - h.bodyHalfMm - marginMm, size);
  const isClear = (shiftMm: number): boolean =>
    h.bars.every((b) => {
      const centre = { xMm: sign * (size - shiftMm), yMm: h.centreYMm };
      return gapToPolygonMm(b.polygon, centre) - h.radiusMm >= b.leastMm - 1e-9;
    });
  if (mostMm < 0 || !isClear(mostMm)) return undefined;
  if (isClear(0)) return { fromMm: 0, toMm: mostMm };
  let low = 0;
  let high = mostMm;
  for (let i = 0; i < 40; i++) {
    const middle = (low + high) / 2;
    if (isClear(middle)) high = middle;
    else low = middle;
  }
  return { fromMm: high, toMm: mostMm };
}

/**
 * What to do with a hole beside the joint.
 *
 * @param h          hole, bars, plate
 * @param isOnlyPilot  true while only the pilot hole is drilled
 * @param say          how lengths are said
 * @source           common practice, no published source
 */
export function holeRescue(h: HoleOffCentre, isOnlyPilot: boolean, say: SayLength = sayMm): Rescue {
  const size = Math.abs(h.offsetMm);
  const window = shiftWindow(h);
  const numbers = [
    { label: 'hole beside the joint', value: size, unit: 'mm' },
    ...(window
      ? [
          { label: 'shift the outline toward the hole by at least', value: window.fromMm, unit: 'mm' },
          { label: 'and at most', value: window.toMm, unit: 'mm' },
        ]
      : []),
  ];
  const off = `The hole lies ${say(size)} beside the joint`;
  if (size <= carryOnMm)
    return {
      title: 'Hole off the joint',
      action: 'carry on',
      decision: 'carry on',
      sentence: `${off}: nobody will see it, carry on.`,
      numbers,
    };
  if (isOnlyPilot && size <= plugMm)
    return {
      title: 'Pilot hole off the joint',
      action: 'adjust',
      decision: 'repair',
      sentence: `${off} and only the pilot hole is drilled: plug it with a dowel of the same wood and drill again on the joint; that place is cut away later.`,
      numbers,
    };
  if (window) {
    const aim = Math.max(window.fromMm, Math.min(window.toMm, size / 2));
    return {
      title: 'Hole off the joint',
      action: 'adjust',
      decision: 'carry on',
      sentence: `${off}: lay the outline ${say(aim)} off the joint toward the hole (between ${say(window.fromMm)} and ${say(window.toMm)}); the joint then lies ${say(aim)} and the hole ${say(size - aim)} off the centre line, and every bar stays clear.`,
      numbers: [...numbers, { label: 'shift to use', value: aim, unit: 'mm' }],
    };
  }
  return {
    title: 'Hole too far off the joint',
    action: 'stop',
    decision: 'replace',
    sentence: `${off}: no shift of the outline up to ${say(seamOff.hardMm)} keeps the hole clear of every bar. Replace the top, or move the bars on this side in the plan and judge again.`,
    numbers,
  };
}
