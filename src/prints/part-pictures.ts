import {
  angleDimension,
  arc,
  type BoundsMm,
  box,
  circle,
  closedPath,
  type Entity,
  hatch,
  horizontalDimension,
  line,
  lineTo,
  type PathGeometry,
  type PointMm,
  polyline,
  text,
  verticalDimension,
} from '../drawing/model.ts';
import { formatDecimal, type Sizes } from '../quantity/print-length.ts';
import type {
  DomePicture,
  FormerPicture,
  FramePicture,
  GroovePicture,
  HolesPicture,
  LedgePicture,
  NeckSidePicture,
  SaddlePicture,
  StayOffPicture,
  TaperPicture,
  WedgePicture,
} from '../settings/picture.ts';
import { pointer, smallHeight } from './small-marks.ts';

const rad = (deg: number): number => (deg * Math.PI) / 180;
const widthOf = (room: BoundsMm): number => room.maxX - room.minX;
const heightOf = (room: BoundsMm): number => room.maxY - room.minY;
const middleX = (room: BoundsMm): number => (room.minX + room.maxX) / 2;

/** Says when a picture is not at full size. */
const scaleNote = (scale: number, room: BoundsMm): readonly Entity[] =>
  Math.abs(scale - 1) < 0.001
    ? [text('text', { x: room.maxX, y: room.minY + 2.4 }, 'full size', 1.9, { anchorX: 'end' })]
    : [
        text('text', { x: room.maxX, y: room.minY + 2.4 }, scale > 1 ? 'enlarged' : 'not full size', 1.9, {
          anchorX: 'end',
        }),
      ];

/** A wedge: small angles are drawn steeper than they are, the numbers say what they are. */
export function wedgePicture(p: WedgePicture, room: BoundsMm, size: Sizes): readonly Entity[] {
  const shownDeg =
    Math.abs(p.angleDeg) < 6 ? Math.sign(p.angleDeg || 1) * (4 + Math.abs(p.angleDeg)) : p.angleDeg;
  const baseMm = Math.min(widthOf(room) - 40, (heightOf(room) - 24) / Math.tan(rad(Math.abs(shownDeg))));
  const rise = baseMm * Math.tan(rad(Math.abs(shownDeg)));
  const left = room.minX + 12;
  const bottom = room.minY + 10 + Math.max(rise, 8);
  const tip: PointMm = { x: left, y: bottom };
  const foot: PointMm = { x: left + baseMm, y: bottom };
  const top: PointMm = { x: left + baseMm, y: bottom - rise };
  const face: PathGeometry = { start: tip, segments: [lineTo(foot), lineTo(top)], isClosed: true };
  return [
    hatch('channel', [face], 1.8),
    { kind: 'path', layer: 'cut', ...face },
    angleDimension(tip, baseMm * 0.55, 0, -rad(Math.abs(shownDeg)), {
      text: `${formatDecimal(p.angleDeg, 2)}\u00b0`,
    }),
    horizontalDimension(tip, foot, bottom + 9, { text: size.text(p.lengthMm) }),
    ...smallHeight(foot.x + 6, foot.x, top.y, foot.y, size.text(p.riseMm, 2)),
    text('text', { x: left, y: room.minY + 3 }, p.angleDeg < 0 ? `${p.words}, leaned forward` : p.words, 2.2),
    ...(shownDeg === p.angleDeg
      ? []
      : [
          text('text', { x: room.maxX, y: room.minY + 2.4 }, 'drawn steeper than it is', 1.9, {
            anchorX: 'end',
          }),
        ]),
  ];
}

/** The corner of a box with the ledge for its binding, enlarged. */
export function ledgePicture(p: LedgePicture, room: BoundsMm, size: Sizes): readonly Entity[] {
  const k = Math.min(
    6,
    (heightOf(room) - 16) / (p.heightMm * 2.2),
    (widthOf(room) / 2 - 20) / (p.depthInMm * 4),
  );
  const right = middleX(room) + 10;
  const top = room.minY + 12;
  const left = right - p.depthInMm * k * 5;
  const bottom = top + p.heightMm * k * 1.9;
  const inX = right - p.depthInMm * k;
  const floorY = top + p.heightMm * k;
  const body: PathGeometry = {
    start: { x: left, y: top },
    segments: [
      { x: inX, y: top },
      { x: inX, y: floorY },
      { x: right, y: floorY },
      { x: right, y: bottom },
      { x: left, y: bottom },
    ].map(lineTo),
    isClosed: true,
  };
  return [
    hatch('channel', [body], 1.8),
    { kind: 'path', layer: 'cut', ...body },
    box('hidden', { minX: inX, maxX: inX + p.bindingMm * k + 1.2, minY: top - 1.2, maxY: floorY }),
    horizontalDimension({ x: inX, y: floorY }, { x: right, y: floorY }, top - 8, {
      text: size.text(p.depthInMm, 2),
    }),
    verticalDimension({ x: right, y: top }, { x: right, y: floorY }, right + 12, {
      text: size.text(p.heightMm, 2),
    }),
    ...pointer(
      { x: inX + (p.bindingMm * k) / 2, y: floorY - (floorY - top) * 0.25 },
      { x: right + 10, y: bottom - 4 },
      'binding, proud both ways',
    ),
    text('text', { x: left, y: top - 2 }, 'plate', 2),
    ...scaleNote(k, room),
  ];
}

/** A groove from its end, enlarged. */
export function groovePicture(p: GroovePicture, room: BoundsMm, size: Sizes): readonly Entity[] {
  const k = Math.min(4, (heightOf(room) - 18) / p.bodyMm, (widthOf(room) - 60) / (p.widthMm * 3));
  const c = middleX(room) - 8;
  const top = room.minY + 10;
  const half = (p.widthMm * k) / 2;
  const floor = top + p.depthMm * k;
  const bottom = top + p.bodyMm * k;
  const side = half + Math.max(12, p.widthMm * k);
  const points = [
    { x: c - half, y: top },
    { x: c - half, y: floor },
    { x: c + half, y: floor },
    { x: c + half, y: top },
    { x: c + side, y: top },
    { x: c + side, y: bottom },
    { x: c - side, y: bottom },
  ];
  const body: PathGeometry = { start: { x: c - side, y: top }, segments: points.map(lineTo), isClosed: true };
  return [
    hatch('channel', [body], 1.8),
    { kind: 'path', layer: 'cut', ...body },
    horizontalDimension({ x: c - half, y: top }, { x: c + half, y: top }, top - 6, {
      text: size.text(p.widthMm, 2),
    }),
    verticalDimension({ x: c + half, y: top }, { x: c + half, y: floor }, c + side + 8, {
      text: size.text(p.depthMm, 2),
    }),
    text('text', { x: c, y: floor - 1.2 }, p.words, 2, { anchorX: 'middle', hasHalo: true }),
    ...scaleNote(k, room),
  ];
}

/** A dish under a straightedge: its rise is drawn larger than it is. */
export function domePicture(p: DomePicture, room: BoundsMm, size: Sizes): readonly Entity[] {
  const half = Math.min((widthOf(room) - 20) / 2, 52);
  const shown = Math.max(7, Math.min(heightOf(room) - 34, 12));
  const radius = (half * half + shown * shown) / (2 * shown);
  const c: PointMm = { x: middleX(room), y: room.minY + 16 + shown - radius };
  const chordY = room.minY + 16;
  const sweep = Math.asin(half / radius);
  const left: PointMm = { x: c.x - half, y: chordY };
  const right: PointMm = { x: c.x + half, y: chordY };
  const base = chordY + shown + 10;
  const body: PathGeometry = {
    start: left,
    segments: [
      { kind: 'arc', centre: c, sweepRad: -2 * sweep },
      lineTo({ x: right.x, y: base }),
      lineTo({ x: left.x, y: base }),
    ],
    isClosed: true,
  };
  return [
    hatch('channel', [body], 1.8),
    arc('cut', c, radius, Math.PI / 2 + sweep, -2 * sweep),
    box('visible', { minX: left.x - 6, maxX: right.x + 6, minY: chordY - 3, maxY: chordY }),
    text('text', { x: left.x - 4, y: chordY - 4.2 }, 'straightedge', 2),
    verticalDimension({ x: c.x, y: chordY }, { x: c.x, y: chordY + shown }, c.x + 6, {
      text: size.text(p.sagMm, 2),
    }),
    horizontalDimension(left, right, base + 8, { text: size.text(p.chordMm) }),
    text('text', { x: c.x, y: base + 14.5 }, `R ${size.one(p.radiusMm)}`, 2.6, {
      anchorX: 'middle',
      weight: 600,
    }),
    text('text', { x: room.maxX, y: room.minY + 2.4 }, 'rise drawn larger than it is', 1.9, {
      anchorX: 'end',
    }),
  ];
}

/** The strip with its marks, and what the form has to be bent to. */
export function formerPicture(p: FormerPicture, room: BoundsMm, size: Sizes): readonly Entity[] {
  const k = (widthOf(room) - 8) / p.stripMm;
  const x = (mm: number): number => room.minX + 4 + mm * k;
  const top = room.minY + 12;
  const bottom = top + 14;
  const marks: readonly (readonly [number, string])[] = [
    [p.spareMm, 'neck'],
    [p.waistMarkMm, 'WAIST'],
    [p.stripMm - p.spareMm, 'tail'],
  ];
  const rows = p.radii.map((r, i): readonly Entity[] => {
    const y = bottom + 26 + i * 5.4;
    return [
      text('text', { x: room.minX + 4, y }, r.label, 2.3),
      text('text', { x: room.minX + 56, y }, `R ${size.text(r.partMm)}`, 2.3, { anchorX: 'end' }),
      text('text', { x: room.minX + 92, y }, `R ${size.text(r.formMm)}`, 2.5, {
        anchorX: 'end',
        weight: 700,
      }),
    ];
  });
  const head =
    p.radii.length === 0
      ? []
      : [
          text('text', { x: room.minX + 56, y: bottom + 21 }, 'on the part', 1.9, { anchorX: 'end' }),
          text('text', { x: room.minX + 92, y: bottom + 21 }, 'on the form', 1.9, { anchorX: 'end' }),
          line(
            'text',
            { x: room.minX + 4, y: bottom + 22.4 },
            { x: room.minX + 92, y: bottom + 22.4 },
            { widthMm: 0.25 },
          ),
        ];
  return [
    box('cut', { minX: x(0), maxX: x(p.stripMm), minY: top, maxY: bottom }),
    ...marks.flatMap(([mm, words]): Entity[] => [
      line(words === 'WAIST' ? 'visible' : 'centre', { x: x(mm), y: top - 2 }, { x: x(mm), y: bottom + 2 }),
      text('text', { x: x(mm), y: top - 3.4 }, words, 2.1, {
        anchorX: 'middle',
        weight: words === 'WAIST' ? 700 : 400,
      }),
    ]),
    horizontalDimension({ x: x(0), y: bottom }, { x: x(p.waistMarkMm), y: bottom }, bottom + 7, {
      text: size.text(p.waistMarkMm),
    }),
    horizontalDimension({ x: x(0), y: bottom }, { x: x(p.stripMm), y: bottom }, bottom + 15, {
      text: size.text(p.stripMm),
    }),
    ...head,
    ...rows.flat(),
  ];
}

/** The bridge from above with its slanted slot. The neck is up. */
export function saddlePicture(p: SaddlePicture, room: BoundsMm, size: Sizes): readonly Entity[] {
  const k = Math.min(1, (widthOf(room) - 6) / p.bridgeLengthMm, (heightOf(room) - 34) / p.bridgeWidthMm);
  const c = middleX(room);
  const top = room.minY + 18;
  const bottom = top + p.bridgeWidthMm * k;
  const half = (p.bridgeLengthMm * k) / 2;
  const slot = (p.slotLengthMm * k) / 2;
  const mirror = p.isLeftHanded ? -1 : 1;
  const trebleX = c + mirror * slot;
  const bassX = c - mirror * slot;
  const treble: PointMm = { x: trebleX, y: top + p.trebleMm * k };
  const bass: PointMm = { x: bassX, y: top + p.bassMm * k };
  const w = (p.slotWidthMm * k) / 2;
  const corner = (at: PointMm, side: 1 | -1): PointMm => ({ x: at.x, y: at.y + side * w });
  return [
    box('visible', { minX: c - half, maxX: c + half, minY: top, maxY: bottom }),
    closedPath('cut', corner(treble, -1), [corner(treble, 1), corner(bass, 1), corner(bass, -1)].map(lineTo)),
    line('centre', treble, bass),
    line('centre', { x: c, y: top - 5 }, { x: c, y: bottom + 4 }),
    ...smallHeight(trebleX + mirror * 7, trebleX, top, treble.y, size.text(p.trebleMm, 2)),
    ...smallHeight(bassX - mirror * 7, bassX, top, bass.y, size.text(p.bassMm, 2)),
    horizontalDimension({ x: bassX, y: bottom }, { x: trebleX, y: bottom }, bottom + 8, {
      text: size.text(p.slotLengthMm),
    }),
    text('text', { x: trebleX, y: top - 6.5 }, 'TREBLE', 2.1, { anchorX: 'middle', weight: 700 }),
    text('text', { x: bassX, y: top - 6.5 }, 'BASS', 2.1, { anchorX: 'middle', weight: 700 }),
    text('text', { x: c, y: room.minY + 3 }, 'NECK', 2.1, { anchorX: 'middle', weight: 700 }),
    text(
      'text',
      { x: room.minX, y: bottom + 15 },
      'numbers from the front edge of the bridge to the middle of the slot, at its ends',
      1.8,
    ),
    ...scaleNote(k, room),
  ];
}

/** A row of holes with their pitch. */
export function holesPicture(p: HolesPicture, room: BoundsMm, size: Sizes): readonly Entity[] {
  const spanMm = p.pitchMm * (p.count - 1);
  const k = Math.min(
    1,
    (widthOf(room) - 30) / (spanMm + p.holeMm),
    (heightOf(room) - 24) / (p.holeMm + (p.edgeMm ?? 0)),
  );
  const left = middleX(room) - (spanMm * k) / 2;
  const y = room.minY + 12 + (p.edgeMm ?? 0) * k + (p.holeMm * k) / 2;
  const at = (i: number): PointMm => ({ x: left + i * p.pitchMm * k, y });
  const last = at(p.count - 1);
  const edge =
    p.edgeMm === undefined
      ? []
      : [
          line('visible', { x: left - 10, y: y - p.edgeMm * k }, { x: last.x + 10, y: y - p.edgeMm * k }),
          ...smallHeight(last.x + 14, last.x + 10, y - p.edgeMm * k, y, size.text(p.edgeMm)),
          text('text', { x: left - 10, y: y - p.edgeMm * k - 1.4 }, 'saddle line', 1.9),
        ];
  return [
    ...Array.from({ length: p.count }, (_, i) => circle('cut', at(i), (p.holeMm * k) / 2)),
    line('centre', { x: left - 8, y }, { x: last.x + 8, y }),
    ...edge,
    horizontalDimension(at(0), at(1), y + (p.holeMm * k) / 2 + 8, { text: size.text(p.pitchMm) }),
    ...(p.count > 2
      ? [horizontalDimension(at(0), last, y + (p.holeMm * k) / 2 + 16, { text: size.text(spanMm) })]
      : []),
    ...(p.edgeMm === undefined
      ? pointer(
          { x: left + p.holeMm * k * 0.35, y: y - p.holeMm * k * 0.35 },
          { x: left + (p.holeMm * k) / 2 + 5, y: y - (p.holeMm * k) / 2 - 4 },
          `\u00d8 ${size.text(p.holeMm, 2)}`,
        )
      : pointer(
          { x: last.x + p.holeMm * k * 0.35, y: y + p.holeMm * k * 0.35 },
          { x: last.x + 8, y: y + (p.holeMm * k) / 2 + 9 },
          `\u00d8 ${size.text(p.holeMm, 2)}`,
        )),
    ...scaleNote(k, room),
  ];
}

/** The saw line outside the drawn line, at full size. */
export function stayOffPicture(p: StayOffPicture, room: BoundsMm, size: Sizes): readonly Entity[] {
  const radius = Math.min(p.tightestMm, heightOf(room) - 16, 58);
  const c: PointMm = { x: middleX(room) - 22, y: room.minY + 4 };
  const start = rad(25);
  const sweep = rad(110);
  const at = (r: number, deg: number): PointMm => ({
    x: c.x + r * Math.cos(rad(deg)),
    y: c.y + r * Math.sin(rad(deg)),
  });
  const inner = radius - p.mostMm;
  return [
    arc('cut', c, inner, start, sweep),
    arc('hidden', c, inner + p.allowanceMm, start, sweep),
    arc('ghost', c, inner + p.mostMm, start, sweep),
    ...smallHeight(c.x + 8, c.x, c.y + inner, c.y + inner + p.allowanceMm, size.text(p.allowanceMm)),
    ...pointer(at(inner, 40), { x: c.x + radius + 4, y: c.y + 14 }, 'the line'),
    ...pointer(at(inner + p.allowanceMm, 37), { x: c.x + radius + 4, y: c.y + 22 }, 'saw here'),
    ...pointer(
      at(inner + p.mostMm, 36),
      { x: c.x + radius + 4, y: c.y + 30 },
      `not beyond ${size.text(p.mostMm)}`,
    ),
    text(
      'text',
      { x: room.minX, y: room.maxY - 1 },
      `tightest ${size.one(p.tightestMm)}, blade ${size.one(p.bladeMm)}`,
      2.2,
    ),
    ...scaleNote(1, room),
  ];
}

/** The board from above with its taper. */
export function taperPicture(p: TaperPicture, room: BoundsMm, size: Sizes): readonly Entity[] {
  const k = Math.min((widthOf(room) - 30) / p.lengthMm, (heightOf(room) - 20) / p.endMm);
  const steep = Math.min(2.2, (heightOf(room) - 22) / (p.endMm * k));
  const left = room.minX + 14;
  const right = left + p.lengthMm * k;
  const y = room.minY + 8 + (p.endMm * k * steep) / 2;
  const half = (mm: number): number => (mm * k * steep) / 2;
  const corners = [
    { x: left, y: y - half(p.nutMm) },
    { x: right, y: y - half(p.endMm) },
    { x: right, y: y + half(p.endMm) },
    { x: left, y: y + half(p.nutMm) },
  ];
  return [
    polyline('cut', corners, true),
    line('centre', { x: left - 6, y }, { x: right + 6, y }),
    verticalDimension(corners[0] as PointMm, corners[3] as PointMm, left - 8, { text: size.text(p.nutMm) }),
    verticalDimension(corners[1] as PointMm, corners[2] as PointMm, right + 9, { text: size.text(p.endMm) }),
    horizontalDimension(corners[3] as PointMm, corners[2] as PointMm, y + half(p.endMm) + 8, {
      text: size.text(p.lengthMm),
    }),
    text('text', { x: left + 4, y: y - 1.6 }, 'NUT', 2, { weight: 700 }),
    text(
      'text',
      { x: (left + right) / 2, y: y + half(p.endMm) + 15 },
      `each edge ${formatDecimal(p.halfAngleDeg, 2)}\u00b0 off the centre line`,
      2.2,
      { anchorX: 'middle' },
    ),
  ];
}

/** Two halves raised at their joint between the stops: when they are pressed flat the joint closes. */
export function framePicture(p: FramePicture, room: BoundsMm, size: Sizes): readonly Entity[] {
  const half = Math.min((widthOf(room) - 34) / 2, 48);
  const riseMm = 9;
  const thickMm = 2.4;
  const c = middleX(room);
  const y = room.minY + 24;
  const plate = (side: 1 | -1): readonly PointMm[] => [
    { x: c, y: y - riseMm },
    { x: c + side * half, y },
    { x: c + side * half, y: y + thickMm },
    { x: c, y: y - riseMm + thickMm },
  ];
  const stop = (side: 1 | -1): BoundsMm => ({
    minX: Math.min(c + side * half, c + side * (half + 7)),
    maxX: Math.max(c + side * half, c + side * (half + 7)),
    minY: y - 7,
    maxY: y + thickMm,
  });
  return [
    polyline('cut', plate(1), true),
    polyline('cut', plate(-1), true),
    box('visible', stop(1)),
    box('visible', stop(-1)),
    box('visible', { minX: c - half - 10, maxX: c + half + 10, minY: y + thickMm, maxY: y + thickMm + 5 }),
    horizontalDimension({ x: c - half, y: y - 7 }, { x: c + half, y: y - 7 }, y + thickMm + 13, {
      text: size.text(p.openingMm),
    }),
    ...pointer(
      { x: c + 2, y: y - riseMm - 0.4 },
      { x: c + 14, y: y - riseMm - 9 },
      'press down: the joint snaps shut',
    ),
    text('text', { x: c, y: y + thickMm + 20 }, `for a joined plate of ${size.one(p.joinedMm)}`, 2.2, {
      anchorX: 'middle',
    }),
    text('text', { x: room.maxX, y: room.minY + 2.4 }, 'not full size', 1.9, { anchorX: 'end' }),
  ];
}

/** The neck from the side, without its board: two thicknesses and the heel. */
export function neckSidePicture(p: NeckSidePicture, room: BoundsMm, size: Sizes): readonly Entity[] {
  const left = room.minX + 16;
  const right = room.maxX - 18;
  const top = room.minY + 12;
  const k = 0.55;
  const at1 = left + 12;
  const at9 = right - 34;
  const heelY = top + Math.min(heightOf(room) - 24, p.heelMm * k * 0.8);
  const outline: readonly PointMm[] = [
    { x: left, y: top },
    { x: right, y: top },
    { x: right, y: heelY },
    { x: right - 9, y: heelY },
    { x: right - 22, y: top + p.fret9Mm * k + 2 },
    { x: at9, y: top + p.fret9Mm * k },
    { x: at1, y: top + p.fret1Mm * k },
    { x: left, y: top + p.fret1Mm * k - 0.4 },
  ];
  return [
    polyline('cut', outline, true),
    line('centre', { x: at1, y: top - 3 }, { x: at1, y: top + p.fret1Mm * k + 3 }),
    line('centre', { x: at9, y: top - 3 }, { x: at9, y: top + p.fret9Mm * k + 3 }),
    ...smallHeight(at1, at1, top, top + p.fret1Mm * k, size.text(p.fret1Mm)),
    ...smallHeight(at9, at9, top, top + p.fret9Mm * k, size.text(p.fret9Mm)),
    text('text', { x: at1, y: top - 5.4 }, 'fret 1', 2, { anchorX: 'middle' }),
    text('text', { x: at9, y: top - 5.4 }, 'fret 9', 2, { anchorX: 'middle' }),
    text('text', { x: right - 4.5, y: top + 6 }, 'heel', 2, { anchorX: 'middle' }),
    text('text', { x: left, y: top + p.fret1Mm * k + 12 }, 'board face up, without the board', 2),
    text('text', { x: room.maxX, y: room.minY + 2.4 }, 'not full size', 1.9, { anchorX: 'end' }),
  ];
}
