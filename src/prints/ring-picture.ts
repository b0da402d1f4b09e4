import {
  arc,
  arcAbout,
  type BoundsMm,
  circle,
  type Entity,
  hatch,
  horizontalDimension,
  line,
  lineTo,
  type PathGeometry,
  type PointMm,
  radiusDimension,
  text,
} from '../drawing/model.ts';
import { formatInches, formatMm, type Sizes } from '../quantity/print-length.ts';
import type { PilotPicture, ReachPicture, RingPicture } from '../settings/picture.ts';
import { pointer, smallHeight } from './small-marks.ts';

const rad = (deg: number): number => (deg * Math.PI) / 180;

/** Half of a ring from `start` to `end` radians, as a closed area. */
function sector(
  centre: PointMm,
  innerMm: number,
  outerMm: number,
  startRad: number,
  sweepRad: number,
): PathGeometry {
  const at = (r: number, a: number): PointMm => ({
    x: centre.x + r * Math.cos(a),
    y: centre.y + r * Math.sin(a),
  });
  return {
    start: at(outerMm, startRad),
    segments: [
      arcAbout(centre, sweepRad),
      lineTo(at(innerMm, startRad + sweepRad)),
      arcAbout(centre, -sweepRad),
    ],
    isClosed: true,
  };
}

/** The unit of the shop, and the other one beside it. */
const both = (mm: number, size: Sizes): { text: string; second: string } => ({
  text: size.text(mm),
  second: size.unit === 'in' ? `${formatMm(mm)} mm` : `${formatInches(mm)} in`,
});

/** The radius of a wall; the words only where they fit. */
const toTheCut = (radiusMm: number, drawnMm: number, size: Sizes): { text: string } => ({
  text: drawnMm > 48 ? `${size.text(radiusMm)} to the cut` : size.text(radiusMm),
});

/** The pin with its size beside it. */
function pin(centre: PointMm, pinMm: number, scale: number, size: Sizes): readonly Entity[] {
  return [
    circle('cut', centre, (pinMm * Math.max(scale, 0.6)) / 2, { fill: 'white' }),
    circle('text', centre, 0.45, { fill: 'black', isStroked: false }),
    text('text', { x: centre.x + pinMm / 2 + 2, y: centre.y - 1.5 }, `pin ${size.text(pinMm, 2)}`, 2.2),
  ];
}

/** Section through the channel, enlarged: plate hatched, ring dashed. */
function section(p: RingPicture, room: BoundsMm, size: Sizes): readonly Entity[] {
  const k = Math.min(4, (room.maxY - room.minY - 2) / p.plateMm);
  const top = room.minY + 1.6;
  const floor = top + p.depthMm * k;
  const bottom = top + p.plateMm * k;
  const widthMm = Math.min(34, (p.outerMm - p.innerMm) * k);
  const x0 = room.minX;
  const x1 = x0 + 13;
  const x2 = x1 + widthMm;
  const x3 = x2 + 13;
  const points = [
    { x: x1, y: top },
    { x: x1, y: floor },
    { x: x2, y: floor },
    { x: x2, y: top },
    { x: x3, y: top },
    { x: x3, y: bottom },
    { x: x0, y: bottom },
  ];
  const plate: PathGeometry = { start: { x: x0, y: top }, segments: points.map(lineTo), isClosed: true };
  const ringTop = floor - p.inlayMm * k;
  return [
    hatch('channel', [plate], 1.5),
    { kind: 'path', layer: 'cut', ...plate },
    line('hidden', { x: x1 + 0.4, y: ringTop }, { x: x2 - 0.4, y: ringTop }),
    line('hidden', { x: x1 + 0.4, y: ringTop }, { x: x1 + 0.4, y: top }),
    line('hidden', { x: x2 - 0.4, y: ringTop }, { x: x2 - 0.4, y: top }),
    text('text', { x: (x1 + x2) / 2, y: floor - 0.9 }, 'ring', 1.9, { anchorX: 'middle' }),
    ...smallHeight(x3 + 5, x3, top, floor, size.text(p.depthMm, 2)),
    ...smallHeight(x3 + 28, x3, top, bottom, `${size.text(p.plateMm, 2)} plate`),
    text('text', { x: room.maxX, y: bottom }, 'section, enlarged', 1.9, { anchorX: 'end' }),
  ];
}

/**
 * The ring channel: left half shows the result, right half the cutter's way, at full size where it fits.
 *
 * @param room  place on the card, mm
 * @source      plane-geometry
 */
export function ringPicture(p: RingPicture, room: BoundsMm, size: Sizes): readonly Entity[] {
  const sectionMm = 13;
  const heightMm = room.maxY - room.minY - sectionMm - 7.5;
  const scale = Math.min(1, (room.maxX - room.minX) / 2 / (p.outerMm + 0.5), heightMm / p.outerMm);
  const c: PointMm = { x: (room.minX + room.maxX) / 2, y: room.minY + 4.4 };
  const r = (mm: number): number => mm * scale;
  const cutter = p.cutterMm * scale;
  const rings = [p.innerCentreMm, p.outerCentreMm];
  const result = sector(c, r(p.innerMm), r(p.outerMm), rad(90), rad(90));
  const way = rings.map((m) => sector(c, r(m) - cutter / 2, r(m) + cutter / 2, 0, rad(90)));
  const spot = (m: number, deg: number): PointMm => ({
    x: c.x + r(m) * Math.cos(rad(deg)),
    y: c.y + r(m) * Math.sin(rad(deg)),
  });
  return [
    ...way.map(
      (loop): Entity => ({ kind: 'path', layer: 'channel', ...loop, fill: 'pale', isStroked: false }),
    ),
    hatch('channel', [result], 1.5),
    arc('cut', c, r(p.outerMm), 0, Math.PI),
    arc('cut', c, r(p.innerMm), 0, Math.PI),
    ...[...rings, ...p.betweenMm].map((m) => arc('centre', c, r(m), 0, rad(90))),
    arc('hidden', c, r(p.holeRadiusMm), 0, Math.PI),
    line('centre', { x: room.minX, y: c.y }, { x: room.maxX, y: c.y }),
    line('centre', { x: c.x, y: room.minY }, { x: c.x, y: c.y + r(p.outerMm) + 1.2 }),
    ...pin(c, p.pinMm, scale, size),
    text('text', { x: room.minX, y: c.y - 1.6 }, 'joint, under the board', 2),
    ...(scale < 0.999
      ? [text('text', { x: room.maxX, y: c.y - 1.6 }, 'not full size', 2, { anchorX: 'end' })]
      : []),
    radiusDimension(c, r(p.innerCentreMm), rad(36), both(p.innerCentreMm, size)),
    radiusDimension(c, r(p.outerCentreMm), rad(66), both(p.outerCentreMm, size)),
    radiusDimension(c, r(p.innerMm), rad(142), toTheCut(p.innerMm, r(p.innerMm), size)),
    radiusDimension(c, r(p.outerMm), rad(116), toTheCut(p.outerMm, r(p.outerMm), size)),
    circle('text', spot(p.innerCentreMm, 36), Math.max(1, cutter / 2), { fill: 'black', isStroked: false }),
    circle('text', spot(p.outerCentreMm, 66), Math.max(1, cutter / 2), { fill: 'black', isStroked: false }),
    ...section(p, { ...room, minY: c.y + r(p.outerMm) + 2.2, maxY: room.maxY }, size),
  ];
}

/**
 * A knife or mark on an arm from the pin; at full size where it fits.
 *
 * @source plane-geometry
 */
export function reachPicture(p: ReachPicture, room: BoundsMm, size: Sizes): readonly Entity[] {
  const widthMm = room.maxX - room.minX;
  const heightMm = room.maxY - room.minY;
  const scale = Math.min(1, (widthMm - 16) / 2 / p.reachMm, (heightMm - 12) / p.reachMm);
  const c: PointMm = { x: (room.minX + room.maxX) / 2, y: room.minY + 8 };
  const r = p.reachMm * scale;
  const tipRad = rad(55);
  const tip: PointMm = { x: c.x + r * Math.cos(tipRad), y: c.y + r * Math.sin(tipRad) };
  return [
    arc('cut', c, r, 0, Math.PI),
    line('centre', { x: room.minX, y: c.y }, { x: room.maxX, y: c.y }),
    line('centre', { x: c.x, y: room.minY }, { x: c.x, y: c.y + r + 3 }),
    ...pin(c, p.pinMm, scale, size),
    radiusDimension(c, r, tipRad, both(p.reachMm, size)),
    circle('text', tip, 1, { fill: 'black', isStroked: false }),
    ...(scale < 0.999
      ? [text('text', { x: room.maxX, y: room.minY + 3 }, 'not full size', 2, { anchorX: 'end' })]
      : []),
    ...pointer(
      { x: c.x - r * Math.cos(rad(35)), y: c.y + r * Math.sin(rad(35)) },
      { x: c.x - r * 0.6, y: c.y + r * 0.3 },
      `hole ${size.text(2 * p.reachMm)}`,
    ),
  ];
}

/**
 * The hole centre on the joint line, measured from the neck end of the body.
 *
 * @source plane-geometry
 */
export function pilotPicture(p: PilotPicture, room: BoundsMm, size: Sizes): readonly Entity[] {
  const scale = Math.min(0.5, (room.maxX - room.minX - 40) / (p.fromNeckMm + p.holeRadiusMm));
  const left = room.minX + 14;
  const halfMm = Math.max(26, p.holeRadiusMm * scale + 6);
  const y = room.minY + 8 + halfMm;
  const c: PointMm = { x: left + p.fromNeckMm * scale, y };
  const right = c.x + p.holeRadiusMm * scale + 12;
  return [
    line('cut', { x: left, y: y - halfMm }, { x: left, y: y + halfMm }),
    line('centre', { x: left - 8, y }, { x: right + 6, y }),
    line('centre', { x: c.x, y: y - 8 }, { x: c.x, y: y + 8 }),
    circle('hidden', c, p.holeRadiusMm * scale),
    circle('cut', c, Math.max(1.2, (p.drillMm * scale) / 2), { fill: 'white' }),
    horizontalDimension({ x: left, y: y + halfMm }, { x: c.x, y: y + 8 }, y + halfMm + 7, {
      text: size.text(p.fromNeckMm),
    }),
    ...pointer(
      { x: c.x + 1, y: y - 1 },
      { x: right + 2, y: y - halfMm * 0.6 },
      `drill ${size.text(p.drillMm, 2)}`,
    ),
    text('text', { x: left + 1.4, y: y - halfMm + 2.4 }, 'neck end of the body', 2),
    text('text', { x: left + 1.4, y: y - 1.4 }, 'joint', 2),
    text('text', { x: room.maxX, y: room.minY + 2.4 }, 'not full size', 1.9, { anchorX: 'end' }),
  ];
}
