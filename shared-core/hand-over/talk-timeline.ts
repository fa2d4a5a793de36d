import { z } from 'zod'
import { idSchema } from '../model/entities.ts'
import { Problem } from '../problem.ts'

/**
 * What was on the Stage while the coach spoke, as the window writes it: one entry whenever the picture changed, seconds
 * from the start of the sound (pauses are in neither). An entry stands until the next one.
 */
export const talkEntrySchema = z.object({
  atSeconds: z.number().nonnegative(),
  viewId: idSchema,
  /** Index into the view's clip. */
  frame: z.number().int().nonnegative(),
  /** Shapes as they were seen; without them the drawings saved with the view. */
  drawings: z.array(z.looseObject({ kind: z.string() })).optional(),
  /** Where the coach pointed, source pixels; none: not shown. */
  pointer: z.object({ x: z.number(), y: z.number() }).nullish(),
})
export type TalkEntry = z.infer<typeof talkEntrySchema>

export const talkTimelineSchema = z.array(talkEntrySchema).min(1).max(100_000)
export type TalkTimeline = z.infer<typeof talkTimelineSchema>

/** A still picture of the talk on the output's grid, both in frames. */
export interface TalkPicture {
  entry: TalkEntry
  fromFrame: number
  frames: number
}

/**
 * The pictures of a talk on a grid of `rate` frames a second, each at least one frame long, from the first frame to
 * the last. What was seen for less than a frame is left out; what comes after the sound is, too.
 * @throws Problem `bad-timeline` if the entries go back in time
 */
export const talkPictures = (
  timeline: TalkTimeline,
  durationSeconds: number,
  rate: number,
): TalkPicture[] => {
  const total = Math.max(1, Math.ceil(durationSeconds * rate))
  const pictures: TalkPicture[] = []
  timeline.forEach((entry, index) => {
    const before = timeline[index - 1]
    if (before && before.atSeconds > entry.atSeconds) {
      throw new Problem('bad-timeline', 'the recording’s pictures go back in time', {
        where: `entry ${index + 1}`,
        toDo: 'Record the talk again',
      })
    }
    const fromFrame = index === 0 ? 0 : Math.round(entry.atSeconds * rate)
    const last = pictures.at(-1)
    if (fromFrame >= total) return
    if (last && last.fromFrame === fromFrame) pictures.pop()
    pictures.push({ entry, fromFrame, frames: 0 })
  })
  return pictures.map((picture, i) => ({
    ...picture,
    frames: (pictures[i + 1]?.fromFrame ?? total) - picture.fromFrame,
  }))
}

/** What remains before a point, to record again from there. */
export const timelineBefore = (timeline: TalkTimeline, atSeconds: number): TalkTimeline =>
  timeline.filter((entry, i) => i === 0 || entry.atSeconds < atSeconds)
