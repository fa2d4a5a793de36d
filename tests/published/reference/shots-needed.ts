import { standardNormalQuantile, tQuantile } from '../../../shared-core/statistics/distributions.ts'
import type { Reason } from '../../../shared-core/statistics/reading.ts'

/** Above this a difference is called too small to be seen; the search ends here. */
const maxShots = 1_000_000

/**
 * Shots a block that would show a given difference between two blocks: the smallest n with
 * n ≥ 2·[(t₁₋α/2 + t_power)·sd/difference]², t at 2n − 2 degrees of freedom; `approximate` is the closed form
 * 2·[(z + z)·sd/difference]² + z²/4. Source: Guenther 1981, Am Stat 35:243.
 */
export function shotsNeeded(
  sd: number | null,
  difference: number | null,
  options: { power?: number; alpha?: number } = {},
): { approximate: number | null; perBlock: number | null; reason: Reason | null } {
  const { power = 0.8, alpha = 0.05 } = options
  if (sd === null || difference === null || !(sd > 0) || !(Math.abs(difference) > 0)) {
    return { approximate: null, perBlock: null, reason: 'no-spread' }
  }
  const ratio = sd / Math.abs(difference)
  const zAlpha = standardNormalQuantile(1 - alpha / 2)
  const approximate = 2 * ((zAlpha + standardNormalQuantile(power)) * ratio) ** 2 + zAlpha ** 2 / 4
  if (!(approximate < maxShots)) return { approximate, perBlock: null, reason: null }
  const wanted = (n: number): number =>
    2 * ((tQuantile(1 - alpha / 2, 2 * n - 2) + tQuantile(power, 2 * n - 2)) * ratio) ** 2
  let perBlock = Math.max(2, Math.floor(approximate) - 2)
  while (perBlock > 2 && perBlock - 1 >= wanted(perBlock - 1)) perBlock--
  while (perBlock < wanted(perBlock)) perBlock++
  return { approximate, perBlock, reason: null }
}
