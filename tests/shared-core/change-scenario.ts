import type { ChangeBlock, ChangeShot } from '../../shared-core/change/change-shot.ts'
import { minimalStandardGenerator } from '../../shared-core/statistics/generator.ts'
import type { Generator } from '../../shared-core/statistics/generator.ts'

/** Normal draws by Box & Muller 1958, for invented shots. */
export function normalDraws(start: number): Generator {
  const uniform = minimalStandardGenerator(start)
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform())
}

export interface Hitting {
  speed: number
  efficiency: number
  speedSd?: number
  efficiencySd?: number
  club?: string | null
}

const round = (value: number, digits: number): number => Math.round(value * 10 ** digits) / 10 ** digits

/** Invented shots of an invented player: club speed and efficiency scatter, ball speed and carry follow from them. */
export function invented(count: number, hitting: Hitting, draw: Generator): ChangeShot[] {
  const { speed, efficiency, speedSd = 0.7, efficiencySd = 0.02, club = 'driver' } = hitting
  return Array.from({ length: count }, () => {
    const clubSpeedMps = speed + speedSd * draw()
    const ballSpeedMps = clubSpeedMps * (efficiency + efficiencySd * draw())
    return {
      club,
      clubSpeedMps: round(clubSpeedMps, 1),
      ballSpeedMps: round(ballSpeedMps, 1),
      carryM: round(3.6 * ballSpeedMps - 32 + 2 * draw(), 0),
    }
  })
}

export const block = (label: string, shots: ChangeShot[]): ChangeBlock => ({ label, shots })
