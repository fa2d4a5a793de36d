import type { Air } from '../flight/air.ts'
import { standardAir } from '../flight/air.ts'
import { launchOf } from '../flight/carry.ts'
import { clubWords } from '../model/club.ts'
import type { Generator } from '../statistics/generator.ts'
import { mean } from '../statistics/mean.ts'
import type { UnitSystem } from '../units.ts'
import { phrase, sayOrNull, sayWord, type Phrase, type Word } from '../wording/phrase.ts'
import type { Ceiling } from './ceiling.ts'
import { ceilingOf, ownShotsNeeded, spinLoftFromLaunch } from './ceiling.ts'
import type { DeviceError } from './device-error.ts'
import { defaultDeviceError } from './device-error.ts'
import { isSpeed } from './efficiency.ts'
import { gainsOf } from './gains.ts'
import { moreShotsToSettle, strikeOrSpeed, suspectDevice } from './strike-or-speed.ts'
import type { DeviceSuspicion } from './strike-or-speed.ts'
import { strikeOrSpeedWords, suspicionWords, type StrikeOrSpeedWords } from './strike-or-speed-words.ts'
import type { StrikeShot } from './strike-report.ts'
import { strikeFlags } from './strike-report.ts'
import { sayHowWeKnow, type HowWeKnow, type HowWeKnowWords } from '../wording/how-we-know.ts'

/** A gain in carry, m. */
export interface Gain {
  gainM: number
  /** 95 % interval of the gain, m. */
  ci95: [number, number]
}

/** What strike and speed would each bring this player with this club, and which is more. */
export interface HoldingBack {
  club: string | null
  /** Shots used, and those left out (other club, no club or ball speed, impossible reading). */
  shots: number
  leftOut: number
  today: { clubSpeedMps: number; ballSpeedMps: number; efficiency: number; carryM: number } | null
  /** Carry from the strike within reach at today's club speed; the same ceiling as in the table of shots. */
  strike: (Gain & { efficiency: number; efficiencySd: number; basis: Ceiling['kind'] }) | null
  /** Carry from the gain in club speed at today's strike. */
  speed: (Gain & { clubSpeedGainMps: number; basis: string }) | null
  /** Strike minus speed. */
  difference: { m: number; ci95: [number, number] } | null
  verdict: 'strike' | 'speed' | 'cannot-tell'
  /** Chance that the strike is worth more than the speed; null where nothing was computed. */
  strikeChance: number | null
  /** Not clear, but by the best estimate the strike is worth having: it comes before any speed work. */
  isStrikeFirst: boolean
  /** Readings that can't be what they say; no verdict is given then. */
  suspicion: DeviceSuspicion | null
  /** One plain sentence for the student. */
  sentence: string
  /** How sure it is, with the weakest link. */
  howSure: string
  /** What these and the caution are made of, to be said in another language. */
  words: StrikeOrSpeedWords & { caution: Word | null; howWeKnow: HowWeKnowWords }
  /** How many more shots would do, by simulation; null if more shots would not settle it or none are needed. */
  shotsNeeded: number | null
  /** Goes wherever the verdict goes; null unless speed is advised. */
  caution: string | null
  howWeKnow: HowWeKnow
}

/** What the report needs and may be told. */
export interface HoldingBackOptions {
  /** Chance for the simulation of more shots, in [0, 1). */
  generator: Generator
  /** The player's own efficiencies with this club up to this lesson, without flagged shots. */
  ownEfficiencies?: readonly number[]
  /** A realistic gain in club speed, as a share of today's. */
  speedGainShare?: number
  /** What that gain rests on, for the coach; needed words if the share is the coach's own. */
  speedGainBasis?: string
  error?: DeviceError
  air?: Air
  system?: UnitSystem
  /** The smallest gain in efficiency worth having, with a driver; other clubs take the same share (and so about the same share of carry). */
  strikeMargin?: number
}

/**
 * Default gain in club speed. An assumption: no published size of a gain from speed or strength training could
 * be confirmed, so a small one is taken and the coach may set another.
 */
export const defaultSpeedGainShare = 0.03
/** What is worth having, with a driver; a setting. About 6 yd at 90 mph (our choice, no source). */
export const defaultStrikeMargin = 0.03
/** What the margin is a share of: the driver's published level. */
const driverLevel = 1.48

/** Below this a block gives no verdict at all. */
const shotsAtLeast = 5

const meanOf = (
  shots: readonly StrikeShot[],
  key: 'launchDeg' | 'spinRpm' | 'dynamicLoftDeg' | 'attackDeg',
): number | null => {
  const present = shots.map((shot) => shot[key]).filter((value): value is number => value != null)
  return present.length > 0 ? mean(present) : null
}

/** Whether both speeds were recorded, be it that one of them can't be and takes no part. */
const wasMeasured = (shot: StrikeShot): boolean =>
  (['clubSpeedMps', 'ballSpeedMps'] as const).every(
    (metric) => isSpeed(shot[metric]) || shot.withheld?.some((w) => w.metric === metric) === true,
  )

const saidOf = (
  { sentence, howSure }: StrikeOrSpeedWords,
  howWeKnow: HowWeKnowWords,
  caution: Word | null = null,
) => ({
  sentence: sayWord(sentence),
  howSure: sayWord(howSure),
  caution: sayOrNull(caution),
  words: { sentence, howSure, caution, howWeKnow },
  howWeKnow: sayHowWeKnow(howWeKnow),
})

/** Spin loft of a block: loft at impact less attack angle where recorded, else told from the launch of an iron. */
function spinLoftOf(club: string | null, shots: readonly StrikeShot[]): number | null {
  const [loft, attack] = [meanOf(shots, 'dynamicLoftDeg'), meanOf(shots, 'attackDeg')]
  return loft !== null && attack !== null
    ? loft - attack
    : spinLoftFromLaunch(club, meanOf(shots, 'launchDeg'), attack)
}

/**
 * Which of strike and speed holds this player back, for a block of one club: gains (gains.ts), verdict (strike-or-speed.ts) and
 * words (strike-or-speed-words.ts). What is within reach is the same ceiling that shots and blocks are judged by (ceiling.ts).
 */
export function holdingBack(allShots: readonly StrikeShot[], options: HoldingBackOptions): HoldingBack {
  const {
    generator,
    ownEfficiencies = [],
    speedGainShare = defaultSpeedGainShare,
    speedGainBasis = options.speedGainShare === undefined
      ? phrase('held.assumedGain')
      : phrase('held.gainByCoach', { percent: (options.speedGainShare * 100).toFixed(1) }),
    error = defaultDeviceError,
    air = standardAir,
    system = 'mph-yd',
    strikeMargin = defaultStrikeMargin,
  } = options
  const clubs = [...new Set(allShots.map((shot) => shot.club))]
  const club = clubs.length === 1 ? clubs[0]! : null
  const words = clubWords(club)
  const whole = allShots.filter(
    (shot): shot is StrikeShot & { clubSpeedMps: number; ballSpeedMps: number } =>
      isSpeed(shot.clubSpeedMps) &&
      shot.clubSpeedMps <= 80 &&
      isSpeed(shot.ballSpeedMps) &&
      shot.ballSpeedMps <= 120,
  )
  const found = ceilingOf(club, {
    ownEfficiencies,
    error,
    spinLoftDeg: spinLoftOf(club, whole),
    clubSpeedMps: whole.length > 0 ? mean(whole.map((shot) => shot.clubSpeedMps)) : null,
  })
  const ceiling: Ceiling | null = 'reason' in found ? null : found
  const usable = whole.filter(
    (shot) => !strikeFlags(shot, ceiling, error).some((flag) => flag.code === 'impossible'),
  )
  const n = usable.length
  const leftOut = allShots.length - n
  const data =
    leftOut > 0
      ? phrase('held.shotsLeftOut', { n, club: words, leftOut })
      : phrase('held.shots', { n, club: words })
  const source = phrase('held.source')
  const refusal = (
    sentence: Phrase,
    shotsNeeded: number | null,
    more: { said?: StrikeOrSpeedWords; suspicion?: DeviceSuspicion } = {},
  ): HoldingBack => ({
    club,
    shots: n,
    leftOut,
    today: null,
    strike: null,
    speed: null,
    difference: null,
    verdict: 'cannot-tell',
    strikeChance: null,
    isStrikeFirst: false,
    suspicion: more.suspicion ?? null,
    ...saidOf(
      more.said ?? {
        sentence,
        howSure:
          shotsNeeded === null
            ? phrase('held.notComputed')
            : phrase('held.notComputedYet', { n: shotsNeeded }),
      },
      { data: phrase('text.stop', { text: data }), method: phrase('held.notComputed'), source },
    ),
    shotsNeeded,
  })

  if (allShots.length === 0) {
    return refusal(phrase('held.noShots'), shotsAtLeast)
  }
  if (clubs.length > 1) {
    return refusal(phrase('held.severalClubs'), null)
  }
  if (whole.length === 0) {
    return refusal(phrase(allShots.some(wasMeasured) ? 'held.speedsNotUsed' : 'held.noSpeeds'), null)
  }
  if (ceiling !== null) {
    // Every shot that has both speeds is looked at, the impossible ones above all.
    const ratios = allShots.flatMap((shot) =>
      isSpeed(shot.clubSpeedMps) && isSpeed(shot.ballSpeedMps) ? [shot.ballSpeedMps / shot.clubSpeedMps] : [],
    )
    const suspicion = suspectDevice(ratios, ceiling, error)
    if (suspicion !== null) {
      const { limit } = ceiling
      const above = ratios.filter((ratio) => limit !== null && ratio > limit).length
      const said = suspicionWords(suspicion, words, { above, of: ratios.length, limit })
      return refusal(phrase('held.checkDevice'), null, { said, suspicion })
    }
  }
  if (n < shotsAtLeast) {
    const more = shotsAtLeast - n
    return refusal(phrase('held.tooFew', { n, more, club: words }), more)
  }
  if (ceiling === null) {
    const own = ownEfficiencies.filter((value) => Number.isFinite(value) && value > 0).length
    return refusal(
      phrase('held.noCeiling', { reason: 'reason' in found ? found.reason : phrase('held.noCeilingKnown') }),
      Math.max(0, ownShotsNeeded - own) || null,
    )
  }
  const launch = launchOf(
    { club, launchDeg: meanOf(usable, 'launchDeg'), spinRpm: meanOf(usable, 'spinRpm') },
    error,
  )
  if ('reason' in launch) return refusal(phrase('held.noCarry', { reason: launch.reason }), null)

  const gains = gainsOf(usable, ceiling, {
    launch,
    air,
    speedGainShare,
    marginShare: strikeMargin / driverLevel,
  })
  const decided = strikeOrSpeed(gains)
  // What a club of the coach's own can give is known from the player only, who may never have struck it well.
  const isKnown = ceiling.kind !== 'measured'
  const verdict = decided.verdict === 'speed' && !isKnown ? 'cannot-tell' : decided.verdict
  const shotsNeeded =
    verdict === 'cannot-tell' && isKnown ? moreShotsToSettle(gains, n, ceiling.sd, generator) : null
  const said = strikeOrSpeedWords({ ...decided, verdict }, gains, {
    ceiling,
    club: words,
    flagged: whole.length - n,
    shotsNeeded,
    system,
  })
  const { sd } = ceiling
  return {
    club,
    shots: n,
    leftOut,
    today: gains.today,
    strike: { ...gains.strike, efficiency: ceiling.efficiency, efficiencySd: sd, basis: ceiling.kind },
    speed: { ...gains.speed, basis: sayWord(speedGainBasis) },
    difference: gains.difference,
    verdict,
    strikeChance: decided.strikeChance,
    isStrikeFirst: decided.isStrikeFirst,
    suspicion: null,
    ...saidOf(
      said,
      {
        data: phrase('held.data', { data, launch: launch.note }),
        method: phrase('held.method', {
          reach: ceiling.efficiency.toFixed(2),
          sd: sd.toFixed(2),
          basis: ceiling.basisWords,
          gainBasis: speedGainBasis,
          worth: gains.speedWorth.toFixed(3),
          margin: gains.margin.toFixed(3),
          gap: gains.gap.toFixed(3),
          gapSd: gains.gapSd.toFixed(3),
        }),
        source,
      },
      verdict === 'speed' ? phrase('caution.speed') : null,
    ),
    shotsNeeded,
  }
}
