import type { Air } from '../flight/air.ts'
import { flight } from '../flight/flight.ts'
import { mean } from '../statistics/mean.ts'
import { standardDeviation } from '../statistics/variance.ts'
import type { Ceiling } from './ceiling.ts'

/** What a block's shots say about strike and speed, in efficiency and in carry. */
export interface Gains {
  today: { clubSpeedMps: number; ballSpeedMps: number; efficiency: number; carryM: number }
  /** Standard uncertainty of today's efficiency: device and player, from the shots. */
  efficiencySd: number
  /** What is within reach less what is hit today, in efficiency; negative where today is better. */
  gap: number
  gapSd: number
  /** Efficiency that would be worth as much carry as the gain in club speed. */
  speedWorth: number
  /** The smallest gap that is worth having. */
  margin: number
  strike: { gainM: number; ci95: [number, number] }
  speed: { gainM: number; ci95: [number, number]; clubSpeedGainMps: number }
  /** Strike less speed. */
  difference: { m: number; ci95: [number, number] }
}

/** Carry against ball speed at a fixed launch and spin, as a table of a few flights. */
function carryTable(
  launch: { launchDeg: number; spinRpm: number },
  air: Air,
  low: number,
  high: number,
): (ballSpeedMps: number) => number {
  const cells = 16
  const step = (high - low) / cells
  const carries = Array.from(
    { length: cells + 1 },
    (_, i) => flight({ ballSpeedMps: low + i * step, ...launch, air }).carryM,
  )
  return (ballSpeedMps) => {
    const at = Math.min(cells - 1e-9, Math.max(0, (ballSpeedMps - low) / step))
    const cell = Math.floor(at)
    return carries[cell]! + (at - cell) * (carries[cell + 1]! - carries[cell]!)
  }
}

/**
 * Strike: the ball speed of what is within reach at today's mean club speed. Speed: today's mean efficiency at a club speed raised
 * by a share. All shots count, mishits too: they are part of today's strike. Intervals to first order from the uncertainty of
 * today's mean and of what is within reach (GUM 5.1.2).
 */
export function gainsOf(
  shots: readonly { clubSpeedMps: number; ballSpeedMps: number }[],
  ceiling: Pick<Ceiling, 'efficiency' | 'sd'>,
  options: {
    launch: { launchDeg: number; spinRpm: number }
    air: Air
    speedGainShare: number
    /** Of the ceiling. */
    marginShare: number
  },
): Gains {
  const { speedGainShare, marginShare } = options
  const clubSpeedMps = mean(shots.map((shot) => shot.clubSpeedMps))
  const ballSpeedMps = mean(shots.map((shot) => shot.ballSpeedMps))
  const efficiency = ballSpeedMps / clubSpeedMps
  const n = shots.length
  const ratios = shots.map((shot) => shot.ballSpeedMps / shot.clubSpeedMps)
  // Few shots know their own scatter badly: variance of a t with n − 1 degrees of freedom.
  const efficiencySd = (standardDeviation(ratios) / Math.sqrt(n)) * Math.sqrt((n - 1) / Math.max(1, n - 3))
  const gap = ceiling.efficiency - efficiency
  const gapSd = Math.hypot(efficiencySd, ceiling.sd)
  const reach = 1.96 * gapSd
  const high = (ceiling.efficiency + reach) * clubSpeedMps
  const carryAt = carryTable(
    options.launch,
    options.air,
    Math.max(1, 0.8 * ballSpeedMps),
    Math.max(1.05 * high, 1.1 * ballSpeedMps * (1 + Math.max(0, speedGainShare))),
  )
  const now = carryAt(ballSpeedMps)
  const strikeAt = (more: number) => carryAt((efficiency + Math.max(0, more)) * clubSpeedMps) - now
  const speedAt = (by: number) =>
    carryAt(by * ballSpeedMps * (1 + speedGainShare)) - carryAt(by * ballSpeedMps)
  const byBall = (1.96 * efficiencySd) / efficiency
  const strike = {
    gainM: strikeAt(gap),
    ci95: [strikeAt(gap - reach), strikeAt(gap + reach)] as [number, number],
  }
  const speedEnds = [speedAt(Math.max(0.85, 1 - byBall)), speedAt(Math.min(1.1, 1 + byBall))].sort(
    (a, b) => a - b,
  )
  const speed = {
    gainM: speedAt(1),
    ci95: speedEnds as [number, number],
    clubSpeedGainMps: speedGainShare * clubSpeedMps,
  }
  return {
    today: { clubSpeedMps, ballSpeedMps, efficiency, carryM: now },
    efficiencySd,
    gap,
    gapSd,
    speedWorth: speedGainShare * efficiency,
    margin: marginShare * ceiling.efficiency,
    strike,
    speed,
    difference: {
      m: strike.gainM - speed.gainM,
      ci95: [strike.ci95[0] - speed.gainM, strike.ci95[1] - speed.gainM],
    },
  }
}
