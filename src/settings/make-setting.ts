import {
  formatDecimal,
  formatInches,
  formatMm,
  fractionText,
  nearest64,
  sizesIn,
} from '../quantity/print-length.ts';
import { MM_PER_IN } from '../quantity/units.ts';
import type { Machine } from '../shop/shop.ts';
import { type JigPlace, placeText } from './jig-rounding.ts';
import { type LeavesWood, PLAIN_READING, roundToMachine } from './machine-rounding.ts';
import type { Setting } from './setting.ts';

/** What is said about a setting beside its number. */
export interface SettingWords {
  readonly id: string;
  readonly label: string;
  readonly figures: readonly string[];
  readonly low?: number;
  readonly high?: number;
}

/** Inches beside millimetres: thousandths, since they are set and not sawn. */
const inches = (valueMm: number): string => `${formatInches(valueMm)} in`;

/** The number and the unit of `2.66 mm`, `1 3/4 turns`. */
export function apart(text: string): { readonly text: string; readonly unit: string } {
  const cut = text.lastIndexOf(' ');
  return { text: text.slice(0, cut), unit: text.slice(cut + 1) };
}

/** A length set by rule, mark or gauge: nothing rounds it but the eye. @source arithmetic */
export function plainLength(words: SettingWords, valueMm: number, decimals: 1 | 2 = 1): Setting {
  return {
    ...words,
    unit: 'mm',
    wanted: valueMm,
    result: valueMm,
    big: { text: formatMm(valueMm, decimals), unit: 'mm' },
    small: inches(valueMm),
    isByRule: true,
  };
}

/** Decimals of a size: two where tenths would not say it. */
const sizeDecimals = (valueMm: number): 1 | 2 =>
  Math.abs(valueMm * 10 - Math.round(valueMm * 10)) < 1e-6 ? 1 : 2;

/** The size of a tool in words, two decimals where tenths would not say it: `3.2`, `6.35`. @source arithmetic */
export function sizeText(valueMm: number): string {
  return formatMm(valueMm, sizeDecimals(valueMm));
}

/** The size of a tool or slot: two decimals where tenths would not say it. @source arithmetic */
export function toolLength(words: SettingWords, valueMm: number): Setting {
  return plainLength(words, valueMm, sizeDecimals(valueMm));
}

/** What stands beside the machine's own unit: the other unit; for a crank the length of its travel. */
function besideMachine(machine: Pick<Machine, 'unit' | 'reads'>, typeMm: number, resultMm: number): string {
  if (machine.reads.kind !== 'crank')
    return machine.unit === 'in' ? `${formatMm(typeMm, 2)} mm` : inches(typeMm);
  const isSame = Math.abs(typeMm - resultMm) < 0.005;
  return isSame ? inches(typeMm) : `${formatMm(typeMm, 2)} mm, ${inches(typeMm)}`;
}

/**
 * A length set on a machine: rounded to what it shows, to the side that leaves wood.
 *
 * @param wantedMm  measure wanted on the wood
 * @param machine   how it reads; hundredths of a millimetre when the shop names none
 * @source          common practice, no published source
 */
export function machineLength(
  words: SettingWords,
  wantedMm: number,
  machine: Machine | undefined,
  leaves: LeavesWood,
): Setting {
  const reads = machine ?? PLAIN_READING;
  const say = sizesIn(reads.unit);
  const shown = roundToMachine(wantedMm, reads, leaves);
  const isSeen = reads.reads.kind !== 'crank' && Math.abs(shown.resultMm - shown.typeMm) < 0.005;
  const isOutside =
    (words.low !== undefined && shown.resultMm < words.low - 1e-9) ||
    (words.high !== undefined && shown.resultMm > words.high + 1e-9);
  const note = isOutside
    ? `${machine?.name ?? 'The machine'} gives ${say.one(shown.resultMm, 2)} where ${say.one(wantedMm, 2)} is wanted: too coarse, finish by hand or with a shim.`
    : undefined;
  return {
    ...words,
    unit: 'mm',
    wanted: wantedMm,
    result: shown.resultMm,
    big: apart(shown.text),
    small: besideMachine(reads, shown.typeMm, shown.resultMm),
    ...(isSeen ? {} : { gives: `${formatMm(shown.resultMm, 2)} mm` }),
    ...(shown.leavesMm >= 0.005 ? { leavesMm: shown.leavesMm } : {}),
    ...(note === undefined ? {} : { note }),
  };
}

/**
 * A length or angle given by a jig.
 *
 * @param wanted  mm or degrees
 * @param place   where the jig can stand (`placeOf`)
 * @source        common practice, no published source
 */
export function jigSetting(
  words: SettingWords,
  unit: 'mm' | 'deg',
  wanted: number,
  place: JigPlace,
): Setting {
  const off = place.at - wanted;
  const isNear = Math.abs(off) <= (unit === 'mm' ? 0.11 : 0.06);
  const note = isNear
    ? undefined
    : `${place.jigName ?? 'The jig'} ${place.isFixed ? 'is fixed at' : 'can only be set to'} ${placeText(place.at, unit)}; the pattern asks for ${placeText(wanted, unit)}. Change one of the two before it is used.`;
  return {
    ...words,
    unit,
    wanted,
    result: place.at,
    big:
      unit === 'mm'
        ? { text: formatMm(place.at, place.decimals), unit: 'mm' }
        : { text: formatDecimal(place.at, 2), unit: 'deg' },
    ...(unit === 'mm' ? { small: inches(place.at), isByRule: true } : {}),
    ...(unit === 'mm' && isNear && Math.abs(off) >= 0.005 ? { leavesMm: Math.abs(off) } : {}),
    ...(note === undefined ? {} : { note }),
  };
}

/**
 * The same setting with inches first, for a shop whose rules and jigs are in inches; machines keep their own unit.
 *
 * @source inch-1959
 */
export function inchesFirst(s: Setting): Setting {
  if (!s.isByRule) return s;
  const fraction = Math.abs(s.result) < MM_PER_IN / 4 ? '' : `, ${fractionText(nearest64(s.result))} in`;
  return {
    ...s,
    big: { text: formatInches(s.result), unit: 'in' },
    small: `${s.big.text} mm${fraction}`,
    ...(s.note === undefined
      ? {}
      : { note: s.note.replace(/([\d.]+) mm/g, (_, mm: string) => `${formatInches(Number(mm))} in`) }),
  };
}

/** An angle set by a gauge. @source arithmetic */
export function plainAngle(words: SettingWords, angleDeg: number, decimals = 2): Setting {
  return {
    ...words,
    unit: 'deg',
    wanted: angleDeg,
    result: angleDeg,
    big: { text: formatDecimal(angleDeg, decimals), unit: 'deg' },
  };
}

/** A whole number of something. @source arithmetic */
export function countSetting(words: SettingWords, count: number, unit: string): Setting {
  return { ...words, unit: 'count', wanted: count, result: count, big: { text: String(count), unit } };
}

/** A temperature. @source arithmetic */
export function temperatureSetting(words: SettingWords, tempC: number): Setting {
  const fahrenheit = Math.round((tempC * 9) / 5 + 32);
  return {
    ...words,
    unit: 'degC',
    wanted: tempC,
    result: tempC,
    big: { text: String(Math.round(tempC)), unit: '\u00b0C' },
    small: `${fahrenheit} \u00b0F`,
  };
}
