import { type JigKind, jigsOf, machineAt, mouldsOf, type Shop } from '../shop/shop.ts';
import { placeOf } from './jig-rounding.ts';
import { jigSetting, machineLength, plainLength, temperatureSetting } from './make-setting.ts';
import { type CardSpec, cardSpec, MAY_CHANGE } from './setting.ts';

/** Smallest turning radius by blade width, mm. @source common practice, no published source */
export const BLADE_TURNS: readonly (readonly [number, number])[] = [
  [3, 8],
  [6, 16],
  [10, 35],
  [13, 65],
];

/**
 * Smallest radius that a bandsaw blade turns.
 *
 * @param widthMm  blade, 3 to 13; narrower turns as 3, wider is carried on along the last stretch
 * @returns        mm
 * @source         common practice, no published source
 */
export function bladeTurnMm(widthMm: number): number {
  const first = BLADE_TURNS[0] as readonly [number, number];
  if (widthMm <= first[0]) return first[1];
  for (let i = 1; i < BLADE_TURNS.length; i++) {
    const [w1, r1] = BLADE_TURNS[i] as readonly [number, number];
    const [w0, r0] = BLADE_TURNS[i - 1] as readonly [number, number];
    if (widthMm <= w1 || i === BLADE_TURNS.length - 1) return r0 + ((widthMm - w0) * (r1 - r0)) / (w1 - w0);
  }
  return first[1];
}

/** The widest blade on hand that turns a radius; the narrowest when none does; 6 when the shop names none. */
export function bladeFor(shop: Shop, radiusMm: number): number {
  const blades = [...(shop.bladesMm.length > 0 ? shop.bladesMm : [6])].sort((a, b) => b - a);
  return blades.find((b) => bladeTurnMm(b) <= radiusMm) ?? (blades.at(-1) as number);
}

/** Wood that truing takes off each half, and what the frame is narrower than the joined plate. @source common practice, no published source */
const EDGE_WASTE_MM = 3;
const SNAP_DOWN_MM = 1.75;

/** The frame in which the two halves are joined. */
export const joiningFrame: CardSpec = cardSpec({
  id: 'joining-frame',
  title: 'Set the joining frame',
  station: 'plate-joining-frame',
  operations: ['T2', 'K1'],
  lie: 'Halves flat on waxed paper, show edges together.',
  mayChange: MAY_CHANGE.own,
  from: ['body.lower_bout.width'],
  build({ of, stock }) {
    const halfMm = stock('top half')?.widthMm ?? of('body.lower_bout.width') / 2 + 18;
    const joinedMm = 2 * (halfMm - EDGE_WASTE_MM);
    return {
      settings: [
        plainLength(
          {
            id: 'frame.opening',
            label: 'Stop to stop, halves raised at the joint',
            figures: ['stock'],
            low: joinedMm - 2,
            high: joinedMm - 1.5,
          },
          joinedMm - SNAP_DOWN_MM,
        ),
        plainLength({ id: 'frame.joined', label: 'Joined width it is for', figures: ['stock'] }, joinedMm),
      ],
      picture: { kind: 'frame', openingMm: joinedMm - SNAP_DOWN_MM, joinedMm },
      onScrap: [
        'Measure your own two halves side by side and take 1.75 off: it goes before this number',
        'Dry run: the halves snap down and stay',
      ],
      onPiece: ['Tap the wedges, do not hit', 'No step to feel across the joint'],
    };
  },
});

const sawOutline = cardSpec({
  id: 'saw-outline',
  title: 'Saw the outline',
  station: 'bandsaw',
  operations: ['T13', 'K3'],
  lie: 'Plate flat on the table, line up.',
  mayChange: MAY_CHANGE.key,
  from: ['allowance.saw', 'allowance.saw_most', 'outline.tightest_radius'],
  build({ of, maybe, shop }) {
    const tightestMm = of('outline.tightest_radius') + of('allowance.saw');
    const bladeMm = bladeFor(shop, of('outline.tightest_radius'));
    const plateMm = maybe('top.thickness.final') ?? 3;
    return {
      settings: [
        plainLength(
          {
            id: 'saw.stay_off',
            label: 'Stay outside the line',
            figures: ['allowance.saw', 'allowance.saw_most'],
            low: of('allowance.saw') - 2,
            high: of('allowance.saw_most'),
          },
          of('allowance.saw'),
        ),
        plainLength(
          { id: 'saw.blade', label: 'Blade, at most', figures: ['outline.tightest_radius'] },
          bladeMm,
        ),
        plainLength(
          {
            id: 'saw.guard',
            label: 'Guard over the table',
            figures: [],
            low: plateMm + 3,
            high: plateMm + 6,
          },
          Math.round(plateMm + 4),
        ),
      ],
      picture: {
        kind: 'stay-off',
        allowanceMm: of('allowance.saw'),
        mostMm: of('allowance.saw_most'),
        tightestMm,
        bladeMm,
      },
      onScrap: ['Saw a curve in scrap: the blade follows without twisting'],
      onPiece: ['Relief cuts first, then the waist', 'Inside of the line is scrap: when in doubt stay out'],
    };
  },
});

/** Over a chord of this length the dishes are compared, mm. */
const PROOF_CHORD_MM = 360;

/** Rise of a sphere over a chord, exact. @source plane-geometry */
export function sagMm(radiusMm: number, chordMm: number): number {
  return radiusMm - Math.sqrt(radiusMm * radiusMm - (chordMm * chordMm) / 4);
}

function dishCard(side: 'top' | 'back', operations: readonly string[]): CardSpec {
  const figure = `dome.${side}.radius` as const;
  const kind: JigKind = side === 'top' ? 'top-dish' : 'back-dish';
  return cardSpec({
    id: `${side}-dish`,
    title: `Choose the ${side} dish`,
    station: kind,
    operations,
    lie: 'Paper up, swept clean, dish on a flat bench.',
    mayChange: MAY_CHANGE.own,
    from: [figure, 'body.lower_bout.width'],
    build({ of, shop, size }) {
      const place = placeOf(jigsOf(shop, kind), of(figure), 'nearest');
      const chordMm = Math.min(PROOF_CHORD_MM, of('body.lower_bout.width'));
      const sag = sagMm(place.at, chordMm);
      return {
        settings: [
          jigSetting(
            { id: `${side}_dish.radius`, label: 'Sphere radius', figures: [figure] },
            'mm',
            of(figure),
            place,
          ),
          plainLength(
            {
              id: `${side}_dish.sag`,
              label: `Light under a straightedge of ${size.text(chordMm)}`,
              figures: [figure],
              low: sag - 0.2,
              high: sag + 0.2,
            },
            sag,
            2,
          ),
        ],
        picture: { kind: 'dome', radiusMm: place.at, chordMm, sagMm: sag },
        onScrap: [
          `Straightedge of ${size.one(chordMm)} across the dish, feelers under its middle: ${size.one(sag, 2)}`,
        ],
        onPiece: [
          'Chalk all round: stop when the chalk is gone everywhere',
          'Mark the neck end, so that it always lies the same way',
        ],
      };
    },
  });
}

/** Share of the final curvature that springs back when no one has measured it. @source common practice, no published source */
export const PLAIN_SPRING_BACK = 0.1;

const sideFormer = cardSpec({
  id: 'side-former',
  title: 'Bend the sides',
  station: 'side-bender',
  operations: ['S3'],
  lie: 'Strip with its outer face to the form, marks up.',
  mayChange: MAY_CHANGE.teacher,
  from: [
    'bending.mark_on_strip.waist',
    'outline.half_perimeter',
    'allowance.strip_end',
    'body.waist.radius',
    'body.upper_bout.radius',
    'body.lower_bout.radius',
    'side.thickness.final',
  ],
  build({ of, shop, size }) {
    const spring = mouldsOf(shop)[0]?.springBackFrac ?? PLAIN_SPRING_BACK;
    const spareMm = of('allowance.strip_end');
    const waistMm = of('bending.mark_on_strip.waist');
    const parts = [
      ['Upper bout', 'body.upper_bout.radius'],
      ['Waist', 'body.waist.radius'],
      ['Lower bout', 'body.lower_bout.radius'],
    ] as const;
    const radii = parts.map(([label, id]) => ({ label, partMm: of(id), formMm: of(id) / (1 + spring) }));
    const tightest = Math.min(...radii.map((r) => r.formMm));
    return {
      settings: [
        plainLength(
          {
            id: 'former.waist_mark',
            label: 'Strip end to the waist mark',
            figures: ['bending.mark_on_strip'],
            low: waistMm - 2,
            high: waistMm + 2,
          },
          waistMm,
        ),
        temperatureSetting(
          { id: 'former.heat', label: 'Surface of the form', figures: [], low: 150, high: 180 },
          165,
        ),
        ...radii.map((r, i) =>
          plainLength(
            {
              id: `former.radius.${['upper', 'waist', 'lower'][i]}`,
              label: `${r.label}, form`,
              figures: [(parts[i] as readonly [string, string])[1]],
            },
            r.formMm,
          ),
        ),
      ],
      picture: {
        kind: 'former',
        stripMm: of('outline.half_perimeter') + 2 * spareMm,
        spareMm,
        waistMarkMm: waistMm,
        radii,
      },
      onScrap: [
        'A scrap of the same wood over the tightest place first',
        `Outer fibre ${((of('side.thickness.final') / (2 * tightest)) * 100).toFixed(1)} % at radius ${size.text(tightest)}: up to 2.0 % with care`,
      ],
      onPiece: [
        `Waist mark on the waist mark, within ${size.unit === 'in' ? '1/16 in' : '2 mm'}`,
        '3 to 6 minutes at heat a zone, cool in the form 20 to 60 minutes',
        'Write down how far it springs back',
      ],
    };
  },
});

const ledges = cardSpec({
  id: 'binding-ledge',
  title: 'Rout the binding ledges',
  station: 'binding-bench',
  operations: ['X8'],
  lie: 'Box held upright to the rim plane, four downhill runs.',
  mayChange: MAY_CHANGE.teacher,
  hold: 'The teacher sees the test block.',
  from: ['binding.thickness', 'binding.height'],
  build({ of, maybe, shop, size }) {
    const heightMm = maybe('binding.ledge_height') ?? of('binding.height') - 0.2;
    const place = placeOf(jigsOf(shop, 'ledge-bearings'), of('binding.thickness'), 'nearest');
    const height = machineLength(
      {
        id: 'ledge.height',
        label: 'Ledge height, from the plate',
        figures: ['binding.ledge_height', 'binding.height'],
        low: heightMm - 0.2,
        high: heightMm + 0.2,
      },
      heightMm,
      machineAt(shop, 'binding-bench', 'height'),
      'less',
    );
    return {
      settings: [
        jigSetting(
          {
            id: 'ledge.depth_in',
            label: 'Ledge depth in',
            figures: ['binding.thickness'],
            low: of('binding.thickness'),
            high: of('binding.thickness') + 0.1,
          },
          'mm',
          of('binding.thickness'),
          place,
        ),
        height,
      ],
      picture: {
        kind: 'ledge',
        depthInMm: place.at,
        heightMm: height.result,
        bindingMm: of('binding.thickness'),
      },
      onScrap: [
        'Cut the test block, lay a piece of this binding in',
        `Binding stands ${size.range(0.2, 0.4)} proud both ways`,
      ],
      onPiece: [
        'Router axis upright to the rim plane, not to the domed plate',
        'Stop the cutter before lifting off',
        'Two depths at the waist',
      ],
    };
  },
});

const sideStrip = cardSpec({
  id: 'side-strip',
  title: 'Mark the flat side outline',
  station: 'bench',
  operations: ['S2'],
  lie: 'Show face down, straight edge to you; the second strip is the mirror.',
  mayChange: MAY_CHANGE.own,
  from: [
    'bending.mark_on_strip.waist',
    'outline.half_perimeter',
    'allowance.strip_end',
    'allowance.strip_edge',
    'rim.height.neck',
    'rim.height.tail',
  ],
  build({ of }) {
    const edge = 2 * of('allowance.strip_edge');
    const lengthMm = of('outline.half_perimeter') + 2 * of('allowance.strip_end');
    return {
      settings: [
        plainLength(
          {
            id: 'strip.length',
            label: 'Strip length, with spare',
            figures: ['outline.half_perimeter', 'allowance.strip_end'],
          },
          lengthMm,
        ),
        plainLength(
          {
            id: 'strip.neck',
            label: 'Neck end, with spare',
            figures: ['rim.height.neck', 'allowance.strip_edge'],
          },
          of('rim.height.neck') + edge,
        ),
        plainLength(
          {
            id: 'strip.tail',
            label: 'Tail, with spare',
            figures: ['rim.height.tail', 'allowance.strip_edge'],
          },
          of('rim.height.tail') + edge,
        ),
      ],
      picture: {
        kind: 'former',
        stripMm: lengthMm,
        spareMm: of('allowance.strip_end'),
        waistMarkMm: of('bending.mark_on_strip.waist'),
        radii: [],
      },
      onScrap: ['Lay the printed strip on and measure its length: it is the first number'],
      onPiece: [
        'Mark NECK, TOP and the waist before sawing',
        'It is not a straight taper: the waist is higher',
      ],
    };
  },
});

/** Cards of plates, sides and box. */
export const bodyCards: readonly CardSpec[] = [
  sawOutline,
  dishCard('top', ['R3', 'S7', 'S8b']),
  sideStrip,
  sideFormer,
  dishCard('back', ['K5', 'S9', 'S10b']),
  ledges,
];
