import { boundsOfPath, pointOnCubic, slopeRoots } from './bounds.ts';
import type { HatchEntity, LineEntity, PointMm } from './model.ts';
import { alongMm, type PathPiece, pointOnCircle, walkPath } from './path-walk.ts';

/**
 * The lines of a hatch, cut exactly at its edges (lines, arcs and cubics, no chords).
 *
 * The lines lie at whole multiples of the pitch from the origin of the drawing, so that two areas side by side
 * match; inside is decided by the even-odd rule.
 *
 * @throws RangeError when the pitch is not above 0
 * @source plane-geometry
 */
export function hatchLines(hatch: HatchEntity): readonly LineEntity[] {
  const { loops, angleRad, pitchMm } = hatch;
  if (!(pitchMm > 0)) throw new RangeError(`hatchLines: pitch ${pitchMm} mm must be above 0`);
  const pieces = loops.flatMap((loop) => walkPath({ ...loop, isClosed: true }));
  const frame: Frame = { alongRad: angleRad, acrossRad: angleRad + Math.PI / 2 };
  const runs = pieces.flatMap((piece) => monotoneRuns(piece, frame));
  const [low, high] = spanAcross(hatch, frame);
  const lines: LineEntity[] = [];
  for (let index = Math.ceil(low / pitchMm); index * pitchMm <= high; index++) {
    const acrossMm = index * pitchMm;
    const cuts = runs.flatMap((run) => cutAt(run, acrossMm)).sort((a, b) => a - b);
    for (let pair = 0; pair + 1 < cuts.length; pair += 2)
      lines.push(
        hatchLine(hatch, pointOnCircle(ORIGIN, acrossMm, frame.acrossRad), cuts[pair]!, cuts[pair + 1]!),
      );
  }
  return lines;
}

const ORIGIN: PointMm = { x: 0, y: 0 };

interface Frame {
  readonly alongRad: number;
  readonly acrossRad: number;
}

/** A stretch of an edge that only rises or only falls across the hatch. */
interface Run {
  readonly fromMm: number;
  readonly toMm: number;
  /** Distance along the hatch where the stretch is at a distance across it. */
  readonly alongAt: (acrossMm: number) => number;
}

/** The half-open rule: an end exactly on a hatch line belongs to the upper side, so no corner is counted by half. */
function cutAt(run: Run, acrossMm: number): readonly number[] {
  return run.fromMm >= acrossMm === run.toMm >= acrossMm ? [] : [run.alongAt(acrossMm)];
}

function hatchLine(hatch: HatchEntity, base: PointMm, fromMm: number, toMm: number): LineEntity {
  const { layer, key, widthMm, ink, angleRad } = hatch;
  return {
    kind: 'line',
    layer,
    from: pointOnCircle(base, fromMm, angleRad),
    to: pointOnCircle(base, toMm, angleRad),
    ...(key !== undefined && { key }),
    ...(widthMm !== undefined && { widthMm }),
    ...(ink !== undefined && { ink }),
  };
}

/** Least and largest distance across the hatch of the boxes around the loops. */
function spanAcross(hatch: HatchEntity, frame: Frame): readonly [number, number] {
  const corners = hatch.loops.flatMap((loop) => {
    const { minX, minY, maxX, maxY } = boundsOfPath(loop);
    return [minX, maxX].flatMap((x) => [minY, maxY].map((y) => ({ x, y })));
  });
  const distances = corners.map((corner) => alongMm(frame.acrossRad, ORIGIN, corner));
  return [Math.min(...distances), Math.max(...distances)];
}

function monotoneRuns(piece: PathPiece, frame: Frame): readonly Run[] {
  switch (piece.kind) {
    case 'line':
      return [lineRun(piece, frame)];
    case 'arc':
      return arcRuns(piece, frame);
    case 'cubic':
      return cubicRuns(piece, frame);
  }
}

function lineRun(piece: PathPiece & { kind: 'line' }, frame: Frame): Run {
  const fromMm = alongMm(frame.acrossRad, ORIGIN, piece.from);
  const toMm = alongMm(frame.acrossRad, ORIGIN, piece.to);
  const start = alongMm(frame.alongRad, ORIGIN, piece.from);
  const end = alongMm(frame.alongRad, ORIGIN, piece.to);
  return {
    fromMm,
    toMm,
    alongAt: (acrossMm) => start + ((acrossMm - fromMm) / (toMm - fromMm)) * (end - start),
  };
}

/** Cut where the circle is farthest across the hatch; between two such places the arc cosine is single valued. */
function arcRuns(piece: PathPiece & { kind: 'arc' }, { alongRad, acrossRad }: Frame): readonly Run[] {
  const { centre, radiusMm, startRad, sweepRad } = piece;
  const first = startRad - acrossRad;
  const [low, high] = [Math.min(first, first + sweepRad), Math.max(first, first + sweepRad)];
  const turns: number[] = [];
  for (let half = Math.floor(low / Math.PI) + 1; half * Math.PI < high; half++) turns.push(half * Math.PI);
  if (sweepRad < 0) turns.reverse();
  const stops = [first, ...turns, first + sweepRad];
  const middleAcross = alongMm(acrossRad, ORIGIN, centre);
  const middleAlong = alongMm(alongRad, ORIGIN, centre);
  const acrossAt = (turn: number) => middleAcross + radiusMm * Math.cos(turn);
  return stops.slice(1).map((end, index) => {
    const begin = stops[index]!;
    // sin of the turn is negative on the side where the along axis is ahead of the across axis
    const sign = -Math.sign(Math.sin((begin + end) / 2));
    return {
      fromMm: index === 0 ? alongMm(acrossRad, ORIGIN, piece.from) : acrossAt(begin),
      toMm: index === stops.length - 2 ? alongMm(acrossRad, ORIGIN, piece.to) : acrossAt(end),
      alongAt: (acrossMm) => {
        const depth = acrossMm - middleAcross;
        return middleAlong + sign * Math.sqrt(Math.max(0, radiusMm * radiusMm - depth * depth));
      },
    };
  });
}

function cubicRuns(piece: PathPiece & { kind: 'cubic' }, { alongRad, acrossRad }: Frame): readonly Run[] {
  const across = (point: PointMm) => alongMm(acrossRad, ORIGIN, point);
  const roots = slopeRoots(
    across(piece.from),
    across(piece.control1),
    across(piece.control2),
    across(piece.to),
  );
  const stops = [0, ...[...roots].sort((a, b) => a - b), 1];
  return stops.slice(1).map((end, index) => {
    const begin = stops[index]!;
    const at = (param: number) => across(pointOnCubic(piece, param));
    const fromMm = index === 0 ? across(piece.from) : at(begin);
    const toMm = index === stops.length - 2 ? across(piece.to) : at(end);
    return {
      fromMm,
      toMm,
      alongAt: (acrossMm) =>
        alongMm(alongRad, ORIGIN, pointOnCubic(piece, bisect(at, acrossMm, begin, end, fromMm < toMm))),
    };
  });
}

/** Halving 45 times leaves 3e-14 of the piece: below rounding. */
const HALVINGS = 45;

function bisect(
  at: (param: number) => number,
  target: number,
  begin: number,
  end: number,
  isRising: boolean,
): number {
  let [low, high] = [begin, end];
  for (let turn = 0; turn < HALVINGS; turn++) {
    const middle = (low + high) / 2;
    if (at(middle) < target === isRising) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
