import { lapDepth, lapWidth } from '../figures/brace-x.ts';
import { type BraceSegment, backSegments, braceCrossings, braceSegments } from '../figures/braces.ts';
import { topDome } from '../figures/dome.ts';
import { input } from '../figures/inputs.ts';
import { figureValue, numberOf, type Sheet } from '../graph/sheet.ts';
import { heading, NOTE_MM, note, pageOf } from './drawing-page.ts';
import { type DimensionWords, PLAIN_WORDS } from './drawn-number.ts';
import { braceKey } from './face-parts.ts';
import {
  arcAbout,
  closedPath,
  cubicTo,
  type Drawing,
  type Entity,
  lineTo,
  type PathSegment,
  type PointMm,
  verticalDimension,
} from './model.ts';
import { lengthWords } from './shown-figure.ts';
import { textWidthMm } from './text-size.ts';
import { translate } from './transform.ts';

/** Bars that come down to the rim end so high, to lie under or in the lining (common practice, no published source). */
const END_HEIGHT_MM = 2.5;
/** The fall toward an end takes at most this, and at most this share of the bar (common practice, no published source). */
const FALL_MM = 60;
const FALL_SHARE = 0.25;

/** One bar ready to be drawn. */
interface Bar {
  readonly segment: BraceSegment;
  readonly key: string;
  readonly lengthMm: number;
  /** Radius of the arc its foot follows; undefined: straight. */
  readonly footRadiusMm: number | undefined;
  readonly notch: Notch | undefined;
}

/** A lap notch: middle along the bar, width along it, depth; from the free edge or from the foot. */
interface Notch {
  readonly atMm: number;
  readonly widthMm: number;
  readonly depthMm: number;
  readonly isFromFoot: boolean;
}

/**
 * Every bar of top and back from its side, foot downward: height, ends, curve of the foot and lap notches.
 *
 * @param words  unit of the dimensions, and the last revision to compare with
 * @returns      a drawing; parts whose figures cannot be had are left out
 * @assumes      the fall toward the ends is a shop habit; length, height, notches and curve of the foot come from the pattern
 * @source       common practice, no published source
 */
export function braceHeights(sheet: Sheet, words: DimensionWords = PLAIN_WORDS): Drawing {
  return pageOf('brace-heights', 'Bars from the side', 'the side, foot down', laidOut(sheet, words));
}

/** Radius of the circle in which an upright plane through the bar cuts the dome. */
function footRadius(
  { from, to }: BraceSegment,
  radiusMm: number | undefined,
  apexYMm: number,
): number | undefined {
  if (radiusMm === undefined) return undefined;
  const [dx, dy] = [to.xMm - from.xMm, to.yMm - from.yMm];
  const off = Math.abs((0 - from.xMm) * dy - (apexYMm - from.yMm) * dx) / Math.hypot(dx, dy);
  return off < radiusMm ? Math.sqrt(radiusMm * radiusMm - off * off) : undefined;
}

function barsOf(sheet: Sheet): readonly Bar[] {
  const dome = figureValue(sheet, topDome);
  const backRadius = figureValue(sheet, input('dome.back.radius'));
  const backApex = numberOf(sheet, 'dome.back.apex_y') ?? 0;
  const top = (figureValue(sheet, braceSegments) ?? []).map((segment) => ({
    segment,
    key: braceKey(segment),
    radius: footRadius(segment, dome?.radiusMm, dome?.apexYMm ?? 0),
  }));
  const back = (figureValue(sheet, backSegments) ?? []).map((segment) => ({
    segment,
    key: `back.${segment.id}`,
    radius: footRadius(segment, backRadius, backApex),
  }));
  return [...top, ...back].map(({ segment, key, radius }) => ({
    segment,
    key,
    lengthMm: Math.hypot(segment.to.xMm - segment.from.xMm, segment.to.yMm - segment.from.yMm),
    footRadiusMm: radius,
    notch: notchOf(sheet, segment),
  }));
}

function notchOf(sheet: Sheet, { id, from }: BraceSegment): Notch | undefined {
  const lap = (figureValue(sheet, braceCrossings) ?? []).find(
    (c) => c.kind === 'lap' && (c.first === id || c.second === id),
  );
  const depthMm = figureValue(sheet, lapDepth);
  const widthMm = figureValue(sheet, lapWidth);
  if (!lap || depthMm === undefined || widthMm === undefined) return undefined;
  const atMm = Math.hypot(lap.at.xMm - from.xMm, lap.at.yMm - from.yMm);
  return { atMm, widthMm, depthMm, isFromFoot: lap.second === id };
}

/** The bar with its left foot corner at x = 0; the foot's corners at y = 0. */
function barShape({ segment, lengthMm, footRadiusMm, notch, key }: Bar): readonly Entity[] {
  const low = Math.min(END_HEIGHT_MM, segment.heightMm);
  const fall = Math.min(FALL_MM, lengthMm * FALL_SHARE);
  // the foot bulges downward, toward the plate
  const bulgeAt = (x: number): number => {
    if (footRadiusMm === undefined) return 0;
    const u = x - lengthMm / 2;
    const half = lengthMm / 2;
    return (
      Math.sqrt(footRadiusMm * footRadiusMm - u * u) - Math.sqrt(footRadiusMm * footRadiusMm - half * half)
    );
  };
  const top = bulgeAt(lengthMm / 2) - segment.heightMm;
  const notched = (isFromFoot: boolean, yAt: (x: number) => number, sign: 1 | -1): readonly PathSegment[] => {
    if (!notch || notch.isFromFoot !== isFromFoot) return [];
    const [a, b] = [notch.atMm - (sign * notch.widthMm) / 2, notch.atMm + (sign * notch.widthMm) / 2];
    const floor = yAt(notch.atMm) + (isFromFoot ? -notch.depthMm : notch.depthMm);
    return [lineTo({ x: a, y: floor }), lineTo({ x: b, y: floor }), lineTo({ x: b, y: yAt(b) })];
  };
  const footArc = (from: number, to: number): PathSegment => {
    const end = { x: to, y: bulgeAt(to) };
    if (footRadiusMm === undefined) return lineTo(end);
    const centre = { x: lengthMm / 2, y: bulgeAt(lengthMm / 2) - footRadiusMm };
    const angle = (x: number): number => Math.asin((x - lengthMm / 2) / footRadiusMm);
    return arcAbout(centre, angle(from) - angle(to));
  };
  const feet = ((): readonly PathSegment[] => {
    if (!notch?.isFromFoot) return [footArc(lengthMm, 0)];
    const [right, left] = [notch.atMm + notch.widthMm / 2, notch.atMm - notch.widthMm / 2];
    return [footArc(lengthMm, right), ...notched(true, bulgeAt, -1), footArc(left, 0)];
  })();
  const level = (x: number): PointMm => ({ x, y: top });
  const topNotch =
    notch && !notch.isFromFoot
      ? [lineTo(level(notch.atMm - notch.widthMm / 2)), ...notched(false, () => top, 1)]
      : [];
  return [
    closedPath(
      'cut',
      { x: 0, y: 0 },
      [
        lineTo({ x: 0, y: -low }),
        cubicTo({ x: fall * 0.5, y: -low }, { x: fall * 0.6, y: top }, level(fall)),
        ...topNotch,
        lineTo(level(lengthMm - fall)),
        cubicTo(
          { x: lengthMm - fall * 0.6, y: top },
          { x: lengthMm - fall * 0.5, y: -low },
          { x: lengthMm, y: -low },
        ),
        lineTo({ x: lengthMm, y: 0 }),
        ...feet,
      ],
      { key, widthMm: 0.35 },
    ),
  ];
}

/** What is written over a bar. */
function wordsOf(bar: Bar, words: DimensionWords): readonly string[] {
  const { segment, lengthMm, footRadiusMm, notch } = bar;
  const mm = (v: number): string => lengthWords(v, words);
  const foot = footRadiusMm === undefined ? 'foot straight' : `foot R ${mm(Math.round(footRadiusMm))}`;
  const lap = notch
    ? [
        `lap ${mm(notch.widthMm)} wide, ${mm(notch.depthMm)} deep ${notch.isFromFoot ? 'from the foot' : 'from the free edge'}, middle ${mm(notch.atMm)} from the left`,
      ]
    : [];
  return [`${mm(segment.widthMm)} wide, ${mm(lengthMm)} long, ${foot}`, ...lap];
}

const GAP_MM = 16;
const WORD_ROW_MM = 4.2;
const DIMENSION_ROOM_MM = 14;

/** One bar with its words above and its height at the left, upper left corner at the origin. */
function barPicture(bar: Bar, words: DimensionWords) {
  const lines = wordsOf(bar, words);
  const head = `${bar.segment.id}  ${bar.segment.role}`;
  const wordsMm = Math.max(
    textWidthMm(head, { heightMm: 3.2, face: 'sans', weight: 600 }),
    ...lines.map((l) => textWidthMm(l, { heightMm: NOTE_MM, face: 'sans', weight: 400 })),
  );
  const bulge = bar.footRadiusMm === undefined ? 0 : bar.lengthMm ** 2 / (8 * bar.footRadiusMm);
  const foot = 6 + lines.length * WORD_ROW_MM + 8 + bar.segment.heightMm - bulge;
  const entities = [
    heading({ x: 0, y: 4 }, head, { key: bar.key }),
    ...lines.map((l, i) => note({ x: 0, y: 4 + (i + 1) * WORD_ROW_MM }, l, { key: bar.key })),
    ...translate(barShape(bar), { x: 0, y: foot }),
    verticalDimension({ x: 0, y: foot + bulge - bar.segment.heightMm }, { x: 0, y: foot + bulge }, -7, {
      text: lengthWords(bar.segment.heightMm, words),
      key: bar.key,
    }),
  ];
  return {
    entities: translate(entities, { x: DIMENSION_ROOM_MM, y: 0 }),
    widthMm: DIMENSION_ROOM_MM + Math.max(bar.lengthMm, wordsMm),
    heightMm: foot + bulge,
  };
}

/** Rows filled from the left, longest bars first. */
function laidOut(sheet: Sheet, words: DimensionWords): readonly Entity[] {
  const bars = [...barsOf(sheet)].sort((a, b) => b.lengthMm - a.lengthMm);
  const pictures = bars.map((bar) => barPicture(bar, words));
  const room = Math.max(0, ...pictures.map((p) => p.widthMm));
  const out: Entity[] = [];
  let [x, y, rowMm] = [0, 0, 0];
  for (const picture of pictures) {
    if (x > 0 && x + picture.widthMm > room) [x, y, rowMm] = [0, y + rowMm + GAP_MM, 0];
    out.push(...translate(picture.entities, { x, y }));
    x += picture.widthMm + GAP_MM;
    rowMm = Math.max(rowMm, picture.heightMm);
  }
  if (pictures.length === 0) return [];
  const said = `Ends fall to ${lengthWords(END_HEIGHT_MM, words)} by habit of this drawing; let in or feather them as your route says.`;
  return [...out, note({ x: 0, y: y + rowMm + GAP_MM + 2 }, said)];
}
