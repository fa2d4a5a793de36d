/**
 * Real time from a clip's frames. Real time = frames / capture rate, whatever rate the file plays at: a swing captured at 240
 * frames/s and played at 30 runs 8 times slow (arithmetic).
 */

const positive = (value: number, name: string): number => {
  if (!(value > 0) || !Number.isFinite(value)) {
    throw new RangeError(`${name} must be a positive number, not ${value}`)
  }
  return value
}

/**
 * How many times slower than life the file plays.
 *
 * @param captureRate frames a second the camera took.
 * @param playbackRate frames a second the file plays.
 */
export const slowness = (captureRate: number, playbackRate: number): number =>
  positive(captureRate, 'captureRate') / positive(playbackRate, 'playbackRate')

/** Real seconds of a stretch of the file's own time; for clips of variable rate use the frames' timestamps here. */
export const realSeconds = (fileSeconds: number, slownessOfClip: number): number =>
  fileSeconds / positive(slownessOfClip, 'slowness')

/** Real seconds that a number of frames lasts. */
export const secondsOfFrames = (frames: number, captureRate: number): number =>
  frames / positive(captureRate, 'captureRate')

/** How many frames (with fraction) an event of real time spans. */
export const framesInSeconds = (seconds: number, captureRate: number): number =>
  seconds * positive(captureRate, 'captureRate')

/** Real milliseconds from impact, negative before it, from timestamps of the file. */
export const msFromImpact = (
  atFileSeconds: number,
  impactFileSeconds: number,
  slownessOfClip: number,
): number => 1000 * realSeconds(atFileSeconds - impactFileSeconds, slownessOfClip)
