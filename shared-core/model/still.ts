import type { Clip, OpenLesson, Swing } from './entities.ts'

/** What a still picture shows; coaches add their own words. */
export const stillKinds = ['grip', 'setup', 'face', 'ground'] as const

/** A guess by the file's name; the coach's word replaces it. */
export const stillKindOf = (fileName: string): string => {
  const words = fileName.toLowerCase()
  if (/grip|hands?\b/.test(words)) return 'grip'
  if (/face|club/.test(words)) return 'face'
  if (/ground|shoe|foot|feet|turf|divot/.test(words)) return 'ground'
  return 'setup'
}

type Lesson = Pick<OpenLesson, 'clips' | 'guests'>

/** True for a picture that stands alone in the lesson: no film, no shot. */
export const standsAlone = ({ clips, guests }: Lesson, swing: Pick<Swing, 'shotId' | 'views'>): boolean => {
  if (swing.shotId !== null || swing.views.length === 0) return false
  const isStill = (clipId: string) =>
    (clips.find((c) => c.id === clipId) ?? guests.find((g) => g.clip.id === clipId)?.clip)?.stillKind != null
  return swing.views.every((v) => isStill(v.clipId))
}

/** "Grip". */
export const stillTitle = (clip: Pick<Clip, 'stillKind'>): string => {
  const kind = clip.stillKind ?? ''
  return kind.charAt(0).toUpperCase() + kind.slice(1)
}
