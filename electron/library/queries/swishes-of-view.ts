import { eq } from 'drizzle-orm'
import type { CallOutput } from '../../../shared-core/contract/index.ts'
import { soundDelaySeconds } from '../../../shared-core/flight/air.ts'
import { frameAtOrBefore } from '../../../shared-core/moments/frame-at.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { findSwishes } from '../../../shared-core/swish/find-swishes.ts'
import type { LibraryContext } from '../context.ts'
import { asFloat64 } from '../database/float64.ts'
import * as t from '../database/schema.ts'
import { clipWithMedia } from './clip-with-media.ts'
import { lessonRow } from './lesson-row.ts'
import { soundDelayOfCamera } from './sound-delay.ts'
import { soundSamples } from '../media/sound-samples.ts'

/** Spectra of more sound than this would take too much memory; a swing is far shorter. */
const longestSeconds = 90
/** Sound around the swing's frames, so that a swish near its end is heard whole. */
const aroundSeconds = 0.5

/** Swishes heard in one view of a swing. @throws Problem `gone`, `too-long`, `media` */
export const swishesOfView = async (
  context: LibraryContext,
  viewId: string,
): Promise<CallOutput<'view.swishes'>> => {
  const { db, paths } = context
  const view = db.select().from(t.view).where(eq(t.view.id, viewId)).get()
  if (!view) throw new Problem('gone.swingsClip')
  const { clip, media } = clipWithMedia(db, view.clipId)
  const lesson = lessonRow(db, clip.lessonId)
  if (!media.hasSound) return { hasSound: false, swishes: [] }
  const times = asFloat64(media.timestamps)
  const middle = (times[view.fromFrame]! + times[view.toFrame]!) / 2
  const { slowPart } = clip
  const isSlow = !slowPart || (middle >= slowPart.fromSeconds && middle <= slowPart.toSeconds)
  const stretch = isSlow ? clip.captureRate / media.playbackRate : 1
  const from = Math.max(0, times[view.fromFrame]! - aroundSeconds * stretch)
  const to = times[view.toFrame]! + aroundSeconds * stretch
  if ((to - from) / stretch > longestSeconds) {
    throw new Problem('too-long.oneSwing', { where: clip.fileName })
  }
  const heard = await soundSamples(paths.original(media.hash, media.extension), from, to, {
    programs: await context.mediaPrograms(),
    clipName: clip.fileName,
  })
  if (!heard) return { hasSound: false, swishes: [] }
  const delay =
    soundDelayOfCamera(db, clip.lessonId, clip.camera)?.delaySeconds ??
    soundDelaySeconds(lesson.micDistanceM, lesson.temperatureC ?? 20)
  const swishes = findSwishes(heard.samples, heard.rate * stretch).map(
    ({ atSeconds, levelDb, aboveNoiseDb, pitchHz }) => {
      const realSeconds = from / stretch + atSeconds - delay
      const frame = frameAtOrBefore(times, realSeconds * stretch)
      return { realSeconds, frame, levelDb, aboveNoiseDb, pitchHz }
    },
  )
  return {
    hasSound: true,
    swishes: swishes.filter((s) => s.frame >= view.fromFrame && s.frame <= view.toFrame),
  }
}
