import type { StockSpec } from '../../pattern/pattern.ts';
import type { BuildFacts } from '../build-facts.ts';
import { buildsOf } from '../class-state.ts';
import { priceKey, type ShopFacts } from '../shop-facts.ts';
import {
  buildNumber,
  numbers,
  type OfficeCell,
  type OfficeInput,
  type OfficeTable,
  personName,
  words,
} from './office-table.ts';

/** Rough wood of one build: what its pattern lists, and what was taken again for pieces made anew. */
export interface BuildWood {
  readonly build: string;
  readonly person: string;
  readonly pattern: string;
  readonly lines: readonly WoodLine[];
}

/** One line of rough wood. */
export interface WoodLine {
  readonly spec: StockSpec;
  /** As the pattern lists it. */
  readonly pieces: number;
  /** Taken once more because a piece was made again. */
  readonly again: number;
}

/** A name as it stands in the record of a piece made again. */
const slug = (part: string): string => part.replace(/[^A-Za-z0-9]+/g, '-');

function linesOf(stock: readonly StockSpec[], facts: BuildFacts): readonly WoodLine[] {
  const taken = facts.replaced.flatMap((r) => r.stock);
  return stock.map((spec) => ({
    spec,
    pieces: spec.count,
    again: spec.count * taken.filter((t) => t === slug(spec.part)).length,
  }));
}

/** Rough wood of every build of the course. @source arithmetic */
export function woodOfBuilds({ state, patternOf }: OfficeInput): readonly BuildWood[] {
  return buildsOf(state).map(({ id, person, facts }) => {
    const pattern = patternOf(facts);
    return { build: id, person, pattern: pattern.name, lines: linesOf(pattern.stock, facts) };
  });
}

/** Volume of one piece, litres. @source arithmetic */
export const pieceLitre = (s: StockSpec): number => (s.lengthMm * s.widthMm * s.thicknessMm) / 1e6;

const sizeText = (s: StockSpec): string =>
  [s.lengthMm, s.widthMm, s.thicknessMm].map((mm) => String(Number(mm.toFixed(1)))).join(' x ');

/** What an amount of money says: a number with its currency, or that there is none. */
export const NO_PRICE = 'no price entered';

const priceOf = (shop: ShopFacts, s: StockSpec) => shop.prices.get(priceKey(s.part, s.material));

/** Sums of money by currency, largest first. @source arithmetic */
export function moneyText(amounts: ReadonlyMap<string, number>): string | undefined {
  const list = [...amounts].sort((a, b) => b[1] - a[1]);
  return list.length === 0 ? undefined : list.map(([c, n]) => `${n.toFixed(2)} ${c}`).join(' and ');
}

function added(amounts: Map<string, number>, currency: string, amount: number): void {
  amounts.set(currency, (amounts.get(currency) ?? 0) + amount);
}

/** One kind of rough wood over the whole course. */
export interface MaterialLine {
  readonly key: string;
  readonly spec: StockSpec;
  readonly builds: number;
  readonly pieces: number;
  readonly again: number;
  readonly price?: { readonly price: number; readonly currency: string };
}

/** The rough wood of the course, each kind and size once. @source arithmetic */
export function materialLines(input: OfficeInput): readonly MaterialLine[] {
  const found = new Map<string, MaterialLine>();
  for (const wood of woodOfBuilds(input))
    for (const line of wood.lines) {
      const key = priceKey(line.spec.part, line.spec.material);
      const place = `${key} ${sizeText(line.spec)}`;
      const known = found.get(place);
      const price = priceOf(input.state.shop, line.spec);
      found.set(place, {
        key,
        spec: line.spec,
        builds: (known?.builds ?? 0) + 1,
        pieces: (known?.pieces ?? 0) + line.pieces,
        again: (known?.again ?? 0) + line.again,
        ...(price ? { price: { price: price.price, currency: price.currency } } : {}),
      });
    }
  return [...found.values()];
}

const WOOD_SAYS =
  'Rough sizes and counts from the patterns the builds follow. A price is what one piece costs; what has none counts nothing in the sums, and that is said.';

/**
 * Rough wood of the whole course: blanks with sizes and volumes, prices where they were entered.
 *
 * @source arithmetic
 */
export function materialsTable(input: OfficeInput): OfficeTable {
  const lines = materialLines(input);
  const money = new Map<string, number>();
  const rows = lines.map((l): OfficeCell[] => {
    const all = l.pieces + l.again;
    if (l.price) added(money, l.price.currency, l.price.price * all);
    return [
      l.spec.part,
      l.spec.material,
      l.builds,
      l.pieces,
      l.again,
      sizeText(l.spec),
      pieceLitre(l.spec) * all,
      l.price === undefined ? NO_PRICE : l.price.price.toFixed(2),
      l.price?.currency,
      l.price === undefined ? undefined : (l.price.price * all).toFixed(2),
    ];
  });
  const without = lines.filter((l) => l.price === undefined).length;
  const sum = (column: number): number => rows.reduce((all, r) => all + (r[column] as number), 0);
  return {
    id: 'materials',
    title: 'Material of the course',
    says: WOOD_SAYS,
    columns: [
      words('part', 'Part', 1.7),
      words('material', 'Wood or kind', 2.6),
      numbers('builds', 'Builds', 0, 0.7),
      numbers('pieces', 'Pieces', 0, 0.7),
      numbers('pieces_made_again', 'Again', 0, 0.7),
      words('size_mm', 'Rough size, mm', 1.7),
      numbers('volume_litre', 'Litres', 1, 0.8),
      words('price_each', 'Price each', 1.3),
      words('currency', 'In', 0.6),
      words('sum', 'Sum', 1.1),
    ],
    rows,
    sums: [
      'Together',
      without === 0 ? undefined : `${without} of ${lines.length} without a price`,
      undefined,
      sum(3),
      sum(4),
      undefined,
      sum(6),
      undefined,
      undefined,
      moneyText(money) ?? NO_PRICE,
    ],
    none: 'No build follows a pattern with rough wood.',
  };
}

/**
 * Rough wood of each build: pieces, litres, and the sum of what has a price.
 *
 * @source arithmetic
 */
export function costsTable(input: OfficeInput): OfficeTable {
  const { state } = input;
  const all = new Map<string, number>();
  const rows = woodOfBuilds(input).map((wood): OfficeCell[] => {
    const money = new Map<string, number>();
    let priced = 0;
    for (const l of wood.lines) {
      const price = priceOf(state.shop, l.spec);
      if (!price) continue;
      priced++;
      added(money, price.currency, price.price * (l.pieces + l.again));
      added(all, price.currency, price.price * (l.pieces + l.again));
    }
    return [
      buildNumber(state, wood.build),
      personName(state, wood.person),
      wood.pattern,
      wood.lines.reduce((n, l) => n + l.pieces, 0),
      wood.lines.reduce((n, l) => n + l.again, 0),
      wood.lines.reduce((n, l) => n + pieceLitre(l.spec) * (l.pieces + l.again), 0),
      `${priced} of ${wood.lines.length}`,
      moneyText(money) ?? NO_PRICE,
    ];
  });
  const sum = (column: number): number => rows.reduce((n, r) => n + (r[column] as number), 0);
  return {
    id: 'costs',
    title: 'Material of each build',
    says: `${WOOD_SAYS} Again: pieces taken once more because a part was made again.`,
    columns: [
      numbers('number', 'No.', 0, 0.5),
      words('name', 'Name', 1.6),
      words('pattern', 'Pattern', 2),
      numbers('pieces', 'Pieces', 0, 0.8),
      numbers('pieces_made_again', 'Again', 0, 0.8),
      numbers('volume_litre', 'Litres', 1, 0.8),
      words('lines_with_price', 'With a price', 1.2),
      words('sum', 'Sum', 1.8),
    ],
    rows,
    sums: [undefined, 'Together', undefined, sum(3), sum(4), sum(5), undefined, moneyText(all) ?? NO_PRICE],
    none: 'There is no build in this course yet.',
  };
}

/** Every line of rough wood of every build, for a spreadsheet. @source arithmetic */
export function costLinesTable(input: OfficeInput): OfficeTable {
  const { state } = input;
  const rows = woodOfBuilds(input).flatMap((wood) =>
    wood.lines.map((l): OfficeCell[] => {
      const price = priceOf(state.shop, l.spec);
      return [
        buildNumber(state, wood.build),
        personName(state, wood.person),
        l.spec.part,
        l.spec.material,
        l.pieces,
        l.again,
        l.spec.lengthMm,
        l.spec.widthMm,
        l.spec.thicknessMm,
        pieceLitre(l.spec),
        price?.price.toFixed(2),
        price?.currency,
        price === undefined ? undefined : (price.price * (l.pieces + l.again)).toFixed(2),
      ];
    }),
  );
  return {
    id: 'cost-lines',
    title: 'Material, line by line',
    says: WOOD_SAYS,
    columns: [
      numbers('number', 'No.', 0, 0.5),
      words('name', 'Name', 1.5),
      words('part', 'Part', 1.6),
      words('material', 'Wood or kind', 2.4),
      numbers('pieces', 'Pieces', 0, 0.7),
      numbers('pieces_made_again', 'Again', 0, 0.7),
      numbers('length_mm', 'Length, mm', 1, 1),
      numbers('width_mm', 'Width, mm', 1, 1),
      numbers('thickness_mm', 'Thick, mm', 1, 1),
      numbers('volume_litre_each', 'Litres each', 2, 1),
      words('price_each', 'Price each', 1.1),
      words('currency', 'In', 0.6),
      words('sum', 'Sum', 1.1),
    ],
    rows,
    none: 'There is no build in this course yet.',
  };
}
