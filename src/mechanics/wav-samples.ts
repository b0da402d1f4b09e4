import { InputError } from '../quantity/input-error.ts';

/** A recording as one channel, -1..1. */
export interface Recording {
  readonly samples: Float32Array;
  readonly sampleRateHz: number;
}

/** Longest recording that is read. */
const longestS = 120;

/**
 * Reads a WAV file: PCM of 8, 16, 24 or 32 bits or 32-bit float, any number of channels (mixed to one).
 *
 * @param bytes  the whole file
 * @returns      samples and sample rate
 * @throws InputError with one sentence when it is no such file
 * @source       from memory
 */
export function readWav(bytes: Uint8Array): Recording {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length < 12 || word(view, 0) !== 'RIFF' || word(view, 8) !== 'WAVE')
    refuse('The recording is no WAV file; save it as WAV with 16 or 24 bits.');
  let format: Format | undefined;
  for (let at = 12; at + 8 <= bytes.length; ) {
    const size = view.getUint32(at + 4, true);
    const body = at + 8;
    if (word(view, at) === 'fmt ') format = readFormat(view, body, size);
    if (word(view, at) === 'data') {
      if (!format) return refuse('The WAV file has sound before its format; save it anew.');
      return readSound(view, body, Math.min(size, bytes.length - body), format);
    }
    at = body + size + (size % 2);
  }
  return refuse('The WAV file holds no sound; record it again.');
}

interface Format {
  readonly isFloat: boolean;
  readonly channels: number;
  readonly sampleRateHz: number;
  readonly bits: number;
}

function refuse(sentence: string): never {
  throw new InputError('recording', sentence);
}

function word(view: DataView, at: number): string {
  return String.fromCharCode(
    view.getUint8(at),
    view.getUint8(at + 1),
    view.getUint8(at + 2),
    view.getUint8(at + 3),
  );
}

function readFormat(view: DataView, at: number, size: number): Format {
  if (size < 16 || at + size > view.byteLength)
    return refuse('The WAV file is cut off in its format; save it anew.');
  let kind = view.getUint16(at, true);
  // the extensible form keeps the kind in its first two bytes of the long name
  if (kind === 0xfffe && size >= 26) kind = view.getUint16(at + 24, true);
  const format = {
    isFloat: kind === 3,
    channels: view.getUint16(at + 2, true),
    sampleRateHz: view.getUint32(at + 4, true),
    bits: view.getUint16(at + 14, true),
  };
  const isReadable = kind === 1 ? [8, 16, 24, 32].includes(format.bits) : kind === 3 && format.bits === 32;
  if (!isReadable)
    return refuse(
      `The WAV file has ${format.bits} bits of kind ${kind}; only PCM of 8, 16, 24 or 32 bits and 32-bit float are read.`,
    );
  if (format.channels < 1) return refuse('The WAV file has no channel; record it again.');
  if (format.sampleRateHz < 4000 || format.sampleRateHz > 768_000)
    return refuse(
      `The WAV file has ${format.sampleRateHz} samples a second; between 4000 and 768000 are read.`,
    );
  return format;
}

function readSound(view: DataView, at: number, size: number, format: Format): Recording {
  const bytesEach = format.bits / 8;
  const frames = Math.floor(size / (bytesEach * format.channels));
  if (frames === 0) return refuse('The WAV file holds no sound; record it again.');
  if (frames > longestS * format.sampleRateHz)
    return refuse(
      `The recording is ${Math.round(frames / format.sampleRateHz)} s long; cut it to ${longestS} s or less.`,
    );
  const samples = new Float32Array(frames);
  for (let i = 0; i < frames; i++) {
    let sum = 0;
    for (let c = 0; c < format.channels; c++)
      sum += sampleAt(view, at + (i * format.channels + c) * bytesEach, format);
    samples[i] = sum / format.channels;
  }
  return { samples, sampleRateHz: format.sampleRateHz };
}

function sampleAt(view: DataView, at: number, format: Format): number {
  if (format.isFloat) {
    const value = view.getFloat32(at, true);
    return Number.isFinite(value) ? value : 0;
  }
  if (format.bits === 8) return (view.getUint8(at) - 128) / 128;
  if (format.bits === 16) return view.getInt16(at, true) / 32768;
  if (format.bits === 24) return ((view.getInt8(at + 2) << 16) | view.getUint16(at, true)) / 8388608;
  return view.getInt32(at, true) / 2147483648;
}
