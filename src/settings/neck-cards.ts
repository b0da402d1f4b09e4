import { jigsOf, machineAt, type Shop } from '../shop/shop.ts';
import { placeOf } from './jig-rounding.ts';
import { jigSetting, machineLength, plainAngle, plainLength, toolLength } from './make-setting.ts';
import { type CardSpec, cardSpec, MAY_CHANGE } from './setting.ts';

const rad = (deg: number): number => (deg * Math.PI) / 180;

/** Length over which a small angle is set and checked, mm. */
const PROOF_LENGTH_MM = 100;

const headScarf = cardSpec({
  id: 'head-scarf',
  title: 'Saw and plane the head scarf',
  station: 'planing-board',
  operations: ['N1'],
  lie: 'Blank in the scarf jig, both faces of the cut up.',
  mayChange: MAY_CHANGE.own,
  from: ['neck.head.angle', 'neck.head.thickness'],
  build({ of, stock, size }) {
    const angleDeg = of('neck.head.angle');
    const blankMm = stock('neck blank')?.thicknessMm ?? 25;
    const rampMm = blankMm / Math.tan(rad(angleDeg));
    return {
      settings: [
        plainAngle(
          {
            id: 'scarf.angle',
            label: 'Head angle',
            figures: ['neck.head.angle'],
            low: angleDeg - 0.5,
            high: angleDeg + 0.5,
          },
          angleDeg,
          1,
        ),
        plainLength(
          {
            id: 'scarf.length',
            label: `Ramp in a blank of ${size.text(blankMm)}`,
            figures: ['neck.head.angle'],
          },
          rampMm,
        ),
      ],
      picture: { kind: 'wedge', angleDeg, lengthMm: rampMm, riseMm: blankMm, words: 'scarf' },
      onScrap: ['Bevel gauge against the printed angle, then on the jig'],
      onPiece: [
        'Both ramps planed together, feather edges level',
        'No light under a straightedge across the joint',
      ],
    };
  },
});

/** The widest cutter that goes into a slot; undefined when none does. @source common practice, no published source */
export function widestInSlot(shop: Shop, widthMm: number): number | undefined {
  const fits = shop.cutters.map((c) => c.diameterMm).filter((d) => d <= widthMm + 0.061);
  return fits.sort((a, b) => b - a)[0];
}

/** The cutter for a slot: the widest that goes in, else one as wide as the slot. @source common practice, no published source */
export function slotCutter(shop: Shop, widthMm: number): number {
  return widestInSlot(shop, widthMm) ?? widthMm;
}

const rodSlot = cardSpec({
  id: 'rod-slot',
  title: 'Rout the rod slot',
  station: 'router-table',
  operations: ['N5'],
  lie: 'Board face down, edge against the fence, stops at both ends.',
  mayChange: MAY_CHANGE.teacher,
  from: ['neck.rod_slot.depth', 'neck.rod_slot.width'],
  build({ of, maybe, shop, size }) {
    const depthMm = of('neck.rod_slot.depth');
    const widthMm = of('neck.rod_slot.width');
    const cutterMm = slotCutter(shop, widthMm);
    const most = machineAt(shop, 'router-table', 'depth')?.largestCutMm ?? 3;
    const left = maybe('neck.rod_slot.wood_left');
    return {
      settings: [
        machineLength(
          {
            id: 'rod_slot.depth',
            label: 'Cutter above the table, last cut',
            figures: ['neck.rod_slot.depth'],
            low: depthMm,
            high: depthMm + 0.2,
          },
          depthMm + 0.1,
          machineAt(shop, 'router-table', 'depth'),
          'less',
        ),
        toolLength(
          {
            id: 'rod_slot.width',
            label: 'Slot width',
            figures: ['neck.rod_slot.width'],
            low: widthMm,
            high: widthMm + 0.15,
          },
          widthMm,
        ),
        toolLength({ id: 'rod_slot.cutter', label: 'Cutter', figures: ['neck.rod_slot.width'] }, cutterMm),
      ],
      picture: { kind: 'groove', widthMm, depthMm, bodyMm: depthMm + (left ?? 6), words: 'rod' },
      onScrap: [
        'Slot a scrap and lay the rod in: it drops in and does not rattle',
        `In ${Math.ceil(depthMm / most)} cuts of at most ${size.one(most)}`,
      ],
      onPiece: [
        'Feed against the turn of the cutter',
        ...(left === undefined ? [] : [`${size.one(left)} of wood stay behind it at fret 1`]),
      ],
    };
  },
});

const neckWedge = cardSpec({
  id: 'neck-wedge',
  title: 'Set the neck angle',
  station: 'neck-joint-bench',
  operations: ['N6', 'N10'],
  lie: 'Neck clamped on its centre line, wedge under the board face.',
  mayChange: MAY_CHANGE.teacher,
  hold: 'The teacher sees the scrap joint.',
  from: ['neck.angle', 'neck.heel.height'],
  build({ of, maybe, shop, size }) {
    const place = placeOf(jigsOf(shop, 'neck-wedge'), of('neck.angle'), 'nearest');
    const riseMm = PROOF_LENGTH_MM * Math.tan(rad(place.at));
    const heelMm = of('neck.heel.height');
    const window = maybe('neck.straightedge_window');
    return {
      settings: [
        jigSetting(
          {
            id: 'neck.wedge',
            label: 'Wedge, + leans the neck back',
            figures: ['neck.angle'],
            low: of('neck.angle') - 0.08,
            high: of('neck.angle') + 0.08,
          },
          'deg',
          of('neck.angle'),
          place,
        ),
        plainLength(
          { id: 'neck.wedge_rise', label: `Rise over ${size.one(PROOF_LENGTH_MM)}`, figures: ['neck.angle'] },
          riseMm,
          2,
        ),
        plainAngle(
          { id: 'neck.heel_face', label: 'Heel face to the board face', figures: ['neck.angle'] },
          90 - of('neck.angle'),
        ),
        plainLength(
          { id: 'neck.tenon', label: 'Tenon narrower than the pocket', figures: [], low: 0.05, high: 0.15 },
          0.1,
          2,
        ),
      ],
      picture: {
        kind: 'wedge',
        angleDeg: place.at,
        lengthMm: PROOF_LENGTH_MM,
        riseMm,
        words: Math.abs(place.at) < 0.005 ? 'flat shim, no wedge' : 'wedge',
      },
      onScrap: [
        'Cut the scrap joint, straightedge on the neck: read the height at the saddle place',
        `0.1 deg is ${size.one(heelMm * Math.tan(rad(0.1)), 2)} at the heel`,
      ],
      onPiece: [
        'Long cutter: two depths',
        ...(window === undefined ? [] : [`Straightedge over the bridge top: ${size.one(window, 2)}`]),
      ],
    };
  },
});

const tunerHoles = cardSpec({
  id: 'tuner-holes',
  title: 'Drill the tuner holes',
  station: 'drill-press',
  operations: ['N7'],
  lie: 'Head face up on scrap, guide clamped.',
  mayChange: MAY_CHANGE.key,
  from: ['neck.tuner_hole', 'neck.tuner_pitch'],
  build({ of, shop, instrument }) {
    const holeMm = of('neck.tuner_hole');
    const drill =
      [...shop.drillsMm].filter((d) => d >= holeMm - 1e-9 && d <= holeMm + 0.21).sort((a, b) => a - b)[0] ??
      holeMm;
    const pitch = placeOf(jigsOf(shop, 'tuner-guide'), of('neck.tuner_pitch'), 'nearest');
    return {
      settings: [
        toolLength(
          {
            id: 'tuner.drill',
            label: 'Drill',
            figures: ['neck.tuner_hole'],
            low: holeMm,
            high: holeMm + 0.15,
          },
          drill,
        ),
        jigSetting(
          { id: 'tuner.pitch', label: 'Post to post', figures: ['neck.tuner_pitch'] },
          'mm',
          of('neck.tuner_pitch'),
          pitch,
        ),
      ],
      picture: { kind: 'holes', pitchMm: pitch.at, holeMm: drill, count: instrument === 'uke' ? 2 : 3 },
      onScrap: ['Drill scrap, push the tuner in hand through: it slides, it does not shake'],
      onPiece: [
        'Bass side on the bass side: check NUT and BASS',
        'Back the head with scrap, drill from the face',
      ],
    };
  },
});

const sawNeck = cardSpec({
  id: 'saw-neck',
  title: 'Saw the neck outlines',
  station: 'bandsaw',
  operations: ['N7'],
  lie: 'Side view first, offcuts taped back, then the plan.',
  mayChange: MAY_CHANGE.key,
  from: [
    'neck.fret_1.final',
    'neck.fret_9.final',
    'board.thickness',
    'board.width.nut',
    'board.width.fret_12',
  ],
  build({ of, maybe, size }) {
    const spare = 1.5;
    return {
      settings: [
        plainLength(
          {
            id: 'neck_saw.fret_1',
            label: `Neck without board at fret 1, with ${size.text(0.5)} spare`,
            figures: ['neck.fret_1.final', 'board.thickness'],
          },
          of('neck.fret_1.final') + 0.5 - of('board.thickness'),
        ),
        plainLength(
          {
            id: 'neck_saw.fret_9',
            label: 'The same at fret 9',
            figures: ['neck.fret_9.final', 'board.thickness'],
          },
          of('neck.fret_9.final') + 0.5 - of('board.thickness'),
        ),
        plainLength(
          {
            id: 'neck_saw.nut',
            label: `Plan width at the nut, ${size.text(spare)} spare each side`,
            figures: ['board.width.nut'],
          },
          of('board.width.nut') + 2 * spare,
        ),
        plainLength(
          { id: 'neck_saw.fret_12', label: 'Plan width at fret 12', figures: ['board.width.fret_12'] },
          of('board.width.fret_12') + 2 * spare,
        ),
      ],
      picture: {
        kind: 'neck-side',
        fret1Mm: of('neck.fret_1.final') + 0.5 - of('board.thickness'),
        fret9Mm: of('neck.fret_9.final') + 0.5 - of('board.thickness'),
        heelMm: maybe('neck.heel.height') ?? 90,
      },
      onScrap: ['Blade square to the table: saw a scrap block and turn it over'],
      onPiece: [
        `Stay ${size.unit === 'in' ? '1/16 in' : '1.5 mm'} outside every line`,
        'Read fret 1 and 9 with the calliper before carving',
      ],
    };
  },
});

/** Cards of the neck. */
export const neckCards: readonly CardSpec[] = [headScarf, rodSlot, neckWedge, sawNeck, tunerHoles];
