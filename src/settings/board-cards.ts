import { jigsOf } from '../shop/shop.ts';
import { sagMm } from './body-cards.ts';
import { placeOf } from './jig-rounding.ts';
import { countSetting, jigSetting, plainAngle, plainLength } from './make-setting.ts';
import { type CardSpec, cardSpec, MAY_CHANGE } from './setting.ts';

/** Places of the slots from the nut face. Each from the nut, never from the fret before. @source equal-temperament */
export function slotPlaces(scaleMm: number, fretCount: number): readonly number[] {
  return Array.from({ length: fretCount }, (_, i) => scaleMm * (1 - 2 ** (-(i + 1) / 12)));
}

const fretSlots = cardSpec({
  id: 'fret-slots',
  title: 'Saw the fret slots',
  station: 'slot-box',
  operations: ['F2'],
  lie: 'Board against the fence, nut end at the stop.',
  mayChange: MAY_CHANGE.teacher,
  hold: 'The teacher measures frets 5, 7 and 12 from the nut.',
  from: [
    'scale.length',
    'scale.fret_count',
    'board.slot_width',
    'board.slot_depth',
    'board.width.nut',
    'board.width.fret_12',
    'board.length',
  ],
  build({ of, maybe, shop, size }) {
    const count = Math.round(of('scale.fret_count'));
    const template = placeOf(jigsOf(shop, 'slot-template'), of('scale.length'), 'nearest');
    const computed = slotPlaces(template.at, count);
    const isPatternScale = Math.abs(template.at - of('scale.length')) < 1e-9;
    const placesMm = computed.map((x, i) => (isPatternScale ? (maybe(`fret.place.${i + 1}`) ?? x) : x));
    return {
      settings: [
        jigSetting(
          { id: 'slots.scale', label: 'Slot template, scale', figures: ['scale.length', 'fret.place'] },
          'mm',
          of('scale.length'),
          template,
        ),
        plainLength(
          {
            id: 'slots.width',
            label: 'Saw cut',
            figures: ['board.slot_width'],
            low: of('board.slot_width'),
            high: of('board.slot_width') + 0.05,
          },
          of('board.slot_width'),
          2,
        ),
        plainLength(
          {
            id: 'slots.depth',
            label: 'Depth stop, following the radius',
            figures: ['board.slot_depth'],
            low: of('board.slot_depth') - 0.1,
            high: of('board.slot_depth') + 0.3,
          },
          of('board.slot_depth'),
        ),
        countSetting({ id: 'slots.count', label: 'Slots', figures: ['scale.fret_count'] }, count, 'slots'),
        ...placesMm.map((x, i) =>
          plainLength(
            {
              id: `slots.${i + 1}`,
              label: `Fret ${i + 1} from the nut`,
              figures: [`fret.place.${i + 1}`],
              low: x - (i < 11 ? 0.15 : 0.1),
              high: x + (i < 11 ? 0.15 : 0.1),
            },
            x,
            2,
          ),
        ),
      ],
      picture: {
        kind: 'slots',
        placesMm,
        nutWidthMm: of('board.width.nut'),
        widthAt12Mm: of('board.width.fret_12'),
        lengthMm: of('board.length'),
        scaleMm: template.at,
      },
      onScrap: [
        'One slot in a scrap of the same board: a fret holds when pushed in by hand',
        'Depth with the calliper tail',
      ],
      onPiece: [
        'Every place from the nut, never from the fret before',
        `Measure frets 5, 7 and 12: within ${size.one(0.15, 2)} up to 11, ${size.text(0.1, 2)} from 12`,
      ],
    };
  },
});

const boardTaper = cardSpec({
  id: 'board-taper',
  title: 'Taper the board',
  station: 'planing-board',
  operations: ['F3'],
  lie: 'Board in the taper sled, face up, nut to the stop.',
  mayChange: MAY_CHANGE.own,
  from: ['board.width.nut', 'board.width.fret_12', 'board.length', 'scale.length'],
  build({ of, maybe }) {
    const taper = (of('board.width.fret_12') - of('board.width.nut')) / (of('scale.length') / 2);
    const endMm = maybe('board.width.end') ?? of('board.width.nut') + taper * of('board.length');
    const halfAngleDeg = (Math.atan(taper / 2) * 180) / Math.PI;
    return {
      settings: [
        plainLength(
          {
            id: 'taper.nut',
            label: 'Width at the nut',
            figures: ['board.width.nut'],
            low: of('board.width.nut'),
            high: of('board.width.nut') + 0.3,
          },
          of('board.width.nut'),
        ),
        plainLength(
          {
            id: 'taper.end',
            label: 'Width at the board end',
            figures: ['board.width.end'],
            low: endMm,
            high: endMm + 0.3,
          },
          endMm,
        ),
        plainAngle(
          { id: 'taper.half_angle', label: 'Each edge off the centre line', figures: ['board.half_angle'] },
          halfAngleDeg,
        ),
      ],
      picture: {
        kind: 'taper',
        lengthMm: of('board.length'),
        nutMm: of('board.width.nut'),
        endMm,
        halfAngleDeg,
      },
      onScrap: ['Sled stops with the printed board laid on'],
      onPiece: [
        'Centre line first, then both edges from it',
        'Bound board: both bindings are taken off the width',
      ],
    };
  },
});

const boardRadius = cardSpec({
  id: 'board-radius',
  title: 'Shape the face of the board',
  station: 'bench',
  operations: ['F4', 'F6'],
  lie: 'Board taped down on the sled, centre line marked.',
  mayChange: MAY_CHANGE.own,
  from: ['board.radius', 'board.width.fret_12', 'board.thickness'],
  build({ of, maybe, shop, size }) {
    const place = placeOf(jigsOf(shop, 'radius-block'), of('board.radius'), 'nearest');
    const endMm = maybe('board.width.end') ?? of('board.width.fret_12');
    const fall = (widthMm: number): number => sagMm(place.at, widthMm);
    return {
      settings: [
        jigSetting(
          { id: 'radius.block', label: 'Face radius', figures: ['board.radius'] },
          'mm',
          of('board.radius'),
          place,
        ),
        plainLength(
          {
            id: 'radius.fall_12',
            label: 'Edge lower than the middle at fret 12',
            figures: ['board.radius', 'board.width.fret_12'],
          },
          fall(of('board.width.fret_12')),
          2,
        ),
        plainLength(
          {
            id: 'radius.fall_end',
            label: 'The same at the board end',
            figures: ['board.radius', 'board.width.end'],
          },
          fall(endMm),
          2,
        ),
        plainLength(
          { id: 'radius.wire', label: 'Bend the fret wire to', figures: ['board.radius'] },
          place.at * 0.75,
        ),
      ],
      picture: { kind: 'dome', radiusMm: place.at, chordMm: endMm, sagMm: fall(endMm) },
      onScrap: ['Gauge against the block: no light'],
      onPiece: [
        `Middle stays at ${size.one(of('board.thickness'))}`,
        'Pencil lines across: stop when the last one goes',
      ],
    };
  },
});

/** Cards of the board. */
export const boardCards: readonly CardSpec[] = [fretSlots, boardTaper, boardRadius];
