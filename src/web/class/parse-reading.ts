import type { ShownVerdict } from '../../course/reading-verdict.ts';
import { parseQuantity } from '../../quantity/parse-quantity.ts';
import { formatInches } from '../../quantity/print-length.ts';
import type { QuantityKind } from '../../quantity/units.ts';
import { capital } from '../../quantity/words.ts';
import type { ReadingLimits } from '../../route/limits.ts';
import type { Reading } from '../../route/route-types.ts';

const KINDS: Readonly<Record<string, QuantityKind>> = {
  mm: 'length',
  deg: 'angle',
  Hz: 'frequency',
  g: 'mass',
  kg: 'mass',
  cents: 'interval',
  min: 'duration',
  N: 'force',
  degC: 'temperature',
};

/** Units that cannot pass 100 and, unless they are a change, nor fall under 0. */
const SHARES: ReadonlySet<string> = new Set(['%', '% RH']);

/** An offset of this much is no slip of the pen but a piece that went wrong, mm. */
const FAR_OFF_MM = 10;

/**
 * Plausible range for a field: wide around what is drawn, so that only a slip is refused; a share of a whole is refused
 * only where it cannot be. What is plausible and out of limits is kept with its verdict.
 */
function plausible(unit: string, limits: ReadingLimits): { readonly low: number; readonly high: number } {
  if (SHARES.has(unit)) return { low: (limits.hard.low ?? 0) < 0 ? -100 : 0, high: 100 };
  const ends = [limits.hard.low, limits.hard.high, limits.nominal, limits.scrapLimit].filter(
    (v): v is number => v !== undefined,
  );
  if (ends.length === 0) return { low: -1e6, high: 1e6 };
  const most = Math.max(...ends.map(Math.abs), 0.5);
  // about zero it is an offset or a gap: those go wrong by far more than they may
  const isAboutZero = limits.hard.low === undefined && limits.nominal === undefined;
  if (isAboutZero || Math.min(...ends) < most / 20) {
    const far = Math.max(3.5 * most, unit === 'mm' ? FAR_OFF_MM : 0);
    return { low: -far, high: far };
  }
  return { low: Math.min(...ends) / 3.5, high: 3.5 * most };
}

/** Unit a reading is typed and shown in on a device whose large unit is this one. */
export const typedUnit = (reading: Reading, lengthUnit: 'mm' | 'in'): string =>
  reading.unit === 'mm' ? lengthUnit : reading.unit;

/** A reading in its own unit as text to type: thousandths of an inch, or up to three decimals. */
export const readingText = (reading: Reading, value: number, lengthUnit: 'mm' | 'in'): string =>
  reading.unit === 'mm' && lengthUnit === 'in'
    ? formatInches(value).replace('\u2212', '-')
    : String(Number(value.toFixed(3)));

/**
 * A typed reading in its own unit, or the sentence why it cannot be used.
 *
 * @param lengthUnit  of a bare length
 */
export function parseReading(
  reading: Reading,
  limits: ReadingLimits,
  text: string,
  lengthUnit: 'mm' | 'in' = 'mm',
): { readonly value: number } | { readonly says: string } {
  const kind = KINDS[reading.unit];
  const { low, high } = plausible(reading.unit, limits);
  const toUnit = reading.unit === 'g' ? 1000 : 1;
  const read = parseQuantity(text, {
    kind: kind ?? 'count',
    unit: kind ? (kind === 'length' ? lengthUnit : reading.unit === 'degC' ? 'C' : reading.unit) : 'count',
    low: low / toUnit,
    high: high / toUnit,
    what: capital(reading.name),
  });
  return read.kind === 'value' ? { value: read.value * toUnit } : { says: read.text };
}

/** What of a shown verdict is kept with its reading: everything but the aim. */
export function keptVerdict({ aim: _aim, ...kept }: ShownVerdict): Omit<ShownVerdict, 'aim'> {
  return kept;
}
