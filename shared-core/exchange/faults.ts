import type { PhraseKey } from '../wording/phrase.ts'
import { bodyFrameBytes, type GivenLesson, type LessonRecords } from './lesson-file.ts'

/** What is wrong with a file's records, in `wording/coach/phrases.ts`. */
type Fault = Extract<PhraseKey, `fault.${string}`>

const hasDoubles = (keys: readonly string[]): boolean => new Set(keys).size !== keys.length

const faultOfLesson = (
  lesson: GivenLesson,
  records: LessonRecords,
  frames: ReadonlyMap<string, number>,
): Fault | null => {
  if (hasDoubles(lesson.clips.map((c) => c.hash))) return 'fault.clipTwice'
  if (hasDoubles(lesson.shots.map((s) => s.fingerprint))) return 'fault.shotTwice'
  const cueKinds = new Set(records.cueKinds.map((k) => k.key))
  const pictures = new Set(records.pictures.map((p) => p.hash))
  for (const { hash, stillKind, corrections } of lesson.clips) {
    const count = frames.get(hash)
    if (count === undefined) return 'fault.clipWithoutFilm'
    if ((stillKind === null) !== count > 1) return 'fault.stillOrFilm'
    if (corrections.some((c) => c.frame >= count)) return 'fault.bodyPointOutside'
  }
  for (const swing of lesson.swings) {
    if (swing.block >= lesson.blocks.length) return 'fault.swingOfNoBlock'
    if (swing.shot !== null && swing.shot >= lesson.shots.length) return 'fault.swingOfNoShot'
    for (const { clip, fromFrame, toFrame, moments, drawings } of swing.views) {
      const film = lesson.clips[clip]
      if (!film) return 'fault.pictureOfNoClip'
      const count = frames.get(film.hash)!
      if (fromFrame > toFrame || toFrame >= count) return 'fault.pictureOutside'
      if (hasDoubles(moments.map((m) => m.name))) return 'fault.momentTwice'
      for (const moment of moments) {
        if (moment.frame >= count) return 'fault.momentOutside'
        if (moment.cues.some((cue) => !cueKinds.has(cue.kind))) return 'fault.unknownCue'
      }
      for (const drawing of drawings) {
        if (drawing.moment !== null && drawing.moment >= moments.length) return 'fault.drawingOnNoMoment'
        if (drawing.fromFrame > drawing.toFrame || drawing.toFrame >= count) {
          return 'fault.drawingOutside'
        }
      }
    }
  }
  const places = new Map(records.lessons.map((l) => [l.originId, l]))
  for (const { first, second } of lesson.comparisons) {
    for (const place of [first, second]) {
      if (!places.get(place.lesson)?.swings[place.swing]?.views[place.view]) {
        return 'fault.comparisonOfNoPicture'
      }
    }
    if (first.lesson !== lesson.originId && second.lesson !== lesson.originId) {
      return 'fault.comparisonOfOtherLessons'
    }
  }
  for (const { clip, picture } of lesson.facePhotos) {
    if ((clip === null) === (picture === null)) return 'fault.pictureIsNone'
    if (clip !== null && lesson.clips[clip]?.stillKind == null) return 'fault.pictureIsNone'
  }
  const used = [
    ...lesson.facePhotos.flatMap((p) => p.picture ?? []),
    ...(lesson.plan?.items.flatMap((item) => item.picture ?? []) ?? []),
  ]
  return used.every((hash) => pictures.has(hash)) ? null : 'fault.pictureMissing'
}

/** What a schema of single records can't see: references that lead nowhere, doubles, frames that there are not. */
export const faultOf = (records: LessonRecords): Fault | null => {
  const { clips, pictures, lessons, cueKinds } = records
  if (hasDoubles(clips.map((c) => c.hash))) return 'fault.filmTwice'
  if (hasDoubles(pictures.map((p) => p.hash))) return 'fault.pictureTwice'
  if (hasDoubles(cueKinds.map((k) => k.key))) return 'fault.cueKindTwice'
  if (hasDoubles(lessons.map((l) => l.originId))) return 'fault.lessonTwice'
  const frames = new Map(clips.map((c) => [c.hash, c.frameCount]))
  for (const { body, frameCount } of clips) {
    if (body && (body.byteLength % bodyFrameBytes !== 0 || body.byteLength / bodyFrameBytes > frameCount)) {
      return 'fault.bodyPointsSize'
    }
  }
  for (const { kind, extension, poster } of pictures) {
    if ((kind === 'clip') !== (extension === '.mp4') || (kind === 'clip') !== (poster !== null)) {
      return 'fault.pictureIsNone'
    }
  }
  for (const lesson of lessons) {
    const fault = faultOfLesson(lesson, records, frames)
    if (fault !== null) return fault
  }
  return null
}
