import FFT from 'fft.js';

/** Power in each frequency step, from 0 up to half the sample rate. */
export interface PowerSpectrum {
  readonly stepHz: number;
  readonly power: Float64Array;
}

/** Makes power spectra of one size, keeping its tables. */
export interface SpectrumMaker {
  readonly sizeCount: number;
  /** Power of samples times a window, both of the same length, at most `sizeCount`; filled up with zeros. */
  of(samples: ArrayLike<number>, window: ArrayLike<number>): Float64Array;
}

/**
 * Makes a maker of power spectra.
 *
 * @param sizeCount  a power of two; >= 2
 * @returns          the maker; a spectrum has sizeCount / 2 + 1 steps
 * @throws RangeError when the size is no power of two
 * @source           arithmetic
 */
export function makeSpectrum(sizeCount: number): SpectrumMaker {
  if (sizeCount < 2 || (sizeCount & (sizeCount - 1)) !== 0)
    throw new RangeError(`makeSpectrum: size ${sizeCount} must be a power of two`);
  const transform = new FFT(sizeCount);
  const data = new Float64Array(sizeCount);
  const out = transform.createComplexArray();
  return {
    sizeCount,
    of: (samples, window) => {
      data.fill(0);
      let energy = 0;
      for (let i = 0; i < window.length; i++) {
        data[i] = samples[i]! * window[i]!;
        energy += window[i]! * window[i]!;
      }
      transform.realTransform(out, data);
      const power = new Float64Array(sizeCount / 2 + 1);
      for (let k = 0; k < power.length; k++)
        power[k] = (out[2 * k]! * out[2 * k]! + out[2 * k + 1]! * out[2 * k + 1]!) / energy;
      return power;
    },
  };
}
