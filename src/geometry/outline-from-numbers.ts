import { type Cubic, cubic } from './cubic.ts';

/** The few numbers that draw an outline, mm. y runs from the neck end. */
export interface OutlineNumbers {
  readonly lengthMm: number;
  readonly upperWidthMm: number;
  readonly upperYMm: number;
  readonly upperRadiusMm: number;
  readonly waistWidthMm: number;
  readonly waistYMm: number;
  readonly waistRadiusMm: number;
  readonly lowerWidthMm: number;
  readonly lowerYMm: number;
  readonly lowerRadiusMm: number;
  readonly neckEndRadiusMm: number;
  readonly tailRadiusMm: number;
}

/** Length of the handle at the start and at the end of one piece, and what is left of its run between them. */
export interface HandlePair {
  readonly startMm: number;
  readonly endMm: number;
  /** Run between the two handles where they point at each other; below 0 they cross. */
  readonly roomMm: number;
}

/** Handles of the four pieces of a half outline. */
export interface OutlineHandles {
  readonly neckEnd: HandlePair;
  readonly upper: HandlePair;
  readonly lower: HandlePair;
  readonly tail: HandlePair;
  /** Whether the two end pieces settled. */
  readonly isSettled: boolean;
}

/**
 * Handles of the two pieces that run from a turning point on the centre line to the widest place of a bout:
 * h_side = sqrt(2/3 R_side (b - h_end)), h_end = sqrt(2/3 R_end (r - h_side)), by damped iteration.
 *
 * @param halfWidthMm    half width b of the bout
 * @param runMm          distance r from the end to the bout along the centre line
 * @param sideRadiusMm   radius at the bout
 * @param endRadiusMm    radius at the end
 * @returns              handle at the end (across) and at the bout (along); undefined when the iteration does not settle
 * @assumes              a handle that would need a negative length is held at 0, so that the room left comes out below 0
 * @source               plane-geometry
 */
export function endHandles(
  halfWidthMm: number,
  runMm: number,
  sideRadiusMm: number,
  endRadiusMm: number,
): { readonly endMm: number; readonly sideMm: number; readonly roomMm: number } | undefined {
  let end = 0.62 * halfWidthMm;
  let side = 0.62 * runMm;
  for (let i = 0; i < 600; i++) {
    const nextSide = Math.sqrt((2 / 3) * sideRadiusMm * Math.max(halfWidthMm - end, 0));
    const nextEnd = Math.sqrt((2 / 3) * endRadiusMm * Math.max(runMm - side, 0));
    const offSide = nextSide - side;
    const offEnd = nextEnd - end;
    side += 0.5 * offSide;
    end += 0.5 * offEnd;
    if (Math.abs(offSide) < 1e-11 * runMm && Math.abs(offEnd) < 1e-11 * halfWidthMm)
      return { endMm: end, sideMm: side, roomMm: Math.min(runMm - side, halfWidthMm - end) };
  }
  return undefined;
}

/** Handles between two stations where the outline runs along the centre line. @source plane-geometry */
function stationHandles(
  runMm: number,
  stepMm: number,
  startRadiusMm: number,
  endRadiusMm: number,
): HandlePair {
  const startMm = Math.sqrt((2 / 3) * startRadiusMm * Math.max(stepMm, 0));
  const endMm = Math.sqrt((2 / 3) * endRadiusMm * Math.max(stepMm, 0));
  return { startMm, endMm, roomMm: runMm - startMm - endMm };
}

/**
 * All handles of the outline that the few numbers draw; the curvature comes out as typed at the three stations and
 * at both ends, so the pieces join with equal curvature.
 *
 * @source plane-geometry
 */
export function outlineHandles(n: OutlineNumbers): OutlineHandles {
  const neck = endHandles(n.upperWidthMm / 2, n.upperYMm, n.upperRadiusMm, n.neckEndRadiusMm);
  const tail = endHandles(n.lowerWidthMm / 2, n.lengthMm - n.lowerYMm, n.lowerRadiusMm, n.tailRadiusMm);
  const none = { endMm: 0, sideMm: 0, roomMm: 0 };
  const a = neck ?? none;
  const b = tail ?? none;
  return {
    neckEnd: { startMm: a.endMm, endMm: a.sideMm, roomMm: a.roomMm },
    upper: stationHandles(
      n.waistYMm - n.upperYMm,
      (n.upperWidthMm - n.waistWidthMm) / 2,
      n.upperRadiusMm,
      n.waistRadiusMm,
    ),
    lower: stationHandles(
      n.lowerYMm - n.waistYMm,
      (n.lowerWidthMm - n.waistWidthMm) / 2,
      n.waistRadiusMm,
      n.lowerRadiusMm,
    ),
    tail: { startMm: b.sideMm, endMm: b.endMm, roomMm: b.roomMm },
    isSettled: neck !== undefined && tail !== undefined,
  };
}

/** The four pieces of the half outline, neck end to tail. @source plane-geometry */
export function outlinePieces(n: OutlineNumbers, h: OutlineHandles): readonly Cubic[] {
  const upper = n.upperWidthMm / 2;
  const waist = n.waistWidthMm / 2;
  const lower = n.lowerWidthMm / 2;
  const at = (xMm: number, yMm: number) => ({ xMm, yMm });
  return [
    cubic(at(0, 0), at(h.neckEnd.startMm, 0), at(upper, n.upperYMm - h.neckEnd.endMm), at(upper, n.upperYMm)),
    cubic(
      at(upper, n.upperYMm),
      at(upper, n.upperYMm + h.upper.startMm),
      at(waist, n.waistYMm - h.upper.endMm),
      at(waist, n.waistYMm),
    ),
    cubic(
      at(waist, n.waistYMm),
      at(waist, n.waistYMm + h.lower.startMm),
      at(lower, n.lowerYMm - h.lower.endMm),
      at(lower, n.lowerYMm),
    ),
    cubic(
      at(lower, n.lowerYMm),
      at(lower, n.lowerYMm + h.tail.startMm),
      at(h.tail.endMm, n.lengthMm),
      at(0, n.lengthMm),
    ),
  ];
}
