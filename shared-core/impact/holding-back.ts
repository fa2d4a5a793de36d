import type { Air } from '../flight/air.ts'
import { standardAir } from '../flight/air.ts'
import { launchOf } from '../flight/carry.ts'
import { clubWords } from '../model/club.ts'
import type { Generator } from '../statistics/generator.ts'
import { mean } from '../statistics/mean.ts'
import type { UnitSystem } from '../units.ts'
import type { Ceiling } from './ceiling.ts'
import { ceilingOf, ownShotsNeeded, spinLoftFromLaunch } from './ceiling.ts'
import type { DeviceError } from './device-error.ts'
import { defaultDeviceError } from './device-error.ts'
import { isSpeed } from './efficiency.ts'
import { gainsOf } from './gains.ts'
import { moreShotsToSettle, strikeOrSpeed, suspectDevice } from './strike-or-speed.ts'
import type { DeviceSuspicion } from './strike-or-speed.ts'
import { strikeOrSpeedWords, suspicionWords } from './strike-or-speed-words.ts'
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
  /** How many more shots would do, by simulation; null if more shots would not settle it or none are needed. */
  shotsNeeded: number | null
  /** Goes wherever the verdict goes; null unless speed is advised. */
  caution: string | null
  howWeKnow: { data: string; method: string; source: string }
}

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
const defaultSpeedGainBasis = 'assumption: 3 % of today’s club speed; no published figure could be confirmed'

/** Below this a block gives no verdict at all. */
const shotsAtLeast = 5

const caution =
  'Before speed work: warm up dynamically, build volume slowly, keep space around you and stop with pain; earlier ' +
  'back, wrist, elbow, shoulder or knee trouble goes to a medical professional first.'

const source =
  'Two-body impact and tour averages by club (from memory), flight after Quintavalla 2002 with capped spin, equivalence with a ' +
  'margin after Schuirmann 1987; device errors are assumptions the coach can edit.'

const meanOf = (
  shots: readonly StrikeShot[],
  key: 'launchDeg' | 'spinRpm' | 'loftDeg' | 'attackDeg',
): number | null => {
  const present = shots.map((shot) => shot[key]).filter((value): value is number => value != null)
  return present.length > 0 ? mean(present) : null
}

/** Spin loft of a block: loft at impact less attack angle where recorded, else told from the launch of an iron. */
function spinLoftOf(club: string | null, shots: readonly StrikeShot[]): number | null {
  const [loft, attack] = [meanOf(shots, 'loftDeg'), meanOf(shots, 'attackDeg')]
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
      ? defaultSpeedGainBasis
      : `${(options.speedGainShare * 100).toFixed(1)} % of today's club speed, set by the coach`,
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
    `${n} ${n === 1 ? 'shot' : 'shots'} with the ${words}` +
    (leftOut > 0 ? `, ${leftOut} left out (no club or ball speed, or an impossible reading)` : '')
  const refusal = (
    sentence: string,
    shotsNeeded: number | null,
    more: { howSure?: string; suspicion?: DeviceSuspicion } = {},
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
    sentence,
    howSure:
      more.howSure ??
      (shotsNeeded === null
        ? 'Not computed.'
        : `Not computed; ${shotsNeeded} more ${shotsNeeded === 1 ? 'shot' : 'shots'} would give a first answer.`),
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
  if (whole.length === 0) {
    return refusal(
      'No shot has both club speed and ball speed, so efficiency, play speed and what holds the carry back can’t be told.',
      null,
    )
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
      return refusal(said.sentence, null, { howSure: said.howSure, suspicion })
    }
  }
  if (n < shotsAtLeast) {
    const more = shotsAtLeast - n
    return refusal(
      `Can't tell yet: ${n} usable ${n === 1 ? 'shot is' : 'shots are'} too few; ${more} more with the ${words} would give a first answer.`,
      more,
    )
  }
  if (ceiling === null) {
    const own = ownEfficiencies.filter((value) => Number.isFinite(value) && value > 0).length
    return refusal(
      `Can't tell: ${'reason' in found ? found.reason : 'no ceiling is known'}.`,
      Math.max(0, ownShotsNeeded - own) || null,
    )
  }
  const launch = launchOf(
    { club, launchDeg: meanOf(usable, 'launchDeg'), spinRpm: meanOf(usable, 'spinRpm') },
    error,
  )
  if ('reason' in launch) return refusal(`Can't tell in carry: ${launch.reason}.`, null)

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
    speed: { ...gains.speed, basis: speedGainBasis },
    difference: gains.difference,
    verdict,
    strikeChance: decided.strikeChance,
    isStrikeFirst: decided.isStrikeFirst,
    suspicion: null,
    sentence: said.sentence,
    howSure: said.howSure,
    shotsNeeded,
    caution: verdict === 'speed' ? caution : null,
    howWeKnow: {
      data: `${data}; ${launch.note}.`,
      method:
        `Within reach: ${ceiling.efficiency.toFixed(2)} ± ${sd.toFixed(2)}, ${ceiling.basis}. Speed gain: ${speedGainBasis}. ` +
        `Asked: is the gap in the strike larger than what the speed would give (${gains.speedWorth.toFixed(3)}) and than what is worth ` +
        `having (${gains.margin.toFixed(3)})? Gap ${gains.gap.toFixed(3)} ± ${gains.gapSd.toFixed(3)}. Turned into carry by the flight ` +
        "model at the block's mean launch and spin.",
      source,
    },
  }
}
