import type { ShotFlag, ShotMetrics } from '../model/shot.ts'
import { clubWords } from '../model/club.ts'
import type { Air } from '../flight/air.ts'
import { standardAir } from '../flight/air.ts'
import { launchOf } from '../flight/carry.ts'
import { flight, minModelShare } from '../flight/flight.ts'
import type { Ceiling, CeilingOptions } from './ceiling.ts'
import { ceilingOf } from './ceiling.ts'
import type { DeviceError } from './device-error.ts'
import { defaultDeviceError, efficiencyErrorShare } from './device-error.ts'
import type { Uncertain } from './efficiency.ts'
import { efficiencyOf, isSpeed } from './efficiency.ts'
import { headOf } from './heads.ts'
import type { OffCentreExplanation } from './off-centre.ts'
import { explainByMiss } from './off-centre.ts'
import { said } from '../wording/phrase.ts'
import { sayWord } from '../wording/phrase.ts'

/** What a strike is judged by: the club, and those of the shot's metrics that the device gave. */
export type StrikeShot = {
  club: string | null
  /** Values that were recorded but can't be, taken out. */
  withheld?: readonly { readonly metric: string }[]
} & Partial<
  Pick<
    ShotMetrics,
    'clubSpeedMps' | 'ballSpeedMps' | 'launchDeg' | 'spinRpm' | 'dynamicLoftDeg' | 'attackDeg' | 'carryM'
  >
>

/** Carry left at impact, m, and what had to be assumed for it. */
export interface CarryLeft extends Uncertain {
  assumed: ('launchDeg' | 'spinRpm')[]
  note: string
}

/** One shot's strike against what this club can give, each value with its standard uncertainty. */
export interface StrikeReport {
  efficiency: Uncertain | null
  ceiling: Ceiling | null
  /** Efficiency as a share of the ceiling; above 1 for a strike better than it. */
  shareOfCeiling: Uncertain | null
  /** Ball speed a strike at the ceiling would have added, m/s; 0 if there is nothing to add. */
  ballSpeedLeftMps: Uncertain | null
  /** Carry that ball speed would have added at the same launch and spin, m. */
  carryLeftM: CarryLeft | null
  /** True if the loss is no larger than two standard uncertainties: it may be reading error alone. */
  withinError: boolean | null
  /** The off-centre distance that would explain the loss. */
  offCentre: OffCentreExplanation | null
  flags: ShotFlag[]
  /** Why something above is null; null if nothing is. */
  reason: string | null
}

/** What the report may be told; every part has its default. */
export interface StrikeOptions extends Omit<CeilingOptions, 'spinLoftDeg'> {
  error?: DeviceError
  air?: Air
}

/** No full shot gives more (import sanity, assumption). */
const maxEfficiency = 1.56
/** A full swing with a driver gives at least this, or the reading is odd (import sanity, assumption). */
const minDriverEfficiency = 0.9
const minDriverSpinRpm = 500

const spinLoftOf = (shot: StrikeShot): number | null =>
  shot.dynamicLoftDeg != null && shot.attackDeg != null ? shot.dynamicLoftDeg - shot.attackDeg : null

/**
 * What is odd or impossible in the strike of one shot: efficiency above what the club can give beyond the
 * device's error (95 %, `impossible`; one standard uncertainty, `unlikely`), and the import sanity of the
 * trade. A flag asks the coach to look; it drops nothing.
 */
export function strikeFlags(
  shot: StrikeShot,
  ceiling: Ceiling | null,
  error: DeviceError = defaultDeviceError,
): ShotFlag[] {
  const flags: ShotFlag[] = []
  const efficiency = efficiencyOf(shot, error)
  if (efficiency && shot.club !== 'putter') {
    const limit = ceiling?.limit ?? null
    const share = efficiencyErrorShare(error)
    const shown = efficiency.value.toFixed(2)
    if (limit !== null && efficiency.value > limit * (1 + 1.96 * share)) {
      flags.push({
        metric: 'efficiency',
        code: 'impossible',
        message: said('strikeFlag.impossible', {
          efficiency: shown,
          club: clubWords(shot.club),
          limit: limit.toFixed(2),
        }),
      })
    } else if (
      efficiency.value > maxEfficiency ||
      (limit !== null && efficiency.value > limit * (1 + share))
    ) {
      flags.push({
        metric: 'efficiency',
        code: 'unlikely',
        message:
          limit === null
            ? said('strikeFlag.aboveAny', { efficiency: shown, most: maxEfficiency })
            : said('strikeFlag.aboveClub', {
                efficiency: shown,
                club: clubWords(shot.club),
                limit: limit.toFixed(2),
              }),
      })
    }
    if (shot.club === 'driver' && efficiency.value < minDriverEfficiency) {
      flags.push({
        metric: 'efficiency',
        code: 'unlikely',
        message: said('strikeFlag.low', { efficiency: shown }),
      })
    }
  }
  if (shot.club === 'driver' && shot.spinRpm != null && shot.spinRpm < minDriverSpinRpm) {
    flags.push({
      metric: 'spinRpm',
      code: 'unlikely',
      message: said('strikeFlag.littleSpin', { least: minDriverSpinRpm }),
    })
  }
  return flags
}

/**
 * The strike of one shot: efficiency, how much of the club's ceiling it is, what was left on the table, the
 * miss that would explain it, and what looks wrong, with the device's error carried through to first order
 * (GUM 5.1.2).
 */
export function strikeReport(shot: StrikeShot, options: StrikeOptions = {}): StrikeReport {
  const error = options.error ?? defaultDeviceError
  const found = ceilingOf(shot.club, {
    ...options,
    spinLoftDeg: spinLoftOf(shot),
    clubSpeedMps: shot.clubSpeedMps,
  })
  const ceiling = 'reason' in found ? null : found
  const efficiency = efficiencyOf(shot, error)
  const report: StrikeReport = {
    efficiency,
    ceiling,
    shareOfCeiling: null,
    ballSpeedLeftMps: null,
    carryLeftM: null,
    withinError: null,
    offCentre: null,
    flags: strikeFlags(shot, ceiling, error),
    reason: null,
  }
  if (!efficiency) {
    const missing = [
      isSpeed(shot.clubSpeedMps) ? null : 'club speed',
      isSpeed(shot.ballSpeedMps) ? null : 'ball speed',
    ].filter(Boolean)
    return { ...report, reason: said('strikeFlag.notRecorded', { what: missing.join(' and ') }) }
  }
  if (!ceiling) return { ...report, reason: 'reason' in found ? sayWord(found.reason) : null }

  const club = shot.clubSpeedMps!
  const ball = shot.ballSpeedMps!
  const share = efficiency.value / ceiling.efficiency
  const shareSd = share * Math.hypot(efficiencyErrorShare(error), ceiling.sd / ceiling.efficiency)
  const left = ceiling.efficiency * club - ball
  const leftSd = Math.hypot(
    ceiling.efficiency * error.clubSpeedShare * club,
    error.ballSpeedShare * ball,
    ceiling.sd * club,
  )
  const head = headOf(shot.club)
  report.shareOfCeiling = { value: share, sd: shareSd }
  report.ballSpeedLeftMps = { value: Math.max(0, left), sd: leftSd }
  report.withinError = 1 - share <= 2 * shareSd
  report.offCentre = head ? explainByMiss(1 - share, head) : null

  const used = launchOf(shot, error)
  if ('reason' in used) return { ...report, reason: said('strikeFlag.noCarryLeft', { reason: used.reason }) }
  if (!(ball <= 120 && club <= 80)) {
    return { ...report, reason: said('strikeFlag.tooFast') }
  }
  if (used.launchDeg <= 0) {
    return { ...report, reason: said('strikeFlag.neverRose') }
  }
  const carryAt = (ballSpeedMps: number) =>
    flight({
      ballSpeedMps,
      launchDeg: used.launchDeg,
      spinRpm: used.spinRpm,
      air: options.air ?? standardAir,
    }).carryM
  const best = Math.max(ball, ceiling.efficiency * club)
  const gain = carryAt(best) - carryAt(ball)
  const perMps = carryAt(best + 0.5) - carryAt(Math.max(0, best - 0.5))
  report.carryLeftM = {
    value: gain,
    sd: Math.hypot(perMps * leftSd, minModelShare * gain),
    assumed: used.assumed,
    note: said('strikeFlag.flight', { note: used.note }),
  }
  return report
}
