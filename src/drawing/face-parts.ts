import { boardWidthEnd } from '../figures/board.ts';
import { braceFeet } from '../figures/brace-ends.ts';
import { type BraceSegment, braceSegments } from '../figures/braces.ts';
import { pinX, saddleSlotLeftY, saddleSlotRightY } from '../figures/bridge.ts';
import { plateShape } from '../figures/bridge-plate.ts';
import { fretPlace } from '../figures/frets.ts';
import { bridgePlateFitted, handed, input, topBarSpecs } from '../figures/inputs.ts';
import { boardEndY, neckJoin } from '../figures/join.ts';
import { outline } from '../figures/outline.ts';
import { anchorY, bridgeBackY, bridgeFrontY } from '../figures/saddle-place.ts';
import { figureValue, type Sheet } from '../graph/sheet.ts';
import { wholeOutline } from './body-outline.ts';
import { HATCH_PITCH_MM, type LayerName } from './line-types.ts';
import {
  arcAbout,
  circle,
  circleLoop,
  closedPath,
  type Entity,
  type Handle,
  hatch,
  line,
  lineTo,
  openPath,
  type PointMm,
  polyline,
} from './model.ts';

/*
 * The parts that the views of the body share. Each takes a sheet and gives what stands on it; a part whose figures
 * cannot be had is left out, so that the rest of the drawing stays. Keys are the places that rules name.
 */

/** How far the neck is shown above the body before it is broken off, mm. */
export const NECK_SHOWN_MM = 56;

/** The body: a sheet-coloured ground and the outline. @source plane-geometry */
export function bodyOutline(sheet: Sheet): readonly Entity[] {
  const shape = figureValue(sheet, outline);
  if (!shape) return [];
  const { start, segments } = wholeOutline(shape);
  return [
    closedPath('grid', start, segments, { fill: 'white', isStroked: false }),
    closedPath('cut', start, segments, { key: 'outline' }),
  ];
}

/** The sound hole, with a handle on its edge. @source plane-geometry */
export function soundHole(sheet: Sheet, layer: LayerName = 'cut'): readonly Entity[] {
  const y = figureValue(sheet, input('hole.centre_y'));
  const radius = figureValue(sheet, input('hole.radius'));
  if (y === undefined || radius === undefined) return [];
  const about = { x: 0, y };
  const handle = { inputId: 'hole.radius', axis: 'radial', about } as const;
  return [circle(layer, about, radius, { key: 'hole', handle, fill: 'white', widthMm: 0.35 })];
}

/** The channel of the ring: hatched between its two edges. @source plane-geometry */
export function ringChannel(sheet: Sheet): readonly Entity[] {
  const y = figureValue(sheet, input('hole.centre_y'));
  const inner = figureValue(sheet, input('rosette.inner_radius'));
  const outer = figureValue(sheet, input('rosette.outer_radius'));
  if (y === undefined || inner === undefined || outer === undefined || outer <= inner) return [];
  const centre = { x: 0, y };
  const loops = [circleLoop(centre, outer), circleLoop(centre, inner)];
  return [
    hatch('channel', loops, HATCH_PITCH_MM, { key: 'rosette' }),
    circle('channel', centre, inner, { key: 'rosette' }),
    circle('channel', centre, outer, { key: 'rosette' }),
  ];
}

/** Corners of the feet of the bars, trimmed to the outline; square where there is no outline. */
function footCorners(sheet: Sheet, bars: readonly BraceSegment[]): readonly (readonly PointMm[])[] {
  const feet = new Map(figureValue(sheet, braceFeet)?.map((f) => [f.id, f.polygon]));
  return bars.map((bar) => (feet.get(bar.id) ?? bar.polygon).map(({ xMm, yMm }) => ({ x: xMm, y: yMm })));
}

const isLeg = ({ id }: BraceSegment): boolean => id.startsWith('X-');

/** Key of a bar: `brace.x` for the legs, `brace.ID` for the others. @source arithmetic */
export function braceKey(bar: BraceSegment): string {
  return isLeg(bar) ? 'brace.x' : `brace.${bar.id}`;
}

/**
 * The feet of all bars of the top. Bars with two given ends can be moved along the body.
 *
 * @param layer  `hidden` seen through the plate, `visible` from inside
 * @source       plane-geometry
 */
export function topBars(sheet: Sheet, layer: 'hidden' | 'visible'): readonly Entity[] {
  const bars = figureValue(sheet, braceSegments) ?? [];
  const corners = footCorners(sheet, bars);
  const fan = fanHandle(sheet, bars);
  return bars.map((bar, i) => {
    const own: Handle = { inputId: `brace.bars.${bar.id}`, axis: 'y' };
    const handle = bar.id === fan?.id ? fan.handle : isLeg(bar) ? undefined : own;
    const fill = isLeg(bar) ? 'grey' : 'pale';
    return polyline(layer, corners[i] as readonly PointMm[], true, {
      key: braceKey(bar),
      fill,
      ...(handle ? { handle } : {}),
    });
  });
}

/** The outermost treble strut of a fan is taken hold of to spread the fan: at its middle it moves by its share of the spacing. */
function fanHandle(
  sheet: Sheet,
  bars: readonly BraceSegment[],
): { readonly id: string; readonly handle: Handle } | undefined {
  const struts = (figureValue(sheet, topBarSpecs) ?? []).filter((b) => b.kind === 'fan' && b.index > 0);
  const outer = struts.reduce<(typeof struts)[number] | undefined>(
    (a, b) => (a?.kind === 'fan' && b.kind === 'fan' && a.index >= b.index ? a : b),
    undefined,
  );
  const bar = bars.find((b) => b.id === outer?.id);
  const spacing = figureValue(sheet, input('brace.fan.spacing'));
  if (!bar || spacing === undefined) return undefined;
  const middle = (bar.from.xMm + bar.to.xMm) / 2;
  if (middle === 0) return undefined;
  return { id: bar.id, handle: { inputId: 'brace.fan.spacing', axis: 'x', gainRatio: spacing / middle } };
}

/** The bridge plate where one is fitted in one piece. @source plane-geometry */
export function bridgePlate(sheet: Sheet, layer: 'hidden' | 'visible'): readonly Entity[] {
  const fitted = figureValue(sheet, bridgePlateFitted);
  const corners = figureValue(sheet, plateShape);
  if (fitted === 'none' || !corners || corners.length < 3) return [];
  const points = corners.map(({ xMm, yMm }) => ({ x: xMm, y: yMm }));
  return [polyline(layer, points, true, { key: 'bridge_plate', fill: 'pale' })];
}

const CORNER_MM = 6;

/** The bridge with its saddle line and its pins, or the line of the string holes. @source plane-geometry */
export function bridge(sheet: Sheet, layer: 'hidden' | 'visible'): readonly Entity[] {
  const front = figureValue(sheet, bridgeFrontY);
  const back = figureValue(sheet, bridgeBackY);
  const length = figureValue(sheet, input('bridge.length'));
  if (front === undefined || back === undefined || length === undefined) return [];
  const half = length / 2;
  const r = Math.min(CORNER_MM, (back - front) / 3, half / 2);
  const quarter = Math.PI / 2;
  const around = closedPath(
    layer,
    { x: -half + r, y: front },
    [
      lineTo({ x: half - r, y: front }),
      arcAbout({ x: half - r, y: front + r }, quarter),
      lineTo({ x: half, y: back - r }),
      arcAbout({ x: half - r, y: back - r }, quarter),
      lineTo({ x: -half + r, y: back }),
      arcAbout({ x: -half + r, y: back - r }, quarter),
      lineTo({ x: -half, y: front + r }),
      arcAbout({ x: -half + r, y: front + r }, quarter),
    ],
    { key: 'bridge' },
  );
  return [around, ...(layer === 'visible' ? [...saddle(sheet), ...pins(sheet)] : [])];
}

function saddle(sheet: Sheet): readonly Entity[] {
  const right = figureValue(sheet, saddleSlotRightY);
  const left = figureValue(sheet, saddleSlotLeftY);
  const length = figureValue(sheet, input('bridge.saddle_slot.length'));
  if (right === undefined || left === undefined || length === undefined) return [];
  const from = { x: -length / 2, y: left };
  const to = { x: length / 2, y: right };
  return [line('visible', from, to, { key: 'saddle', widthMm: 0.7 })];
}

const PIN_RADIUS_MM = 2.5;

function pins(sheet: Sheet): readonly Entity[] {
  const places = figureValue(sheet, pinX);
  const y = figureValue(sheet, anchorY);
  if (!places || y === undefined) return [];
  return places.map((x) => circle('visible', { x, y }, PIN_RADIUS_MM, { key: 'bridge', widthMm: 0.25 }));
}

/** The end of the board over the body with its frets, broken off above the neck end. @source plane-geometry */
export function board(sheet: Sheet): readonly Entity[] {
  const join = figureValue(sheet, neckJoin);
  const end = figureValue(sheet, boardEndY);
  const nut = figureValue(sheet, input('board.width.nut'));
  const endWidth = figureValue(sheet, boardWidthEnd);
  const length = figureValue(sheet, input('board.length'));
  const frets = figureValue(sheet, fretPlace);
  if ([join, end, nut, endWidth, length].some((v) => v === undefined)) return [];
  const halfAt = (y: number): number => (nut! + ((endWidth! - nut!) * (y + join!)) / length!) / 2;
  const top = -Math.min(NECK_SHOWN_MM, join!);
  const side = (x: 1 | -1, y: number): PointMm => ({ x: x * halfAt(y), y });
  const board = closedPath(
    'visible',
    side(-1, top),
    [lineTo(side(-1, end!)), lineTo(side(1, end!)), lineTo(side(1, top))],
    { key: 'board', fill: 'white', isStroked: false },
  );
  const edge = openPath(
    'visible',
    side(-1, top),
    [lineTo(side(-1, end!)), lineTo(side(1, end!)), lineTo(side(1, top))],
    { key: 'board' },
  );
  const slots = (frets ?? []).flatMap((place) => {
    const y = place - join!;
    if (y < top + 2 || y > end!) return [];
    return [line('visible', side(-1, y), side(1, y), { key: 'frets', widthMm: 0.22 })];
  });
  return [board, edge, ...slots, breakLine(halfAt(top), top)];
}

/** Where the neck is broken off: a line with one kink. */
function breakLine(half: number, y: number): Entity {
  const kink = 5;
  const points = [
    { x: -half - 3, y },
    { x: -kink, y },
    { x: -kink / 2, y: y - kink },
    { x: kink / 2, y: y + kink },
    { x: kink, y },
    { x: half + 3, y },
  ];
  return polyline('visible', points, false, { widthMm: 0.18 });
}

/** Centre line of the body and of the hole across. @source plane-geometry */
export function centreLines(sheet: Sheet): readonly Entity[] {
  const length = figureValue(sheet, input('body.length'));
  const y = figureValue(sheet, input('hole.centre_y'));
  const outer = figureValue(sheet, input('rosette.outer_radius'));
  if (length === undefined || y === undefined || outer === undefined) return [];
  const reach = outer + 10;
  return [
    line('centre', { x: 0, y: -NECK_SHOWN_MM - 10 }, { x: 0, y: length + 10 }),
    line('centre', { x: -reach, y }, { x: reach, y }),
  ];
}

/** Which side the treble strings lie on, seen from the front: +1 right, -1 left. @source arithmetic */
export function trebleSide(sheet: Sheet): 1 | -1 {
  return figureValue(sheet, handed) === 'left' ? -1 : 1;
}
