import { bendMarks } from '../figures/bending.ts';
import { topDome } from '../figures/dome.ts';
import { handed, input } from '../figures/inputs.ts';
import { outline } from '../figures/outline.ts';
import { backEdgeZMm, backSphere, topEdgeZMm } from '../figures/rim.ts';
import { type StripStation, sideStrip } from '../figures/side-strip.ts';
import { pointAtArc } from '../geometry/half-outline.ts';
import { figureValue, type Sheet } from '../graph/sheet.ts';
import { formatDecimal } from '../quantity/print-length.ts';
import { mark, note, pageOf } from './drawing-page.ts';
import { type DimensionWords, PLAIN_WORDS } from './drawn-number.ts';
import {
  closedPath,
  type Drawing,
  type Entity,
  horizontalDimension,
  line,
  lineTo,
  text,
  verticalDimension,
} from './model.ts';
import { allOf, lengthWords, shownAs } from './shown-figure.ts';
import { type CurvePoint, curveThrough, movedDown } from './smooth-curve.ts';

/** Everything the strip is drawn from; x along the strip from the neck end, y from the rim plane toward the back. */
interface Strip {
  readonly top: readonly CurvePoint[];
  readonly back: readonly CurvePoint[];
  readonly stations: readonly StripStation[];
  readonly lengthMm: number;
  readonly spareEdgeMm: number;
  readonly spareEndMm: number;
}

/** Half of the step over which a slope is taken. */
const SLOPE_STEP_MM = 0.05;

function stripOf(sheet: Sheet): Strip | undefined {
  const v = allOf(sheet, {
    stations: sideStrip,
    shape: outline,
    dome: topDome,
    sphere: backSphere,
    spareEdgeMm: input('allowance.strip_edge'),
    spareEndMm: input('allowance.strip_end'),
  });
  if (!v) return undefined;
  const { lengthMm } = v.shape;
  const slopeAt = (arcMm: number, zAt: (x: number, y: number) => number | undefined): number => {
    // the outline leaves the centre line at a right angle: both ends are level
    if (arcMm < SLOPE_STEP_MM || arcMm > lengthMm - SLOPE_STEP_MM) return 0;
    const [a, b] = [-SLOPE_STEP_MM, SLOPE_STEP_MM].map((d) => {
      const p = pointAtArc(v.shape, arcMm + d);
      return zAt(p.xMm, p.yMm);
    });
    return a === undefined || b === undefined ? 0 : (b - a) / (2 * SLOPE_STEP_MM);
  };
  const edge = (
    of: (s: StripStation) => number,
    zAt: (x: number, y: number) => number | undefined,
  ): readonly CurvePoint[] =>
    v.stations.map((s) => ({ x: s.arcMm, y: of(s), slopeRatio: slopeAt(s.arcMm, zAt) }));
  return {
    top: edge(
      (s) => s.topZMm,
      (x, y) => topEdgeZMm(v.dome, x, y),
    ),
    back: edge(
      (s) => s.backZMm,
      (x, y) => backEdgeZMm(v.sphere, x, y),
    ),
    stations: v.stations,
    lengthMm,
    spareEdgeMm: v.spareEdgeMm,
    spareEndMm: v.spareEndMm,
  };
}

/**
 * One side before it is bent: the true development of the rim, with the spare wood on edges and ends, stations every
 * 20 mm and the marks that go to the bending former.
 *
 * @param words  unit of the dimensions, and the last revision to compare with
 * @returns      a drawing; parts whose figures cannot be had are left out
 * @source       plane-geometry
 */
export function sideStripDrawing(sheet: Sheet, words: DimensionWords = PLAIN_WORDS): Drawing {
  const strip = stripOf(sheet);
  const entities = strip
    ? [
        ...edges(strip),
        ...stationTicks(sheet, strip, words),
        ...landmarkTicks(sheet, strip),
        ...lengths(sheet, strip, words),
        ...heights(sheet, strip, words),
        ...marks(sheet, strip),
      ]
    : [];
  return pageOf('side-strip', 'Side strip, flat', 'outside, before bending', entities);
}

/** The finished strip and, around it, the blank it is sawn as. */
function edges({ top, back, lengthMm, spareEdgeMm, spareEndMm }: Strip): readonly Entity[] {
  const loop = (spareMm: number, endMm: number) => {
    const upper = movedDown(top, -spareMm);
    const lower = movedDown(back, spareMm).toReversed();
    const [first, last] = [upper[0] as CurvePoint, lower[0] as CurvePoint];
    const end = lower.at(-1) as CurvePoint;
    return {
      start: { x: -endMm, y: first.y },
      segments: [
        ...(endMm > 0 ? [lineTo({ x: 0, y: first.y })] : []),
        ...curveThrough(upper),
        ...(endMm > 0
          ? [
              lineTo({ x: lengthMm + endMm, y: (upper.at(-1) as CurvePoint).y }),
              lineTo({ x: lengthMm + endMm, y: last.y }),
            ]
          : []),
        lineTo({ x: lengthMm, y: last.y }),
        ...curveThrough(lower),
        ...(endMm > 0 ? [lineTo({ x: -endMm, y: end.y })] : []),
      ],
    };
  };
  const [net, blank] = [loop(0, 0), loop(spareEdgeMm, spareEndMm)];
  const ends = [0, lengthMm].map((x) => {
    const i = x === 0 ? 0 : top.length - 1;
    return line(
      'centre',
      { x, y: (top[i] as CurvePoint).y - spareEdgeMm - 4 },
      { x, y: (back[i] as CurvePoint).y + spareEdgeMm + 4 },
      { key: 'rim' },
    );
  });
  return [
    closedPath('visible', blank.start, blank.segments, { key: 'side.strip.height.most' }),
    closedPath('cut', net.start, net.segments, { key: 'side.strip' }),
    ...ends,
  ];
}

const TICK_MM = 10;
const LANDMARK_TICK_MM = 16;
const STATION_WORD_MM = 2.2;
const UP = -Math.PI / 2;

/** A station this near to a landmark gives way to it. */
const STATION_ROOM_MM = 4;

function landmarksOf(sheet: Sheet): readonly { readonly arcMm: number; readonly label: string }[] {
  return (figureValue(sheet, bendMarks) ?? []).map((m) => ({
    arcMm: m.value,
    label: m.label.replace(/^Mark, /, ''),
  }));
}

/** Ticks at both edges every 20 mm: above the distance from the neck end, at the back edge the height of the rim. */
function stationTicks(sheet: Sheet, strip: Strip, words: DimensionWords): readonly Entity[] {
  const landmarks = landmarksOf(sheet);
  const isFree = (arcMm: number): boolean =>
    landmarks.every((l) => Math.abs(l.arcMm - arcMm) > STATION_ROOM_MM);
  return strip.stations
    .filter(({ arcMm }, index) => {
      const isLast = index === strip.stations.length - 1;
      const isCrowded = !isLast && strip.lengthMm - arcMm < STATION_ROOM_MM;
      return isFree(arcMm) && !isCrowded;
    })
    .flatMap((s) => {
      const key = `side.strip.height_along.${Math.round(s.arcMm)}`;
      return tick(strip, s, TICK_MM, lengthWords(s.backZMm - s.topZMm, words), key, { widthMm: 0.2 }).concat(
        text(
          'text',
          { x: s.arcMm + STATION_WORD_MM / 2, y: s.topZMm - strip.spareEdgeMm - 5.5 },
          formatDecimal(s.arcMm, 1).replace(/\.0$/, ''),
          STATION_WORD_MM,
          { rotationRad: UP, key },
        ),
      );
    });
}

function tick(
  strip: Strip,
  s: { readonly arcMm: number; readonly topZMm: number; readonly backZMm: number },
  lengthMm: number,
  height: string,
  key: string,
  look: { readonly widthMm: number },
): readonly Entity[] {
  const x = s.arcMm;
  const isEnd = x === 0 || x === strip.lengthMm;
  // at the ends the tick is the end of the strip itself; its height stands inside
  const wordX = x === 0 ? x + STATION_WORD_MM + 1.5 : x - 1.2;
  return [
    ...(isEnd
      ? []
      : [
          line('dimension', { x, y: s.topZMm }, { x, y: s.topZMm + lengthMm }, { key, ...look }),
          line('dimension', { x, y: s.backZMm }, { x, y: s.backZMm - TICK_MM }, { key, ...look }),
        ]),
    text('text', { x: wordX, y: s.backZMm - 1.5 }, height, STATION_WORD_MM, { rotationRad: UP, key }),
  ];
}

/** Bouts and waist: longer, heavier ticks with their names. */
function landmarkTicks(sheet: Sheet, strip: Strip): readonly Entity[] {
  const { shape, dome, sphere } = allOf(sheet, { shape: outline, dome: topDome, sphere: backSphere }) ?? {};
  if (!shape || !dome || !sphere) return [];
  return landmarksOf(sheet).flatMap(({ arcMm, label }) => {
    const { xMm, yMm } = pointAtArc(shape, arcMm);
    const topZMm = topEdgeZMm(dome, xMm, yMm);
    const backZMm = backEdgeZMm(sphere, xMm, yMm);
    if (topZMm === undefined || backZMm === undefined) return [];
    const key = `bending.mark.${label.replace(' ', '_')}`;
    const height = formatDecimal(backZMm - topZMm, 1).replace(/\.0$/, '');
    const y = topZMm - strip.spareEdgeMm - 17;
    return [
      ...tick(strip, { arcMm, topZMm, backZMm }, LANDMARK_TICK_MM, height, key, { widthMm: 0.5 }),
      line('visible', { x: arcMm, y: topZMm - strip.spareEdgeMm }, { x: arcMm, y: y + 2 }, { key }),
      mark({ x: arcMm, y }, label.toUpperCase(), { anchorX: 'middle', key }),
    ];
  });
}

const ROW_MM = 9;

/** Rows below the strip, the shortest next to it, all from the sawn neck end. */
function lengths(sheet: Sheet, strip: Strip, words: DimensionWords): readonly Entity[] {
  const fromX = -strip.spareEndMm;
  const back = (i: number): number => (strip.back.at(i) as CurvePoint).y + strip.spareEdgeMm;
  const lowest = Math.max(...strip.back.map(({ y }) => y)) + strip.spareEdgeMm;
  const row = (index: number, id: string, endX: number, startX = fromX): Entity =>
    horizontalDimension(
      { x: startX, y: back(0) },
      { x: endX, y: endX > strip.lengthMm ? back(-1) : lowest },
      lowest + 9 + index * ROW_MM,
      { ...shownAs(sheet, id, words), textAtFrac: 0.8 },
    );
  return [
    ...landmarksOf(sheet).map(({ arcMm, label }, i) =>
      row(i, `bending.mark_on_strip.${label.replace(' ', '_')}`, arcMm),
    ),
    row(3, 'outline.half_perimeter', strip.lengthMm, 0),
    row(4, 'side.strip.length', strip.lengthMm + strip.spareEndMm),
  ];
}

function heights(sheet: Sheet, strip: Strip, words: DimensionWords): readonly Entity[] {
  const at = (id: string, index: 0 | -1, x: number, lineX: number): Entity => {
    const from = { x, y: (strip.top.at(index) as CurvePoint).y - strip.spareEdgeMm };
    const to = { x, y: (strip.back.at(index) as CurvePoint).y + strip.spareEdgeMm };
    return verticalDimension(from, to, lineX, shownAs(sheet, id, words));
  };
  const right = strip.lengthMm + strip.spareEndMm;
  return [
    at('side.strip.height.neck', 0, -strip.spareEndMm, -strip.spareEndMm - 9),
    at('side.strip.height.tail', -1, right, right + 12),
  ];
}

/** NECK, TAIL, which face and which edge. */
function marks(sheet: Sheet, strip: Strip): readonly Entity[] {
  // seen from outside with the top edge up the neck lies left on the side at - x, the bass side of a right-handed one
  const [shown, other] = figureValue(sheet, handed) === 'left' ? ['TREBLE', 'BASS'] : ['BASS', 'TREBLE'];
  const middle = (index: 0 | -1): number =>
    ((strip.top.at(index) as CurvePoint).y + (strip.back.at(index) as CurvePoint).y) / 2;
  const turned = { rotationRad: UP, anchorX: 'middle', anchorY: 'middle' } as const;
  const top = (strip.top[0] as CurvePoint).y + LANDMARK_TICK_MM + 6;
  return [
    mark({ x: -strip.spareEndMm / 2, y: middle(0) }, 'NECK', turned),
    mark({ x: strip.lengthMm + strip.spareEndMm / 2, y: middle(-1) }, 'TAIL', turned),
    mark({ x: 26, y: top }, `OUTSIDE of the ${shown} side`),
    mark({ x: 26, y: top + 7 }, `${other} side: turned over`),
    note({ x: 118, y: top }, 'TOP EDGE above, BACK EDGE below; finished line inside, saw line outside'),
    note(
      { x: 118, y: top + 5 },
      'Numbers: above along the strip from the neck end, below the height of the rim, mm',
    ),
  ];
}
