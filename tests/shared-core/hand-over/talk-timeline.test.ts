import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  joinTalks,
  talkBefore,
  talkEventAt,
  talkFrames,
  talkSegments,
  talkTimelineSchema,
  type TalkTimeline,
} from '../../../shared-core/hand-over/talk-timeline.ts'

const timelineArb = fc
  .array(fc.record({ gap: fc.double({ min: 0, max: 5, noNaN: true }), frame: fc.nat(500) }), {
    minLength: 1,
    maxLength: 60,
  })
  .map((steps): TalkTimeline => {
    let atSeconds = 0
    const events = steps.map(({ gap, frame }) => {
      atSeconds += gap
      return { atSeconds, viewId: 'v', frame }
    })
    return { version: 1, events }
  })
const duration = fc.double({ min: 0.05, max: 300, noNaN: true })
const rates = fc.constantFrom(25, 30, 60)

describe('the pictures of a talk', () => {
  test('fill the recording without gap or overlap, each at least one frame long', () => {
    fc.assert(
      fc.property(timelineArb, duration, rates, (timeline, seconds, rate) => {
        const segments = talkSegments(timeline, seconds, rate)
        let next = 0
        for (const { fromFrame, frames } of segments) {
          expect(fromFrame).toBe(next)
          expect(frames).toBeGreaterThanOrEqual(1)
          next += frames
        }
        expect(next).toBe(talkFrames(seconds, rate))
        expect(next / rate).toBeGreaterThanOrEqual(seconds - 1e-6)
        expect(next / rate).toBeLessThan(Math.max(seconds, 1 / rate) + 1 / rate)
      }),
    )
  })

  test('change within half a frame of their event, at the end as at the beginning', () => {
    fc.assert(
      fc.property(timelineArb, rates, (timeline, rate) => {
        const seconds = timeline.events.at(-1)!.atSeconds + 1
        for (const { event, fromFrame } of talkSegments(timeline, seconds, rate).slice(1)) {
          expect(Math.abs(fromFrame / rate - event.atSeconds)).toBeLessThanOrEqual(0.5 / rate + 1e-9)
        }
      }),
    )
  })

  test('show on every frame what stood on the Stage in its middle, give or take half a frame', () => {
    fc.assert(
      fc.property(timelineArb, (timeline) => {
        const rate = 30
        const seconds = timeline.events.at(-1)!.atSeconds + 1
        for (const { event, fromFrame, frames } of talkSegments(timeline, seconds, rate)) {
          const last = fromFrame + frames - 1
          expect(talkEventAt(timeline, (last + 0.5) / rate + 1e-9).frame).toBe(event.frame)
        }
      }),
    )
  })

  test('that go back in time are refused', () => {
    const events = [2, 1].map((atSeconds) => ({ atSeconds, viewId: 'v', frame: 0 }))
    expect(() => talkSegments({ version: 1, events }, 3, 30)).toThrow(/back in time/)
  })
})

describe('recording again from a point', () => {
  test('keeps what was shown before it and nothing from it on', () => {
    fc.assert(
      fc.property(timelineArb, fc.double({ min: 0, max: 1, noNaN: true }), (timeline, share) => {
        const end = timeline.events.at(-1)!.atSeconds
        const cut = timeline.events[0]!.atSeconds + share * (end - timeline.events[0]!.atSeconds)
        const kept = talkBefore(timeline, cut)
        expect(talkTimelineSchema.safeParse(kept).success).toBe(true)
        expect(kept.events.slice(1).every((e) => e.atSeconds < cut)).toBe(true)
        expect(timeline.events.slice(0, kept.events.length)).toEqual(kept.events)
        const next = timeline.events[kept.events.length]
        if (next) expect(next.atSeconds).toBeGreaterThanOrEqual(cut)
      }),
    )
  })
})

describe('parts that are joined', () => {
  test('last as long as all of them, and each shows at its own time what it showed alone', () => {
    const part = fc.record({ timeline: timelineArb, durationSeconds: duration })
    fc.assert(
      fc.property(fc.array(part, { minLength: 1, maxLength: 5 }), (parts) => {
        const joined = joinTalks(parts)
        expect(joined.durationSeconds).toBeCloseTo(
          parts.reduce((sum, p) => sum + p.durationSeconds, 0),
          9,
        )
        expect(talkSegments(joined.timeline, joined.durationSeconds, 30).length).toBeGreaterThan(0)
        let start = 0
        for (const { timeline, durationSeconds } of parts) {
          for (const share of [0.001, 0.37, 0.99]) {
            const at = share * durationSeconds
            // An instant on the very edge of an event may fall on either side of it after the sum.
            if (timeline.events.some((e) => Math.abs(e.atSeconds - at) < 1e-6)) continue
            expect(talkEventAt(joined.timeline, start + at).frame).toBe(talkEventAt(timeline, at).frame)
          }
          start += durationSeconds
        }
      }),
    )
  })

  test('are the whole again when a talk is cut anywhere and put back together', () => {
    fc.assert(
      fc.property(timelineArb, fc.double({ min: 0.1, max: 0.9, noNaN: true }), (timeline, share) => {
        const seconds = timeline.events.at(-1)!.atSeconds + 1
        const cut = share * seconds
        const rest = timeline.events.filter((e) => e.atSeconds >= cut)
        const standing = { ...talkEventAt(timeline, cut), atSeconds: 0 }
        const after: TalkTimeline = {
          version: 1,
          events: [standing, ...rest.map((e) => ({ ...e, atSeconds: e.atSeconds - cut }))],
        }
        const joined = joinTalks([
          { timeline: talkBefore(timeline, cut), durationSeconds: cut },
          { timeline: after, durationSeconds: seconds - cut },
        ])
        for (const e of timeline.events.slice(1)) {
          if (Math.abs(e.atSeconds - cut) < 1e-6) continue
          const later = timeline.events.findLast((x) => x.atSeconds <= e.atSeconds + 1e-9)!
          expect(talkEventAt(joined.timeline, e.atSeconds + 1e-9).frame).toBe(later.frame)
        }
      }),
    )
  })
})

describe('a written timeline', () => {
  test('of another version, or with a time before the start, is not read', () => {
    const event = { atSeconds: 0, viewId: 'v', frame: 0 }
    expect(talkTimelineSchema.safeParse({ version: 1, events: [event] }).success).toBe(true)
    expect(talkTimelineSchema.safeParse({ version: 2, events: [event] }).success).toBe(false)
    expect(talkTimelineSchema.safeParse({ version: 1, events: [] }).success).toBe(false)
    expect(talkTimelineSchema.safeParse({ version: 1, events: [{ ...event, atSeconds: -1 }] }).success).toBe(
      false,
    )
    expect(talkTimelineSchema.safeParse({ version: 1, events: [{ ...event, frame: 0.5 }] }).success).toBe(
      false,
    )
  })
})
