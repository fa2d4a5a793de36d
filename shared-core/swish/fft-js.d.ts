/** What is used of the package, which brings no types of its own. */
declare module 'fft.js' {
  export default class FFT {
    constructor(size: number)
    /** Interleaved real and imaginary parts, `2 * size` numbers. */
    createComplexArray(): number[]
    /** Fills the first half of `out` (up to and with the middle) from `size` real samples. */
    realTransform(out: number[], samples: ArrayLike<number>): void
  }
}
