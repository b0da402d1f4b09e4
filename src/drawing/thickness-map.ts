import { input } from '../figures/inputs.ts';
import { outline, outlineLandmarks } from '../figures/outline.ts';
import { bridgeBackY, saddleY } from '../figures/saddle-place.ts';
import { figureValue, type Sheet } from '../graph/sheet.ts';
import { drawingOf } from './assemble.ts';
import { bodyOutline, bridge, centreLines, soundHole, trebleSide } from './face-parts.ts';
import { circle, type Drawing, type Entity, line, type PointMm, text } from './model.ts';

/** One thickness at a named spot of a plate. */
export interface SpotThickness {
  /** As the reading names it, e.g. `bridge, treble side`. */
  readonly spot: string;
  readonly thicknessMm: number;
  /** As it was judged when it was read. */
  readonly state?: 'met' | 'doubtful' | 'broken';
}

/** How far a spot lies from the wing of the bridge, mm: clear of the foot. */
const BESIDE_BRIDGE_MM = 24;
const LABEL_MM = 9;
const DOT_MM = 4;
const WIDE = { widthMm: 0.5 } as const;

/**
 * Where on the plate a named spot lies.
 *
 * @param spot  `bridge`, `upper bout`, `waist` or `lower bout`, then the side or `centre`
 * @returns     mm from neck end and centre line; undefined for a name that is not known
 * @source      common practice, no published source
 */
export function placeOfSpot(sheet: Sheet, spot: string): PointMm | undefined {
  const [where = '', side = 'centre'] = spot.split(',').map((w) => w.trim());
  const sign = side.startsWith('treble')
    ? trebleSide(sheet)
    : side.startsWith('bass')
      ? -trebleSide(sheet)
      : 0;
  const marks = figureValue(sheet, outlineLandmarks);
  const saddle = figureValue(sheet, saddleY);
  const bridgeLength = figureValue(sheet, input('bridge.length'));
  if (where === 'bridge' && saddle !== undefined && bridgeLength !== undefined)
    return { x: sign * (bridgeLength / 2 + BESIDE_BRIDGE_MM), y: saddle };
  if (!marks) return undefined;
  const tail = figureValue(sheet, outline)?.pieces.at(-1)?.p3.yMm;
  const back = figureValue(sheet, bridgeBackY);
  if (where === 'lower bout' && sign === 0 && tail !== undefined && back !== undefined)
    return { x: 0, y: (back + tail) / 2 };
  const mark = { 'upper bout': marks.upper, waist: marks.waist, 'lower bout': marks.lower }[where];
  return mark && { x: sign * mark.halfWidthMm * 0.75, y: mark.yMm };
}

/**
 * The thickness of a top as it was read, spot by spot, on its own outline seen from the front: a full dot where it was
 * met, a hollow one where it was doubtful, a cross where it was broken.
 *
 * @param spots    the last reading of each spot; a spot whose place is not known stays out
 * @param labelMm  height of the numbers, mm; > 0
 * @source       plane-geometry
 */
export function thicknessMap(sheet: Sheet, spots: readonly SpotThickness[], labelMm = LABEL_MM): Drawing {
  const entities = [
    ...bodyOutline(sheet),
    ...soundHole(sheet),
    ...bridge(sheet, 'hidden'),
    ...centreLines(sheet),
    ...spots.flatMap((s) => spotMark(s, placeOfSpot(sheet, s.spot), labelMm)),
  ];
  return drawingOf({
    id: 'thickness-map',
    title: 'Thickness of the top',
    seenFrom: 'the front',
    marginMm: 6,
    entities,
  });
}

function spotMark(spot: SpotThickness, at: PointMm | undefined, labelMm: number): readonly Entity[] {
  if (!at) return [];
  const r = DOT_MM / Math.SQRT2;
  const cross = ([1, -1] as const).map((way) =>
    line('dimension', { x: at.x - r, y: at.y - way * r }, { x: at.x + r, y: at.y + way * r }, WIDE),
  );
  const dot = circle('dimension', at, DOT_MM, {
    fill: spot.state === 'doubtful' ? 'white' : 'black',
    ...WIDE,
  });
  return [
    ...(spot.state === 'broken' ? cross : [dot]),
    text('text', { x: at.x, y: at.y - DOT_MM - 3 }, spot.thicknessMm.toFixed(2), labelMm, {
      weight: 700,
      anchorX: 'middle',
      hasHalo: true,
    }),
  ];
}
