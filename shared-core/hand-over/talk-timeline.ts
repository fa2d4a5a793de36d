import { z } from 'zod'
import { idSchema } from '../model/entities.ts'
import { Problem } from '../problem.ts'
import { phrase } from '../wording/phrase.ts'

const frameSchema = z.number().int().nonnegative()
const pointSchema = z.object({ x: z.number(), y: z.number() })
/** Shapes as they were seen (`shared-core/drawing`); without them the drawings saved with the view. */
const seenSchema = z.array(z.looseObject({ kind: z.string() })).max(1000)

/**
 * The part of a picture that was seen while the coach had zoomed in or moved it: in source pixels of the picture as
 * shown (mirrored, if it was), reaching beyond its edges where the Stage did. Without it the whole picture was seen.
 */
const lookSchema = z.object({
  x: z.number(),
  y: z.number(),
  width: z.number().positive(),
  height: z.number().positive(),
})
export type TalkLook = z.infer<typeof lookSchema>

/** The second picture, if two swings were compared. */
export const talkSecondSchema = z.object({
  viewId: idSchema,
  frame: frameSchema,
  drawings: seenSchema.optional(),
  isMirrored: z.boolean(),
  arrangement: z.enum(['beside', 'over']),
  /** Of the second picture where it lies over the first. */
  opacity: z.number().min(0).max(1),
  look: lookSchema.nullish(),
})
export type TalkSecond = z.infer<typeof talkSecondSchema>

/** What was on the Stage from an instant of the recording on, until the next event. */
export const talkEventSchema = z.object({
  /** Seconds from the start of the sound; pauses are in neither. */
  atSeconds: z.number().nonnegative(),
  viewId: idSchema,
  /** Index into the view's clip. */
  frame: frameSchema,
  second: talkSecondSchema.nullish(),
  drawings: seenSchema.optional(),
  /** False while the coach had drawings and cues put away. */
  showsCues: z.boolean().optional(),
  /** Left and right exchanged; without it as the clip is set. */
  isMirrored: z.boolean().optional(),
  look: lookSchema.nullish(),
  /** Where the coach pointed, source pixels (not mirrored) of the first picture unless said; none: not shown. */
  pointer: pointSchema.extend({ on: z.enum(['first', 'second']).optional() }).nullish(),
})
export type TalkEvent = z.infer<typeof talkEventSchema>

/** What was on the Stage while the coach spoke, as the window writes it. */
export const talkTimelineSchema = z.object({
  version: z.literal(1),
  events: z.array(talkEventSchema).min(1).max(100_000),
})
export type TalkTimeline = z.infer<typeof talkTimelineSchema>

/** A still picture of the talk on the output's grid, both in frames. */
export interface TalkSegment {
  event: TalkEvent
  fromFrame: number
  frames: number
}

/** Frames of the output; the sound is never cut short. */
export const talkFrames = (durationSeconds: number, rate: number): number =>
  // A whole number of frames stays one, whatever the last bit says.
  Math.max(1, Math.ceil(durationSeconds * rate - 1e-6))

/**
 * The pictures of a talk on a grid of `rate` frames a second: they fill it from the first frame to the last, each at
 * least one frame long, and each begins within half a frame of its event. What was seen for less is left out, so is
 * what comes after the sound.
 * @throws Problem `bad-timeline` if the events go back in time
 */
export const talkSegments = (
  timeline: TalkTimeline,
  durationSeconds: number,
  rate: number,
): TalkSegment[] => {
  const total = talkFrames(durationSeconds, rate)
  const segments: TalkSegment[] = []
  timeline.events.forEach((event, index) => {
    const before = timeline.events[index - 1]
    if (before && before.atSeconds > event.atSeconds) {
      throw new Problem('bad-timeline.backwards', { where: phrase('place.event', { event: index + 1 }) })
    }
    // The Stage is not empty before the first event; it was only not told yet.
    const fromFrame = index === 0 ? 0 : Math.round(event.atSeconds * rate)
    if (fromFrame >= total) return
    if (segments.at(-1)?.fromFrame === fromFrame) segments.pop()
    segments.push({ event, fromFrame, frames: 0 })
  })
  return segments.map((segment, i) => ({
    ...segment,
    frames: (segments[i + 1]?.fromFrame ?? total) - segment.fromFrame,
  }))
}

/** The event that stands at an instant; the first one before it. */
export const talkEventAt = (timeline: TalkTimeline, atSeconds: number): TalkEvent =>
  timeline.events.findLast((event) => event.atSeconds <= atSeconds) ?? timeline.events[0]!

/** What remains before a point, to record again from there. The first event stays. */
export const talkBefore = (timeline: TalkTimeline, atSeconds: number): TalkTimeline => ({
  ...timeline,
  events: timeline.events.filter((event, i) => i === 0 || event.atSeconds < atSeconds),
})

/** Parts one after the other: each with the length of its own sound, which cuts its later events off. */
export const joinTalks = (
  parts: readonly { timeline: TalkTimeline; durationSeconds: number }[],
): { timeline: TalkTimeline; durationSeconds: number } => {
  const events: TalkEvent[] = []
  let startSeconds = 0
  for (const { timeline, durationSeconds } of parts) {
    if (durationSeconds <= 0) continue
    const kept = talkBefore(timeline, durationSeconds).events
    events.push(
      ...kept.map((event, i) => ({
        ...event,
        // What stands first stands from the part's beginning, or the part before would show on.
        atSeconds: startSeconds + (i === 0 ? 0 : event.atSeconds),
      })),
    )
    startSeconds += durationSeconds
  }
  if (events.length === 0) throw new Problem('bad-timeline.empty')
  return { timeline: { version: 1, events }, durationSeconds: startSeconds }
}
