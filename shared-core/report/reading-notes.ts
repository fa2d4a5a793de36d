import { labelIn, type Say } from '../wording/say.ts'
import { metricLabel, type ShotMetric } from '../units.ts'
import type { ReportLesson, ReportShot } from './report-input.ts'
import { said } from '../wording/phrase.ts'

/**
 * What the numbers of a lesson rest on and a coach should know first, a sentence each: units that were assumed, values
 * that took no part because they can't be, shots left out by the coach.
 */
export const readingNotes = (lesson: Pick<ReportLesson, 'blocks'>): string[] => {
  const shots = lesson.blocks.flatMap((b) => b.shots)
  const notes: string[] = []

  for (const { unit, names } of assumedUnitsOf(shots)) {
    notes.push(said('note.assumedUnit', { names, unit }))
  }

  const withheld = new Map<ShotMetric, { count: number; why: string }>()
  for (const shot of shots) {
    if (shot.isLeftOut) continue
    for (const { metric, message } of shot.withheld ?? []) {
      const one = withheld.get(metric)
      withheld.set(metric, { count: (one?.count ?? 0) + 1, why: one?.why ?? message })
    }
  }
  for (const [metric, { count, why }] of withheld) {
    const withheldOnes = { metric: metricLabel(metric).toLowerCase(), n: count, why }
    notes.push(said(count === 1 ? 'note.withheldOne' : 'note.withheld', withheldOnes))
  }

  const leftOut = shots.filter((s) => s.isLeftOut).length
  if (leftOut > 0) notes.push(said('note.leftOut', { n: leftOut }))
  return notes
}

/** Units that nobody has confirmed, with the numbers that rest on each, in words. */
const assumedUnitsOf = (
  shots: readonly Pick<ReportShot, 'assumed'>[],
): { unit: string; metrics: ShotMetric[]; names: string }[] => {
  const assumed = new Map<string, Set<ShotMetric>>()
  for (const { metric, unit } of shots.flatMap((s) => s.assumed ?? [])) {
    assumed.set(unit, (assumed.get(unit) ?? new Set()).add(metric))
  }
  return [...assumed].map(([unit, metrics]) => ({
    unit,
    metrics: [...metrics],
    names: [...metrics].map((m) => metricLabel(m).toLowerCase()).join(', '),
  }))
}

/** The same for a student, who can't check it but should know; null where every unit is known. */
export const unitNoteForStudent = (
  shots: readonly Pick<ReportShot, 'assumed'>[],
  say: Say,
): string | null => {
  const assumed = assumedUnitsOf(shots)
  if (assumed.length === 0) return null
  const which = assumed.map(({ unit, metrics }) =>
    say('page.takenAs', { metrics: metrics.map((m) => labelIn(say, m).toLowerCase()).join(', '), unit }),
  )
  return say('page.unitNote', { which: which.join(', ') })
}
