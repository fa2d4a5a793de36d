import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64'
import { mersenne } from 'pure-rand/generator/mersenne'

/** Chance as an argument: each call gives the next number in [0, 1). */
export type Generator = () => number

/**
 * The "minimal standard" generator: s ← 16807·s mod (2³¹ − 1), u = s/(2³¹ − 1), the first u after one step
 * from the start. Source: Park & Miller 1988, CACM 31:1192. For reproducing published runs; the tool itself
 * uses `mersenneGenerator`.
 */
export function minimalStandardGenerator(start: number): Generator {
  const modulus = 2147483647
  let state = start
  return () => {
    state = (16807 * state) % modulus
    return state / modulus
  }
}

/** Mersenne Twister with 53 random bits a draw (pure-rand). Same start, same numbers. */
export function mersenneGenerator(start: number): Generator {
  const source = mersenne(start)
  return () => uniformFloat64(source)
}

/** The generator of every report that is given none: same data, same answer. */
export const defaultGenerator = (): Generator => mersenneGenerator(20_170_117)

/** One index in [0, size) per draw. */
export const drawIndex = (generator: Generator, size: number): number =>
  Math.min(size - 1, Math.floor(generator() * size))
