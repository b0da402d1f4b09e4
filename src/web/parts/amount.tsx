import type { FigureUnit } from '../../graph/figure.ts';
import { usePreferences } from '../frame/preferences.ts';
import { inchSet, mmText, plainText, type SetNumber, spokenText, unitWords } from './amount-text.ts';

/** A number set in type; only the fraction itself is set as a fraction. */
function SetText({ set }: { readonly set: SetNumber }) {
  if (set.kind === 'text') return set.text;
  return (
    <>
      {set.sign}
      {set.whole}
      <span className="fr">{set.part}</span>
    </>
  );
}

/** A length in inches. */
export function Inches({ valueMm }: { readonly valueMm: number }) {
  return <SetText set={inchSet(valueMm)} />;
}

/** The number in the unit that is large on this device, without its unit word. */
export function LargeNumber({ value, unit }: { readonly value: number; readonly unit: FigureUnit }) {
  const { largeUnit } = usePreferences();
  if (unit !== 'mm') return plainText(value, unit);
  return largeUnit === 'mm' ? mmText(value) : <Inches valueMm={value} />;
}

/** The same number in the other unit; the unit word for what is no length. */
export function SmallNumber({ value, unit }: { readonly value: number; readonly unit: FigureUnit }) {
  const { largeUnit } = usePreferences();
  if (unit !== 'mm') return unitWords[unit] ?? unit;
  return largeUnit === 'mm' ? <Inches valueMm={value} /> : mmText(value);
}

/** The number in the large unit with its unit word: 98.0 mm. */
export function Amount({ value, unit }: { readonly value: number; readonly unit: FigureUnit }) {
  const { largeUnit } = usePreferences();
  if (unit !== 'mm') return <span className="n">{spokenText(value, unit)}</span>;
  return (
    <span className="n">
      <LargeNumber value={value} unit={unit} /> {largeUnit}
    </span>
  );
}
