import { findRoot } from '../numeric/roots.ts';
import { InputError } from '../quantity/input-error.ts';

/** Air of a room. */
export interface RoomAir {
  readonly tempC: number;
  /** Relative humidity, 0..1. */
  readonly humidityFrac: number;
}

/** Temperatures the handbook's table covers, C. */
export const emcTempRangeC: readonly [number, number] = [-1.2, 130];

/**
 * Refuses air that no room has.
 *
 * @throws InputError in one sentence
 * @source wood-handbook
 */
export function checkAir({ tempC, humidityFrac }: RoomAir): void {
  const [low, high] = emcTempRangeC;
  if (!(tempC >= low && tempC <= high))
    throw new InputError(
      'air-temperature',
      `Temperature is ${tempC} C; the formula holds from ${low} to ${high} C, give the temperature of the room.`,
      'temperature',
    );
  if (!(humidityFrac >= 0 && humidityFrac <= 0.99))
    throw new InputError(
      'air-humidity',
      `Humidity is ${Number((humidityFrac * 100).toFixed(3))} %; it must lie between 0 and 99 %, read the meter again.`,
      'humidity',
    );
}

/**
 * Moisture that wood takes on in air that stays as it is.
 *
 * @param air  temperature -1.2..130 C, humidity 0..0.99
 * @returns    equilibrium moisture content, fraction of the dry mass
 * @assumes    one curve for all woods: resinous and dense tropical woods lie up to 0.01 lower, and wood that is
 *             drying stays up to 0.01 wetter than wood that is taking up water
 * @throws InputError for air outside the range
 * @source     wood-handbook, chapter 4, equation (4-5), coefficients in C
 * @example    const m = equilibriumMoistureFrac({ tempC: 21, humidityFrac: 0.45 }); // 0.085
 */
export function equilibriumMoistureFrac(air: RoomAir): number {
  checkAir(air);
  const { tempC: t, humidityFrac: h } = air;
  const w = 349 + 1.29 * t + 0.0135 * t * t;
  const k = 0.805 + 0.000736 * t - 0.00000273 * t * t;
  const k1 = 6.27 - 0.00938 * t - 0.000303 * t * t;
  const k2 = 1.91 + 0.0407 * t - 0.000293 * t * t;
  const kh = k * h;
  const pct =
    (1800 / w) * (kh / (1 - kh) + (k1 * kh + 2 * k1 * k2 * kh * kh) / (1 + k1 * kh + k1 * k2 * kh * kh));
  return pct / 100;
}

/**
 * Humidity at which wood keeps a moisture.
 *
 * @param moistureFrac  wanted moisture, 0..what 99 % humidity gives
 * @param tempC         temperature, -1.2..130
 * @returns             relative humidity 0..0.99; undefined when no humidity gives this moisture
 * @source              wood-handbook
 */
export function humidityForMoistureFrac(moistureFrac: number, tempC: number): number | undefined {
  const off = (humidityFrac: number) => equilibriumMoistureFrac({ tempC, humidityFrac }) - moistureFrac;
  if (moistureFrac < 0 || off(0.99) < 0) return undefined;
  return findRoot(off, { low: 0, high: 0.99 });
}
