import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  mergeTracks,
  pointOf,
  withCorrections,
  type BodyTrack,
} from '../../../shared-core/body/body-track.ts'
import { framesToRead } from '../../../shared-core/body/frames-to-read.ts'
import { jointCount, jointIndex, sidedIndex } from '../../../shared-core/body/joints.ts'
import { keepSides } from '../../../shared-core/body/keep-sides.ts'
import { withoutLongLegs } from '../../../shared-core/body/long-legs.ts'
import { localFit } from '../../../shared-core/body/local-fit.ts'

/** A body whose joints stand at (100 + 10·joint, 50) and move `step` to the right each frame. */
const walking = (frames: number, step = 1): BodyTrack => {
  const points = new Float32Array(frames * jointCount * 3)
  for (let k = 0; k < frames; k++) {
    for (let j = 0; j < jointCount; j++) {
      points.set([100 + 10 * j + step * k, 50, 0.9], (k * jointCount + j) * 3)
    }
  }
  return { frames: Int32Array.from({ length: frames }, (_, i) => 2 * i), points }
}
const swap = (track: BodyTrack, k: number, left: number, right: number) => {
  for (const c of [0, 1, 2]) {
    const [a, b] = [(k * jointCount + left) * 3 + c, (k * jointCount + right) * 3 + c]
    ;[track.points[a], track.points[b]] = [track.points[b]!, track.points[a]!]
  }
}

describe('left and right', () => {
  const [left, right] = [jointIndex('leftHip'), jointIndex('rightHip')]

  test('a pair that the model swaps for some frames is put right, whichever frames', () => {
    fc.assert(
      fc.property(fc.uniqueArray(fc.integer({ min: 0, max: 29 }), { maxLength: 12 }), (swapped) => {
        const track = walking(30)
        for (const k of swapped) swap(track, k, left, right)
        expect(Array.from(keepSides(track).points)).toEqual(Array.from(walking(30).points))
      }),
    )
  })

  test('hips that the model gives the wrong way round for a long time are put on their own legs', () => {
    const standing = walking(40, 0)
    for (let k = 0; k < 25; k++) swap(standing, k, left, right)
    expect(Array.from(keepSides(standing).points)).toEqual(Array.from(walking(40, 0).points))
  })

  test('a right-handed player leads with the left, a left-handed one with the right', () => {
    expect(sidedIndex('Knee', 'lead', 'right')).toBe(jointIndex('leftKnee'))
    expect(sidedIndex('Knee', 'lead', 'left')).toBe(jointIndex('rightKnee'))
  })
})

describe('a leg', () => {
  /** Legs of 100 px, knees bent by `bend` px to the side, hips swaying; the frame's leg is never longer than it is. */
  const standing = (frames: number, bend: (k: number) => number): BodyTrack => {
    const points = new Float32Array(frames * jointCount * 3)
    const put = (k: number, name: Parameters<typeof jointIndex>[0], x: number, y: number) =>
      points.set([x, y, 0.9], (k * jointCount + jointIndex(name)) * 3)
    for (let k = 0; k < frames; k++) {
      for (const [side, x] of [
        ['left', 100],
        ['right', 160],
      ] as const) {
        const half = Math.sqrt(50 ** 2 - bend(k) ** 2)
        put(k, `${side}Hip`, x, 300 - 2 * half)
        put(k, `${side}Knee`, x + bend(k), 300 - half)
        put(k, `${side}Ankle`, x, 300)
      }
    }
    return { frames: Int32Array.from({ length: frames }, (_, i) => i), points }
  }
  const knee = jointIndex('leftKnee')

  test('however bent is kept; a knee that makes it longer than a leg is, is a gap', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 40, noNaN: true }),
        fc.integer({ min: 0, max: 11 }),
        (most, wrong) => {
          // Bent more and more, as far as legs bend.
          const track = standing(24, (k) => (most * k) / 23)
          expect(Array.from(withoutLongLegs(track).points)).toEqual(Array.from(track.points))
          // The model puts it a third of the leg aside: 108 degrees where it is nearly straight.
          for (const k of [wrong, wrong + 1]) track.points[(k * jointCount + knee) * 3] = 138
          const kept = withoutLongLegs(track)
          for (let k = 0; k < 24; k++) {
            expect(pointOf(kept, k, knee) === null, `${k}`).toBe(k === wrong || k === wrong + 1)
            expect(pointOf(kept, k, jointIndex('leftHip'))).not.toBeNull()
          }
        },
      ),
    )
  })

  test('stays where the coach set it', () => {
    const track = standing(24, () => 3)
    const set = withCorrections(track, [{ frame: 5, joint: knee, x: 138, y: 250 }], 0)
    expect(pointOf(withoutLongLegs(set), 5, knee)).not.toBeNull()
  })
})

describe('points set by hand', () => {
  test('stand exactly where they were set; their shift fades out, and other joints stay', () => {
    const track = walking(10)
    const knee = jointIndex('leftKnee')
    const moved = withCorrections(track, [{ frame: 8, joint: knee, x: 300, y: 70 }], 8)
    expect(pointOf(moved, 4, knee)).toMatchObject({ x: 300, y: 70, score: 1 })
    const shift = 300 - pointOf(track, 4, knee)!.x
    expect(pointOf(moved, 5, knee)!.x - pointOf(track, 5, knee)!.x).toBeCloseTo(shift * 0.75, 3)
    expect(pointOf(moved, 0, knee)).toEqual(pointOf(track, 0, knee))
    expect(pointOf(moved, 4, knee + 1)).toEqual(pointOf(track, 4, knee + 1))
  })

  test('on a frame that was not read they stand alone; the other joints are gaps there', () => {
    const moved = withCorrections(walking(3), [{ frame: 3, joint: 5, x: 1, y: 2 }], 4)
    expect(Array.from(moved.frames)).toEqual([0, 2, 3, 4])
    expect(pointOf(moved, 2, 5)).toMatchObject({ x: 1, y: 2 })
    expect(pointOf(moved, 2, 6)).toBeNull()
  })

  test('a low score is a gap', () => {
    const track = walking(1)
    track.points[2] = 0.1
    expect(pointOf(track, 0, 0)).toBeNull()
  })

  test('two readings are one, the later counting', () => {
    const later = walking(2, 5)
    const whole = mergeTracks(walking(4), { ...later, frames: Int32Array.from([2, 3]) })
    expect(Array.from(whole.frames)).toEqual([0, 2, 3, 4, 6])
    expect(pointOf(whole, 1, 0)).toEqual(pointOf(later, 0, 0))
  })
})

describe('a smooth value of a noisy path', () => {
  test('a parabola comes out exactly, with its slope, at uneven times', () => {
    const times = [0, 0.01, 0.03, 0.035, 0.05, 0.07, 0.08, 0.1]
    const fit = localFit(
      times,
      times.map((t) => 3 + 2 * t - 40 * t * t),
      0.05,
      0.06,
    )!
    expect(fit.value).toBeCloseTo(3 + 0.1 - 0.1, 9)
    expect(fit.slope).toBeCloseTo(2 - 4, 9)
  })

  test('one wild point changes next to nothing', () => {
    const times = Array.from({ length: 21 }, (_, i) => i / 200)
    const values = times.map((t, i) => 5 + t + 0.01 * Math.sin(i * 7))
    const plain = localFit(times, values, 0.05, 0.05)!
    const wild = localFit(
      times,
      values.map((v, i) => (i === 11 ? v + 50 : v)),
      0.05,
      0.05,
    )!
    expect(Math.abs(wild.value - plain.value)).toBeLessThan(0.01)
  })

  test('nothing is carried beyond the data, or over gaps', () => {
    expect(localFit([0, 1, 2, 3], [1, 2, 3, 4], 3.5, 2)).toBeNull()
    expect(localFit([0, 1, 2, 3], [1, NaN, NaN, 4], 1.5, 2)).toBeNull()
  })
})

describe('the frames that are read', () => {
  const times = (rate: number) => ({
    atSeconds: Float64Array.from({ length: 3 * rate }, (_, i) => i / rate),
    playbackRate: rate,
    captureRate: rate,
  })
  const moments = (rate: number) =>
    Object.entries({ setup: 0.4, takeaway: 0.5, top: 1.3, impact: 1.57, finish: 2.2 }).map(([name, s]) => ({
      name,
      frame: Math.round(s * rate),
    }))

  test.each([30, 60, 240])(
    'at %i frames/s: at most 120, within the swing, with every moment, dense at impact',
    (rate) => {
      const frames = framesToRead(
        { fromFrame: 0, toFrame: 3 * rate - 1, moments: moments(rate) },
        times(rate),
      )
      expect(frames.length).toBeLessThanOrEqual(120)
      for (const { frame } of moments(rate)) expect(frames).toContain(frame)
      const near = Array.from(frames).filter((f) => Math.abs(f / rate - 1.57) <= 0.05).length
      expect(near).toBeGreaterThanOrEqual(Math.min(0.1 * rate, 11) - 1)
      expect([...frames]).toEqual([...new Set(frames)].sort((a, b) => a - b))
    },
  )

  test('without moments evenly over the range', () => {
    const frames = framesToRead({ fromFrame: 10, toFrame: 209, moments: [] }, times(240))
    expect([frames.length, frames[0], frames.at(-1)]).toEqual([80, 10, 209])
  })
})
