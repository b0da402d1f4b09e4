declare module 'fft.js' {
  /** Fast Fourier transform of a fixed size, a power of two. */
  export default class FFT {
    constructor(size: number);
    createComplexArray(): number[];
    /** Fills the first half of the complex output. */
    realTransform(out: number[], data: ArrayLike<number>): void;
  }
}
