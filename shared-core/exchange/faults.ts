import { bodyFrameBytes, type GivenLesson, type LessonRecords } from './lesson-file.ts'

const hasDoubles = (keys: readonly string[]): boolean => new Set(keys).size !== keys.length

const faultOfLesson = (lesson: GivenLesson, records: LessonRecords, frames: ReadonlyMap<string, number>) => {
  if (hasDoubles(lesson.clips.map((c) => c.hash))) return 'a clip twice in one lesson'
  if (hasDoubles(lesson.shots.map((s) => s.fingerprint))) return 'a shot twice'
  const cueKinds = new Set(records.cueKinds.map((k) => k.key))
  const pictures = new Set(records.pictures.map((p) => p.hash))
  for (const { hash, stillKind, corrections } of lesson.clips) {
    const count = frames.get(hash)
    if (count === undefined) return 'a clip whose film is not in it'
    if ((stillKind === null) !== count > 1) return 'a still picture that is a film, or a film of one frame'
    if (corrections.some((c) => c.frame >= count)) return 'a point of the body on a frame that there is not'
  }
  for (const swing of lesson.swings) {
    if (swing.block >= lesson.blocks.length) return 'a swing of no block'
    if (swing.shot !== null && swing.shot >= lesson.shots.length) return 'a swing of no shot'
    for (const { clip, fromFrame, toFrame, moments, drawings } of swing.views) {
      const film = lesson.clips[clip]
      if (!film) return 'a picture of no clip'
      const count = frames.get(film.hash)!
      if (fromFrame > toFrame || toFrame >= count) return 'a picture of frames that there are not'
      if (hasDoubles(moments.map((m) => m.name))) return 'a moment twice'
      for (const moment of moments) {
        if (moment.frame >= count) return 'a moment on a frame that there is not'
        if (moment.cues.some((cue) => !cueKinds.has(cue.kind))) return 'a cue of an unknown kind'
      }
      for (const drawing of drawings) {
        if (drawing.moment !== null && drawing.moment >= moments.length) return 'a drawing on no moment'
        if (drawing.fromFrame > drawing.toFrame || drawing.toFrame >= count) {
          return 'a drawing on frames that there are not'
        }
      }
    }
  }
  const places = new Map(records.lessons.map((l) => [l.originId, l]))
  for (const { first, second } of lesson.comparisons) {
    for (const place of [first, second]) {
      if (!places.get(place.lesson)?.swings[place.swing]?.views[place.view]) {
        return 'a comparison of no picture'
      }
    }
    if (first.lesson !== lesson.originId && second.lesson !== lesson.originId) {
      return 'a comparison of other lessons'
    }
  }
  const used = [
    ...lesson.facePhotos.map((p) => p.picture),
    ...(lesson.plan?.items.flatMap((item) => item.picture ?? []) ?? []),
  ]
  return used.every((hash) => pictures.has(hash)) ? null : 'a picture that is not in it'
}

/** What a schema of single records can't see: references that lead nowhere, doubles, frames that there are not. */
export const faultOf = (records: LessonRecords): string | null => {
  const { clips, pictures, lessons, cueKinds } = records
  if (hasDoubles(clips.map((c) => c.hash))) return 'a film twice'
  if (hasDoubles(pictures.map((p) => p.hash))) return 'a picture twice'
  if (hasDoubles(cueKinds.map((k) => k.key))) return 'a kind of cue twice'
  if (hasDoubles(lessons.map((l) => l.originId))) return 'a lesson twice'
  const frames = new Map(clips.map((c) => [c.hash, c.frameCount]))
  for (const { body, frameCount } of clips) {
    if (body && (body.byteLength % bodyFrameBytes !== 0 || body.byteLength / bodyFrameBytes > frameCount)) {
      return 'points of the body of another size'
    }
  }
  for (const { kind, extension, poster } of pictures) {
    if ((kind === 'clip') !== (extension === '.mp4') || (kind === 'clip') !== (poster !== null)) {
      return 'a picture that is none'
    }
  }
  for (const lesson of lessons) {
    const fault = faultOfLesson(lesson, records, frames)
    if (fault !== null) return fault
  }
  return null
}
