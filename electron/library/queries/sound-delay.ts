import { and, eq } from 'drizzle-orm'
import { soundDelaySeconds } from '../../../shared-core/flight/air.ts'
import { cameraViews } from '../../../shared-core/model/entities.ts'
import { isCoachs } from '../../../shared-core/body/body-marks.ts'
import { frameByDelay, seenStrikes, soundDelayOf } from '../../../shared-core/moments/sound-delay.ts'
import type { SoundDelay } from '../../../shared-core/moments/sound-delay.ts'
import { medianFrameSeconds } from '../../../shared-core/moments/swing-bursts.ts'
import { realTimes } from '../../../shared-core/timing/ramp.ts'
import { asFloat64 } from '../database/float64.ts'
import type { Db } from '../database/open.ts'
import * as t from '../database/schema.ts'
import { isDrawnOn } from './drawn-on.ts'
import { lessonRow } from './lesson-row.ts'

type ClipRow = typeof t.clip.$inferSelect
type Camera = ClipRow['camera']

/** The strikes of a clip; null where none was kept, or they were read by another capture rate than it has now. */
export const strikesByRate = ({ strikes, captureRate }: Pick<ClipRow, 'strikes' | 'captureRate'>) =>
  strikes && Math.abs(strikes.captureRate / captureRate - 1) <= 0.001 ? strikes : null

/** The clips of one camera of a lesson whose strikes are known, in real seconds at the rate that is told now. */
const clipsOfCamera = (db: Db, lessonId: string, camera: Camera) =>
  db
    .select({
      clipId: t.clip.id,
      strikes: t.clip.strikes,
      captureRate: t.clip.captureRate,
      slowPart: t.clip.slowPart,
      how: t.clip.captureRateHow,
      playbackRate: t.media.playbackRate,
      timestamps: t.media.timestamps,
    })
    .from(t.clip)
    .innerJoin(t.media, eq(t.media.hash, t.clip.mediaHash))
    .where(and(eq(t.clip.lessonId, lessonId), eq(t.clip.camera, camera)))
    .all()
    .flatMap(({ clipId, strikes, captureRate, slowPart, how, playbackRate, timestamps }) => {
      const known = strikesByRate({ strikes, captureRate })
      if (!known) return []
      const real = realTimes(asFloat64(timestamps), captureRate / playbackRate, slowPart)
      return [{ clipId, known, real, isRateKnown: how !== 'assumed' && how !== 'motion' }]
    })

const delayOf = (clips: ReturnType<typeof clipsOfCamera>): SoundDelay | null =>
  soundDelayOf(
    clips.filter((clip) => clip.isRateKnown).flatMap(({ known, real }) => seenStrikes(known.strikes, real)),
  )

/** A coach's own distance is as good as the tape it was measured with: half a metre (our own choice). */
const toldSdSeconds = 0.0015

/** How long sound takes through a lesson's air, seconds: over the distance to the microphone that it has, if no other is given. */
export const airDelaySeconds = (
  lesson: Pick<typeof t.lesson.$inferSelect, 'micDistanceM' | 'temperatureC'>,
  metres = lesson.micDistanceM,
): number => soundDelaySeconds(metres, lesson.temperatureC ?? 20)

/** What the coach's own distance to the microphone gives; null where it is not the coach's own. */
const toldDelay = (db: Db, lessonId: string): SoundDelay | null => {
  const lesson = lessonRow(db, lessonId)
  if (!lesson.isMicTold) return null
  return { delaySeconds: airDelaySeconds(lesson), sdSeconds: toldSdSeconds, strikes: 0 }
}

/**
 * By how much the sound of a camera comes later than its picture in a lesson's clips: as far as the coach says that the microphone was,
 * else what its clips tell; null where neither does.
 */
export const soundDelayOfCamera = (db: Db, lessonId: string, camera: Camera): SoundDelay | null =>
  toldDelay(db, lessonId) ?? delayOf(clipsOfCamera(db, lessonId, camera))

/** What the clips of each camera of a lesson tell of their sound, whatever the coach says; a camera that tells nothing is not there. */
export const soundDelaysOfLesson = (
  db: Db,
  lessonId: string,
): { camera: Camera; delay: SoundDelay; distanceM: number }[] => {
  const perMetre = airDelaySeconds(lessonRow(db, lessonId), 1)
  return cameraViews.flatMap((camera) => {
    const delay = delayOf(clipsOfCamera(db, lessonId, camera))
    return delay ? [{ camera, delay, distanceM: delay.delaySeconds / perMetre }] : []
  })
}

/**
 * Puts the impacts of a camera's clips where they are by the delay in use ({@link soundDelayOfCamera}), but for those that a coach has marked,
 * confirmed, drawn on or put a cue on. To be called within an edit.
 */
export const placeBySoundDelay = (db: Db, lessonId: string, camera: Camera): void => {
  const clips = clipsOfCamera(db, lessonId, camera)
  const delay = toldDelay(db, lessonId) ?? delayOf(clips)
  if (!delay) return
  for (const { clipId, known, real } of clips) {
    const film = { real, frameSeconds: medianFrameSeconds(real) || 1 / 30 }
    for (const { id, fromFrame, toFrame } of db
      .select()
      .from(t.view)
      .where(eq(t.view.clipId, clipId))
      .all()) {
      const moments = db.select().from(t.moment).where(eq(t.moment.viewId, id)).all()
      const impact = moments.find((m) => m.name === 'impact')
      if (!impact || impact.how === 'body' || isCoachs(impact)) continue
      const isUsed =
        isDrawnOn(db, impact.id) ||
        db.select().from(t.cue).where(eq(t.cue.momentId, impact.id)).all().length > 0
      const strike = known.strikes.find((s) => s.impact >= fromFrame && s.impact <= toFrame)
      if (isUsed || !strike || impact.how === 'coach') continue
      const frame = frameByDelay(strike, impact.how, film, delay, known.delaySeconds)
      if (frame === impact.frame || frame < fromFrame || frame > toFrame) continue
      db.update(t.moment).set({ frame }).where(eq(t.moment.id, impact.id)).run()
    }
  }
}
