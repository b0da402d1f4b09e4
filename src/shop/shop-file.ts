import { InputError } from '../quantity/input-error.ts';
import { formatDecimal } from '../quantity/print-length.ts';
import { parseYaml } from './edit-yaml.ts';
import { type Read, readShape } from './read-shape.ts';
import {
  type Adjust,
  type AgeBandKey,
  type AgeRuleWord,
  type GaugedJig,
  JIG_KINDS,
  type Jig,
  type JigKind,
  type Machine,
  type MachineSets,
  type PaperName,
  PLAIN_SHOP,
  PLAIN_STEPS,
  type Reads,
  type Shop,
  type StationHere,
} from './shop.ts';
import { SHOP_SHAPE } from './shop-shape.ts';

export const SHOP_FORMAT = 'bracewright-shop/1';

/** First lines of the published schema. */
export const SHOP_SCHEMA_HEAD = {
  $schema: 'https://json-schema.org/draft/2020-12/schema',
  $id: 'shop.schema.json',
  title: SHOP_FORMAT,
} as const;

/** A group as `readShape` gives it; the shape has already said what is in it. */
type Group = Readonly<Record<string, Read | undefined>>;

const numberOr = (value: Read | undefined): number | undefined =>
  typeof value === 'number' ? value : undefined;
const numbers = (value: Read | undefined): readonly number[] => (value ?? []) as readonly number[];
const groups = (value: Read | undefined): readonly Group[] => (value ?? []) as unknown as readonly Group[];
const texts = (value: Read | undefined): readonly string[] => (value ?? []) as readonly string[];

/** The entry only when there is one, so that an absent key stays absent. */
const given = <K extends string, V>(key: K, value: V | undefined): { readonly [P in K]?: V } =>
  (value === undefined ? {} : { [key]: value }) as { readonly [P in K]?: V };

/** The name, or the id where none is given. */
const nameOf = (g: Group): string => (typeof g['name'] === 'string' ? g['name'] : (g['id'] as string));

function readsOf(m: Group): Reads {
  if (m['reads'] === 'digital') return { kind: 'digital', stepMm: m['step'] as number };
  if (m['reads'] === 'scale') return { kind: 'scale', stepMm: m['division'] as number };
  const travelMm = m['travel_a_turn'] as number;
  const partsCount = m['parts'] as number;
  return {
    kind: 'crank',
    stepMm: travelMm / partsCount,
    travelMm,
    partsCount,
    zeroMm: numberOr(m['zero']) ?? 0,
  };
}

function machineOf(m: Group, member: string): Machine {
  const offset = m['offset'] as Group | undefined;
  const snipe = m['snipe'] as Group | undefined;
  const smallest = numberOr(m['smallest_cut']);
  const largest = numberOr(m['largest_cut']);
  if (smallest !== undefined && largest !== undefined && smallest > largest)
    throw new InputError(
      'cuts-crossed',
      `${member}: the smallest cut ${formatDecimal(smallest, 2)} mm is more than the largest cut ${formatDecimal(largest, 2)} mm; exchange them.`,
      member,
    );
  if (m['reads'] === 'crank' && !Number.isInteger(m['parts']))
    throw new InputError(
      'parts-not-whole',
      `${member}: parts is ${m['parts']}, and it must be a whole number of parts of a turn; write 4 for quarters.`,
      member,
    );
  return {
    id: m['id'] as string,
    name: nameOf(m),
    station: m['station'] as string,
    sets: m['sets'] as MachineSets,
    unit: m['unit'] as 'mm' | 'in',
    reads: readsOf(m),
    offset: {
      alphaMm: numberOr(offset?.['alpha']) ?? 0,
      beta: numberOr(offset?.['beta']) ?? 1,
      ...given('provedOn', offset?.['proved'] as string | undefined),
    },
    ...given('smallestCutMm', smallest),
    ...given('largestCutMm', largest),
    ...given('shortestPieceMm', numberOr(m['shortest_piece'])),
    ...given('widestPieceMm', numberOr(m['widest_piece'])),
    ...(snipe ? { snipe: { lengthMm: snipe['length'] as number, depthMm: snipe['depth'] as number } } : {}),
  };
}

/** Fixed places or a range; a sentence when the file gives neither or both. */
function adjustOf(j: Group, kind: JigKind, member: string): Adjust {
  const range = [j['from'], j['to'], j['step']];
  const rangeCount = range.filter((v) => v !== undefined).length;
  const { sets } = JIG_KINDS[kind];
  if (j['fixed'] !== undefined && rangeCount === 0) {
    const at = [...numbers(j['fixed'])].sort((a, b) => a - b);
    if (at.length > 0) return { kind: 'fixed', at };
  }
  if (j['fixed'] === undefined && rangeCount === 3) {
    const [from, to, step] = range as [number, number, number];
    if (from < to) return { kind: 'adjustable', from, to, step };
  }
  throw new InputError(
    'jig-unclear',
    `${member}: a ${kind} needs its ${sets}, either fixed: with a list of places, or from:, to: and step: with from below to; write one of the two.`,
    member,
  );
}

function jigOf(j: Group, member: string): Jig {
  const id = j['id'] as string;
  const name = nameOf(j);
  if (j['kind'] === 'mould')
    return {
      kind: 'mould',
      id,
      name,
      lengthMm: j['length'] as number,
      upperBoutMm: j['upper_bout'] as number,
      waistMm: j['waist'] as number,
      lowerBoutMm: j['lower_bout'] as number,
      ...given('springBackFrac', numberOr(j['spring_back'])),
    };
  const kind = j['kind'] as JigKind;
  return { kind, id, name, adjust: adjustOf(j, kind, member) } satisfies GaugedJig;
}

function stationOf(s: Group): StationHere {
  return {
    isHere: s['here'] !== false,
    cautions: texts(s['cautions']),
    ...given('capacity', numberOr(s['capacity'])),
    ...given('key', s['key'] as string | undefined),
    ...given('protect', s['protect'] as readonly string[] | undefined),
    ...given('without', s['without'] as string | undefined),
  };
}

function refuseTwins(things: readonly { readonly id: string }[], what: string): void {
  const seen = new Set<string>();
  for (const { id } of things) {
    if (seen.has(id))
      throw new InputError(
        'same-id',
        `${what}: two entries are called ${id}; give one of them another id.`,
        what,
      );
    seen.add(id);
  }
}

/** The format line is looked at first, so that a file of another kind or version is called that. */
function requireFormat(value: unknown): void {
  const format =
    typeof value === 'object' && value !== null ? (value as { format?: unknown }).format : undefined;
  if (format === SHOP_FORMAT) return;
  const got = format === undefined ? 'no format line' : `format "${String(format).slice(0, 60)}"`;
  throw new InputError(
    'wrong-format',
    `This file has ${got}, and a shop file begins with "format: ${SHOP_FORMAT}"; choose a shop file, or bring it to that version.`,
    'format',
  );
}

/**
 * Reads a shop file.
 *
 * @param text  the YAML text
 * @returns     the shop, lengths in mm, angles in degrees
 * @throws InputError with one sentence naming the member, the value got, the limit and the remedy
 * @source      arithmetic
 */
export function readShop(text: string): Shop {
  const plain = parseYaml(text, 'The shop file');
  requireFormat(plain);
  const file = readShape(plain, SHOP_SHAPE, 'The shop', 'shop') as Group;
  const printer = file['printer'] as Group | undefined;
  const steps = file['thickness_steps'] as Group | undefined;
  const machines = groups(file['machines']).map((m) => machineOf(m, `machine ${String(m['id'])}`));
  const jigs = groups(file['jigs']).map((j) => jigOf(j, `jig ${String(j['id'])}`));
  refuseTwins(machines, 'machines');
  refuseTwins(jigs, 'jigs');
  return {
    name: file['name'] as string,
    ...given('note', file['note'] as string | undefined),
    ...given('schoolRule', file['school_rule'] as string | undefined),
    ...given('host', file['host'] as string | undefined),
    unit: (file['unit'] ?? PLAIN_SHOP.unit) as 'mm' | 'in',
    paper: (file['paper'] ?? PLAIN_SHOP.paper) as PaperName,
    printed100: printer
      ? { xMm: printer['printed_100_x'] as number, yMm: printer['printed_100_y'] as number }
      : PLAIN_SHOP.printed100,
    pinsMm: numbers(file['pins']),
    drillsMm: numbers(file['drills']),
    bladesMm: numbers(file['blades']),
    cutters: groups(file['cutters']).map((c) => ({
      diameterMm: c['diameter'] as number,
      ...given('longestCutMm', numberOr(c['longest_cut'])),
    })),
    steps: steps
      ? {
          coarseMm: steps['coarse'] as number,
          denseMm: steps['dense'] as number,
          fineMm: steps['fine'] as number,
          fineCount: Math.round(steps['fine_passes'] as number),
        }
      : PLAIN_STEPS,
    machines,
    jigs,
    stations: new Map(
      Object.entries((file['stations'] ?? {}) as unknown as Record<string, Group>).map(([id, s]) => [
        id,
        stationOf(s),
      ]),
    ),
    ageRules: new Map(
      Object.entries((file['age_rules'] ?? {}) as unknown as Record<string, Record<AgeBandKey, AgeRuleWord>>),
    ),
  };
}
