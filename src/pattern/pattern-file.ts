import { isMap, isScalar, type YAMLMap } from 'yaml';
import { InputError } from '../quantity/input-error.ts';
import type { QuantityField } from '../quantity/parse-quantity.ts';
import type { QuantityKind } from '../quantity/units.ts';
import type { InputSpec } from './input-spec.ts';
import { inputTable } from './input-table.ts';
import type { BarSpec, Instrument, Pattern, PatternPoint, StockSpec, StringSpec } from './pattern.ts';
import {
  itemsAt,
  lineOf,
  mapAt,
  parseSource,
  quantityAt,
  refuseUnknownKeys,
  requireFormat,
  type Source,
  scalarAt,
  wordAt,
} from './read-yaml.ts';

/** Format line of a pattern file. */
export const PATTERN_FORMAT = 'bracewright-pattern/1';

/** How a unit of the input table is read: kind, unit of a bare number and how many of the table's unit one base unit is. */
const READ_AS: Readonly<
  Record<string, { readonly kind: QuantityKind; readonly unit: string; readonly perBase: number }>
> = {
  mm: { kind: 'length', unit: 'mm', perBase: 1 },
  deg: { kind: 'angle', unit: 'deg', perBase: 1 },
  count: { kind: 'count', unit: 'count', perBase: 1 },
  fraction: { kind: 'fraction', unit: 'fraction', perBase: 1 },
  kg: { kind: 'mass', unit: 'kg', perBase: 1 },
  g: { kind: 'mass', unit: 'g', perBase: 1000 },
  Hz: { kind: 'frequency', unit: 'Hz', perBase: 1 },
  cm2: { kind: 'area', unit: 'cm2', perBase: 1 },
};

const specById: ReadonlyMap<string, InputSpec> = new Map(inputTable.map((i) => [i.id, i]));

/** What the table says of an input. @source arithmetic */
export function inputSpec(id: string): InputSpec | undefined {
  return specById.get(id);
}

/** The field of an input for the quantity parser, and the factor from the parser's base unit to the table's. @source arithmetic */
export function fieldOf(spec: InputSpec): { readonly field: QuantityField; readonly perBase: number } {
  const read = READ_AS[spec.unit];
  if (!read)
    throw new RangeError(`Input ${spec.id} has unit ${spec.unit}, which the pattern file cannot read.`);
  return {
    field: {
      kind: read.kind,
      unit: read.unit,
      low: spec.low / read.perBase,
      high: spec.high / read.perBase,
      what: spec.label,
    },
    perBase: read.perBase,
  };
}

/** Keys below a path of the table: `body.waist` has `width`, `y`, `radius`. */
function childKeys(path: string): string[] {
  const prefix = path === '' ? '' : `${path}.`;
  const keys = new Set<string>();
  for (const { id } of inputTable)
    if (id.startsWith(prefix)) keys.add(id.slice(prefix.length).split('.')[0] as string);
  if (specById.has(path)) keys.add('value');
  return [...keys];
}

/** Keys that are not plain numbers, by the group they stand in. */
const OTHER_KEYS: Readonly<Record<string, readonly string[]>> = {
  '': ['format', 'name', 'instrument', 'handed', 'mine', 'strings', 'stock', 'note'],
  brace: ['scheme', 'bars'],
  back: ['bars'],
  bridge_plate: ['fitted', 'outline'],
  body: ['own_outline'],
};

function readNumbers(source: Source, map: YAMLMap, path: string, into: Map<string, number>): void {
  const children = childKeys(path);
  refuseUnknownKeys(source, map, [...children, ...(OTHER_KEYS[path] ?? [])], path);
  for (const pair of map.items) {
    const key = String((pair.key as { value?: unknown }).value);
    if (!children.includes(key)) continue;
    const id = key === 'value' && specById.has(path) ? path : path === '' ? key : `${path}.${key}`;
    const spec = specById.get(id);
    if (isMap(pair.value) && !(spec && id === path)) readNumbers(source, pair.value, id, into);
    else if (spec) {
      const { field, perBase } = fieldOf(spec);
      into.set(id, quantityAt(source, pair.value, id, field) * perBase);
    } else
      throw new InputError(
        'wrong-kind',
        `"${id}"${lineOf(source, pair.key)} must be a group with ${childKeys(id).join(', ')}.`,
        id,
      );
  }
}

const LENGTH_ACROSS: QuantityField = {
  kind: 'length',
  unit: 'mm',
  low: -500,
  high: 500,
  what: 'Distance from the centre line',
};
const LENGTH_ALONG: QuantityField = {
  kind: 'length',
  unit: 'mm',
  low: -100,
  high: 800,
  what: 'Distance from the neck end',
};

/** The places of a list of points; undefined when it is not given. */
function readPoints(source: Source, member: string): PatternPoint[] | undefined {
  const node = source.document.getIn(member.split('.'), true);
  return node === undefined
    ? undefined
    : itemsAt(source, node, member).map((p) => readPoint(source, p, member));
}

function readPoint(source: Source, node: unknown, member: string): PatternPoint {
  const pair = itemsAt(source, node, member);
  if (pair.length !== 2)
    throw new InputError(
      'wrong-kind',
      `"${member}"${lineOf(source, node)} must be two lengths, across and along: [12 mm, 300 mm].`,
      member,
    );
  return {
    xMm: quantityAt(source, pair[0], member, LENGTH_ACROSS),
    yMm: quantityAt(source, pair[1], member, LENGTH_ALONG),
  };
}

const quantity = (
  source: Source,
  map: YAMLMap,
  member: string,
  key: string,
  field: Omit<QuantityField, 'what'>,
): number =>
  quantityAt(source, map.get(key, true), `${member}.${key}`, {
    ...field,
    what: key.replaceAll('_', ' ').replace(/^./, (c) => c.toUpperCase()),
  });

const length = (low: number, high: number) => ({ kind: 'length', unit: 'mm', low, high }) as const;

function readBar(source: Source, node: unknown, member: string): BarSpec {
  const map = mapAt(source, node, member);
  refuseUnknownKeys(
    source,
    map,
    ['id', 'role', 'fan', 'from', 'to', 'from_y', 'to_y', 'width', 'height'],
    member,
  );
  const common = {
    id: String(scalarAt(source, map.get('id', true), `${member}.id`)),
    role: String(scalarAt(source, map.get('role', true), `${member}.role`)),
    widthMm: quantity(source, map, member, 'width', length(2, 40)),
    heightMm: quantity(source, map, member, 'height', length(1, 30)),
  };
  if (!map.has('fan'))
    return {
      kind: 'straight',
      ...common,
      from: readPoint(source, map.get('from', true), `${member}.from`),
      to: readPoint(source, map.get('to', true), `${member}.to`),
    };
  return {
    kind: 'fan',
    ...common,
    index: quantityAt(source, map.get('fan', true), `${member}.fan`, {
      kind: 'count',
      unit: 'count',
      low: -8,
      high: 8,
      what: 'Place in the fan',
    }),
    fromYMm: quantity(source, map, member, 'from_y', length(0, 800)),
    toYMm: quantity(source, map, member, 'to_y', length(0, 800)),
  };
}

/** The items of a list at a path, each read as `member 1`, `member 2`, ...; none when it is not given. */
function readList<T>(
  source: Source,
  member: string,
  read: (source: Source, node: unknown, member: string) => T,
): T[] {
  const node = source.document.getIn(member.split('.'), true);
  return node === undefined
    ? []
    : itemsAt(source, node, member).map((n, i) => read(source, n, `${member} ${i + 1}`));
}

function readBars(source: Source, member: string): BarSpec[] {
  const bars = readList(source, member, readBar);
  const twice = bars.find((b, i) => bars.findIndex((c) => c.id === b.id) !== i);
  if (twice)
    throw new InputError(
      'twice',
      `Two bars in "${member}" are called ${twice.id}; give one another id.`,
      member,
    );
  return bars;
}

function readString(source: Source, node: unknown, member: string): StringSpec {
  const map = mapAt(source, node, member);
  refuseUnknownKeys(
    source,
    map,
    ['note', 'frequency', 'diameter', 'mass', 'axial_stiffness', 'bending_stiffness'],
    member,
  );
  return {
    note: String(scalarAt(source, map.get('note', true), `${member}.note`)),
    frequencyHz: quantity(source, map, member, 'frequency', {
      kind: 'frequency',
      unit: 'Hz',
      low: 20,
      high: 2000,
    }),
    diameterMm: quantity(source, map, member, 'diameter', length(0.15, 3)),
    massGPerM: quantity(source, map, member, 'mass', { kind: 'line-mass', unit: 'g/m', low: 0.05, high: 40 }),
    axialStiffnessN: quantity(source, map, member, 'axial_stiffness', {
      kind: 'force',
      unit: 'N',
      low: 200,
      high: 100_000,
    }),
    bendingStiffnessNmm2: quantity(source, map, member, 'bending_stiffness', {
      kind: 'bending-stiffness',
      unit: 'Nmm2',
      low: 1,
      high: 5000,
    }),
  };
}

function readStock(source: Source, node: unknown, member: string): StockSpec {
  const map = mapAt(source, node, member);
  refuseUnknownKeys(source, map, ['part', 'count', 'length', 'width', 'thickness', 'material'], member);
  return {
    part: String(scalarAt(source, map.get('part', true), `${member}.part`)),
    count: quantity(source, map, member, 'count', { kind: 'count', unit: 'count', low: 1, high: 100 }),
    lengthMm: quantity(source, map, member, 'length', length(5, 2000)),
    widthMm: quantity(source, map, member, 'width', length(1, 400)),
    thicknessMm: quantity(source, map, member, 'thickness', length(0.3, 200)),
    material: String(scalarAt(source, map.get('material', true), `${member}.material`)),
  };
}

function readMine(source: Source): Set<string> {
  const node = source.document.get('mine', true);
  if (node === undefined || (isScalar(node) && node.value === null)) return new Set();
  const known = new Set([
    ...specById.keys(),
    'strings',
    'brace.bars',
    'back.bars',
    'bridge_plate.outline',
    'stock',
    'handed',
  ]);
  return new Set(
    itemsAt(source, node, 'mine').map((n) => {
      const id = String(scalarAt(source, n, 'mine'));
      if (!known.has(id))
        throw new InputError(
          'unknown-key',
          `"mine"${lineOf(source, n)} names "${id}", which is no number of a pattern; take it out of the list.`,
          'mine',
        );
      return id;
    }),
  );
}

const REQUIRED_OPTIONAL =
  /^(board\.radius|dome\.top\.apex_y|brace\.|bridge_plate\.thickness|neck\.rod_slot\.|weight\.|air\.)/;

function refuseMissing(
  source: Source,
  numbers: ReadonlyMap<string, number>,
  scheme: Pattern['scheme'],
): void {
  const needed = inputTable.filter(
    (i) => !REQUIRED_OPTIONAL.test(i.id) || (scheme !== 'ladder' && i.id.startsWith(`brace.${scheme}.`)),
  );
  const missing = needed.find((i) => !numbers.has(i.id));
  if (missing)
    throw new InputError(
      'missing',
      `This ${source.what} does not give "${missing.id}" (${missing.label}); write it, in ${missing.unit}.`,
      missing.id,
    );
}

/**
 * Reads a pattern file.
 *
 * @param text  YAML text in the form `bracewright-pattern/1`
 * @returns     the inputs, checked for plausibility (not for the rules of the trade)
 * @throws InputError with one sentence naming the member, its line, the value got, the limit and the remedy
 * @source      common practice, no published source
 */
export function readPattern(text: string): Pattern {
  const source = parseSource(text, 'pattern');
  requireFormat(source, PATTERN_FORMAT);
  const numbers = new Map<string, number>();
  readNumbers(source, source.document.contents as unknown as YAMLMap, '', numbers);
  const at = (path: readonly string[]): unknown => source.document.getIn(path, true);
  const scheme = wordAt(source, at(['brace', 'scheme']) ?? 'ladder', 'brace.scheme', [
    'x',
    'fan',
    'ladder',
  ] as const);
  refuseMissing(source, numbers, scheme);
  const fitted = wordAt(source, at(['bridge_plate', 'fitted']) ?? 'none', 'bridge_plate.fitted', [
    'one-piece',
    'between-struts',
    'none',
  ] as const);
  const outline = readPoints(source, 'bridge_plate.outline') ?? [];
  if (fitted !== 'none' && outline.length < 3)
    throw new InputError(
      'missing',
      '"bridge_plate.outline" needs at least three places; write them, or "fitted: none".',
      'bridge_plate.outline',
    );
  const strings = readList(source, 'strings', readString);
  if (strings.length < 2)
    throw new InputError('missing', '"strings" must name at least two strings, treble to bass.', 'strings');
  const pattern: Pattern = {
    name: String(scalarAt(source, at(['name']) ?? 'Pattern', 'name')),
    instrument: wordAt<Instrument>(source, at(['instrument']), 'instrument', ['steel', 'nylon', 'uke']),
    handed: wordAt(source, at(['handed']) ?? 'right', 'handed', ['right', 'left'] as const),
    scheme,
    numbers,
    mine: readMine(source),
    strings,
    topBars: readBars(source, 'brace.bars'),
    backBars: readBars(source, 'back.bars'),
    bridgePlate: { outline, fitted },
    stock: readList(source, 'stock', readStock),
  };
  const ownOutline = readPoints(source, 'body.own_outline');
  return ownOutline ? { ...pattern, ownOutline } : pattern;
}
