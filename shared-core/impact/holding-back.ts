import type { Air } from '../flight/air.ts'
import { standardAir } from '../flight/air.ts'
import { launchOf } from '../flight/carry.ts'
import { flight } from '../flight/flight.ts'
import { clubWords } from '../model/club.ts'
import { ascending } from '../statistics/ascending.ts'
import type { Generator } from '../statistics/generator.ts'
import { drawIndex } from '../statistics/generator.ts'
import { mean } from '../statistics/mean.ts'
import { medianOfSorted } from '../statistics/median.ts'
import { quantileOfSorted } from '../statistics/quantiles.ts'
import { scaledMad } from '../statistics/scaled-mad.ts'
import type { UnitSystem } from '../units.ts'
import { metricText } from '../units.ts'
import type { Ceiling } from './ceiling.ts'
import { ceilingOf, ownShotsNeeded } from './ceiling.ts'
import type { DeviceError } from './device-error.ts'
import { defaultDeviceError, efficiencyErrorShare } from './device-error.ts'
import { isSpeed } from './efficiency.ts'
import type { StrikeShot } from './strike-report.ts'
import { strikeFlags } from './strike-report.ts'

export interface Gain {
  gainM: number
  /** 95 % interval of the gain, m. */
  ci95: [number, number]
}

export interface HoldingBack {
  club: string | null
  /** Shots used, and those left out (other club, no club or ball speed, impossible reading). */
  shots: number
  leftOut: number
  today: { clubSpeedMps: number; ballSpeedMps: number; efficiency: number; carryM: number } | null
  /** Carry from the player's best strike at today's club speed. */
  strike: (Gain & { efficiency: number; basis: 'own-best' | 'club-ceiling' }) | null
  /** Carry from the gain in club speed at today's strike. */
  speed: (Gain & { clubSpeedGainMps: number; basis: string }) | null
  /** Strike minus speed. */
  difference: { m: number; ci95: [number, number] } | null
  verdict: 'strike' | 'speed' | 'cannot-tell'
  /** Not clear, but the strikes are alike and below the club's ceiling: the strike comes before any speed work. */
  isStrikeFirst: boolean
  /** One plain sentence for the student. */
  sentence: string
  /** How many more shots would do, about; null if more shots would not settle it or none are needed. */
  shotsNeeded: number | null
  /** Goes wherever the verdict goes; null unless speed is advised. */
  caution: string | null
  howWeKnow: { data: string; method: string; source: string }
}

export interface HoldingBackOptions {
  /** Chance for the bootstrap, in [0, 1). */
  generator: Generator
  /** The player's own efficiencies with this club from all lessons, without flagged shots. */
  ownEfficiencies?: readonly number[]
  /** A realistic gain in club speed, as a share of today's. */
  speedGainShare?: number
  /** What that gain rests on, for the coach; needed words if the share is the coach's own. */
  speedGainBasis?: string
  error?: DeviceError
  air?: Air
  system?: UnitSystem
  resamples?: number
}

/**
 * Default gain in club speed. An assumption: no published size of a gain from speed or strength training could
 * be confirmed, so a small one is taken and the coach may set another.
 */
export const defaultSpeedGainShare = 0.03
const defaultSpeedGainBasis = 'assumption: 3 % of today’s club speed; no published figure could be confirmed'

/** Below this a block gives no verdict at all. */
const shotsAtLeast = 5
/** Nobody is asked for more shots than this in one block. */
const shotsAtMost = 60

const caution =
  'Before speed work: warm up dynamically, build volume slowly, keep space around you and stop with pain; earlier ' +
  'back, wrist, elbow, shoulder or knee trouble goes to a medical professional first.'

const source =
  'Two-body impact and tour averages by club (from memory), flight after Quintavalla 2002 with capped spin, bootstrap ' +
  'after Efron & Tibshirani 1993; device errors are assumptions the coach can edit.'

/** Carry against ball speed at a fixed launch, as a table: the bootstrap asks for thousands of carries. */
function carryTable(launchDeg: number, spinRpm: number, air: Air, low: number, high: number) {
  const cells = 32
  const step = (high - low) / cells
  const carries = Array.from(
    { length: cells + 1 },
    (_, i) => flight({ ballSpeedMps: low + i * step, launchDeg, spinRpm, air }).carryM,
  )
  return (ballSpeedMps: number): number => {
    const at = Math.min(cells - 1e-9, Math.max(0, (ballSpeedMps - low) / step))
    const cell = Math.floor(at)
    return carries[cell]! + (at - cell) * (carries[cell + 1]! - carries[cell]!)
  }
}

/**
 * The player's own best strike: the 90 % quantile of efficiency, with what the device's error alone adds to it
 * taken out (the quantile lies above the median by real scatter and reading error together).
 */
export function ownBestStrike(
  efficiencies: readonly number[],
  error: DeviceError = defaultDeviceError,
): number {
  const sorted = ascending(efficiencies)
  const middle = medianOfSorted(sorted)
  const spread = scaledMad(efficiencies, middle)
  if (!(spread > 0)) return middle
  const noise = efficiencyErrorShare(error) * middle
  const real = Math.sqrt(Math.max(0, 1 - (noise / spread) ** 2))
  return middle + (quantileOfSorted(sorted, 0.9) - middle) * real
}

const normalDraw = (generator: Generator): number =>
  Math.sqrt(-2 * Math.log(1 - generator())) * Math.cos(2 * Math.PI * generator())

const interval = (draws: number[]): [number, number] => {
  const sorted = ascending(draws)
  return [quantileOfSorted(sorted, 0.025), quantileOfSorted(sorted, 0.975)]
}

/**
 * Which of strike and speed holds this player back, in carry, for a block of one club.
 *
 * Strike: the ball speed of the player's own best strike (from 20 own shots on; else the club's ceiling) at
 * today's mean club speed. Speed: today's mean efficiency at a club speed raised by `speedGainShare`. All shots
 * of the block count, mishits too: they are part of today's strike; only impossible readings stay out. The
 * interval is a bootstrap over the shots, together with the uncertainty of the ceiling. Speed is never advised
 * while the average strike is further below the club's ceiling than the gain in speed is worth.
 */
export function holdingBack(allShots: readonly StrikeShot[], options: HoldingBackOptions): HoldingBack {
  const {
    generator,
    ownEfficiencies = [],
    speedGainShare = defaultSpeedGainShare,
    speedGainBasis = options.speedGainShare === undefined
      ? defaultSpeedGainBasis
      : `${(options.speedGainShare * 100).toFixed(1)} % of today's club speed, set by the coach`,
    error = defaultDeviceError,
    air = standardAir,
    system = 'mph-yd',
    resamples = 2000,
  } = options
  const clubs = [...new Set(allShots.map((shot) => shot.club))]
  const club = clubs.length === 1 ? clubs[0]! : null
  const found = ceilingOf(club)
  const ceiling: Ceiling | null = 'reason' in found ? null : found
  const usable = allShots.filter(
    (shot) =>
      isSpeed(shot.clubSpeedMps) &&
      shot.clubSpeedMps <= 80 &&
      isSpeed(shot.ballSpeedMps) &&
      shot.ballSpeedMps <= 120 &&
      !strikeFlags(shot, ceiling, error).some((flag) => flag.code === 'impossible'),
  )
  const own = ownEfficiencies.filter((value) => Number.isFinite(value) && value > 0)
  const words = clubWords(club)
  const n = usable.length
  const leftOut = allShots.length - n
  const data =
    `${n} ${n === 1 ? 'shot' : 'shots'} with the ${words}` +
    (leftOut > 0 ? `, ${leftOut} left out (no club or ball speed, or an impossible reading)` : '')
  const refusal = (sentence: string, shotsNeeded: number | null): HoldingBack => ({
    club,
    shots: n,
    leftOut,
    today: null,
    strike: null,
    speed: null,
    difference: null,
    verdict: 'cannot-tell',
    isStrikeFirst: false,
    sentence,
    shotsNeeded,
    caution: null,
    howWeKnow: { data: `${data}.`, method: 'Not computed.', source },
  })

  if (allShots.length === 0) {
    return refusal('No shots yet, so strike and speed cannot be compared.', shotsAtLeast)
  }
  if (clubs.length > 1) {
    return refusal(
      'These shots mix several clubs; strike and speed are compared for one club at a time.',
      null,
    )
  }
  if (n === 0) {
    return refusal(
      'No shot has both club speed and ball speed, so efficiency, play speed and what holds the carry back can’t be told.',
      null,
    )
  }
  if (n < shotsAtLeast) {
    const more = shotsAtLeast - n
    return refusal(
      `Can't tell yet: ${n} usable ${n === 1 ? 'shot is' : 'shots are'} too few; ${more} more with the ${words} would give a first answer.`,
      more,
    )
  }
  const measured = own.length >= ownShotsNeeded
  if (!measured && !ceiling) {
    return refusal(
      `Can't tell: ${'reason' in found ? found.reason : 'no ceiling is known'}.`,
      Math.max(0, ownShotsNeeded - own.length),
    )
  }
  const meanOf = (key: 'launchDeg' | 'spinRpm'): number | null => {
    const present = usable.map((shot) => shot[key]).filter((value): value is number => value != null)
    return present.length > 0 ? mean(present) : null
  }
  const launch = launchOf({ club, launchDeg: meanOf('launchDeg'), spinRpm: meanOf('spinRpm') }, error)
  if ('reason' in launch) return refusal(`Can't tell in carry: ${launch.reason}.`, null)

  const clubSpeeds = usable.map((shot) => shot.clubSpeedMps!)
  const ballSpeeds = usable.map((shot) => shot.ballSpeedMps!)
  const fastest = Math.max(...clubSpeeds)
  const slowest = Math.min(...ballSpeeds)
  const carryAt = carryTable(
    launch.launchDeg,
    launch.spinRpm,
    air,
    0.8 * slowest,
    Math.max(1.7 * fastest, 1.1 * Math.max(...ballSpeeds)) * (1 + Math.max(0, speedGainShare)),
  )
  /** Carries for mean speeds and the two targets: [own-best or ceiling rule, club ceiling or NaN, speed]. */
  const gains = (clubMps: number, ballMps: number, best: number, ceilingEfficiency: number) => {
    const now = carryAt(ballMps)
    return {
      strike: carryAt(best * clubMps) - now,
      byCeiling: carryAt(ceilingEfficiency * clubMps) - now,
      speed: carryAt(ballMps * (1 + speedGainShare)) - now,
    }
  }
  const clubMps = mean(clubSpeeds)
  const ballMps = mean(ballSpeeds)
  const ceilingEfficiency = ceiling?.efficiency ?? Number.NaN
  const best = measured ? ownBestStrike(own, error) : ceilingEfficiency
  const point = gains(clubMps, ballMps, best, ceilingEfficiency)

  const draws = { strike: [] as number[], byCeiling: [] as number[], speed: [] as number[] }
  /** Strike minus speed with the target held: the part of the spread that more shots make smaller. */
  const bySampling: number[] = []
  // A resample of few shots spreads too little by √((n−1)/n).
  const widen = Math.sqrt(n / (n - 1))
  for (let b = 0; b < resamples; b++) {
    let clubSum = 0
    let ballSum = 0
    for (let i = 0; i < n; i++) {
      const at = drawIndex(generator, n)
      clubSum += clubSpeeds[at]!
      ballSum += ballSpeeds[at]!
    }
    const shiftedCeiling = ceiling ? ceiling.efficiency + ceiling.sd * normalDraw(generator) : Number.NaN
    const drawnBest = measured
      ? ownBestStrike(
          Array.from({ length: own.length }, () => own[drawIndex(generator, own.length)]!),
          error,
        )
      : shiftedCeiling
    const drawnClubMps = clubMps + widen * (clubSum / n - clubMps)
    const drawnBallMps = ballMps + widen * (ballSum / n - ballMps)
    const drawn = gains(drawnClubMps, drawnBallMps, drawnBest, shiftedCeiling)
    draws.strike.push(drawn.strike)
    draws.byCeiling.push(drawn.byCeiling)
    draws.speed.push(drawn.speed)
    bySampling.push(carryAt(best * drawnClubMps) - carryAt(drawnBallMps * (1 + speedGainShare)))
  }
  const difference = point.strike - point.speed
  const ci95 = interval(draws.strike.map((strike, i) => strike - draws.speed[i]!))
  const ceilingDifference = point.byCeiling - point.speed
  const ceilingCi95 = ceiling ? interval(draws.byCeiling.map((gain, i) => gain - draws.speed[i]!)) : null

  const text = (metres: number) => metricText('carryM', Math.max(0, metres), system)
  const range = ([low, high]: [number, number]) =>
    `${metricText('carryM', Math.max(0, low), system).replace(/ .*/, '')} to ${text(high)}`
  const strikeWords = `a better strike at today's speed would be worth about ${text(point.strike)} of carry (${range(interval(draws.strike))})`
  const gainText = metricText('clubSpeedMps', speedGainShare * clubMps, system)
  const speedWords = `${gainText} more club speed with today's strike about ${text(point.speed)}`

  let verdict: HoldingBack['verdict'] = 'cannot-tell'
  let isStrikeFirst = false
  let strikeGain = point.strike
  let strikeCi95 = interval(draws.strike)
  let basis: 'own-best' | 'club-ceiling' = measured ? 'own-best' : 'club-ceiling'
  let shownDifference = { m: difference, ci95 }
  let shotsNeeded: number | null = null
  let sentence: string
  /** How many more shots, if the part of the interval that shots can shrink is what hides the difference. */
  const settle = () => {
    const half = ([low, high]: [number, number]) => (high - low) / 2
    const shots2 = half(interval(bySampling)) ** 2
    const rest2 = Math.max(0, half(ci95) ** 2 - shots2)
    const room2 = difference ** 2 - rest2
    const wanted = Math.ceil((n * shots2) / room2)
    return room2 > 0 && wanted <= shotsAtMost ? Math.max(1, wanted - n) : null
  }

  if (ci95[0] > 0) {
    verdict = 'strike'
    sentence = `Strike holds the carry back, not speed: ${strikeWords}, ${speedWords}.`
  } else if (ci95[1] < 0 && ceilingCi95 && ceilingDifference < 0) {
    verdict = 'speed'
    sentence = `Speed holds the carry back, not strike: ${speedWords} of carry, a better strike only about ${text(point.strike)} (${range(strikeCi95)}).`
  } else if (ci95[1] < 0 && ceilingCi95 && ceilingCi95[0] > 0) {
    verdict = 'strike'
    basis = 'club-ceiling'
    strikeGain = point.byCeiling
    strikeCi95 = interval(draws.byCeiling)
    shownDifference = { m: ceilingDifference, ci95: ceilingCi95 }
    sentence =
      `Strike holds the carry back, not speed: the strikes are alike, but all below what a ${words} can give; there are about ` +
      `${text(strikeGain)} of carry in it (${range(strikeCi95)}), ${speedWords}.`
  } else if (ci95[1] < 0) {
    isStrikeFirst = true
    sentence = ceilingCi95
      ? `Can't tell: the strikes are alike but below what a ${words} can give (about ${text(point.byCeiling)} of carry), so look at the strike before any speed work.`
      : `Can't tell: these strikes are alike, but what a ${words} can give is not known, so speed is not advised on these numbers.`
  } else {
    shotsNeeded = settle()
    sentence =
      `Can't tell yet which holds the carry back: ${strikeWords}, ${speedWords}. ` +
      (shotsNeeded === null
        ? 'The two lie too close together, or the ceiling is too uncertain, for more shots alone to settle it.'
        : `About ${shotsNeeded} more shots would settle it.`)
  }

  return {
    club,
    shots: n,
    leftOut,
    today: {
      clubSpeedMps: clubMps,
      ballSpeedMps: ballMps,
      efficiency: ballMps / clubMps,
      carryM: carryAt(ballMps),
    },
    strike: {
      gainM: strikeGain,
      ci95: strikeCi95,
      efficiency: basis === 'own-best' ? best : ceilingEfficiency,
      basis,
    },
    speed: {
      gainM: point.speed,
      ci95: interval(draws.speed),
      clubSpeedGainMps: speedGainShare * clubMps,
      basis: speedGainBasis,
    },
    difference: shownDifference,
    verdict,
    isStrikeFirst,
    sentence,
    shotsNeeded,
    caution: verdict === 'speed' ? caution : null,
    howWeKnow: {
      data: `${data}; ${launch.note}.`,
      method:
        (basis === 'own-best'
          ? `Best strike: 90 % quantile of ${own.length} own efficiencies with the device's error taken out (${best.toFixed(2)})`
          : `Best strike: ceiling of the club, ${ceilingEfficiency.toFixed(2)} ± ${(ceiling?.sd ?? 0).toFixed(2)}, ${ceiling?.basis ?? ''}`) +
        `. Speed gain: ${speedGainBasis}. Both turned into carry by the flight model at the block's mean launch and spin; ` +
        `95 % interval by ${resamples} bootstrap resamples of the shots together with the ceiling's uncertainty.`,
      source,
    },
  }
}
