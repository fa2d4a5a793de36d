import type { ClipFacts } from './probe.ts'
import { phrase, type Word } from '../../../shared-core/wording/phrase.ts'

/** A picture that ends this much before the file says it does was cut off; encoders round by a frame or two. */
const minMissing = { seconds: 0.4, share: 0.02 }

const tenths = (value: number) => value.toFixed(1)

/**
 * What can't be read of a clip that was taken in, as a sentence's end; null if it is whole as far as anyone
 * can tell. (A transport stream says nothing of its length: cut between two packets, it can't be told from a whole one.)
 *
 * @param breaksOff the file ends within a packet (`breaksOff`)
 */
export const whatIsMissing = (
  facts: Pick<
    ClipFacts,
    'statedSeconds' | 'durationSeconds' | 'frameCount' | 'isInterlaced' | 'showsFields' | 'playbackRate'
  >,
  damagedFrames: number,
  breaksOff = false,
): Word | null => {
  const { statedSeconds, durationSeconds, frameCount, isInterlaced, showsFields, playbackRate } = facts
  const missing = (statedSeconds ?? 0) - durationSeconds
  const parts: Word[] = []
  if (missing > Math.max(minMissing.seconds, minMissing.share * durationSeconds)) {
    parts.push(
      phrase('clip.endMissing', { seconds: tenths(durationSeconds), stated: tenths(statedSeconds!) }),
    )
  }
  if (breaksOff && parts.length === 0) {
    parts.push(phrase('clip.breaksOff', { seconds: tenths(durationSeconds) }))
  }
  if (damagedFrames > 0) {
    const all = Math.max(frameCount, damagedFrames)
    parts.push(phrase('clip.damaged', { n: damagedFrames, all }))
  }
  if (isInterlaced && !showsFields) {
    parts.push(phrase('clip.interlaced', { ms: (500 / playbackRate).toFixed(0) }))
  }
  if (parts.length === 0) return null
  return parts.reduce((first, second) => phrase('clip.commaAnd', { first, second }))
}
