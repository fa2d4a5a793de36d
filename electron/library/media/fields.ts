import { playbackRateOf } from '../../../shared-core/moments/capture-rate.ts'
import type { ClipFacts } from './probe.ts'
import { pipeFrom, type RunOptions } from './run-ffmpeg.ts'

/**
 * Interlaced film: each frame holds two half-pictures (fields), taken half a frame apart. Both are shown, each as a whole picture, so
 * that 30 frames a second give the 60 pictures that the camera took.
 */

/** Frames that are looked at to tell whether the two halves of a frame really differ in time. */
const looked = 300

/**
 * Whether a film that says it is interlaced is: cameras also store whole pictures that way, and two equal pictures in a row would
 * be no gain. By ffmpeg's idet, which compares how well lines fit those of the same and of the neighbouring frames; a film in which
 * nothing moves is left as it is.
 */
export const hasFields = async (
  file: string,
  facts: Pick<ClipFacts, 'isInterlaced'>,
  options: RunOptions,
): Promise<boolean> => {
  if (!facts.isInterlaced) return false
  const args = ['-hide_banner', '-nostdin', '-nostats', '-i', file, '-map', '0:V:0', '-an', '-vf', 'idet']
  const { stderr } = await pipeFrom(
    'doing.reading',
    options.programs.ffmpeg.file,
    [...args, '-frames:v', String(looked), '-f', 'null', '-'],
    () => {},
    options,
  )
  const [, top, bottom, whole] =
    /Multi frame detection: TFF:\s*(\d+) BFF:\s*(\d+) Progressive:\s*(\d+)/.exec(stderr) ?? []
  return Number(top) + Number(bottom) > Number(whole)
}

/** The facts of a film whose frames are shown as two pictures each: the second half a frame after the first. */
export const fieldFacts = (facts: ClipFacts): ClipFacts => {
  const { frameCount, atSeconds, durationSeconds } = facts
  const fields = Float64Array.from({ length: 2 * frameCount }, (_, i) => {
    const at = atSeconds[i >> 1]!
    const next = atSeconds[(i >> 1) + 1] ?? durationSeconds
    return i % 2 === 0 ? at : (at + next) / 2
  })
  return {
    ...facts,
    frameCount: 2 * frameCount,
    atSeconds: fields,
    playbackRate: playbackRateOf(fields) ?? 2 * facts.playbackRate,
    longestKeyDistance: 2 * facts.longestKeyDistance,
    showsFields: true,
  }
}

/** The facts of a film as they were when its marks were made: as its fields if it has twice the frames now. */
export const factsAsKept = (facts: ClipFacts, frameCount: number): ClipFacts =>
  facts.isInterlaced && frameCount === 2 * facts.frameCount ? fieldFacts(facts) : facts

/** Both fields of every frame as whole pictures, each at its own time. */
export const fieldsFilter = 'bwdif=mode=send_field:parity=auto:deint=all'
