import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { makeRandom } from '../numeric/random.ts';
import { analyseTaps, type TapAnswer } from './tap-spectrum.ts';
import { type Recording, readWav } from './wav-samples.ts';

const source = 'arithmetic';

interface Tone {
  readonly hz: number;
  readonly level: number;
  /** Sharpness: how slowly it dies away. */
  readonly q: number;
}

interface Scene {
  readonly sampleRateHz?: number;
  readonly tapsS: readonly number[];
  readonly tones: readonly Tone[];
  readonly noise?: number;
  readonly hum?: readonly (readonly [hz: number, level: number])[];
  readonly lengthS: number;
}

/** Taps made from known notes, each with its own strength and phase, in noise and hum. */
function record(scene: Scene, seed = 5): Recording {
  const sampleRateHz = scene.sampleRateHz ?? 44100;
  const random = makeRandom(seed);
  const samples = new Float32Array(Math.round(scene.lengthS * sampleRateHz));
  for (const start of scene.tapsS) {
    const strength = 0.6 + 0.4 * random.next();
    const tones = scene.tones.map((tone) => ({ ...tone, phase: 6.28 * random.next() }));
    for (let i = Math.round(start * sampleRateHz); i < samples.length; i++) {
      const t = i / sampleRateHz - start;
      if (t < 0.002) samples[i]! += strength * 0.5 * (random.next() - 0.5);
      for (const { hz, level, q, phase } of tones)
        samples[i]! +=
          strength * level * Math.exp((-Math.PI * hz * t) / q) * Math.sin(2 * Math.PI * hz * t + phase);
    }
  }
  for (let i = 0; i < samples.length; i++) {
    const t = i / sampleRateHz;
    samples[i]! += (scene.noise ?? 0) * random.normal();
    for (const [hz, level] of scene.hum ?? []) samples[i]! += level * Math.sin(2 * Math.PI * hz * t + hz);
  }
  return { samples, sampleRateHz };
}

const board: readonly Tone[] = [
  { hz: 82.8, level: 0.2, q: 110 },
  { hz: 145.3, level: 0.15, q: 70 },
  { hz: 228.1, level: 0.08, q: 90 },
];
const fourTaps = { tapsS: [1, 2.1, 3.3, 4.4], tones: board, lengthS: 5.6 };

function nearest(answer: TapAnswer, hz: number) {
  return [...answer.notes].sort((a, b) => Math.abs(a.frequencyHz - hz) - Math.abs(b.frequencyHz - hz))[0]!;
}

describe('taps', () => {
  it('gives back the notes of clean taps to 0.2 Hz, each heard in every tap', () => {
    const answer = analyseTaps(record(fourTaps));
    expect(answer.tapsS).toHaveLength(4);
    answer.tapsS.forEach((t, k) => {
      expectClose(t, fourTaps.tapsS[k]!, { tol: 0.01, source });
    });
    for (const { hz } of board) {
      const note = nearest(answer, hz);
      expectClose(note.frequencyHz, hz, { tol: 0.2, source });
      expect(note.tapsHeardCount).toBe(4);
      expect(note.confidenceFrac).toBeGreaterThan(0.8);
    }
  });

  it.each([
    [50, 0.05, 44100],
    [60, 0.05, 48000],
    [50, 0.15, 16000],
  ])('in noise and hum of %i Hz (%f) at %i samples a second', (mains, level, sampleRateHz) => {
    const hum = [1, 2, 3, 5].map((k) => [k * mains, level / k] as const);
    const answer = analyseTaps(record({ ...fourTaps, sampleRateHz, noise: 0.01, hum }, mains));
    for (const { hz } of board) expectClose(nearest(answer, hz).frequencyHz, hz, { tol: 0.4, source });
    for (const note of answer.notes) {
      const toHum = Math.min(...hum.map(([hz]) => Math.abs(note.frequencyHz - hz)));
      expect(toHum).toBeGreaterThan(1);
    }
  });

  it('a note beside the hum is kept, the hum is not', () => {
    const tones = [{ hz: 58.4, level: 0.2, q: 100 }, ...board];
    const answer = analyseTaps(record({ ...fourTaps, tones, hum: [[50, 0.05]], noise: 0.003 }));
    expectClose(nearest(answer, 58.4).frequencyHz, 58.4, { tol: 0.3, source });
    expect(Math.abs(nearest(answer, 50).frequencyHz - 50)).toBeGreaterThan(2);
  });

  it('without a quiet beginning, steady tones at the mains are left out', () => {
    const scene = {
      ...fourTaps,
      tapsS: [0.05, 1.2, 2.4],
      lengthS: 3.6,
      hum: [
        [50, 0.05],
        [100, 0.03],
      ] as const,
    };
    const answer = analyseTaps(record(scene));
    expectClose(nearest(answer, 82.8).frequencyHz, 82.8, { tol: 0.3, source });
    expect(
      answer.notes.some(
        ({ frequencyHz }) => Math.abs(frequencyHz - 50) < 1 || Math.abs(frequencyHz - 100) < 1,
      ),
    ).toBe(false);
  });

  it('more noise means less confidence, and the note stays within what it says', () => {
    const clean = nearest(analyseTaps(record(fourTaps)), 228.1);
    const noisy = nearest(analyseTaps(record({ ...fourTaps, noise: 0.05 })), 228.1);
    expect(noisy.confidenceFrac).toBeLessThan(clean.confidenceFrac);
    expect(Math.abs(noisy.frequencyHz - 228.1)).toBeLessThan(4 * noisy.plusMinusHz);
  });

  it('refuses silence, noise without taps and a snippet', () => {
    const silent = { samples: new Float32Array(44100), sampleRateHz: 44100 };
    expect(() => analyseTaps(silent)).toThrow(/No tap stands out/);
    expect(() => analyseTaps(record({ tapsS: [], tones: [], lengthS: 2, noise: 0.1 }))).toThrow(
      /No tap stands out/,
    );
    expect(() => analyseTaps({ samples: new Float32Array(100), sampleRateHz: 44100 })).toThrow(
      /shorter than 0.2 s/,
    );
  });
});

/** A WAV file of some samples. */
function wav(
  recording: Recording,
  bits: number,
  isFloat: boolean,
  channels = 1,
  isExtensible = false,
): Uint8Array {
  const bytesEach = bits / 8;
  const head = isExtensible ? 40 : 16;
  const size = recording.samples.length * bytesEach * channels;
  const bytes = new Uint8Array(12 + 8 + head + 10 + 8 + size);
  const view = new DataView(bytes.buffer);
  const text = (at: number, word: string) =>
    [...word].forEach((c, i) => {
      view.setUint8(at + i, c.charCodeAt(0));
    });
  text(0, 'RIFF');
  view.setUint32(4, bytes.length - 8, true);
  text(8, 'WAVEfmt ');
  view.setUint32(16, head, true);
  view.setUint16(20, isExtensible ? 0xfffe : isFloat ? 3 : 1, true);
  view.setUint16(22, channels, true);
  view.setUint32(24, recording.sampleRateHz, true);
  view.setUint16(34, bits, true);
  if (isExtensible) view.setUint16(44, isFloat ? 3 : 1, true);
  // a chunk of another kind, as recorders write them
  const extra = 20 + head;
  text(extra, 'LIST');
  view.setUint32(extra + 4, 1, true);
  const data = extra + 10;
  text(data, 'data');
  view.setUint32(data + 4, size, true);
  recording.samples.forEach((sample, i) => {
    for (let c = 0; c < channels; c++) {
      const at = data + 8 + (i * channels + c) * bytesEach;
      const value = c === 0 ? sample : 0;
      if (isFloat) view.setFloat32(at, value, true);
      else if (bits === 16) view.setInt16(at, Math.round(value * 32767), true);
      else {
        const whole = Math.round(value * 8388607);
        view.setUint8(at, whole & 255);
        view.setInt16(at + 1, whole >> 8, true);
      }
    }
  });
  return bytes;
}

describe('recordings', () => {
  const recording = record({ ...fourTaps, sampleRateHz: 22050, noise: 0.002 });

  it.each([
    [16, false, 1, false],
    [24, false, 1, false],
    [32, true, 1, false],
    [16, false, 2, true],
  ])('%i bits, float %s, %i channel(s), extensible %s', (bits, isFloat, channels, isExtensible) => {
    const read = readWav(wav(recording, bits, isFloat, channels, isExtensible));
    expect(read.sampleRateHz).toBe(22050);
    expect(read.samples).toHaveLength(recording.samples.length);
    expectClose(read.samples[40000]! * channels, recording.samples[40000]!, { tol: 1e-4, source });
    expectClose(nearest(analyseTaps(read), 82.8).frequencyHz, 82.8, { tol: 0.2, source });
  });

  it('refuses what is no WAV file in one sentence', () => {
    expect(() => readWav(new Uint8Array(3))).toThrow('The recording is no WAV file');
    expect(() => readWav(wav(recording, 16, false).subarray(0, 40))).toThrow('holds no sound');
    const odd = wav(recording, 16, false);
    odd[34] = 12;
    expect(() => readWav(odd)).toThrow('12 bits of kind 1');
  });
});
