import {
  angleShape,
  countShape,
  dateShape,
  type Field,
  idShape,
  lengthShape,
  may,
  needed,
  type Shape,
  textShape,
} from './shape.ts';
import { AGE_BANDS, AGE_WORDS, JIG_KINDS, type JigKind, MACHINE_SETS, PAPERS } from './shop.ts';

const choice = (of: readonly string[]): Shape => ({ kind: 'choice', of });
const list = (item: Shape, most = 60): Shape => ({ kind: 'list', item, most });
const group = (fields: Readonly<Record<string, Field>>): Shape => ({ kind: 'group', fields });
const isTrue: Shape = { kind: 'yes-no' };

const offset = group({
  alpha: needed('Offset alpha', lengthShape('mm', -3, 3)),
  beta: needed('Offset beta', countShape(0.8, 1.25)),
  proved: may('Day the offset was proved', dateShape),
});

const machine: Shape = {
  kind: 'variant',
  by: 'reads',
  what: 'How the machine reads',
  common: {
    id: needed('Machine id', idShape),
    name: may('Machine name', textShape(60)),
    station: needed('Station of the machine', idShape),
    sets: needed('What the machine sets', choice(MACHINE_SETS)),
    unit: needed('Unit of the machine', choice(['mm', 'in'])),
    offset: may('Offset line', offset),
    smallest_cut: may('Smallest cut', lengthShape('mm', 0.01, 1)),
    largest_cut: may('Largest cut', lengthShape('mm', 0.05, 10)),
    shortest_piece: may('Shortest piece', lengthShape('mm', 10, 1000)),
    widest_piece: may('Widest piece', lengthShape('mm', 50, 2000)),
    snipe: may(
      'Snipe',
      group({
        length: needed('Length of the snipe', lengthShape('mm', 0, 200)),
        depth: needed('Depth of the snipe', lengthShape('mm', 0, 1)),
      }),
    ),
  },
  cases: {
    digital: { step: needed('Step of the display', lengthShape('mm', 0.001, 1)) },
    scale: { division: needed('Division of the scale', lengthShape('mm', 0.05, 5)) },
    crank: {
      travel_a_turn: needed('Travel a turn', lengthShape('mm', 0.2, 10)),
      parts: needed('Parts of a turn that can be told apart', countShape(1, 100)),
      zero: may('Thickness or depth at the zero of the crank', lengthShape('mm', -50, 50)),
    },
  },
};

/** Plausible limits of what a jig of each kind gives, in its unit. */
const JIG_LIMITS: Readonly<Record<JigKind, readonly [number, number, number]>> = {
  'hole-cutter': [12, 90, 0.01],
  'ring-jig': [12, 120, 0.01],
  'slot-template': [250, 800, 1],
  'top-dish': [1000, 50000, 1],
  'back-dish': [1000, 50000, 1],
  'radius-block': [120, 2000, 1],
  'ledge-bearings': [0.5, 6, 0.01],
  'tuner-guide': [15, 80, 0.1],
  'neck-wedge': [-3, 6, 0.01],
};

/** Fixed places, or a range with its step; the reader asks for one of the two. */
function gauged(kind: JigKind): Readonly<Record<string, Field>> {
  const [low, high, step] = JIG_LIMITS[kind];
  const isAngle = JIG_KINDS[kind].unit === 'deg';
  const value = isAngle ? angleShape(low, high) : lengthShape('mm', low, high);
  const stepShape = isAngle ? angleShape(step, 2) : lengthShape('mm', step, (high - low) / 2);
  const { sets } = JIG_KINDS[kind];
  return {
    fixed: may(`Fixed ${sets}`, list(value, 40)),
    from: may(`Least ${sets}`, value),
    to: may(`Most ${sets}`, value),
    step: may(`Step of the ${sets}`, stepShape),
  };
}

const jig: Shape = {
  kind: 'variant',
  by: 'kind',
  what: 'Kind of jig',
  common: { id: needed('Jig id', idShape), name: may('Jig name', textShape(60)) },
  cases: {
    ...Object.fromEntries(Object.keys(JIG_KINDS).map((k) => [k, gauged(k as JigKind)])),
    mould: {
      length: needed('Body length of the mould', lengthShape('mm', 180, 650)),
      upper_bout: needed('Upper bout of the mould', lengthShape('mm', 100, 420)),
      waist: needed('Waist of the mould', lengthShape('mm', 80, 400)),
      lower_bout: needed('Lower bout of the mould', lengthShape('mm', 130, 520)),
      spring_back: may('Spring-back of the bending form', {
        kind: 'amount',
        quantity: 'fraction',
        unit: '%',
        low: 0,
        high: 0.3,
      }),
    },
  },
};

const station = group({
  here: may('Whether the station is here', isTrue),
  capacity: may('Capacity', countShape(1, 100)),
  key: may('Key of the station', idShape),
  protect: may('Protection', list(textShape(40), 10)),
  cautions: may('Further cautions', list(textShape(160), 12)),
  without: may('Way without the station', textShape(200)),
});

const ageRule = group(
  Object.fromEntries(AGE_BANDS.map((band) => [band, needed(`Rule ${band}`, choice(AGE_WORDS))])),
);

/** The whole shop file. */
export const SHOP_SHAPE: Shape = group({
  format: needed('Format', choice(['bracewright-shop/1'])),
  name: needed('Name of the shop', textShape(80)),
  note: may('Note', textShape(600)),
  school_rule: may("The school's own rule", textShape(600)),
  host: may('Host name of the server in the workshop', textShape(80)),
  unit: may('Unit of rules and jigs', choice(['mm', 'in'])),
  paper: may('Paper', choice(PAPERS)),
  printer: may(
    'Printer',
    group({
      printed_100_x: needed('What the printer made of 100 mm across', lengthShape('mm', 90, 110)),
      printed_100_y: needed('What the printer made of 100 mm along', lengthShape('mm', 90, 110)),
    }),
  ),
  pins: may('Centre pins on hand', list(lengthShape('mm', 2, 16))),
  drills: may('Drills on hand', list(lengthShape('mm', 0.5, 30))),
  blades: may('Bandsaw blade widths', list(lengthShape('mm', 2, 30), 12)),
  cutters: may(
    'Straight cutters',
    list(
      group({
        diameter: needed('Cutter diameter', lengthShape('mm', 0.8, 30)),
        longest_cut: may('Longest cut', lengthShape('mm', 2, 80)),
      }),
    ),
  ),
  thickness_steps: may(
    'Steps of thickness sanding',
    group({
      coarse: needed('Coarse cut', lengthShape('mm', 0.05, 1)),
      dense: needed('Cut in dense wood', lengthShape('mm', 0.05, 1)),
      fine: needed('Cut of the last passes', lengthShape('mm', 0.02, 0.3)),
      fine_passes: needed('How many last passes', countShape(0, 10)),
    }),
  ),
  machines: may('Machines', list(machine)),
  jigs: may('Jigs', list(jig, 120)),
  stations: may('Stations', { kind: 'map', item: station, most: 120 }),
  age_rules: may("The school's table of stations by age", { kind: 'map', item: ageRule, most: 120 }),
});
