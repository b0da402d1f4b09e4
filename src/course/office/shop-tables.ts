import { formatDecimal, type Sizes, sizesIn } from '../../quantity/print-length.ts';
import { type Adjust, JIG_KINDS, type Jig, type Machine } from '../../shop/shop.ts';
import { shopOfCourse } from '../shop-of-record.ts';
import { type OfficeInput, type OfficeTable, stationName, words } from './office-table.ts';

const READS = { digital: 'display in', scale: 'scale in', crank: 'crank in' } as const;

/** What comes out beyond the number that is typed, as it was last proved. */
function offsetWords({ unit, offset }: Machine): string {
  if (offset.provedOn === undefined) return 'never proved';
  const sign = offset.alphaMm < 0 ? '' : '+';
  const slope = Math.abs(offset.beta - 1) < 5e-4 ? '' : `, times ${formatDecimal(offset.beta, 3)}`;
  return `${sign}${sizesIn(unit).one(offset.alphaMm, 2)}${slope}, proved ${offset.provedOn}`;
}

/**
 * The machines of the shop with what they show and what they really give.
 *
 * @source arithmetic
 */
export function shopMachinesTable({ state }: OfficeInput): OfficeTable {
  return {
    id: 'shop-machines',
    title: 'Machines',
    says: 'What a machine gives beyond its number is counted in every setting; the later of the file and the last proof holds.',
    none: 'No machine is described; displays are taken as true.',
    columns: [
      words('machine', 'Machine'),
      words('station', 'Station'),
      words('sets', 'Sets', 1),
      words('reads', 'Reads'),
      words('offset', 'Gives beyond its number', 3),
    ],
    rows: shopOfCourse(state).machines.map((m) => [
      m.name,
      stationName(state, m.station),
      m.sets,
      `${READS[m.reads.kind]} ${sizesIn(m.unit).one(m.reads.stepMm, 2)}`,
      offsetWords(m),
    ]),
  };
}

function adjustWords(adjust: Adjust, write: (value: number) => string): string {
  return adjust.kind === 'fixed'
    ? `fixed at ${adjust.at.map(write).join(', ')}`
    : `${write(adjust.from)} to ${write(adjust.to)}, steps of ${write(adjust.step)}`;
}

function jigRow(jig: Jig, size: Sizes): readonly string[] {
  if (jig.kind === 'mould')
    return [
      jig.name,
      'mould',
      `${size.text(jig.lengthMm)} long, ${size.text(jig.upperBoutMm)}, ${size.text(jig.waistMm)} and ${size.one(jig.lowerBoutMm)} wide`,
    ];
  const { label, sets, unit } = JIG_KINDS[jig.kind];
  const write = (v: number): string => {
    if (unit === 'deg') return `${formatDecimal(v, 2)}\u00b0`;
    return size.unit === 'in' ? size.one(v) : `${Number(v.toFixed(2))} mm`;
  };
  return [jig.name, label, `${sets} ${adjustWords(jig.adjust, write)}`];
}

/**
 * The jigs and moulds of the shop with what they give.
 *
 * @source arithmetic
 */
export function shopJigsTable({ state }: OfficeInput): OfficeTable {
  const shop = shopOfCourse(state);
  const size = sizesIn(shop.unit);
  return {
    id: 'shop-jigs',
    title: 'Jigs and moulds',
    says: 'A jig that is fixed is what the pattern is held against; one that is adjustable is set by the cards.',
    none: 'No jig is described; jigs are taken as adjustable.',
    columns: [words('jig', 'Jig'), words('kind', 'Kind'), words('gives', 'Gives', 4)],
    rows: shop.jigs.map((jig) => jigRow(jig, size)),
  };
}
