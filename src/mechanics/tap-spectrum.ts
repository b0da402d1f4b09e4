import { makeSpectrum, type SpectrumMaker } from '../numeric/power-spectrum.ts';
import { InputError } from '../quantity/input-error.ts';
import type { Recording } from './wav-samples.ts';

/** One note heard in the taps. */
export interface TapNote {
  readonly frequencyHz: number;
  /** One standard deviation, from the spread between taps and the length of the sound. */
  readonly plusMinusHz: number;
  /** Strength below the strongest note. */
  readonly levelDb: number;
  /** 0..1: how far it stands above noise, in how many taps it is heard, how many taps there were. */
  readonly confidenceFrac: number;
  readonly tapsHeardCount: number;
}

export interface TapAnswer {
  /** When each tap was heard, s. */
  readonly tapsS: readonly number[];
  /** Strongest first. */
  readonly notes: readonly TapNote[];
  /** The averaged spectrum for a picture, dB below its peak. */
  readonly spectrum: { readonly stepHz: number; readonly levelDb: Float32Array };
}

export interface TapLimits {
  /** Notes are looked for between these. */
  readonly lowHz: number;
  readonly highHz: number;
  readonly mostNotes: number;
}

/** Where the notes of boards and tops lie. */
export const usualTapLimits: TapLimits = { lowHz: 25, highHz: 900, mostNotes: 8 };

/** Sound listened to after each tap. */
const listenS = 0.7;
/** The knock itself, left out. */
const knockS = 0.006;
/** Two taps nearer than this are one. */
const apartS = 0.25;
/** A note has to stand this far above the quiet before the taps. */
const aboveQuietDb = 9;

/**
 * The notes in a recording of one or more taps on a board.
 *
 * @param recording  one channel
 * @param limits     where to look
 * @returns          taps, notes with confidence, averaged spectrum
 * @assumes          a moment of quiet before the first tap tells noise and mains hum; without it steady tones near
 *                   multiples of 50 and 60 Hz are left out
 * @throws InputError when the recording is silent, too short or has no tap
 * @source           from memory
 */
export function analyseTaps(recording: Recording, limits: TapLimits = usualTapLimits): TapAnswer {
  const { samples, sampleRateHz } = recording;
  if (samples.length < 0.2 * sampleRateHz)
    throw new InputError(
      'taps-short',
      'The recording is shorter than 0.2 s; record at least one tap and its sound.',
    );
  const onsets = findOnsets(samples, sampleRateHz);
  if (onsets.length === 0)
    throw new InputError(
      'taps-none',
      'No tap stands out of the noise in the recording; tap nearer to the microphone.',
    );
  const wanted = Math.round(listenS * sampleRateHz);
  const maker = makeSpectrum(2 ** Math.ceil(Math.log2(4 * wanted)));
  const stepHz = sampleRateHz / maker.sizeCount;
  const taps = onsets.map((onset, k) =>
    tapSpectrum(samples, onset, onsets[k + 1] ?? samples.length, recording, maker),
  );
  const heard = taps.filter((tap) => tap !== undefined);
  if (heard.length === 0)
    throw new InputError('taps-short', 'No tap has 0.1 s of sound behind it; leave a second between taps.');
  const average = meanOf(heard);
  const quiet = quietSpectrum(samples, onsets[0]!, recording, maker);
  const candidates = peaks(average, stepHz, limits).filter((peak) =>
    isTap(peak, average, quiet, heard, stepHz),
  );
  const notes = candidates
    .map((peak) => describe(peak, average, quiet, heard, stepHz, limits))
    .sort((a, b) => b.levelDb - a.levelDb)
    .slice(0, limits.mostNotes);
  return {
    tapsS: onsets.map((onset) => onset / sampleRateHz),
    notes,
    spectrum: picture(average, stepHz, limits),
  };
}

/** Moments at which the short-time energy jumps well above what came before. */
function findOnsets(samples: Float32Array, sampleRateHz: number): number[] {
  // means over a millisecond take the hiss away, their differences the hum
  const block = Math.max(1, Math.round(0.001 * sampleRateHz));
  const frame = 4 * block;
  const count = Math.floor(samples.length / frame);
  const energy = new Float64Array(count);
  let last = meanBlock(samples, 0, block);
  for (let f = 0; f < count; f++)
    for (let b = 0; b < 4; b++) {
      const mean = meanBlock(samples, f * frame + b * block, block);
      energy[f]! += (mean - last) ** 2;
      last = mean;
    }
  const sorted = Float64Array.from(energy).sort();
  const floor = Math.max(sorted[Math.floor(count * 0.3)]!, 1e-13);
  const loudest = sorted[count - 1]!;
  if (loudest < 12 * floor) return [];
  const apart = Math.round((apartS * sampleRateHz) / frame);
  const onsets: number[] = [];
  let lastOnset = -apart;
  for (let f = 0; f < count; f++) {
    // two mains cycles of now against a tenth of a second of before
    const now = meanEnergy(energy, f, f + 10);
    const before = f === 0 ? floor : meanEnergy(energy, Math.max(0, f - 25), f);
    const isLoud = now > 3 * floor && now > 0.06 * loudest;
    if (isLoud && now > 3 * before && energy[f]! > before && f - lastOnset >= apart) {
      const first = front(energy, f, Math.min(count, f + 10));
      onsets.push(first * frame);
      lastOnset = first;
    }
  }
  return onsets;
}

function meanEnergy(energy: Float64Array, from: number, to: number): number {
  const end = Math.min(to, energy.length);
  let sum = 0;
  for (let f = from; f < end; f++) sum += energy[f]!;
  return sum / (end - from);
}

/** The first frame of a stretch that reaches a fifth of its loudest one: the front of the knock. */
function front(energy: Float64Array, from: number, to: number): number {
  let loudest = 0;
  for (let f = from; f < to; f++) loudest = Math.max(loudest, energy[f]!);
  let f = from;
  while (energy[f]! < 0.2 * loudest) f++;
  return f;
}

function meanBlock(samples: Float32Array, from: number, count: number): number {
  let sum = 0;
  for (let i = from; i < from + count; i++) sum += samples[i]!;
  return sum / count;
}

interface TapPower {
  readonly power: Float64Array;
  /** The same sound a third of a second later, when there is enough of it. */
  readonly later: Float64Array | undefined;
  readonly lengthS: number;
}

function tapSpectrum(
  samples: Float32Array,
  onset: number,
  next: number,
  { sampleRateHz }: Recording,
  maker: SpectrumMaker,
): TapPower | undefined {
  const from = onset + Math.round(knockS * sampleRateHz);
  const length = Math.min(next - Math.round(0.01 * sampleRateHz), samples.length) - from;
  const wanted = Math.min(length, Math.round(listenS * sampleRateHz));
  if (wanted < 0.1 * sampleRateHz) return undefined;
  const window = fallingWindow(wanted, sampleRateHz);
  const delay = Math.round(0.35 * sampleRateHz);
  const power = maker.of(samples.subarray(from, from + wanted), window);
  const late = Math.min(length - delay, wanted);
  return {
    power,
    later:
      late > 0.25 * sampleRateHz
        ? maker.of(samples.subarray(from + delay, from + delay + late), fallingWindow(late, sampleRateHz))
        : undefined,
    lengthS: wanted / sampleRateHz,
  };
}

/** Rises in 8 ms, then falls like half a cosine: follows a tap's decay and ends softly. */
function fallingWindow(count: number, sampleRateHz: number): Float64Array {
  const rise = Math.round(0.008 * sampleRateHz);
  return Float64Array.from({ length: count }, (_, i) => {
    const fall = 0.5 + 0.5 * Math.cos((Math.PI * i) / count);
    return i < rise ? fall * (0.5 - 0.5 * Math.cos((Math.PI * i) / rise)) : fall;
  });
}

function meanOf(taps: readonly TapPower[]): Float64Array {
  const sum = new Float64Array(taps[0]!.power.length);
  for (const { power } of taps) for (let k = 0; k < sum.length; k++) sum[k]! += power[k]! / taps.length;
  return sum;
}

/** Spectrum of the quiet before the first tap; undefined when there is less than a quarter of a second of it. */
function quietSpectrum(
  samples: Float32Array,
  firstOnset: number,
  { sampleRateHz }: Recording,
  maker: SpectrumMaker,
): Float64Array | undefined {
  const end = firstOnset - Math.round(0.02 * sampleRateHz);
  const count = Math.min(end, Math.round(listenS * sampleRateHz));
  if (count < 0.25 * sampleRateHz) return undefined;
  return maker.of(samples.subarray(end - count, end), fallingWindow(count, sampleRateHz));
}

/** Local maxima that stand out of their neighbourhood. */
function peaks(power: Float64Array, stepHz: number, limits: TapLimits): number[] {
  const [from, to] = [Math.ceil(limits.lowHz / stepHz), Math.floor(limits.highHz / stepHz)];
  const reach = Math.max(2, Math.round(2 / stepHz));
  let strongest = 0;
  for (let k = from; k <= to; k++) strongest = Math.max(strongest, power[k]!);
  const found: number[] = [];
  for (let k = from; k <= to; k++) {
    if (power[k]! < 1e-4 * strongest) continue;
    let isTop = true;
    for (let j = Math.max(0, k - reach); j <= Math.min(power.length - 1, k + reach); j++)
      if (power[j]! > power[k]! || (power[j] === power[k] && j < k)) isTop = false;
    if (isTop && power[k]! > 6 * surroundings(power, k, stepHz)) found.push(k);
  }
  return found;
}

/** Power that three quarters of a band of 60 Hz around a step exceed: the floor a peak stands on. */
function surroundings(power: Float64Array, k: number, stepHz: number): number {
  const reach = Math.round(30 / stepHz);
  const band = power.slice(Math.max(1, k - reach), k + reach + 1).sort();
  return band[Math.floor(band.length / 4)]!;
}

function near(power: Float64Array, k: number, reach: number): number {
  let best = 0;
  for (let j = Math.max(0, k - reach); j <= Math.min(power.length - 1, k + reach); j++)
    best = Math.max(best, power[j]!);
  return best;
}

/** Whether a peak comes with the taps and is no steady tone of the room. */
function isTap(
  k: number,
  average: Float64Array,
  quiet: Float64Array | undefined,
  taps: readonly TapPower[],
  stepHz: number,
): boolean {
  const reach = Math.max(1, Math.round(1 / stepHz));
  if (quiet) return 10 * Math.log10(average[k]! / Math.max(near(quiet, k, reach), 1e-30)) > aboveQuietDb;
  if (!isNearMains(k * stepHz)) return true;
  const later = taps.flatMap((tap) =>
    tap.later ? [near(tap.later, k, reach) / near(tap.power, k, reach)] : [],
  );
  // without quiet and without a later part a tone at the mains cannot be told from hum
  return later.length > 0 && later.reduce((a, b) => a + b, 0) / later.length < 0.5;
}

function isNearMains(frequencyHz: number): boolean {
  return [50, 60].some((mains) => Math.abs(frequencyHz - mains * Math.round(frequencyHz / mains)) < 1.2);
}

/** Top of the parabola through the logarithms of three steps. */
function topOf(power: Float64Array, k: number, stepHz: number): number {
  const [a, b, c] = [power[k - 1]!, power[k]!, power[k + 1]!].map((p) => Math.log(Math.max(p, 1e-300))) as [
    number,
    number,
    number,
  ];
  const bend = a - 2 * b + c;
  const shift = bend === 0 ? 0 : (0.5 * (a - c)) / bend;
  return (k + Math.max(-0.5, Math.min(0.5, shift))) * stepHz;
}

function describe(
  k: number,
  average: Float64Array,
  quiet: Float64Array | undefined,
  taps: readonly TapPower[],
  stepHz: number,
  limits: TapLimits,
): TapNote {
  const frequencyHz = topOf(average, k, stepHz);
  const reach = Math.max(2, Math.round(2.5 / stepHz));
  const each = taps.flatMap(({ power }) => {
    const top = highestStep(power, k, reach);
    return power[top]! > 5 * surroundings(power, top, stepHz) ? [topOf(power, top, stepHz)] : [];
  });
  const spread = Math.sqrt(
    each.reduce((sum, f) => sum + (f - frequencyHz) ** 2, 0) / Math.max(1, each.length),
  );
  const longest = Math.max(...taps.map(({ lengthS }) => lengthS));
  const reachHz = 0.12 / longest;
  const floor = Math.max(surroundings(average, k, stepHz), quiet ? near(quiet, k, 2) : 0, 1e-30);
  const aboveDb = 10 * Math.log10(average[k]! / floor);
  let strongest = 0;
  for (let j = Math.ceil(limits.lowHz / stepHz); j <= limits.highHz / stepHz; j++)
    strongest = Math.max(strongest, average[j]!);
  return {
    frequencyHz,
    plusMinusHz: Math.hypot(spread / Math.sqrt(Math.max(1, each.length)), reachHz),
    levelDb: 10 * Math.log10(average[k]! / strongest),
    confidenceFrac:
      Math.min(1, Math.max(0, (aboveDb - 6) / 18)) *
      (each.length / taps.length) *
      Math.min(1, 0.7 + 0.1 * taps.length),
    tapsHeardCount: each.length,
  };
}

function highestStep(power: Float64Array, k: number, reach: number): number {
  let best = k;
  for (let j = Math.max(1, k - reach); j <= Math.min(power.length - 2, k + reach); j++)
    if (power[j]! > power[best]!) best = j;
  return best;
}

function picture(power: Float64Array, stepHz: number, limits: TapLimits): TapAnswer['spectrum'] {
  const count = Math.min(power.length, Math.ceil((1.2 * limits.highHz) / stepHz));
  const strongest = near(power, Math.round(count / 2), count);
  const levelDb = Float32Array.from(power.subarray(0, count), (p) =>
    Math.max(-120, 10 * Math.log10(Math.max(p, 1e-30) / Math.max(strongest, 1e-30))),
  );
  return { stepHz, levelDb };
}
