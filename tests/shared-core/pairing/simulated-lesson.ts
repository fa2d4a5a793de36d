import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64'
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus'
import type { PairingItem } from '../../../shared-core/pairing/pair-swings.ts'

export type SimulatedLesson = {
  swings: PairingItem[]
  shots: PairingItem[]
  /** The offset of the device's clock in the middle of the lesson, s, and its drift. */
  offsetSeconds: number
  driftPpm: number
  /** Pairs that can be found: both records are there. */
  possible: number
}

/**
 * A lesson of swings every half minute or so with a pause after each block, filmed by one clock and logged by another: offset up to
 * two hours, drift, jitter, whole seconds, records missing on both sides. Swing `w7` belongs to shot `s7`.
 */
export const simulatedLesson = (
  seed: number,
  how: {
    swings: number
    /** Share of records missing on each side. */
    missing?: number
    /** Standard deviation of the logged instant, s, before rounding to whole seconds. */
    jitter?: number
    driftPpm?: number
    /** Evenly spaced to half a second, as a machine would hit. */
    even?: boolean
    /** Share of clips stamped at the recording's start, five seconds early, instead of its end. */
    stampedEarly?: number
  },
): SimulatedLesson => {
  const {
    swings: count,
    missing = 0.1,
    jitter = 0.5,
    driftPpm: maxDrift = 200,
    even = false,
    stampedEarly = 0,
  } = how
  const generator = xoroshiro128plus(seed)
  const random = () => uniformFloat64(generator)
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())
  const driftPpm = (2 * random() - 1) * maxDrift
  const startOffset = (2 * random() - 1) * 7200
  const swings: PairingItem[] = []
  const shots: PairingItem[] = []
  const start = 1.78e9 + random() * 1e6
  let elapsed = 0
  let possible = 0
  for (let k = 0; k < count; k++) {
    elapsed += even
      ? 30 + 0.5 * normal()
      : 12 - 25 * Math.log(1 - random()) + (k % 5 === 4 ? 60 + 120 * random() : 0)
    const hasSwing = random() >= missing
    const hasShot = random() >= missing
    const at = start + elapsed
    if (hasSwing) {
      swings.push({ id: `w${k}`, atSeconds: at + 0.3 * normal() - (random() < stampedEarly ? 5 : 0) })
    }
    if (hasShot) {
      shots.push({
        id: `s${k}`,
        atSeconds: Math.round(at + startOffset + driftPpm * 1e-6 * elapsed + jitter * normal()),
      })
    }
    if (hasSwing && hasShot) possible++
  }
  return { swings, shots, possible, driftPpm, offsetSeconds: startOffset + driftPpm * 1e-6 * (elapsed / 2) }
}

export const isRight = (pair: { swingId: string; shotId: string }): boolean =>
  pair.swingId.slice(1) === pair.shotId.slice(1)
