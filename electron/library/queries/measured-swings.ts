import { eq } from 'drizzle-orm'
import type { LessonView, Swing, View } from '../../../shared-core/model/entities.ts'
import type { MeasuredSwing, MeasuredValues } from '../../../shared-core/swing-measures/measured-swing.ts'
import { tempoMeasures, tempoRemarks } from '../../../shared-core/swing-measures/tempo-measures.ts'
import type { LibraryContext } from '../context.ts'
import { asFloat64 } from '../database/float64.ts'
import * as t from '../database/schema.ts'

type Lesson = Pick<LessonView, 'student' | 'swings' | 'shots' | 'clips'>

/** Tempo from the view whose marks are surest; a second camera adds nothing but its own errors. */
const tempoOf = (context: LibraryContext, lesson: Lesson, views: readonly View[]) => {
  const candidates = views.map((view) => {
    const clip = lesson.clips.find((c) => c.id === view.clipId)!
    const media = context.db
      .select({ timestamps: t.media.timestamps })
      .from(t.media)
      .where(eq(t.media.hash, clip.hash))
      .get()!
    const values = tempoMeasures(
      view.moments,
      { ...clip, atSeconds: asFloat64(media.timestamps) },
      clip.captureRateHow,
    )
    return { values, remarks: tempoRemarks(view.moments, clip.captureRate, clip.captureRateHow) }
  })
  const surest = candidates
    .filter((c) => c.values.tempoRatio)
    .sort((a, b) => a.values.tempoRatio!.sd - b.values.tempoRatio!.sd)[0]
  return surest ?? candidates.find((c) => Object.keys(c.values).length > 0) ?? { values: {}, remarks: [] }
}

/** A coach hits one club in a block: a swing that no device saw was hit with the club of all the others there. */
const clubOf = (lesson: Lesson, swing: Swing): string | null => {
  const shotOf = (s: Swing) => lesson.shots.find((shot) => shot.id === s.shotId)
  const own = shotOf(swing)
  if (own) return own.club
  const clubs = new Set(
    lesson.swings.filter((s) => s.blockId === swing.blockId).flatMap((s) => shotOf(s)?.club ?? []),
  )
  return clubs.size === 1 ? [...clubs][0]! : null
}

/** What the pictures of each filmed swing of a lesson give. */
export const measuredSwings = (context: LibraryContext, lesson: Lesson): MeasuredSwing[] =>
  lesson.swings
    .filter((swing) => swing.views.length > 0)
    .map((swing) => {
      const tempo = tempoOf(context, lesson, swing.views)
      const values: MeasuredValues = tempo.values
      return {
        swingId: swing.id,
        blockId: swing.blockId,
        club: clubOf(lesson, swing),
        isLeftOut: lesson.shots.some((shot) => shot.id === swing.shotId && shot.isLeftOut),
        cues: swing.views.flatMap((view) => view.cues.map((cue) => cue.kind)),
        values,
        remarks: tempo.remarks,
      }
    })
