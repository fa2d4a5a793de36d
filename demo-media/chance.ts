import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64'
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus'

/** Repeatable chance: the same number gives the same draws, on every machine. */
export type Chance = {
  /** 0 up to 1 */
  uniform: () => number
  between: (lo: number, hi: number) => number
  /** Bell-shaped around 0 with sd 1, cut at ±2. */
  normal: () => number
}

export const chance = (start: number): Chance => {
  const generator = xoroshiro128plus(start)
  const uniform = (): number => uniformFloat64(generator)
  const normal = (): number => {
    for (;;) {
      const draw = Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform())
      if (Math.abs(draw) <= 2) return draw
    }
  }
  return { uniform, between: (lo, hi) => lo + (hi - lo) * uniform(), normal }
}
