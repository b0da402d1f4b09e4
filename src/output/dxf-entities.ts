import { LAYERS } from '../drawing/line-types.ts';
import type { PathEntity, PlainEntity, PointMm, TextEntity } from '../drawing/model.ts';
import { distanceMm, type PathPiece, pointOnCircle, SAME_POINT_MM, walkPath } from '../drawing/path-walk.ts';
import { dxfLineType, dxfLineWidth, MODEL_SPACE_HANDLE } from './dxf-tables.ts';
import { type DxfTag, dxfWords } from './dxf-tags.ts';

/** An entity of the file without its handle: type and what follows the common members. */
interface DxfEntity {
  readonly type: string;
  readonly tags: readonly DxfTag[];
}

/**
 * One plain entity as DXF entities: lines, circles, arcs, polylines with true arcs (bulges), cubics as clamped splines
 * of degree 3 with exactly their control points, words, filled triangles and squares as solids.
 *
 * @param takeHandle  gives the next handle of the file
 * @returns           tags; none for an area that only hides what is under it
 * @source            plane-geometry
 */
export function entityTags(entity: PlainEntity, takeHandle: () => string): readonly DxfTag[] {
  return shapesOf(entity).flatMap(({ type, tags }) => [
    [0, type] as const,
    [5, takeHandle()] as const,
    [330, MODEL_SPACE_HANDLE] as const,
    [100, 'AcDbEntity'] as const,
    [8, entity.layer] as const,
    ...lookTags(entity),
    ...tags,
  ]);
}

/** Only what differs from the layer. */
function lookTags({ layer, lineType, widthMm, ink }: PlainEntity): readonly DxfTag[] {
  return [
    ...(lineType !== undefined && lineType !== LAYERS[layer].lineType
      ? ([[6, dxfLineType(lineType)]] as const)
      : []),
    ...(ink === 'grey' || ink === 'pale' ? ([[62, ink === 'grey' ? 8 : 9]] as const) : []),
    ...(widthMm !== undefined ? ([[370, dxfLineWidth(widthMm)]] as const) : []),
  ];
}

function shapesOf(entity: PlainEntity): readonly DxfEntity[] {
  switch (entity.kind) {
    case 'line':
      return [lineShape(entity.from, entity.to)];
    case 'circle':
      return [
        {
          type: 'CIRCLE',
          tags: [[100, 'AcDbCircle'], ...at(10, entity.centre), [40, entity.radiusMm]],
        },
      ];
    case 'arc':
      return [arcShape(entity.centre, entity.radiusMm, entity.startRad, entity.sweepRad)];
    case 'path':
      return pathShapes(entity);
    case 'text':
      return [textShape(entity)];
  }
}

/** A point at a group code; the file has y up. */
function at(code: number, { x, y }: PointMm): readonly DxfTag[] {
  return [
    [code, x],
    [code + 10, -y],
    [code + 20, 0],
  ];
}

function lineShape(from: PointMm, to: PointMm): DxfEntity {
  return { type: 'LINE', tags: [[100, 'AcDbLine'], ...at(10, from), ...at(11, to)] };
}

/** With y up an angle changes its sign; the file's arcs always turn counterclockwise. */
function arcShape(centre: PointMm, radiusMm: number, startRad: number, sweepRad: number): DxfEntity {
  const ends = [-startRad, -startRad - sweepRad];
  const [from, to] = sweepRad <= 0 ? ends : ends.reverse();
  return {
    type: 'ARC',
    tags: [
      [100, 'AcDbCircle'],
      ...at(10, centre),
      [40, radiusMm],
      [100, 'AcDbArc'],
      [50, degrees(from!)],
      [51, degrees(to!)],
    ],
  };
}

function degrees(angleRad: number): number {
  return ((((angleRad * 180) / Math.PI) % 360) + 360) % 360;
}

function pathShapes(path: PathEntity): readonly DxfEntity[] {
  const pieces = walkPath(path);
  if (path.isStroked === false) {
    if (path.fill === 'white' || path.fill === undefined) return [];
    const corners = pieces.map(({ from }) => from);
    if (pieces.every(({ kind }) => kind === 'line') && (corners.length === 3 || corners.length === 4))
      return [solidShape(corners)];
  }
  const runs = runsOf(pieces);
  const isOneRun = runs.length === 1;
  return runs.map((run) =>
    run[0]!.kind === 'cubic'
      ? splineShape(run as CubicPiece[])
      : polylineShape(run, isOneRun && path.isClosed),
  );
}

type CubicPiece = PathPiece & { readonly kind: 'cubic' };

/** Neighbouring cubics together, and neighbouring lines and arcs together. */
function runsOf(pieces: readonly PathPiece[]): readonly (readonly PathPiece[])[] {
  const runs: PathPiece[][] = [];
  for (const piece of pieces) {
    const last = runs.at(-1);
    if (last !== undefined && (last[0]!.kind === 'cubic') === (piece.kind === 'cubic')) last.push(piece);
    else runs.push([piece]);
  }
  return runs;
}

/** A triangle or a convex quadrilateral; the file numbers the corners crosswise. */
function solidShape(corners: readonly PointMm[]): DxfEntity {
  const [a, b, c, d = c] = corners as [PointMm, PointMm, PointMm, PointMm?];
  return {
    type: 'SOLID',
    tags: [[100, 'AcDbTrace'], ...at(10, a), ...at(11, b), ...at(12, d), ...at(13, c)],
  };
}

/** Cubics end to end are one spline of degree 3: each joint is a knot of multiplicity 3, both ends of 4. */
function splineShape(run: readonly CubicPiece[]): DxfEntity {
  const controls = [run[0]!.from, ...run.flatMap(({ control1, control2, to }) => [control1, control2, to])];
  const knots = [0, ...Array.from({ length: run.length + 1 }, (_, i) => [i, i, i]).flat(), run.length];
  return {
    type: 'SPLINE',
    tags: [
      [100, 'AcDbSpline'],
      [210, 0],
      [220, 0],
      [230, 1],
      [70, 8],
      [71, 3],
      [72, knots.length],
      [73, controls.length],
      [74, 0],
      [42, 1e-6],
      [43, 1e-6],
      ...knots.map((knot) => [40, knot] as const),
      ...controls.flatMap((control) => at(10, control)),
    ],
  };
}

/** Lines and true arcs as one polyline: an arc is the bulge tan(sweep / 4) of its start. */
function polylineShape(run: readonly PathPiece[], isClosed: boolean): DxfEntity {
  const steps = run.flatMap(bulgeSteps);
  const end = run.at(-1)!.to;
  const isLoop = isClosed && distanceMm(end, steps[0]!.from) <= SAME_POINT_MM;
  const vertices = isLoop ? steps : [...steps, { from: end, bulge: 0 }];
  return {
    type: 'LWPOLYLINE',
    tags: [
      [100, 'AcDbPolyline'],
      [90, vertices.length],
      [70, isLoop ? 1 : 0],
      ...vertices.flatMap(vertexTags),
    ],
  };
}

function vertexTags({ from, bulge }: BulgeStep): readonly DxfTag[] {
  const place: readonly DxfTag[] = [
    [10, from.x],
    [20, -from.y],
  ];
  return bulge === 0 ? place : [...place, [42, bulge]];
}

interface BulgeStep {
  readonly from: PointMm;
  readonly bulge: number;
}

/** Over half a turn in two steps, where the bulge stays small and exact. */
function bulgeSteps(piece: PathPiece): readonly BulgeStep[] {
  if (piece.kind !== 'arc') return [{ from: piece.from, bulge: 0 }];
  const { from, centre, radiusMm, startRad, sweepRad } = piece;
  if (Math.abs(sweepRad) <= Math.PI + 1e-9) return [{ from, bulge: Math.tan(-sweepRad / 4) }];
  const middle = pointOnCircle(centre, radiusMm, startRad + sweepRad / 2);
  const bulge = Math.tan(-sweepRad / 8);
  return [
    { from, bulge },
    { from: middle, bulge },
  ];
}

const ACROSS = { start: 0, middle: 1, end: 2 } as const;
const UP = { baseline: 0, middle: 2, top: 3 } as const;

function textShape(entity: TextEntity): DxfEntity {
  const isPlain = entity.anchorX === 'start' && entity.anchorY === 'baseline';
  const spot = at(10, entity.at);
  return {
    type: 'TEXT',
    tags: [
      [100, 'AcDbText'],
      ...spot,
      [40, entity.heightMm],
      [1, dxfWords(entity.text)],
      [50, degrees(-entity.rotationRad)],
      [7, 'Standard'],
      [72, ACROSS[entity.anchorX]],
      ...(isPlain ? [] : at(11, entity.at)),
      [100, 'AcDbText'],
      [73, UP[entity.anchorY]],
    ],
  };
}
