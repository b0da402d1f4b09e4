import { mean } from '../numeric/statistics.ts';
import { type Finding, finding } from '../quantity/finding.ts';
import { InputError } from '../quantity/input-error.ts';
import { type BoardProperties, boardProperties } from '../wood/board.ts';
import type { Reading as Measured } from '../wood/board-readings.ts';
import type { BuildFacts } from './build-facts.ts';

/** How far readings of a joined plate may be off, one standard deviation. @source from memory */
const OFF = { massG: 1, sizeMm: 0.5, thicknessMm: 0.02, tapHz: 1 } as const;

const lastOf = (facts: BuildFacts, id: string): number | undefined =>
  facts.readings.get(id)?.findLast((r) => r.value !== undefined)?.value;

/** Mean of the last thickness at every spot. */
function thicknessMm(facts: BuildFacts): number | undefined {
  const bySpot = new Map<string, number>();
  for (const r of facts.readings.get('T4.1') ?? [])
    if (r.value !== undefined) bySpot.set(r.spot ?? '', r.value);
  return bySpot.size === 0 ? undefined : mean([...bySpot.values()]);
}

/**
 * What the joined top plate of a build is, from its mass, size and notes before its final thickness.
 *
 * @param facts  of the build
 * @returns      density and moduli with their uncertainty; undefined when mass, size, thickness or the note along were
 *               not read; a finding when no wood gives such readings
 * @assumes      the plate is even: the thickness is the mean of its spots
 * @source       free-free-beam
 */
export function boardOfBuild(facts: BuildFacts): BoardProperties | Finding | undefined {
  const [mass, length, width, along] = ['T5.1', 'T5.2', 'T5.6', 'T5.3'].map((id) => lastOf(facts, id));
  const thickness = thicknessMm(facts);
  if (
    mass === undefined ||
    length === undefined ||
    width === undefined ||
    along === undefined ||
    thickness === undefined
  )
    return undefined;
  const measured = (value: number, plusMinus: number): Measured => ({ value, plusMinus });
  const across = lastOf(facts, 'T5.4');
  const twist = lastOf(facts, 'T5.5');
  try {
    return boardProperties({
      lengthMm: measured(length, OFF.sizeMm),
      widthMm: measured(width, OFF.sizeMm),
      thicknessMm: measured(thickness, OFF.thicknessMm),
      massG: measured(mass, OFF.massG),
      tapAlongHz: measured(along, OFF.tapHz),
      ...(across === undefined ? {} : { tapAcrossHz: measured(across, OFF.tapHz) }),
      ...(twist === undefined ? {} : { tapTwistHz: measured(twist, OFF.tapHz) }),
      species: 'other',
    });
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return finding({ code: error.code, level: 'blocked', text: error.message });
  }
}
