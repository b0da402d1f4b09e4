import { pinX, saddleSlotLeftY, saddleSlotRightY } from '../figures/bridge.ts';
import { input, instrument } from '../figures/inputs.ts';
import { saddleAngle } from '../figures/saddle-line.ts';
import { anchorY, bridgeBackY, bridgeFrontY, saddleY } from '../figures/saddle-place.ts';
import { stringXSaddle } from '../figures/spacing.ts';
import { figureValue, type Sheet } from '../graph/sheet.ts';
import { formatDecimal } from '../quantity/print-length.ts';
import { heading, mark, note, pageOf } from './drawing-page.ts';
import { type DimensionWords, PLAIN_WORDS } from './drawn-number.ts';
import { bridge as bridgeOutline, trebleSide } from './face-parts.ts';
import { HATCH_PITCH_MM } from './line-types.ts';
import {
  arcAbout,
  box,
  closedPath,
  cubicTo,
  type Drawing,
  type Entity,
  hatch,
  horizontalDimension,
  leader,
  line,
  lineTo,
  type PointMm,
  polyline,
  verticalDimension,
} from './model.ts';
import { allOf, lengthWords, shownAs } from './shown-figure.ts';
import { translate } from './transform.ts';

/** All that the three views share; y from the front edge of the bridge toward the tail. */
interface BridgeSizes {
  readonly frontY: number;
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly wingMm: number;
  readonly saddleMm: number;
  readonly anchorMm: number;
  readonly slotWidthMm: number;
  readonly slotDepthMm: number;
  readonly slotLengthMm: number;
  readonly protrusionMm: number;
}

function sizesOf(sheet: Sheet): BridgeSizes | undefined {
  const v = allOf(sheet, {
    frontY: bridgeFrontY,
    backY: bridgeBackY,
    saddle: saddleY,
    anchor: anchorY,
    lengthMm: input('bridge.length'),
    heightMm: input('bridge.height'),
    wingMm: input('bridge.wing'),
    slotWidthMm: input('bridge.saddle_slot.width'),
    slotDepthMm: input('bridge.saddle_slot.depth'),
    slotLengthMm: input('bridge.saddle_slot.length'),
    protrusionMm: input('bridge.protrusion'),
  });
  if (!v) return undefined;
  return {
    ...v,
    widthMm: v.backY - v.frontY,
    saddleMm: v.saddle - v.frontY,
    anchorMm: v.anchor - v.frontY,
  };
}

/**
 * The bridge: from above with its slanted saddle slot and pins or tie block, from the front with its wings, and cut
 * across in the middle.
 *
 * @param words  unit of the dimensions, and the last revision to compare with
 * @returns      a drawing; parts whose figures cannot be had are left out
 * @source       plane-geometry
 */
export function bridgeDrawing(sheet: Sheet, words: DimensionWords = PLAIN_WORDS): Drawing {
  const sizes = sizesOf(sheet);
  const entities = sizes
    ? [...plan(sheet, sizes, words), ...frontView(sheet, sizes, words), ...middleCut(sheet, sizes, words)]
    : [];
  return pageOf('bridge', 'Bridge', 'above, front, cut', entities);
}

/** The saddle slot in its full width, slanted, with the round ends a router leaves. */
function slot(sheet: Sheet, { frontY, slotLengthMm, slotWidthMm }: BridgeSizes): readonly Entity[] {
  const v = allOf(sheet, { left: saddleSlotLeftY, right: saddleSlotRightY });
  if (!v) return [];
  const [a, b] = [
    { x: -slotLengthMm / 2, y: v.left - frontY },
    { x: slotLengthMm / 2, y: v.right - frontY },
  ];
  const angle = Math.atan2(b.y - a.y, b.x - a.x);
  const r = slotWidthMm / 2;
  const along = { x: Math.cos(angle) * r, y: Math.sin(angle) * r };
  const up = { x: Math.sin(angle) * r, y: -Math.cos(angle) * r };
  const [c, d] = [
    { x: a.x + along.x, y: a.y + along.y },
    { x: b.x - along.x, y: b.y - along.y },
  ];
  return [
    closedPath(
      'cut',
      { x: c.x + up.x, y: c.y + up.y },
      [
        lineTo({ x: d.x + up.x, y: d.y + up.y }),
        arcAbout(d, Math.PI),
        lineTo({ x: c.x - up.x, y: c.y - up.y }),
        arcAbout(c, Math.PI),
      ],
      { key: 'saddle', widthMm: 0.25 },
    ),
  ];
}

/** Where strings are tied or knotted: the block behind the saddle with its string holes. */
function tieBlock(sheet: Sheet, s: BridgeSizes): readonly Entity[] {
  const strings = figureValue(sheet, stringXSaddle);
  if (!strings || figureValue(sheet, pinX)) return [];
  const half = s.slotLengthMm / 2;
  return [
    polyline(
      'visible',
      [
        { x: -half, y: s.widthMm },
        { x: -half, y: s.anchorMm },
        { x: half, y: s.anchorMm },
        { x: half, y: s.widthMm },
      ],
      false,
      { key: 'bridge.anchor_y', widthMm: 0.25 },
    ),
    ...strings.map((x) =>
      line('hidden', { x, y: s.anchorMm }, { x, y: s.widthMm }, { key: 'bridge.anchor_y' }),
    ),
  ];
}

function plan(sheet: Sheet, s: BridgeSizes, words: DimensionWords): readonly Entity[] {
  const half = s.lengthMm / 2;
  const treble = trebleSide(sheet);
  const outline = translate(bridgeOutline(sheet, 'visible'), { x: 0, y: -s.frontY }).filter(
    ({ key }) => key !== 'saddle',
  );
  const slant = figureValue(sheet, saddleAngle);
  const tip = { x: -s.slotLengthMm * 0.3, y: s.saddleMm - s.slotWidthMm / 2 };
  const pins = figureValue(sheet, pinX);
  const outer = pins ? Math.max(...pins) : s.slotLengthMm / 2;
  return [
    ...outline,
    ...slot(sheet, s),
    ...tieBlock(sheet, s),
    line('centre', { x: 0, y: -6 }, { x: 0, y: s.widthMm + 6 }),
    line('centre', { x: -half - 5, y: s.saddleMm }, { x: half + 5, y: s.saddleMm }, { key: 'saddle.y' }),
    horizontalDimension({ x: -half, y: 0 }, { x: half, y: 0 }, -26, shownAs(sheet, 'bridge.length', words)),
    horizontalDimension(
      { x: -s.slotLengthMm / 2, y: s.saddleMm },
      { x: s.slotLengthMm / 2, y: s.saddleMm },
      -15,
      { ...shownAs(sheet, 'bridge.saddle_slot.length', words), textAtFrac: 0.75 },
    ),
    ...(pins
      ? [
          horizontalDimension({ x: -outer, y: s.anchorMm }, { x: outer, y: s.anchorMm }, s.widthMm + 11, {
            ...shownAs(sheet, 'bridge.pin_spread', words),
            textAtFrac: 0.75,
          }),
        ]
      : []),
    verticalDimension({ x: half, y: 0 }, { x: half, y: s.widthMm }, half + 32, {
      ...shownAs(sheet, 'bridge.width', words),
    }),
    verticalDimension({ x: half, y: 0 }, { x: half + 5, y: s.saddleMm }, half + 20, {
      ...shownAs(sheet, 'bridge.saddle_from_front', words),
    }),
    verticalDimension({ x: -half - 5, y: s.saddleMm }, { x: -outer, y: s.anchorMm }, -half - 12, {
      ...shownAs(sheet, 'bridge.anchor_behind', words),
    }),
    ...(slant === undefined
      ? []
      : [
          leader(
            tip,
            { x: -half - 4, y: -7 },
            `${lengthWords(s.slotWidthMm, words)} wide, slant ${formatDecimal(Math.abs(slant), 1)}\u00b0`,
            { key: 'scale.saddle_angle' },
          ),
        ]),
    mark({ x: -treble * (half - 12), y: s.widthMm + 8 }, 'BASS', { anchorX: 'middle' }),
    mark({ x: treble * (half - 12), y: s.widthMm + 8 }, 'TREBLE', { anchorX: 'middle' }),
    note({ x: 0, y: -33 }, 'front, toward the hole', { anchorX: 'middle' }),
  ];
}

/** How far the full height goes past the saddle slot, and how long the fall to the wing is (common practice, no published source). */
const PAST_SLOT_MM = 4;
const FALL_MM = 18;

function frontView(sheet: Sheet, s: BridgeSizes, words: DimensionWords): readonly Entity[] {
  const top = s.widthMm + 34;
  const foot = top + s.heightMm;
  const half = s.lengthMm / 2;
  const full = Math.min(s.slotLengthMm / 2 + PAST_SLOT_MM, half - 4);
  const fall = Math.min(FALL_MM, (half - full) * 0.8);
  const wing = foot - s.wingMm;
  const middle = fall / 2;
  const shape = closedPath(
    'cut',
    { x: -half, y: foot },
    [
      lineTo({ x: -half, y: wing }),
      lineTo({ x: -full - fall, y: wing }),
      cubicTo({ x: -full - middle, y: wing }, { x: -full, y: top + middle / 3 }, { x: -full, y: top }),
      lineTo({ x: full, y: top }),
      cubicTo({ x: full, y: top + middle / 3 }, { x: full + middle, y: wing }, { x: full + fall, y: wing }),
      lineTo({ x: half, y: wing }),
      lineTo({ x: half, y: foot }),
    ],
    { key: 'bridge', widthMm: 0.35 },
  );
  const saddle = {
    minX: -s.slotLengthMm / 2,
    maxX: s.slotLengthMm / 2,
    minY: top - s.protrusionMm,
    maxY: top,
  };
  return [
    shape,
    box('visible', saddle, { key: 'saddle', widthMm: 0.25 }),
    polyline(
      'hidden',
      [
        { x: saddle.minX, y: top },
        { x: saddle.minX, y: top + s.slotDepthMm },
        { x: saddle.maxX, y: top + s.slotDepthMm },
        { x: saddle.maxX, y: top },
      ],
      false,
      { key: 'bridge.saddle_slot.depth' },
    ),
    line('centre', { x: 0, y: top - s.protrusionMm - 5 }, { x: 0, y: foot + 5 }),
    verticalDimension(
      { x: full, y: top },
      { x: half, y: foot },
      half + 20,
      shownAs(sheet, 'bridge.height', words),
    ),
    verticalDimension({ x: -half, y: wing }, { x: -half, y: foot }, -half - 10, {
      ...shownAs(sheet, 'bridge.wing', words),
    }),
    heading({ x: -half, y: top - 9 }, 'From the front'),
    note({ x: 4, y: foot + 5 }, 'The foot is fitted to the dome; sizes are at the middle'),
  ];
}

/** Cut across in the middle, front at the left. */
function middleCut(sheet: Sheet, s: BridgeSizes, words: DimensionWords): readonly Entity[] {
  const top = s.widthMm + s.heightMm + 80;
  const foot = top + s.heightMm;
  const left = -s.widthMm / 2;
  const at = (x: number, y: number): PointMm => ({ x: left + x, y });
  const [a, b] = [s.saddleMm - s.slotWidthMm / 2, s.saddleMm + s.slotWidthMm / 2];
  const floor = top + s.slotDepthMm;
  const wood = polyline(
    'cut',
    [
      at(0, foot),
      at(0, top + 1.5),
      at(1.5, top),
      at(a, top),
      at(a, floor),
      at(b, floor),
      at(b, top),
      at(s.widthMm - 1.5, top),
      at(s.widthMm, top + 1.5),
      at(s.widthMm, foot),
    ],
    true,
    { key: 'bridge', widthMm: 0.35 },
  );
  const saddle = {
    minX: left + a,
    maxX: left + b,
    minY: top - s.protrusionMm,
    maxY: floor,
  };
  const isTied = figureValue(sheet, instrument) !== 'steel';
  const anchorX = s.anchorMm;
  const string = line('hidden', at(s.saddleMm, top - s.protrusionMm), at(anchorX, top), { key: 'strings' });
  const right = left + s.widthMm;
  return [
    hatch('channel', [wood], HATCH_PITCH_MM, { key: 'bridge' }),
    wood,
    box('visible', saddle, { key: 'saddle', fill: 'white', widthMm: 0.25 }),
    string,
    line('centre', at(anchorX, top - 3), at(anchorX, foot + 5), { key: 'bridge.anchor_y' }),
    verticalDimension(at(b, top - s.protrusionMm), at(s.widthMm, top), right + 12, {
      ...shownAs(sheet, 'bridge.protrusion', words),
    }),
    verticalDimension(at(b, top - s.protrusionMm), at(s.widthMm, foot), right + 28, {
      ...shownAs(sheet, 'bridge.string_height', words),
    }),
    verticalDimension(at(a, top), at(a, floor), left - 10, {
      ...shownAs(sheet, 'bridge.saddle_slot.depth', words),
    }),
    heading({ x: left - 40, y: top - 22 }, 'Cut in the middle'),
    note(
      { x: left - 40, y: foot + 12 },
      isTied
        ? 'Front at the left. Chain line: where the string leaves the tie block'
        : 'Front at the left. Chain line: pins',
    ),
  ];
}
