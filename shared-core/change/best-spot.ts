import { median } from '../statistics/median.ts'
import type { ChangeBlock } from './change-shot.ts'
import { metricValue } from './metric-value.ts'
import { onlyClub } from './same-club.ts'

/** Where a player's ball comes off best, mm from the face centre, and how many strikes tell it. */
export interface BestSpot {
  xMm: number
  yMm: number
  strikes: number
}

/** Strikes that a best spot is learnt from at least, and the share of them that counts as the best. */
const minStrikes = 20
const bestShare = 0.25

/**
 * The middle (median) of the strikes with the highest efficiency, the best quarter of them; null below 20 strikes with a
 * place and an efficiency. For blocks other than those it is held against: a best spot searched in the same shots
 * would flatter how efficiency falls around it. The quarter and the 20 are our choice, no source.
 */
export function bestSpot(blocks: readonly ChangeBlock[], club: string | null): BestSpot | null {
  const strikes = onlyClub(blocks, club)
    .blocks.flatMap((block) => block.shots)
    .flatMap((shot) => {
      const [x, y, efficiency] = (['impactXMm', 'impactYMm', 'efficiency'] as const).map((metric) =>
        metricValue(shot, metric),
      )
      return x == null || y == null || efficiency == null ? [] : [{ x, y, efficiency }]
    })
  if (strikes.length < minStrikes) return null
  const best = strikes
    .toSorted((a, b) => b.efficiency - a.efficiency)
    .slice(0, Math.ceil(bestShare * strikes.length))
  return { xMm: median(best.map((s) => s.x)), yMm: median(best.map((s) => s.y)), strikes: strikes.length }
}
