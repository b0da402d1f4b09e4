import { handed, input } from '../figures/inputs.ts';
import { type OutlineLandmarks, outline, outlineLandmarks, outlineStations } from '../figures/outline.ts';
import type { HalfOutline } from '../geometry/half-outline.ts';
import { figureValue, type Sheet } from '../graph/sheet.ts';
import { formatDecimal } from '../quantity/print-length.ts';
import { halfDown } from './body-outline.ts';
import { mark, note, pageOf } from './drawing-page.ts';
import { type DimensionWords, PLAIN_WORDS } from './drawn-number.ts';
import {
  arc,
  circle,
  closedPath,
  type Drawing,
  type Entity,
  leader,
  line,
  verticalDimension,
} from './model.ts';
import { allOf, figureWords, lengthWords, shownAs } from './shown-figure.ts';

/**
 * The half template: one half of the outline with its straight edge on the centre line, the pin of the hole and
 * stations every 20 mm to prove the print and the template by.
 *
 * @param words  unit of the dimensions, and the last revision to compare with
 * @returns      a drawing; parts whose figures cannot be had are left out
 * @source       plane-geometry
 */
export function halfTemplate(sheet: Sheet, words: DimensionWords = PLAIN_WORDS): Drawing {
  const shape = figureValue(sheet, outline);
  const marks = figureValue(sheet, outlineLandmarks);
  const entities = [
    ...(shape ? [...halfEdge(shape), ...stations(sheet, words)] : []),
    ...pinAndHole(sheet, words),
    ...(shape && marks ? landmarkWords(sheet, marks, words) : []),
    ...lengths(sheet, words),
    ...(shape ? halfMarks(sheet, shape) : []),
  ];
  return pageOf('half-template', 'Half template', 'the front', entities);
}

function halfEdge(shape: HalfOutline): readonly Entity[] {
  const { start, segments } = halfDown(shape);
  const end = shape.pieces.at(-1)?.p3.yMm ?? 0;
  return [
    closedPath('cut', start, segments, { key: 'outline' }),
    line('centre', { x: 0, y: -12 }, { x: 0, y: end + 12 }),
  ];
}

const NUMBER_AT_SHARE = 0.6;

function stations(sheet: Sheet, words: DimensionWords): readonly Entity[] {
  return (figureValue(sheet, outlineStations) ?? []).flatMap(({ yMm, halfWidthMm }) => {
    const key = `outline.half_width.${Math.round(yMm)}`;
    const at = { x: halfWidthMm * NUMBER_AT_SHARE, y: yMm - 0.9 };
    return [
      line('dimension', { x: 0, y: yMm }, { x: halfWidthMm, y: yMm }, { key }),
      note(at, lengthWords(halfWidthMm, words), { anchorX: 'end', key }),
      note({ x: -3, y: yMm }, formatDecimal(yMm, 1).replace(/\.0$/, ''), {
        anchorX: 'end',
        anchorY: 'middle',
        key,
      }),
    ];
  });
}

function pinAndHole(sheet: Sheet, words: DimensionWords): readonly Entity[] {
  const v = allOf(sheet, {
    y: input('hole.centre_y'),
    radiusMm: input('hole.radius'),
    pinMm: input('hole.pilot_diameter'),
  });
  if (!v) return [];
  const centre = { x: 0, y: v.y };
  const reach = v.pinMm / 2 + 6;
  return [
    circle('cut', centre, v.pinMm / 2, { key: 'hole.pilot_diameter', widthMm: 0.35 }),
    line('centre', { x: -reach, y: v.y }, { x: reach, y: v.y }, { key: 'hole' }),
    arc('hidden', centre, v.radiusMm, -Math.PI / 2, Math.PI, { key: 'hole' }),
    note({ x: -15, y: v.y - 0.9 }, `pin \u00d8 ${lengthWords(v.pinMm, words)}`, {
      anchorX: 'end',
      key: 'hole.pilot_diameter',
    }),
  ];
}

/** Words at bouts and waist, outside the edge. */
function landmarkWords(sheet: Sheet, marks: OutlineLandmarks, words: DimensionWords): readonly Entity[] {
  const x = Math.max(marks.upper.halfWidthMm, marks.lower.halfWidthMm) + 8;
  const row = (name: 'upper_bout' | 'waist' | 'lower_bout', at: OutlineLandmarks['upper']): Entity => {
    const said = [
      `${name.replace('_', ' ')}: ${lengthWords(at.yMm, words)} from the neck end`,
      `half ${lengthWords(at.halfWidthMm, words)}`,
      `R ${figureWords(sheet, `outline.${name}.radius`, words) ?? lengthWords(at.radiusMm, words)}`,
    ].join(', ');
    const key = `outline.${name}.width`;
    return leader({ x: at.halfWidthMm, y: at.yMm }, { x, y: at.yMm }, said, { key });
  };
  return [row('upper_bout', marks.upper), row('waist', marks.waist), row('lower_bout', marks.lower)];
}

function lengths(sheet: Sheet, words: DimensionWords): readonly Entity[] {
  const v = allOf(sheet, { lengthMm: input('body.length'), holeY: input('hole.centre_y') });
  if (!v) return [];
  const along = (id: string, y: number, x: number): Entity =>
    verticalDimension({ x: -1, y: 0 }, { x: -1, y }, x, shownAs(sheet, id, words));
  return [along('hole.centre_y', v.holeY, -40), along('body.length', v.lengthMm, -52)];
}

/** Marks that stand between two station lines. */
function halfMarks(sheet: Sheet, shape: HalfOutline): readonly Entity[] {
  const end = shape.pieces.at(-1)?.p3.yMm ?? 0;
  const [shown, other] = figureValue(sheet, handed) === 'left' ? ['BASS', 'TREBLE'] : ['TREBLE', 'BASS'];
  const between = (share: number): number => 10 + 20 * Math.floor((share * end - 10) / 20) + 12;
  return [
    mark({ x: 8, y: between(0.05) }, 'NECK'),
    mark({ x: 8, y: between(0.74) }, `${shown} half, from the front`),
    mark({ x: 8, y: between(0.74) + 20 }, `${other} half: turned over`),
    mark({ x: 8, y: between(0.92) }, 'TAIL'),
  ];
}
