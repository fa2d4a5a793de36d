import { describe, expect, it } from 'vitest'
import { trackOf, wayUpTo } from '../../../shared-core/following/followed-track.ts'
import { holdsOnToBall, isSeenFromItsEnd, pointSpeed } from '../../../shared-core/following/point-speed.ts'

/** A thing on a circle: its speed is angular speed times radius, whatever the frame. */
const circling = (captureRate: number, radiusPx: number, turnsPerSecond: number, frames = 60) => {
  const places = Array.from({ length: frames }, (_, frame) => {
    const angle = (2 * Math.PI * turnsPerSecond * frame) / captureRate
    return { frame, x: 400 + radiusPx * Math.cos(angle), y: 400 + radiusPx * Math.sin(angle), errorPx: 0.3 }
  })
  const times = {
    atSeconds: places.map((p) => p.frame / captureRate),
    playbackRate: captureRate,
    captureRate,
  }
  return { track: trackOf(places), times }
}

describe('the speed of a followed point', () => {
  it.each([120, 240, 480])('is that of a circle known exactly, at %d frames/s', (captureRate) => {
    const { track, times } = circling(captureRate, 300, 3)
    const speed = pointSpeed(track, times, 40, 250)!
    const true_ = (2 * Math.PI * 3 * 300) / 250
    // At 120 frames/s the way that is fitted goes a sixth round: one bend is 4 % off there.
    expect(Math.abs(speed.speedMps - true_) / true_).toBeLessThan(captureRate === 120 ? 0.05 : 0.03)
    // What one camera can't see is never left out of the error.
    expect(speed.sdMps / speed.speedMps).toBeGreaterThan(0.15)
  })

  it.each([120, 240])(
    'of a thing that gains speed is that at the frame, not that of its way up to it, at %d frames/s',
    (captureRate) => {
      // From 26 to 40 m/s in the last 50 ms, as a club head does.
      const at = (seconds: number) => 250 * (40 * seconds + 140 * seconds ** 2)
      const places = Array.from({ length: 13 }, (_, i) => i).map((frame) => ({
        frame,
        x: 2000 + at((frame - 12) / captureRate),
        y: 400,
        errorPx: 0.3,
      }))
      const times = {
        atSeconds: places.map((p) => p.frame / captureRate),
        playbackRate: captureRate,
        captureRate,
      }
      expect(Math.abs(pointSpeed(trackOf(places), times, 12, 250)!.speedMps / 40 - 1)).toBeLessThan(0.03)
    },
  )

  it('is not told of frames so far apart that no one bend holds between them', () => {
    const { track, times } = circling(60, 300, 3)
    expect(pointSpeed(track, times, 40, 250)).toBeNull()
  })

  it('counts real time where the file plays slower than it was filmed', () => {
    const { track, times } = circling(240, 300, 3)
    const slowed = { ...times, atSeconds: times.atSeconds.map((s) => s * 8), playbackRate: 30 }
    expect(pointSpeed(track, slowed, 40, 250)!.speedMps).toBeCloseTo(
      pointSpeed(track, times, 40, 250)!.speedMps,
      6,
    )
  })

  it('is not told where the point was not found on the frame, or on too few before it', () => {
    const { track, times } = circling(240, 300, 3)
    expect(pointSpeed(track, times, 2, 250)).toBeNull()
    expect(pointSpeed(track, times, 70, 250)).toBeNull()
  })

  it.each([120, 240])(
    'is told of a club head seen from beside, and not where the camera looks along its line, at %d frames/s',
    (captureRate) => {
      const metrePx = 150
      const radiusM = 1.1
      /** A head that gains speed on its circle up to 42 m/s, lowest 10 ms before the frame, in a plane so steep; the camera stands so far round. */
      const filmed = (roundDeg: number, planeDeg: number) => {
        const [round, plane] = [roundDeg, planeDeg].map((deg) => (deg * Math.PI) / 180) as [number, number]
        const places = Array.from({ length: 25 }, (_, frame) => {
          const t = (frame - 24) / captureRate + 0.01
          const angle = (42 * t + (t < 0 ? 180 * t ** 2 : 0)) / radiusM
          const along = radiusM * Math.sin(angle)
          const out = radiusM * Math.cos(angle) * Math.cos(plane)
          return {
            frame,
            x: 600 + metrePx * (along * Math.cos(round) + out * Math.sin(round)),
            y: 300 + metrePx * radiusM * Math.cos(angle) * Math.sin(plane),
            errorPx: 1,
          }
        })
        const times = {
          atSeconds: places.map((p) => p.frame / captureRate),
          playbackRate: captureRate,
          captureRate,
        }
        return [trackOf(places), times, 24, metrePx] as const
      }
      for (const planeDeg of [45, 52, 60]) {
        for (const roundDeg of [0, 15, -15, 25, -25]) {
          expect(isSeenFromItsEnd(...filmed(roundDeg, planeDeg)), `${roundDeg}°`).toBe(false)
          const off = Math.abs(pointSpeed(...filmed(roundDeg, planeDeg))!.speedMps / 42 - 1)
          // One camera a little round the player loses the cosine, and more or less of the bend.
          expect(off).toBeLessThan(Math.abs(roundDeg) > 15 ? 0.25 : 0.15)
        }
        for (const roundDeg of [75, -75, 90, -90, 100]) {
          expect(isSeenFromItsEnd(...filmed(roundDeg, planeDeg)), `${roundDeg}°`).toBe(true)
        }
      }
    },
  )

  it('is not a club head’s where it lies still just before impact, as the ball does', () => {
    const { track, times } = circling(120, 300, 3)
    expect(holdsOnToBall(track, times, 40)).toBe(false)
    const still = trackOf(
      Array.from({ length: 41 }, (_, frame) => ({ frame, x: 400 + 0.5 * (frame % 3), y: 300, errorPx: 0.3 })),
    )
    expect(holdsOnToBall(still, times, 40)).toBe(true)
    // Followed to the top only: nothing is held on to.
    expect(holdsOnToBall(trackOf([{ frame: 3, x: 1, y: 1, errorPx: 1 }]), times, 40)).toBe(false)
  })

  it('says a larger error where the places are less sure', () => {
    const { track, times } = circling(240, 300, 0.2)
    const unsure = { ...track, points: track.points.map((v, i) => (i % 3 === 2 ? 6 : v)) }
    expect(pointSpeed(unsure, times, 40, 250)!.sdMps).toBeGreaterThan(
      2 * pointSpeed(track, times, 40, 250)!.sdMps,
    )
  })
})

describe('the way of a followed point', () => {
  it('grows up to the frame shown, and is broken where the point was not found', () => {
    const track = trackOf([0, 1, 2, 5, 6].map((frame) => ({ frame, x: frame * 10, y: 0, errorPx: 1 })))
    expect(wayUpTo(track, 1).map((line) => line.map((p) => p.x))).toEqual([[0, 10]])
    expect(wayUpTo(track, 9).map((line) => line.map((p) => p.x))).toEqual([
      [0, 10, 20],
      [50, 60],
    ])
    expect(wayUpTo(track, -1)).toEqual([])
  })
})
