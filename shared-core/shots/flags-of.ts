import type { MetricName, ShotFlag, ShotMetrics } from '../model/shot.ts'
import { said } from '../wording/phrase.ts'

const G_MPS2 = 9.80665
const YARD_M = 0.9144
const MPH_MPS = 0.44704

/** Beyond `impossible` a value can't be; beyond `unlikely` it deserves a look. All are assumptions but where a source stands. */
type Range = { impossible: readonly [number, number]; unlikely: readonly [number, number]; unit: string }

const ranges: Readonly<Record<MetricName, Range>> = {
  // The fastest swings in long-drive contests are near 70 m/s (from memory).
  clubSpeedMps: { impossible: [0, 80], unlikely: [5, 65], unit: 'm/s' },
  // Fastest tour player of 2023: 190 mph = 85 m/s (golf press on the 2028 ball test); long drive goes past 100 m/s (from memory).
  ballSpeedMps: { impossible: [0, 115], unlikely: [2, 100], unit: 'm/s' },
  launchDeg: { impossible: [-90, 90], unlikely: [-10, 65], unit: '°' },
  launchDirectionDeg: { impossible: [-180, 180], unlikely: [-45, 45], unit: '°' },
  spinRpm: { impossible: [0, 25_000], unlikely: [0, 15_000], unit: 'rpm' },
  spinAxisDeg: { impossible: [-180, 180], unlikely: [-60, 60], unit: '°' },
  carryM: { impossible: [0, 500], unlikely: [0, 400], unit: 'm' },
  totalM: { impossible: [0, 600], unlikely: [0, 450], unit: 'm' },
  sideM: { impossible: [-400, 400], unlikely: [-150, 150], unit: 'm' },
  apexM: { impossible: [-1, 150], unlikely: [0, 75], unit: 'm' },
  descentDeg: { impossible: [-90, 90], unlikely: [0, 75], unit: '°' },
  flightSeconds: { impossible: [0, 20], unlikely: [0, 11], unit: 's' },
  attackDeg: { impossible: [-90, 90], unlikely: [-20, 20], unit: '°' },
  clubPathDeg: { impossible: [-90, 90], unlikely: [-30, 30], unit: '°' },
  faceDeg: { impossible: [-90, 90], unlikely: [-40, 40], unit: '°' },
  dynamicLoftDeg: { impossible: [-90, 90], unlikely: [-10, 80], unit: '°' },
  // A driver's face is roughly 120 mm wide and 60 mm high (assumption).
  impactXMm: { impossible: [-150, 150], unlikely: [-60, 60], unit: 'mm' },
  impactYMm: { impossible: [-100, 100], unlikely: [-40, 40], unit: 'mm' },
}

/** True if a value could come from a shot at all; used to choose between two readings of a cell. */
export const isThinkable = (metric: MetricName, value: number): boolean =>
  value >= ranges[metric].impossible[0] && value <= ranges[metric].impossible[1]

/**
 * The longest carry of a ball speed in still air, m: a line through the longest carries of flights computed
 * with the model of flight/models.ts over launch 8 to 16° and spin 1800 to 3500 rpm (182 yd at 120 mph to 319 yd at 185 mph); below 35 m/s, where that table says
 * nothing, the flight without air, v²/g.
 */
export const longestCarryM = (ballSpeedMps: number): number =>
  ballSpeedMps < 35
    ? ballSpeedMps ** 2 / G_MPS2
    : (182.1 + (318.9 - 182.1) * ((ballSpeedMps / MPH_MPS - 120) / 65)) * YARD_M

const shown = (value: number, unit: string) =>
  `${Number(value.toPrecision(4))}${unit === '°' ? '°' : ` ${unit}`}`

/**
 * What a coach should look at in one shot's numbers: values no shot can have, values few shots have, and values that
 * contradict each other. A flag never drops anything.
 *
 * Ratio over 1.56, driver ratio under 0.9, spin under 500 rpm on a full swing: assumptions.
 */
export const flagsOf = (
  metrics: ShotMetrics,
  club: string | null,
  stated: { smash?: number | null; spinBackRpm?: number | null; spinSideRpm?: number | null } = {},
): ShotFlag[] => {
  const flags: ShotFlag[] = []
  const flag = (metric: string, code: ShotFlag['code'], message: string) =>
    flags.push({ metric, code, message })

  for (const [metric, range] of Object.entries(ranges) as [MetricName, Range][]) {
    const value = metrics[metric]
    if (value === null) continue
    const isOutside = (limits: readonly [number, number]) => value < limits[0] || value > limits[1]
    const between = (limits: readonly [number, number]) =>
      `${limits[0]} to ${limits[1]}${range.unit === '°' ? '°' : ` ${range.unit}`}`
    if (isOutside(range.impossible)) {
      flag(
        metric,
        'impossible',
        said('shotFlag.impossible', { value: shown(value, range.unit), usual: between(range.impossible) }),
      )
    } else if (isOutside(range.unlikely)) {
      flag(
        metric,
        'unlikely',
        said('shotFlag.rare', { value: shown(value, range.unit), usual: between(range.unlikely) }),
      )
    }
  }

  const { clubSpeedMps, ballSpeedMps, carryM, totalM, sideM, apexM, spinRpm } = metrics
  if (clubSpeedMps !== null && ballSpeedMps !== null && clubSpeedMps > 0 && ballSpeedMps > 0) {
    const ratio = ballSpeedMps / clubSpeedMps
    if (ratio > 1.56) {
      flag('clubSpeedMps', 'inconsistent', said('shotFlag.ratioHigh', { ratio: ratio.toFixed(2) }))
    } else if (club === 'driver' && ratio < 0.9) {
      flag('ballSpeedMps', 'unlikely', said('shotFlag.ratioLow', { ratio: ratio.toFixed(2) }))
    }
    const smash = stated.smash ?? null
    if (smash !== null && Math.abs(smash - ratio) > 0.03 * ratio) {
      flag(
        'clubSpeedMps',
        'inconsistent',
        said('shotFlag.ratioDiffers', { stated: smash, ratio: ratio.toFixed(2) }),
      )
    }
  } else if (clubSpeedMps === 0 || ballSpeedMps === 0) {
    flag(clubSpeedMps === 0 ? 'clubSpeedMps' : 'ballSpeedMps', 'impossible', said('shotFlag.zeroSpeed'))
  }

  const isFullSwing = club !== 'putter' && (ballSpeedMps === null || ballSpeedMps > 25)
  if (spinRpm !== null && spinRpm >= 0 && spinRpm < 500 && isFullSwing) {
    flag('spinRpm', 'unlikely', said('shotFlag.littleSpin', { spin: Math.round(spinRpm) }))
  }
  if (
    ballSpeedMps !== null &&
    ballSpeedMps > 0 &&
    carryM !== null &&
    carryM > 1.25 * longestCarryM(ballSpeedMps)
  ) {
    flag(
      'carryM',
      'inconsistent',
      said('shotFlag.carryTooLong', {
        speed: shown(ballSpeedMps, 'm/s'),
        most: Math.round(longestCarryM(ballSpeedMps)),
        carry: Math.round(carryM),
      }),
    )
  }
  if (carryM !== null && totalM !== null && totalM < carryM - Math.max(2, 0.05 * carryM)) {
    flag(
      'totalM',
      'inconsistent',
      said('shotFlag.totalShort', { total: shown(totalM, 'm'), carry: shown(carryM, 'm') }),
    )
  }
  const reachM = Math.max(carryM ?? 0, totalM ?? 0)
  if (reachM > 0 && sideM !== null && Math.abs(sideM) > reachM) {
    flag('sideM', 'inconsistent', said('shotFlag.sideTooFar', { side: shown(sideM, 'm') }))
  }
  if (carryM !== null && carryM > 0 && apexM !== null && apexM > Math.max(carryM, 5)) {
    flag('apexM', 'inconsistent', said('shotFlag.apexTooHigh', { apex: shown(apexM, 'm') }))
  }
  const { spinBackRpm, spinSideRpm } = stated
  if (
    spinRpm !== null &&
    spinBackRpm != null &&
    Math.abs(Math.hypot(spinBackRpm, spinSideRpm ?? 0) - spinRpm) > Math.max(50, 0.1 * spinRpm) &&
    (spinSideRpm != null || spinBackRpm > 1.1 * spinRpm)
  ) {
    flag('spinRpm', 'inconsistent', said('shotFlag.spinParts', { spin: Math.round(spinRpm) }))
  }
  return flags
}
