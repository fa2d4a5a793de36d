import { secondsOfFrames } from './real-time.ts'

export type Tempo = {
  /** Backswing over downswing. */
  ratio: number
  /** Standard deviation of the ratio that the frames' length alone causes. */
  ratioSd: number
  backswingSeconds: number
  downswingSeconds: number
  /** Standard deviation of each of the two durations, s: two marks, each anywhere within ± half a frame. */
  durationSd: number
}

/**
 * Tempo of a swing from three marked frames: takeaway (the last still frame), top, impact.
 *
 * Each mark is uniform within ± half a frame and the top is shared by both parts, so the ratio's relative variance is
 * [1/Nb² + (1/Nb + 1/Nd)² + 1/Nd²] / 12 (references, section 5, computed). It says nothing about a mark on a wrong frame.
 *
 * @returns null unless takeaway < top < impact.
 */
export const tempo = (
  marks: { takeawayFrame: number; topFrame: number; impactFrame: number },
  captureRate: number,
): Tempo | null => {
  const back = marks.topFrame - marks.takeawayFrame
  const down = marks.impactFrame - marks.topFrame
  if (!(back > 0) || !(down > 0)) return null
  const ratio = back / down
  return {
    ratio,
    ratioSd: ratio * Math.sqrt((1 / back ** 2 + (1 / back + 1 / down) ** 2 + 1 / down ** 2) / 12),
    backswingSeconds: secondsOfFrames(back, captureRate),
    downswingSeconds: secondsOfFrames(down, captureRate),
    durationSd: secondsOfFrames(Math.sqrt(2 / 12), captureRate),
  }
}
