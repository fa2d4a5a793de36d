import { standardNormalCdf } from '../statistics/distributions.ts'
import type { Generator } from '../statistics/generator.ts'
import type { Ceiling } from './ceiling.ts'
import type { DeviceError } from './device-error.ts'
import { efficiencyErrorShare } from './device-error.ts'
import type { Gains } from './gains.ts'

/** Whether strike or speed holds the player back, and how sure. */
export interface StrikeOrSpeed {
  verdict: 'strike' | 'speed' | 'cannot-tell'
  /** Chance that the strike is worth more than the speed and worth having. */
  strikeChance: number
  /** Not clear, but by the best estimate the strike is worth having: it comes before any speed work. */
  isStrikeFirst: boolean
}

/** What is said as "strike" is right nine times in ten; "speed", said only where the gap is also too small to matter, 85 in 100. */
const strikeFrom = 0.9
const speedFrom = 0.85

/**
 * Which holds back. One question: is the gap in the strike larger than what the speed would give, and than what is worth having?
 * Where it is clearly not, and by the best estimate smaller than what is worth having, the strike is good enough and speed is said
 * plainly (equivalence with a margin, Schuirmann 1987; the shares are Leadside's own).
 */
export function strikeOrSpeed(gains: Pick<Gains, 'gap' | 'gapSd' | 'speedWorth' | 'margin'>): StrikeOrSpeed {
  const { gap, gapSd, speedWorth, margin } = gains
  const turn = Math.max(speedWorth, margin)
  const strikeChance = gapSd > 0 ? standardNormalCdf((gap - turn) / gapSd) : gap > turn ? 1 : 0
  const verdict =
    strikeChance >= strikeFrom
      ? 'strike'
      : 1 - strikeChance >= speedFrom && gap < margin && speedWorth > 0
        ? 'speed'
        : 'cannot-tell'
  return { verdict, strikeChance, isStrikeFirst: verdict === 'cannot-tell' && gap >= margin }
}

/** Nobody is asked for more shots than this in one block. */
const shotsAtMost = 60

/**
 * How many more shots would settle it, by simulation: the truth drawn from what is known now, more shots drawn from it, and the
 * question asked again; the first number that settles it 8 times in 10. Null where shots alone would not.
 */
export function moreShotsToSettle(
  gains: Gains,
  shots: number,
  ceilingSd: number,
  generator: Generator,
): number | null {
  const runs = 200
  const normal = () => Math.sqrt(-2 * Math.log(1 - generator())) * Math.cos(2 * Math.PI * generator())
  const draws = Array.from({ length: runs }, () => [normal(), normal(), normal()] as const)
  const perShot = gains.efficiencySd * Math.sqrt(shots)
  for (let more = 2; shots + more <= shotsAtMost; more += more < 10 ? 1 : 5) {
    const share = more / (shots + more)
    let settled = 0
    for (const [known, fresh, reach] of draws) {
      const truth = gains.gap + gains.efficiencySd * known + ceilingSd * reach
      // The ceiling stays as unsure as it is: only today's mean moves.
      const added = truth - ceilingSd * reach + (perShot * fresh) / Math.sqrt(more)
      const gap = (1 - share) * gains.gap + share * added
      const efficiencySd = perShot / Math.sqrt(shots + more)
      if (
        strikeOrSpeed({ ...gains, gap, gapSd: Math.hypot(efficiencySd, ceilingSd) }).verdict !== 'cannot-tell'
      ) {
        settled++
      }
    }
    if (settled >= 0.8 * runs) return more
  }
  return null
}

/** P(at least k of n) with chance p each. */
function binomialTail(k: number, n: number, p: number): number {
  let chance = (1 - p) ** n
  let tail = k <= 0 ? 1 : 0
  for (let i = 0; i <= n; i++) {
    if (i >= k && k > 0) tail += chance
    chance *= ((n - i) / (i + 1)) * (p / (1 - p))
  }
  return tail
}

/** Why a device is not believed: efficiencies above what physics allows, or units that are mixed up. */
export type DeviceSuspicion = 'above-physics' | 'units'

/** Above the dead-centre, zero-loft limit of a heavy legal driver against a usual one: 1.52 against about 1.49. */
const beyond = 1.02
/** How much the best players' own strikes scatter, as a share (assumption). */
const bestScatterShare = 0.012
/** A block whose middle lies below this share of the ceiling is in mixed units or not what it says (mph against km/h gives 0.62). */
const belowShare = 0.68

/**
 * Whether the readings can be what they say: more shots above what physics allows than the device's error would put there from a
 * player who strikes as well as can be (binomial, 1.5 %), or a middle that no full shots have. Source: impact model; "a logged 1.52
 * is almost surely a measuring artefact".
 */
export function suspectDevice(
  efficiencies: readonly number[],
  ceiling: Pick<Ceiling, 'limit' | 'efficiency'>,
  error: DeviceError,
): DeviceSuspicion | null {
  const n = efficiencies.length
  const { limit } = ceiling
  if (n < 3) return null
  const sorted = [...efficiencies].sort((a, b) => a - b)
  if (sorted[Math.floor(n / 2)]! < belowShare * ceiling.efficiency) return 'units'
  if (limit === null) return null
  const line = limit * beyond
  const above = efficiencies.filter((value) => value > line).length
  const chance =
    1 - standardNormalCdf((beyond - 1) / Math.hypot(efficiencyErrorShare(error), bestScatterShare))
  return above >= 3 && binomialTail(above, n, Math.min(0.5, chance)) < 0.015 ? 'above-physics' : null
}
