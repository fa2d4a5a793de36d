import { describe, expect, it } from 'vitest'
import { claimClub, type SeenHead } from '../../../shared-core/following/club-claims.ts'
import { placeOn, trackOf, type FollowedPlace } from '../../../shared-core/following/followed-track.ts'
import type { Point } from '../../../shared-core/geometry/point.ts'

const captureRate = 120
const frames = 60
const range = { first: 0, last: frames - 1, captureRate }
const lengthPx = 150

const headAt = (frame: number): Point => ({
  x: 300 + lengthPx * Math.sin(frame / 12),
  y: 200 + lengthPx * Math.cos(frame / 12),
})
const mark = { frame: 3, ...headAt(3) }

const seenAt = (frame: number, change: Partial<SeenHead> = {}): SeenHead => ({
  frame,
  ...headAt(frame),
  seen: 0.5,
  margin: 2,
  ...change,
})
const all = Array.from({ length: frames }, (_, frame) => frame)
/** Followed by its look up to a frame, from `stuckFrom` on lying where it was then. */
const looked = (upTo: number, stuckFrom = Infinity) => ({
  track: trackOf(
    all
      .filter((frame) => frame <= upTo)
      .map((frame) => ({ frame, ...headAt(Math.min(frame, stuckFrom)), errorPx: 0.4 })),
  ),
  lost: upTo < frames - 1 ? [{ frame: upTo + 1, why: 'changed' as const }] : [],
})

const offPx = (place: FollowedPlace | null, frame: number): number => {
  const real = headAt(frame)
  return place ? Math.hypot(place.x - real.x, place.y - real.y) : Infinity
}

describe('the club head', () => {
  it('that was lost is found again where the shaft is seen, with the error of what was seen', () => {
    const { track, lost } = claimClub(
      looked(20),
      all.map((f) => seenAt(f)),
      lengthPx,
      [mark],
      range,
    )
    expect(lost).toEqual([])
    for (const frame of all) expect(offPx(placeOn(track, frame), frame)).toBeLessThan(0.01)
    expect(placeOn(track, 10)!.errorPx).toBeCloseTo(0.4, 5)
    expect(placeOn(track, 40)!.errorPx).toBeCloseTo(3, 5)
  })

  it('is not what stayed behind when the club went on, also where the club itself is not sure', () => {
    const heads = all.map((f) => seenAt(f, f > 40 && f < 52 ? { seen: 0.05 } : {}))
    const { track, lost } = claimClub(looked(59, 25), heads, lengthPx, [mark], range)
    for (const frame of [30, 35, 40, 52, 59]) expect(offPx(placeOn(track, frame), frame)).toBeLessThan(0.01)
    for (let frame = 41; frame < 52; frame++) expect(placeOn(track, frame)).toBeNull()
    expect(lost).toEqual([{ frame: 41, why: 'unsure' }])
  })

  it('is not claimed where little of a shaft is seen or something else explains it as well', () => {
    const heads = all.map((f) => seenAt(f, f === 30 ? { seen: 0.05 } : f === 40 ? { margin: 0.1 } : {}))
    const { track } = claimClub(looked(20), heads, lengthPx, [mark], range)
    expect([29, 30, 31, 39, 40, 41].map((f) => placeOn(track, f) !== null)).toEqual([
      true,
      false,
      true,
      true,
      false,
      true,
    ])
  })

  it('does not leave its way for one frame', () => {
    const heads = all.map((f) => seenAt(f, f === 30 ? { x: headAt(30).x + 60 } : {}))
    const { track } = claimClub(looked(20), heads, lengthPx, [mark], range)
    expect(placeOn(track, 30)).toBeNull()
    expect(offPx(placeOn(track, 31), 31)).toBeLessThan(0.01)
  })

  it('stays where the coach marked it', () => {
    const far = { frame: 40, x: 20, y: 20 }
    const followed = looked(20)
    const track = trackOf([
      ...Array.from(followed.track.frames, (frame) => ({ frame, ...placeOn(followed.track, frame)! })),
      { ...far, errorPx: 0.25 },
    ])
    const claimed = claimClub(
      { track, lost: [] },
      all.map((f) => seenAt(f)),
      lengthPx,
      [mark, far],
      range,
    )
    expect(placeOn(claimed.track, 40)).toMatchObject({ x: 20, y: 20 })
    expect(offPx(placeOn(claimed.track, 41), 41)).toBeLessThan(0.01)
  })

  it('followed by look is believed for a moment only where the hands no longer agree', () => {
    const heads = all.map((f) => seenAt(f, f > 20 ? { seen: 0 } : {}))
    const { track, lost } = claimClub(looked(59), heads, lengthPx, [mark], range)
    expect(placeOn(track, 27)).not.toBeNull()
    expect(placeOn(track, 29)).toBeNull()
    expect(lost).toEqual([{ frame: 28, why: 'unsure' }])
  })
})
