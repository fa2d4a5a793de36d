import { efficiencyOf } from '../impact/efficiency.ts'
import type { Block, OpenLesson, Shot } from '../model/entities.ts'
import { usable } from '../shots/usable.ts'
import { median } from '../statistics/median.ts'
import type { ShownMetric } from '../units.ts'

/** One block at a glance: what was tagged in it beside what was measured. */
export interface BlockAtAGlance {
  block: Block
  /** 1 for the first. */
  number: number
  swings: number
  /** The club most of its shots were hit with; the medians are of these shots. Null without shots. */
  club: string | null
  shots: number
  medians: { metric: ShownMetric; value: number | null }[]
  cues: { kind: string; swings: number; meanStrength: number }[]
}

const metrics = ['clubSpeedMps', 'ballSpeedMps', 'efficiency'] as const

/**
 * Cues counted by swing: seen from two cameras, or at two moments, is one swing, at its strongest. Shots left out do not
 * count for the numbers.
 */
export const cuesByBlock = (opened: Pick<OpenLesson, 'blocks' | 'swings' | 'shots'>): BlockAtAGlance[] => {
  const shots = new Map(opened.shots.map((s) => [s.id, s]))
  return [...opened.blocks]
    .sort((a, b) => a.order - b.order)
    .map((block, i) => {
      const swings = opened.swings.filter((s) => s.blockId === block.id)
      const used = swings.flatMap((s) => {
        const shot = s.shotId === null ? undefined : shots.get(s.shotId)
        return shot && !shot.isLeftOut ? [usable(shot).shot] : []
      })
      const club = mostUsed(used)
      const ofClub = used.filter((s) => s.club === club)
      const strengths = new Map<string, number[]>()
      for (const swing of swings) {
        const strongest = new Map<string, number>()
        for (const cue of swing.views.flatMap((v) => v.cues)) {
          strongest.set(cue.kind, Math.max(cue.strength, strongest.get(cue.kind) ?? 0))
        }
        for (const [kind, strength] of strongest) {
          strengths.set(kind, [...(strengths.get(kind) ?? []), strength])
        }
      }
      return {
        block,
        number: i + 1,
        swings: swings.length,
        club,
        shots: ofClub.length,
        medians: metrics.map((metric) => {
          const values = ofClub.flatMap((s) =>
            metric === 'efficiency' ? (efficiencyOf(s)?.value ?? []) : (s[metric] ?? []),
          )
          return { metric, value: values.length > 0 ? median(values) : null }
        }),
        cues: [...strengths]
          .map(([kind, all]) => ({
            kind,
            swings: all.length,
            meanStrength: all.reduce((sum, s) => sum + s, 0) / all.length,
          }))
          .sort(
            (a, b) => b.swings - a.swings || b.meanStrength - a.meanStrength || (a.kind < b.kind ? -1 : 1),
          ),
      }
    })
}

const mostUsed = (shots: readonly Shot[]): string | null => {
  const counts = new Map<string | null, number>()
  for (const { club } of shots) counts.set(club, (counts.get(club) ?? 0) + 1)
  return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0] ?? null
}
