import { eq } from 'drizzle-orm'
import type { Clip, OpenLesson, Swing, View } from '../../../shared-core/model/entities.ts'
import type { MeasureName } from '../../../shared-core/model/measures.ts'
import {
  restsOnCaptureRate,
  type MeasuredSwing,
  type MeasuredValues,
} from '../../../shared-core/swing-measures/measured-swing.ts'
import { isCoachs, withinFrames, type HandMoment } from '../../../shared-core/body/body-marks.ts'
import { bodyMeasures } from '../../../shared-core/body/body-measures.ts'
import type { BodyTrack } from '../../../shared-core/body/body-track.ts'
import type { BodyInstant } from '../../../shared-core/body/way-changes.ts'
import { isGuessed, tempoMeasures, tempoRemarks } from '../../../shared-core/swing-measures/tempo-measures.ts'
import type { ClipTimes } from '../../../shared-core/timing/clip-clock.ts'
import type { LibraryContext } from '../context.ts'
import { asFloat64 } from '../database/float64.ts'
import * as t from '../database/schema.ts'
import { bodyOfClip } from './body-of-clip.ts'
import { impactInstants } from './impact-instants.ts'

type Lesson = Pick<OpenLesson, 'lesson' | 'student' | 'swings' | 'shots' | 'clips'>

const timesOf = (context: LibraryContext, clip: Clip): ClipTimes => {
  const media = context.db
    .select({ timestamps: t.media.timestamps })
    .from(t.media)
    .where(eq(t.media.hash, clip.hash))
    .get()!
  return { ...clip, atSeconds: asFloat64(media.timestamps) }
}

type Within = Partial<Record<HandMoment, BodyInstant>>

const keptWithin = new Map<string, Within>()
const mostKept = 500

/** Weighing every instant takes a tenth of a second a swing; a lesson's numbers are asked for at every edit. */
const withinOf = (
  view: View,
  clip: Clip,
  times: ClipTimes,
  track: BodyTrack,
  side: 'right' | 'left',
): Within => {
  const moments = view.moments.filter((m) => ['takeaway', 'top', 'impact'].includes(m.name))
  if (!moments.some((m) => m.how === 'body' && !isCoachs(m))) return {}
  const sum = track.points.reduce((total, value) => total + value, 0)
  const key = JSON.stringify([
    ...[clip.hash, clip.captureRate, side, track.frames.length, sum],
    moments.map((m) => [m.name, m.frame, m.how, m.isConfirmed]),
  ])
  const known = keptWithin.get(key)
  if (known) return known
  const found = withinFrames({ ...clip, track, times, moments: view.moments, side })
  if (keptWithin.size >= mostKept) keptWithin.clear()
  keptWithin.set(key, found)
  return found
}

/** Tempo from the view whose marks are surest; a second camera adds nothing but its own errors. */
const tempoOf = (
  context: LibraryContext,
  lesson: Lesson,
  views: readonly View[],
  struckAt: ReturnType<typeof impactInstants>,
) => {
  const candidates = views.map((view) => {
    const clip = lesson.clips.find((c) => c.id === view.clipId)!
    const times = timesOf(context, clip)
    const within = withinOf(view, clip, times, bodyOfClip(context.db, clip), lesson.student.side)
    const impact = struckAt(view, clip, times) ?? undefined
    const values = tempoMeasures(view.moments, times, clip.captureRateHow, { ...within, impact })
    return {
      values,
      remarks: tempoRemarks(view.moments, clip.captureRate, clip.captureRateHow, clip.slowPart !== null),
    }
  })
  const surest = candidates
    .filter((c) => c.values.tempoRatio)
    .sort((a, b) => a.values.tempoRatio!.sd - b.values.tempoRatio!.sd)[0]
  return surest ?? candidates.find((c) => Object.keys(c.values).length > 0) ?? { values: {}, remarks: [] }
}

/** What each camera sees of the body; face on comes first, as the views do. */
const bodyOf = (context: LibraryContext, lesson: Lesson, views: readonly View[]) => {
  const read = views.flatMap((view) => {
    const clip = lesson.clips.find((c) => c.id === view.clipId)!
    const track = bodyOfClip(context.db, clip)
    const inView = track.frames.some((frame) => frame >= view.fromFrame && frame <= view.toFrame)
    if (!inView) return []
    return [
      {
        clipId: clip.id,
        found: bodyMeasures({
          ...clip,
          track,
          times: timesOf(context, clip),
          moments: view.moments,
          side: lesson.student.side,
        }),
      },
    ]
  })
  return {
    clipIds: read.map((r) => r.clipId),
    values: Object.assign({}, ...read.toReversed().map((r) => r.found.values)) as MeasuredValues,
    shoulderWidthM: read.find((r) => r.found.shoulderWidthM !== null)?.found.shoulderWidthM ?? null,
    remarks: [...new Set(read.flatMap((r) => r.found.remarks))],
  }
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

/** The values that nobody but the motion itself gives a clock, where a clip's capture rate is a guess. */
const heldBackOf = (lesson: Lesson, swing: Swing, values: MeasuredValues): MeasureName[] => {
  const guessed = swing.views
    .map((view) => lesson.clips.find((c) => c.id === view.clipId)!)
    .filter((clip) => isGuessed(clip.captureRateHow))
  // A ratio needs no rate, but one that is the same throughout.
  const isPart = guessed.some((clip) => clip.slowPart !== null)
  return guessed.length > 0
    ? (Object.keys(values) as MeasureName[]).filter(
        (name) => restsOnCaptureRate(name) || (isPart && name === 'tempoRatio'),
      )
    : []
}

/** What the pictures of each filmed swing of a lesson give. */
export const measuredSwings = (context: LibraryContext, lesson: Lesson): MeasuredSwing[] => {
  const struckAt = impactInstants(context.db, lesson.lesson.id)
  return lesson.swings
    .filter((swing) => swing.views.length > 0)
    .map((swing) => {
      const tempo = tempoOf(context, lesson, swing.views, struckAt)
      const body = bodyOf(context, lesson, swing.views)
      const values = { ...body.values, ...tempo.values }
      return {
        swingId: swing.id,
        blockId: swing.blockId,
        club: clubOf(lesson, swing),
        isLeftOut: lesson.shots.some((shot) => shot.id === swing.shotId && shot.isLeftOut),
        cues: swing.views.flatMap((view) => view.cues.map((cue) => cue.kind)),
        values,
        heldBack: heldBackOf(lesson, swing, values),
        bodyClipIds: body.clipIds,
        shoulderWidthM: body.shoulderWidthM,
        bodyRemarks: body.remarks,
        remarks: tempo.remarks,
      }
    })
}
