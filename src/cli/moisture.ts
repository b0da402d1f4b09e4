import { sheetOfPattern } from '../figures/pattern-sheet.ts';
import { swelling } from '../figures/season.ts';
import { topInput } from '../figures/top-input.ts';
import { cellOf, computeDear, figureValue } from '../graph/sheet.ts';
import { isFinding } from '../quantity/finding.ts';
import { InputError } from '../quantity/input-error.ts';
import { formatDecimal } from '../quantity/print-length.ts';
import { checkAir, equilibriumMoistureFrac, type RoomAir } from '../wood/moisture.ts';
import { dimensionalChange, type GrainDirection } from '../wood/movement.ts';
import { restingDays } from '../wood/resting.ts';
import { findSpecies, type Species } from '../wood/species.ts';
import { saddleRange, seasonModelLimits, topSeason, topSize } from '../wood/top-seasons.ts';
import { say, sayJson } from './door.ts';
import { patternArgument } from './pattern-argument.ts';

/** Options of `moisture`, as typed. */
export interface MoistureCommandOptions {
  readonly temperature: string;
  readonly humidity: string;
  readonly toHumidity?: string;
  readonly species?: string;
  readonly width?: string;
  /** A pattern whose saddle is to be told. */
  readonly pattern?: string;
  readonly json?: boolean;
}

/** One line of the answer. */
interface MovementRow {
  readonly species: string;
  readonly direction: GrainDirection;
  readonly width_mm: number;
  readonly change_mm: number;
  readonly formula: string;
  readonly source: string;
}

/** Woods shown when none is named. */
const usualSpecies = [
  'spruce-sitka',
  'spruce-engelmann',
  'cedar-western-red',
  'maple-sugar',
  'walnut-black',
  'cherry-black',
  'mahogany-true',
];
const usualWidthMm = 370;

function numberOption(name: string, text: string): number {
  const value = Number(text.replace(',', '.').replace(/ *(%|mm|C)$/, ''));
  if (text.trim() === '' || !Number.isFinite(value))
    throw new InputError('moisture-number', `--${name} is ${text}; give a plain number.`, name);
  return value;
}

/**
 * `moisture`: the moisture of wood in a room, and how far widths move when the humidity changes.
 *
 * @returns exit code 0
 * @throws InputError when an option cannot be used
 */
export function moistureCommand(options: MoistureCommandOptions): number {
  const tempC = numberOption('temperature', options.temperature);
  const air = { tempC, humidityFrac: numberOption('humidity', options.humidity) / 100 };
  checkAir(air);
  const fromFrac = equilibriumMoistureFrac(air);
  const widthMm = options.width === undefined ? usualWidthMm : numberOption('width', options.width);
  if (!(widthMm > 0 && widthMm <= 10_000))
    throw new InputError(
      'moisture-width',
      `--width is ${widthMm} mm; give more than 0 and at most 10000.`,
      'width',
    );
  const species = (options.species === undefined ? usualSpecies : [options.species]).map(findSpecies);
  if (options.toHumidity === undefined) return tell({ emc_frac: round(fromFrac, 5), movement: [] }, options);
  const toAir = { tempC, humidityFrac: numberOption('to-humidity', options.toHumidity) / 100 };
  const toFrac = equilibriumMoistureFrac(toAir);
  const rows = species.flatMap((s) => rowsOf(s, widthMm, fromFrac, toFrac));
  const rest = restingDays(3);
  const saddle =
    options.pattern === undefined
      ? undefined
      : saddleOf(options.pattern, findSpecies(options.species ?? usualSpecies[0]!), air, toAir);
  return tell(
    {
      emc_frac: round(fromFrac, 5),
      to_emc_frac: round(toFrac, 5),
      movement: rows.flatMap((r) => ('reason' in r ? [] : [r])),
      without: rows.flatMap((r) => ('reason' in r ? [r] : [])),
      resting_days_3_mm: { low: rest.low, high: rest.high },
      ...(saddle ? { saddle } : {}),
    },
    options,
  );
}

/** The saddle of a pattern between two states of the air, by the whole plate. */
function saddleOf(name: string, species: Species, air: RoomAir, toAir: RoomAir): SaddleAnswer {
  const { pattern } = patternArgument(name, []);
  const sheet = sheetOfPattern(pattern, {
    dear: (f, values) => (f.id === swelling.id ? computeDear(f, values) : undefined),
  });
  const top = figureValue(sheet, topInput);
  const responses = figureValue(sheet, swelling);
  if (!top || !responses) {
    const why = cellOf(sheet, swelling.id);
    throw new InputError(
      'moisture-pattern',
      isFinding(why)
        ? why.text
        : `${name} does not give enough of its top for its saddle; give outline, braces, bridge and strings.`,
      'pattern',
    );
  }
  const season = topSeason(topSize(top.outlineMm, top.thicknessMm), species, air, toAir);
  if (isFinding(season)) throw new InputError(season.code, season.text, 'species');
  const [held, free] = saddleRange(responses, season);
  return {
    species: species.id,
    held_mm: round(held, 2),
    free_mm: round(free, 2),
    leaves_out: seasonModelLimits,
  };
}

function rowsOf(
  species: Species,
  widthMm: number,
  fromFrac: number,
  toFrac: number,
): (MovementRow | { readonly species: string; readonly reason: string })[] {
  return (['radial', 'tangential'] as const).map((direction) => {
    const moved = dimensionalChange(widthMm, fromFrac, toFrac, species, direction);
    if (isFinding(moved)) return { species: species.id, reason: moved.text };
    return {
      species: species.id,
      direction,
      width_mm: widthMm,
      change_mm: round(moved.changeMm, 3),
      formula: moved.formula,
      source: moved.source,
    };
  });
}

const round = (value: number, decimals: number): number => Number(value.toFixed(decimals));

/** Rise of the saddle, mm, + rises. */
interface SaddleAnswer {
  readonly species: string;
  readonly held_mm: number;
  readonly free_mm: number;
  readonly leaves_out: string;
}

interface MoistureAnswer {
  readonly emc_frac: number;
  readonly to_emc_frac?: number;
  readonly movement: readonly MovementRow[];
  readonly without?: readonly { readonly species: string; readonly reason: string }[];
  readonly resting_days_3_mm?: { readonly low: number; readonly high: number };
  readonly saddle?: SaddleAnswer;
}

function tell(answer: MoistureAnswer, options: MoistureCommandOptions): number {
  if (options.json) {
    sayJson(answer);
    return 0;
  }
  const pct = (frac: number) => `${formatDecimal(frac * 100, 1)} %`;
  say(`Wood takes on ${pct(answer.emc_frac)} moisture at ${options.humidity} % humidity.`);
  if (answer.to_emc_frac !== undefined)
    say(`At ${options.toHumidity} % humidity it takes on ${pct(answer.to_emc_frac)}.`);
  for (const r of answer.movement) {
    const side = r.direction === 'radial' ? 'quartered' : 'flat-sawn';
    const mark = r.source === 'from memory' ? ' (from memory)' : '';
    say(
      `${r.species.padEnd(20)} ${side.padEnd(10)} ${r.width_mm} mm  ${r.change_mm > 0 ? '+' : ''}${formatDecimal(r.change_mm, 2)} mm${mark}`,
    );
  }
  if (answer.saddle) {
    const { held_mm, free_mm, species, leaves_out } = answer.saddle;
    const way = (mm: number) => `${mm < 0 ? 'falls' : 'rises'} ${formatDecimal(Math.abs(mm), 2)} mm`;
    say(
      `Saddle, top of ${species}: ${way(held_mm)} with sides that hold the top, ${way(free_mm)} with sides that give way.`,
    );
    say('In the trade 0.2 to 0.6 mm over a season (common practice, no published source).');
    say(leaves_out);
  }
  for (const w of answer.without ?? []) say(`${w.species.padEnd(20)} ${w.reason}`);
  return 0;
}
