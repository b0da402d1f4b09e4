import { machineAt } from '../shop/shop.ts';
import { machineLength, plainAngle, plainLength, toolLength } from './make-setting.ts';
import { slotCutter } from './neck-cards.ts';
import { type CardSpec, cardSpec, MAY_CHANGE } from './setting.ts';

const saddleSlot = cardSpec({
  id: 'saddle-slot',
  title: 'Cut the saddle slot',
  station: 'saddle-jig',
  operations: ['G5'],
  lie: 'Jig on its soft pad, body held, bridge glued.',
  mayChange: MAY_CHANGE.teacher,
  from: [
    'scale.length',
    'scale.setback.centre',
    'scale.saddle_slope',
    'saddle.spread',
    'bridge.saddle_slot.width',
    'bridge.saddle_slot.depth',
    'bridge.saddle_slot.length',
    'bridge.saddle_from_front',
    'bridge.length',
    'bridge.width',
  ],
  build({ of, shop, isLeftHanded, size }) {
    const slope = of('scale.saddle_slope');
    const centreMm = of('scale.setback.centre');
    const halfMm = of('saddle.spread') / 2;
    const treble = centreMm + slope * halfMm;
    const bass = centreMm - slope * halfMm;
    const depthMm = of('bridge.saddle_slot.depth');
    const cutterMm = slotCutter(shop, of('bridge.saddle_slot.width'));
    const endMm = of('bridge.saddle_slot.length') / 2;
    return {
      settings: [
        plainLength(
          {
            id: 'saddle.treble',
            label: 'Nut to slot line, treble string',
            figures: ['scale.setback.treble', 'scale.length'],
          },
          of('scale.length') + treble,
          2,
        ),
        plainLength(
          {
            id: 'saddle.bass',
            label: 'Nut to slot line, bass string',
            figures: ['scale.setback.bass', 'scale.length'],
          },
          of('scale.length') + bass,
          2,
        ),
        plainAngle(
          { id: 'saddle.angle', label: 'Slot off square, bass end back', figures: ['scale.saddle_angle'] },
          (Math.atan(-slope) * 180) / Math.PI,
        ),
        machineLength(
          {
            id: 'saddle.depth',
            label: 'Depth in the bridge',
            figures: ['bridge.saddle_slot.depth'],
            low: depthMm - 0.2,
            high: depthMm + 0.1,
          },
          depthMm,
          machineAt(shop, 'saddle-jig', 'depth'),
          'less',
        ),
        toolLength({ id: 'saddle.cutter', label: 'Cutter', figures: ['bridge.saddle_slot.width'] }, cutterMm),
      ],
      picture: {
        kind: 'saddle',
        bridgeLengthMm: of('bridge.length'),
        bridgeWidthMm: of('bridge.width'),
        slotLengthMm: of('bridge.saddle_slot.length'),
        slotWidthMm: of('bridge.saddle_slot.width'),
        trebleMm: of('bridge.saddle_from_front') + slope * endMm,
        bassMm: of('bridge.saddle_from_front') - slope * endMm,
        isLeftHanded,
      },
      onScrap: [
        'Rout a scrap of the bridge wood: the saddle blank slides in and stands',
        `Slot ${size.range(of('bridge.saddle_slot.width') + 0.02, of('bridge.saddle_slot.width') + 0.06, 2)} wide`,
      ],
      onPiece: [
        'Both places measured from the nut by two people',
        `Cuts of at most ${size.one(1.5)}, unplug to change the cutter`,
      ],
    };
  },
});

const saddleBlank = cardSpec({
  id: 'saddle-blank',
  title: 'Make the saddle blank',
  station: 'bench',
  operations: ['G6'],
  lie: 'Blank on the flat plate, finger behind it.',
  mayChange: MAY_CHANGE.own,
  from: ['bridge.saddle_slot.width', 'bridge.saddle_slot.depth', 'bridge.protrusion'],
  build({ of, maybe, size }) {
    const thickMm = maybe('saddle.blank.thickness') ?? of('bridge.saddle_slot.width') - 0.04;
    const highMm =
      maybe('saddle.blank.height') ?? of('bridge.saddle_slot.depth') + of('bridge.protrusion') + 1;
    return {
      settings: [
        plainLength(
          {
            id: 'saddle_blank.thickness',
            label: 'Thickness',
            figures: ['bridge.saddle_slot.width'],
            low: of('bridge.saddle_slot.width') - 0.06,
            high: of('bridge.saddle_slot.width') - 0.02,
          },
          thickMm,
          2,
        ),
        plainLength(
          {
            id: 'saddle_blank.height',
            label: `Height, ${size.unit === 'in' ? '1/32 in' : '1 mm'} spare`,
            figures: ['bridge.saddle_slot.depth', 'bridge.protrusion'],
          },
          highMm,
        ),
      ],
      picture: {
        kind: 'groove',
        widthMm: thickMm,
        depthMm: of('bridge.saddle_slot.depth'),
        bodyMm: of('bridge.saddle_slot.depth') + 3,
        words: 'saddle',
      },
      onScrap: ['Slides into the scrap slot without a knock, stays when turned over'],
      onPiece: ['Foot flat and square before the height is touched'],
    };
  },
});

const bridgeHoles = cardSpec({
  id: 'bridge-pins',
  title: 'Drill the bridge',
  station: 'drill-press',
  operations: ['G1'],
  lie: 'Foot down on scrap, drill guide clamped.',
  mayChange: MAY_CHANGE.key,
  only: ['steel'],
  from: ['bridge.anchor_behind', 'saddle.spread', 'bridge.height'],
  build({ of, maybe, size }) {
    const spreadMm = maybe('bridge.pin_spread') ?? of('saddle.spread') + 1;
    return {
      settings: [
        plainLength(
          { id: 'bridge.pilot', label: 'Pilot drill for taper pins', figures: [], low: 4.5, high: 5 },
          5,
        ),
        plainLength(
          {
            id: 'bridge.pin_spread',
            label: 'Outer pins, centre to centre',
            figures: ['bridge.pin_spread'],
            low: spreadMm - 0.3,
            high: spreadMm + 0.3,
          },
          spreadMm,
        ),
        plainLength(
          {
            id: 'bridge.pin_behind',
            label: 'Pin line behind the saddle line',
            figures: ['bridge.anchor_behind'],
          },
          of('bridge.anchor_behind'),
        ),
        plainLength(
          {
            id: 'bridge.blank',
            label: `Height at the saddle, ${size.text(0.5)} spare`,
            figures: ['bridge.height'],
          },
          of('bridge.height') + 0.5,
        ),
      ],
      picture: {
        kind: 'holes',
        pitchMm: spreadMm / 5,
        holeMm: 5,
        count: 6,
        edgeMm: of('bridge.anchor_behind'),
      },
      onScrap: [
        `Drill scrap, ream, try a pin: its head stands ${size.unit === 'in' ? '1/32 in' : '1 mm'} proud`,
      ],
      onPiece: [
        'Centre line of the bridge on the centre line of the guide',
        `Every hole ${size.unit === 'in' ? '5/16 in' : '8 mm'} or more from the edge of the bridge plate`,
      ],
    };
  },
});

/** Cards of the bridge. */
export const bridgeCards: readonly CardSpec[] = [bridgeHoles, saddleBlank, saddleSlot];
