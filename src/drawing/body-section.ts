import { neckBlock, tailBlock } from '../figures/blocks.ts';
import { type BraceSegment, backSegments, braceSegments } from '../figures/braces.ts';
import { topDome } from '../figures/dome.ts';
import { bridgePlateOutline, input } from '../figures/inputs.ts';
import { boardEndY, neckJoin } from '../figures/join.ts';
import { fretPlaneJoin, fretPlaneSaddle, neckAngle, stringOverRim } from '../figures/neck-angle.ts';
import { backSphere } from '../figures/rim.ts';
import { bridgeBackY, bridgeFrontY, saddleY } from '../figures/saddle-place.ts';
import type { Polygon } from '../geometry/polygon.ts';
import { figureValue, numberOf, type Sheet } from '../graph/sheet.ts';
import { formatDecimal } from '../quantity/print-length.ts';
import { mark, note, pageOf } from './drawing-page.ts';
import { type DimensionWords, PLAIN_WORDS } from './drawn-number.ts';
import { braceKey } from './face-parts.ts';
import {
  arcAbout,
  closedPath,
  type Drawing,
  type Entity,
  horizontalDimension,
  leader,
  line,
  lineTo,
  type PathSegment,
  type PointMm,
  polyline,
  verticalDimension,
} from './model.ts';
import { allOf, lengthWords, shownAs } from './shown-figure.ts';

/** A plate surface on the centre line: a circle (or level line), x from the neck end, y from the rim plane toward the back. */
interface Surface {
  readonly yAt: (xMm: number) => number;
  /** The way along it from one place to another. */
  readonly to: (fromXMm: number, toXMm: number) => PathSegment;
}

function surface(centreX: number, centreY: number, radiusMm: number, sign: 1 | -1): Surface {
  const yAt = (x: number): number => centreY + sign * Math.sqrt(radiusMm * radiusMm - (x - centreX) ** 2);
  const angle = (x: number): number => Math.asin((x - centreX) / radiusMm);
  return {
    yAt,
    to: (a, b) => arcAbout({ x: centreX, y: centreY }, -sign * (angle(b) - angle(a))),
  };
}

const levelAt = (y: number): Surface => ({ yAt: () => y, to: (_a, b) => lineTo({ x: b, y }) });

interface Box {
  readonly lengthMm: number;
  readonly topMm: number;
  readonly backMm: number;
  readonly topIn: Surface;
  readonly topOut: Surface;
  readonly backIn: Surface;
  readonly backOut: Surface;
}

/** How far the board is shown before the body, mm. */
const NECK_SHOWN_MM = 90;

function boxOf(sheet: Sheet): Box | undefined {
  const v = allOf(sheet, {
    lengthMm: input('body.length'),
    topMm: input('top.thickness.final'),
    backMm: input('back.thickness.final'),
    dome: topDome,
    sphere: backSphere,
  });
  if (!v) return undefined;
  const { radiusMm, apexYMm } = v.dome;
  // the top's inner face passes through the rim plane at the neck end
  const centreY = radiusMm === undefined ? 0 : Math.sqrt(radiusMm * radiusMm - apexYMm * apexYMm);
  const topAt = (outMm: number): Surface =>
    radiusMm === undefined ? levelAt(-outMm) : surface(apexYMm, centreY, radiusMm + outMm, -1);
  const { sphere } = v;
  const backAt = (outMm: number): Surface =>
    surface(sphere.apexYMm, sphere.centreZMm, sphere.radiusMm + outMm, 1);
  return { ...v, topIn: topAt(0), topOut: topAt(v.topMm), backIn: backAt(0), backOut: backAt(v.backMm) };
}

/**
 * The body cut along its centre line, neck end at the left: domes, blocks, bars, bridge, board end, the line of the
 * strings and the straightedge on the frets.
 *
 * @param words  unit of the dimensions, and the last revision to compare with
 * @returns      a drawing; parts whose figures cannot be had are left out
 * @assumes      sides seen behind the cut are left out; plates lie on the rim edges
 * @source       plane-geometry
 */
export function bodySection(sheet: Sheet, words: DimensionWords = PLAIN_WORDS): Drawing {
  const body = boxOf(sheet);
  const entities = body
    ? [
        ...plates(sheet, body),
        ...ends(sheet, body),
        ...bars(sheet, body),
        ...boardAndLines(sheet, body, words),
        ...bridgeCut(sheet, body),
        ...bodySizes(sheet, body, words),
      ]
    : [];
  return pageOf('body-section', 'Body along the centre line', 'the side, cut', entities);
}

/** A strip between two surfaces. */
function strip(outer: Surface, inner: Surface, from: number, to: number, key: string): Entity {
  return closedPath(
    'cut',
    { x: from, y: outer.yAt(from) },
    [outer.to(from, to), lineTo({ x: to, y: inner.yAt(to) }), inner.to(to, from)],
    { key, widthMm: 0.35, fill: 'pale' },
  );
}

function plates(sheet: Sheet, { topIn, topOut, backIn, backOut, lengthMm }: Box): readonly Entity[] {
  const hole = allOf(sheet, { y: input('hole.centre_y'), radiusMm: input('hole.radius') });
  const runs: readonly (readonly [number, number])[] = hole
    ? [
        [0, hole.y - hole.radiusMm],
        [hole.y + hole.radiusMm, lengthMm],
      ]
    : [[0, lengthMm]];
  return [
    ...runs.map(([a, b]) => strip(topOut, topIn, a, b, 'top.thickness.final')),
    strip(backOut, backIn, 0, lengthMm, 'back.thickness.final'),
  ];
}

/** Side, neck block and tail block where the cut meets them. */
function ends(sheet: Sheet, body: Box): readonly Entity[] {
  const { topIn, backIn, lengthMm } = body;
  const upright = (from: number, to: number, key: string): Entity =>
    closedPath(
      'visible',
      { x: from, y: topIn.yAt(from) },
      [topIn.to(from, to), lineTo({ x: to, y: backIn.yAt(to) }), backIn.to(to, from)],
      { key, widthMm: 0.35, fill: 'grey' },
    );
  const side = figureValue(sheet, input('side.thickness.final'));
  const reach = (shape: Polygon): readonly [number, number] => {
    const ys = shape.map(({ yMm }) => yMm);
    return [Math.min(...ys), Math.max(...ys)];
  };
  const [neck, tail] = [figureValue(sheet, neckBlock), figureValue(sheet, tailBlock)];
  return [
    ...(neck ? [upright(side ?? 0, reach(neck)[1], 'block.neck')] : []),
    ...(tail ? [upright(reach(tail)[0], lengthMm - (side ?? 0), 'block.tail')] : []),
    ...(side === undefined ? [] : [upright(0, side, 'rim'), upright(lengthMm - side, lengthMm, 'rim')]),
  ];
}

/** Bars cut by the centre line; two bars cut at one place (the lap of the X) are drawn once. */
function bars(sheet: Sheet, { topIn, backIn }: Box): readonly Entity[] {
  const cut = (
    segments: readonly BraceSegment[],
    face: Surface,
    sign: 1 | -1,
    keyOf: (s: BraceSegment) => string,
  ): readonly Entity[] => {
    const seen: number[] = [];
    return segments.flatMap((s) => {
      const [dx, dy] = [s.to.xMm - s.from.xMm, s.to.yMm - s.from.yMm];
      const share = dx === 0 ? -1 : -s.from.xMm / dx;
      if (share < 0 || share > 1) return [];
      const x = s.from.yMm + dy * share;
      if (seen.some((other) => Math.abs(other - x) < 1)) return [];
      seen.push(x);
      const half = (s.widthMm * Math.hypot(dx, dy)) / Math.abs(dx) / 2;
      const [a, b] = [x - half, x + half];
      const free = face.yAt(x) + sign * s.heightMm;
      return [
        closedPath(
          'visible',
          { x: a, y: face.yAt(a) },
          [face.to(a, b), lineTo({ x: b, y: free }), lineTo({ x: a, y: free })],
          { key: keyOf(s), widthMm: 0.25, fill: 'grey' },
        ),
      ];
    });
  };
  const plate = plateCut(sheet, topIn);
  return [
    ...plate,
    ...cut(figureValue(sheet, braceSegments) ?? [], topIn, 1, braceKey),
    ...cut(figureValue(sheet, backSegments) ?? [], backIn, -1, (s) => `back.${s.id}`),
  ];
}

function plateCut(sheet: Sheet, topIn: Surface): readonly Entity[] {
  const v = allOf(sheet, { corners: bridgePlateOutline, thickMm: input('bridge_plate.thickness') });
  if (!v || v.corners.length < 3) return [];
  const ys = v.corners.map(({ yMm }) => yMm);
  const [a, b] = [Math.min(...ys), Math.max(...ys)];
  return [
    closedPath(
      'visible',
      { x: a, y: topIn.yAt(a) },
      [
        topIn.to(a, b),
        lineTo({ x: b, y: topIn.yAt(b) + v.thickMm }),
        lineTo({ x: a, y: topIn.yAt(a) + v.thickMm }),
      ],
      { key: 'bridge_plate', widthMm: 0.25, fill: 'pale' },
    ),
  ];
}

/** Board with its tongue, the straightedge on the frets, and the string over it. */
function boardAndLines(sheet: Sheet, body: Box, words: DimensionWords): readonly Entity[] {
  const v = allOf(sheet, {
    join: neckJoin,
    endX: boardEndY,
    saddle: saddleY,
    boardMm: input('board.thickness'),
    crownMm: input('fret.crown.height'),
    planeJoin: fretPlaneJoin,
    planeSaddle: fretPlaneSaddle,
    string: stringOverRim,
    angleDeg: neckAngle,
  });
  if (!v) return [];
  const { topOut } = body;
  const datum = topOut.yAt(0);
  const planeAt = (x: number): number => datum - v.planeJoin - ((v.planeSaddle - v.planeJoin) * x) / v.saddle;
  const left = -Math.min(NECK_SHOWN_MM, v.join);
  const nutHeight = figureValue(sheet, input('setup.nut_slot_height')) ?? 0;
  const atSaddle: PointMm = { x: v.saddle, y: datum - v.string };
  const nut: PointMm = { x: -v.join, y: planeAt(-v.join) - nutHeight };
  const stringAt = (x: number): number => nut.y + ((atSaddle.y - nut.y) * (x - nut.x)) / (atSaddle.x - nut.x);
  const topAt = (x: number): number => planeAt(x) + v.crownMm;
  const board = polyline(
    'visible',
    [
      { x: left, y: topAt(left) },
      { x: v.endX, y: topAt(v.endX) },
      { x: v.endX, y: topOut.yAt(v.endX) },
      { x: 0, y: topAt(0) + v.boardMm },
      { x: left, y: topAt(left) + v.boardMm },
    ],
    true,
    { key: 'board', widthMm: 0.25, fill: 'pale' },
  );
  const gap = numberOf(sheet, 'neck.straightedge_window');
  const window =
    gap === undefined
      ? ''
      : `, ${lengthWords(Math.abs(gap), words)} ${gap < 0 ? 'below the top of the bridge' : 'over the bridge'}`;
  const far = v.saddle + 26;
  return [
    board,
    line(
      'centre',
      { x: left, y: planeAt(left) },
      { x: far, y: planeAt(far) },
      { key: 'neck.straightedge_window' },
    ),
    line('visible', { x: left, y: stringAt(left) }, atSaddle, { key: 'strings', widthMm: 0.18 }),
    leader(
      { x: v.saddle * 0.5, y: stringAt(v.saddle * 0.5) },
      { x: v.saddle * 0.5 - 14, y: datum - 62 },
      'string',
      {
        key: 'strings',
      },
    ),
    leader(
      { x: far - 2, y: planeAt(far - 2) },
      { x: far + 12, y: datum - 36 },
      `straightedge on the frets${window}`,
      { key: 'neck.straightedge_window' },
    ),
    note({ x: left, y: datum - 62 }, `neck angle ${formatDecimal(v.angleDeg, 2)}\u00b0`, {
      key: 'neck.angle',
    }),
    mark({ x: left, y: datum + 16 }, 'NECK'),
  ];
}

function bridgeCut(sheet: Sheet, { topOut }: Box): readonly Entity[] {
  const v = allOf(sheet, {
    front: bridgeFrontY,
    back: bridgeBackY,
    saddle: saddleY,
    heightMm: input('bridge.height'),
    outMm: input('bridge.protrusion'),
    slotMm: input('bridge.saddle_slot.width'),
    depthMm: input('bridge.saddle_slot.depth'),
  });
  if (!v) return [];
  const top = topOut.yAt(v.saddle) - v.heightMm;
  const [a, b] = [v.saddle - v.slotMm / 2, v.saddle + v.slotMm / 2];
  return [
    closedPath(
      'cut',
      { x: v.front, y: topOut.yAt(v.front) },
      [topOut.to(v.front, v.back), lineTo({ x: v.back, y: top }), lineTo({ x: v.front, y: top })],
      { key: 'bridge', widthMm: 0.35, fill: 'grey' },
    ),
    polyline(
      'visible',
      [
        { x: a, y: top - v.outMm },
        { x: b, y: top - v.outMm },
        { x: b, y: top + v.depthMm },
        { x: a, y: top + v.depthMm },
      ],
      true,
      { key: 'saddle', fill: 'white', widthMm: 0.25 },
    ),
  ];
}

function bodySizes(sheet: Sheet, body: Box, words: DimensionWords): readonly Entity[] {
  const { topIn, backIn, backOut, topOut, lengthMm } = body;
  const upright = (id: string, x: number, lineX: number): Entity =>
    verticalDimension({ x, y: topIn.yAt(x) }, { x, y: backIn.yAt(x) }, lineX, shownAs(sheet, id, words));
  const along = (id: string, x: number, y: number): Entity =>
    horizontalDimension({ x: 0, y: backOut.yAt(0) }, { x, y: backOut.yAt(x) }, y, {
      ...shownAs(sheet, id, words),
      textAtFrac: 0.6,
    });
  const low = Math.max(backOut.yAt(lengthMm), backOut.yAt(lengthMm * 0.75));
  const saddle = figureValue(sheet, saddleY);
  const hole = figureValue(sheet, input('hole.centre_y'));
  const dome = figureValue(sheet, topDome)?.radiusMm;
  const backRadius = figureValue(sheet, input('dome.back.radius'));
  const at = lengthMm * 0.86;
  return [
    upright('rim.height.neck', 0, -14),
    upright('rim.height.tail', lengthMm, lengthMm + 14),
    ...(hole === undefined ? [] : [along('hole.centre_y', hole, low + 12)]),
    ...(saddle === undefined ? [] : [along('saddle.y', saddle, low + 22)]),
    along('body.length', lengthMm, low + 32),
    ...(dome === undefined
      ? [note({ x: at, y: topOut.yAt(at) - 8 }, 'flat top')]
      : [
          leader(
            { x: at, y: topOut.yAt(at) },
            { x: at + 10, y: topOut.yAt(at) - 16 },
            `R ${lengthWords(dome, words)}`,
            {
              key: 'dome.top.radius',
            },
          ),
        ]),
    ...(backRadius === undefined
      ? []
      : [
          leader(
            { x: at, y: backIn.yAt(at) },
            { x: at - 16, y: backIn.yAt(at) - 26 },
            `R ${lengthWords(backRadius, words)}`,
            {
              key: 'dome.back.radius',
            },
          ),
        ]),
  ];
}
