import { drawingOf, merge } from '../../src/drawing/assemble.ts';
import { HATCH_PITCH_MM } from '../../src/drawing/line-types.ts';
import {
  alignedDimension,
  angleDimension,
  arc,
  arcAbout,
  box,
  circle,
  circleLoop,
  closedPath,
  cubicTo,
  type Drawing,
  diameterDimension,
  type Entity,
  hatch,
  horizontalDimension,
  leader,
  line,
  lineTo,
  openPath,
  type PathSegment,
  polyline,
  radiusDimension,
  text,
  verticalDimension,
} from '../../src/drawing/model.ts';

/*
 * An invented plate that holds every kind of entity on every layer: what golden files, readers and pixels are
 * tried on. It is no instrument of the product.
 */

/** Right half of the outline from the neck end to the tail, then the left half back, as cubics. */
function outlineSegments(growMm: number): readonly PathSegment[] {
  const grow = (x: number) => x + Math.sign(x) * growMm;
  const half = (side: 1 | -1): PathSegment[] => [
    cubicTo({ x: grow(side * 80), y: 0 }, { x: grow(side * 139), y: 38 }, { x: grow(side * 139), y: 98 }),
    cubicTo(
      { x: grow(side * 139), y: 140 },
      { x: grow(side * 118), y: 150 },
      { x: grow(side * 118), y: 186 },
    ),
    cubicTo(
      { x: grow(side * 118), y: 236 },
      { x: grow(side * 188), y: 262 },
      { x: grow(side * 188), y: 350 },
    ),
    cubicTo({ x: grow(side * 188), y: 440 }, { x: grow(side * 100), y: 480 }, { x: 0, y: 480 }),
  ];
  return [...half(1), ...reversed(half(-1), { x: 0, y: 0 })];
}

function reversed(segments: readonly PathSegment[], start: { x: number; y: number }): PathSegment[] {
  const starts = [start, ...segments.flatMap((segment) => (segment.kind === 'cubic' ? [segment.to] : []))];
  return segments
    .map((segment, index) =>
      segment.kind === 'cubic' ? cubicTo(segment.control2, segment.control1, starts[index]!) : segment,
    )
    .reverse();
}

const HOLE = { x: 0, y: 142 };
const deg = Math.PI / 180;

function parts(): readonly Entity[] {
  const outline = closedPath('cut', { x: 0, y: 0 }, outlineSegments(0), {
    key: 'body.outline',
    handle: { inputId: 'body.waist', axis: 'x', gainRatio: 2 },
  });
  return [
    box('grid', { minX: -200, minY: 0, maxX: 200, maxY: 480 }),
    closedPath('ghost', { x: 0, y: 0 }, outlineSegments(-3)),
    outline,
    line('centre', { x: 0, y: -12 }, { x: 0, y: 492 }),
    line('centre', { x: -72, y: 142 }, { x: 72, y: 142 }),
    circle('cut', HOLE, 49, { key: 'hole.radius' }),
    circle('visible', HOLE, 55),
    circle('visible', HOLE, 62),
    hatch('channel', [circleLoop(HOLE, 62), circleLoop(HOLE, 55)], HATCH_PITCH_MM),
    bar(-132, -132 + 264, 78, 90),
    polyline('hidden', brace(1), true),
    polyline('hidden', brace(-1), true),
    closedPath('visible', { x: -70, y: 272 }, [
      lineTo({ x: 70, y: 272 }),
      arcAbout({ x: 70, y: 278 }, Math.PI / 2),
      lineTo({ x: 76, y: 300 }),
      arcAbout({ x: 70, y: 300 }, Math.PI / 2),
      lineTo({ x: -70, y: 306 }),
      arcAbout({ x: -70, y: 300 }, Math.PI / 2),
      lineTo({ x: -76, y: 278 }),
      arcAbout({ x: -70, y: 278 }, Math.PI / 2),
    ]),
    openPath('visible', { x: -36, y: 284 }, [lineTo({ x: 36, y: 281 })], { widthMm: 0.7 }),
    arc('ghost', HOLE, 66, 20 * deg, 140 * deg),
  ];
}

function bar(minX: number, maxX: number, minY: number, maxY: number): Entity {
  return box('hidden', { minX, minY, maxX, maxY });
}

function brace(side: 1 | -1): readonly { x: number; y: number }[] {
  const corner = (x: number, y: number) => ({ x: side * x, y });
  return [corner(-128, 100), corner(-122, 96), corner(184, 372), corner(178, 378)];
}

function notes(): readonly Entity[] {
  return [
    horizontalDimension({ x: -139, y: 98 }, { x: 139, y: 98 }, -30, { text: '278', second: '10 15/16 in' }),
    horizontalDimension({ x: -118, y: 186 }, { x: 118, y: 186 }, 186, { key: 'body.waist' }),
    horizontalDimension({ x: -188, y: 350 }, { x: 188, y: 350 }, 505, { was: '370', revision: '4' }),
    verticalDimension({ x: 0, y: 0 }, { x: 0, y: 480 }, -214, { second: '18 57/64 in' }),
    verticalDimension({ x: 0, y: 0 }, HOLE, 205),
    verticalDimension({ x: 130, y: 78 }, { x: 130, y: 90 }, 160),
    alignedDimension({ x: 184, y: 372 }, { x: 178, y: 378 }, -10),
    diameterDimension(HOLE, 49, -50 * deg),
    radiusDimension(HOLE, 62, 205 * deg, { text: '55 to 62', outsideMm: 24 }),
    radiusDimension({ x: 70, y: 278 }, 6, -45 * deg),
    angleDimension({ x: 0, y: 212 }, 30, (90 - 42) * deg, 84 * deg, { text: '96\u00b0' }),
    leader({ x: -60, y: 84 }, { x: -90, y: 40 }, 'upper bar 12.0 \u00d7 14.5'),
    text('text', { x: 0, y: -16 }, 'NECK', 5, { weight: 700, anchorX: 'middle' }),
    text('text', { x: -180, y: 440 }, 'BASS', 5, { weight: 700 }),
    text('text', { x: 180, y: 440 }, 'TREBLE', 5, { weight: 700, anchorX: 'end' }),
    text('text', { x: 0, y: 340 }, 'Plate for trials', 7, { face: 'name', weight: 700, anchorX: 'middle' }),
    text('text', { x: 0, y: 352 }, 'Wrze\u015bnia, \u0141\u00f3d\u017a: 2.70 \u2212 0.05', 3.5, {
      weight: 600,
      anchorX: 'middle',
      anchorY: 'middle',
    }),
    circle('accent', { x: 46, y: 178 }, 1.6, { fill: 'black' }),
  ];
}

/** The whole specimen, seen from the front. */
export function specimenDrawing(): Drawing {
  return drawingOf({
    id: 'specimen',
    title: 'Plate for trials',
    seenFrom: 'the front',
    marginMm: 6,
    entities: merge(parts(), notes()),
  });
}
