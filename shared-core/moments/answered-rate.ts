import type { Clip } from '../model/entities.ts'

/** What tells one camera's setting from another's, and how fast a clip was filmed. */
export type RatedClip = Pick<
  Clip,
  | 'id'
  | 'camera'
  | 'codec'
  | 'width'
  | 'height'
  | 'playbackRate'
  | 'captureRate'
  | 'captureRateHow'
  | 'slowPart'
  | 'stillKind'
>

const isNear = (a: number, b: number): boolean => Math.abs(a / b - 1) < 0.02

/** Filmed faster than it is shown by more than rates are rounded. */
export const isSlowMotion = (captureRate: number, playbackRate: number): boolean =>
  captureRate >= 1.05 * playbackRate

/** What a coach's answer sets on a clip: one that was filmed as it plays has no slow part. */
export const asTold = (captureRate: number, playbackRate: number) => ({
  captureRate,
  captureRateHow: 'coach' as const,
  ...(isSlowMotion(captureRate, playbackRate) ? {} : { slowPart: null }),
})

/** Of one place, size, coding and rate as shown: what one camera writes with one setting. */
const isAlike = (a: RatedClip, b: RatedClip): boolean =>
  a.camera === b.camera &&
  a.codec === b.codec &&
  a.width === b.width &&
  a.height === b.height &&
  isNear(a.playbackRate, b.playbackRate)

/** Whether a rate told for one clip goes against nothing that another shows: of that one nobody knows its rate, or its swing gives the same. */
const agrees = (clip: RatedClip, captureRate: number, hasSlowPart: boolean): boolean =>
  (clip.slowPart !== null) === hasSlowPart &&
  (clip.captureRateHow === 'assumed' ||
    (clip.captureRateHow === 'motion' && isNear(clip.captureRate, captureRate)))

/**
 * The other clips of a lesson that a coach's answer for one holds for, too: those of the same camera and setting whose rate nobody knows.
 * One whose own swing or sound gives another rate is still asked about.
 */
export const alsoAnswered = <C extends RatedClip>(
  answered: RatedClip,
  captureRate: number,
  clips: readonly C[],
): C[] => {
  const hasSlowPart = answered.slowPart !== null && !isNear(captureRate, answered.playbackRate)
  return clips.filter(
    (clip) =>
      clip.id !== answered.id &&
      clip.stillKind === null &&
      isAlike(clip, answered) &&
      agrees(clip, captureRate, hasSlowPart),
  )
}

/** The rate that a coach's earlier answer gives for a clip that arrives; null where there was none, or it does not hold for it. */
export const answeredBefore = (arriving: RatedClip, clips: readonly RatedClip[]): number | null => {
  const answers = clips.filter(
    (clip) =>
      clip.captureRateHow === 'coach' &&
      clip.stillKind === null &&
      isAlike(clip, arriving) &&
      agrees(arriving, clip.captureRate, clip.slowPart !== null),
  )
  const rate = answers[0]?.captureRate
  // Two answers for one setting: it is asked.
  return rate !== undefined && answers.every((clip) => isNear(clip.captureRate, rate)) ? rate : null
}
