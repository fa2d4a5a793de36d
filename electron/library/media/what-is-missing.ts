import type { ClipFacts } from './probe.ts'

/** A picture that ends this much before the file says it does was cut off; encoders round by a frame or two. */
const minMissing = { seconds: 0.4, share: 0.02 }

const seconds = (value: number) => `${value.toFixed(1)} s`

/**
 * What can't be read of a clip that was taken in, as a sentence's end in the coach's words; null if it is whole as far as anyone
 * can tell. (A cut transport stream says nothing of its length: that its end is missing can't be known.)
 */
export const whatIsMissing = (
  facts: Pick<
    ClipFacts,
    'statedSeconds' | 'durationSeconds' | 'frameCount' | 'isInterlaced' | 'playbackRate'
  >,
  damagedFrames: number,
): string | null => {
  const { statedSeconds, durationSeconds, frameCount, isInterlaced, playbackRate } = facts
  const missing = (statedSeconds ?? 0) - durationSeconds
  const parts: string[] = []
  if (missing > Math.max(minMissing.seconds, minMissing.share * durationSeconds)) {
    parts.push(
      `its end is missing: ${seconds(durationSeconds)} of ${seconds(statedSeconds!)} can be read (copy it from the camera again)`,
    )
  }
  if (damagedFrames > 0) {
    const all = Math.max(frameCount, damagedFrames)
    parts.push(
      `${damagedFrames} of its ${all} pictures ${damagedFrames === 1 ? 'is' : 'are'} damaged; don’t measure on those`,
    )
  }
  if (isInterlaced) {
    parts.push(
      `it is interlaced: each picture is two halves ${(500 / playbackRate).toFixed(0)} ms apart, so whatever moves fast has combed ` +
        'edges (set the camera to progressive, “p”)',
    )
  }
  return parts.length > 0 ? parts.join(', and ') : null
}
