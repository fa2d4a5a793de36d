import { describe, expect, it } from 'vitest'
import type { BodyTrack } from '../../../shared-core/body/body-track.ts'
import { carrierOf } from '../../../shared-core/body/carrier.ts'
import { jointCount, jointIndex, type JointName } from '../../../shared-core/body/joints.ts'
import { carry } from '../../../shared-core/following/carry.ts'
import { placeOn, trackOf, type FollowMark } from '../../../shared-core/following/followed-track.ts'
import type { Point } from '../../../shared-core/geometry/point.ts'

const captureRate = 120
const frames = 120
const range = { first: 0, last: frames - 1, captureRate }
/** Hips to ankles, pixels: 0.75 m. */
const leg = 150
const perMeter = leg / 0.75

const angleAt = (frame: number): number => 0.3 + 2.4 * Math.sin(frame / 38)
/** Hands that go round the shoulders at 0.62 m. */
const handsAt = (frame: number): Point => ({
  x: 300 + 0.62 * perMeter * Math.sin(angleAt(frame)),
  y: 150 + 0.62 * perMeter * Math.cos(angleAt(frame)),
})

/** Both arms and the legs as a model would give them, every third frame; `change` moves or hides a joint (null) on a frame. */
const bodyOf = (
  change: (joint: JointName, frame: number, at: Point) => Point | null = (_, __, p) => p,
): BodyTrack => {
  const read = Array.from({ length: frames / 3 }, (_, k) => 3 * k)
  const points = new Float32Array(read.length * jointCount * 3)
  read.forEach((frame, k) => {
    const hands = handsAt(frame)
    const [s, c] = [Math.sin(angleAt(frame)), Math.cos(angleAt(frame))]
    const put = (joint: JointName, at: Point) => {
      const own = change(joint, frame, at)
      points.set(own ? [own.x, own.y, 0.7] : [at.x, at.y, 0.1], (k * jointCount + jointIndex(joint)) * 3)
    }
    for (const [side, off] of [
      ['left', -3],
      ['right', 3],
    ] as const) {
      // A wrist 9 cm before the hand's middle, an elbow 25 cm before the wrist.
      put(`${side}Wrist`, { x: hands.x - 0.093 * perMeter * s + off, y: hands.y - 0.093 * perMeter * c })
      put(`${side}Elbow`, { x: hands.x - 0.343 * perMeter * s + off, y: hands.y - 0.343 * perMeter * c })
      put(`${side}Hip`, { x: 300 + off * 6, y: 260 })
      put(`${side}Ankle`, { x: 300 + off * 6, y: 260 + leg })
    }
  })
  return { frames: Int32Array.from(read), points }
}

const mark: FollowMark = { frame: 6, ...handsAt(6) }
/** Found by its look up to the 30th frame; then lost, or slid along the arm by so many metres. */
const looked = (slidM?: number) => {
  const places = Array.from({ length: slidM === undefined ? 31 : 70 }, (_, frame) => {
    const { x, y } = handsAt(frame)
    const slid = slidM !== undefined && frame > 30 ? slidM * perMeter : 0
    return {
      frame,
      x: x - slid * Math.sin(angleAt(frame)),
      y: y - slid * Math.cos(angleAt(frame)),
      errorPx: 0.4,
    }
  })
  const lost =
    slidM === undefined ? [{ frame: 31, why: 'changed' as const }] : [{ frame: 70, why: 'unsure' as const }]
  return { track: trackOf(places), lost }
}

const carried = (
  body: BodyTrack,
  followed: ReturnType<typeof looked>,
  marks: readonly FollowMark[] = [mark],
) => carry(followed, carrierOf('hands', body, marks, captureRate)!, marks, range)

const offM = (track: ReturnType<typeof carried>['track'], frame: number): number => {
  const place = placeOn(track, frame)!
  const real = handsAt(frame)
  return Math.hypot(place.x - real.x, place.y - real.y) / perMeter
}

describe('hands whose look changes', () => {
  it('are carried by the arms from where they were lost, said with the arms’ error', () => {
    const { track, lost } = carried(bodyOf(), looked())
    // The 117th is the last that was read.
    expect(lost).toEqual([{ frame: 118, why: 'changed' }])
    for (let frame = 31; frame <= 117; frame++) {
      expect(offM(track, frame)).toBeLessThan(0.02)
      expect(placeOn(track, frame)!.errorPx / perMeter).toBeCloseTo(0.03, 2)
    }
    // Where they were seen nothing was changed.
    for (let frame = 0; frame <= 30; frame++) expect(placeOn(track, frame)!.errorPx).toBeCloseTo(0.4, 5)
  })

  it('are let go where what was found slid along the arm', () => {
    const { track } = carried(bodyOf(), looked(0.2))
    for (let frame = 34; frame < 100; frame++) expect(offM(track, frame)).toBeLessThan(0.04)
    // The same without the arms is 20 cm off.
    expect(offM(looked(0.2).track, 60)).toBeGreaterThan(0.19)
  })

  it('stay where the coach marked them, whatever the arms say', () => {
    const far = { frame: 60, x: 500, y: 400 }
    const followed = looked()
    const track = trackOf([
      ...Array.from(followed.track.frames, (frame) => ({ frame, ...placeOn(followed.track, frame)! })),
      { ...far, errorPx: 0.25 },
    ])
    const result = carried(bodyOf(), { track, lost: [] }, [mark, far])
    expect(placeOn(result.track, 60)).toMatchObject({ x: 500, y: 400 })
  })

  it('are not carried by one arm that strays, nor by arms that disagree', () => {
    const stray = bodyOf((joint, frame, at) =>
      frame !== 60 || /Hip|Ankle/.test(joint)
        ? at
        : joint.startsWith('left')
          ? null
          : { x: at.x + 0.4 * perMeter, y: at.y },
    )
    expect(offM(carried(stray, looked()).track, 60)).toBeLessThan(0.05)
    const torn = bodyOf((joint, frame, at) =>
      frame === 60 && joint.startsWith('left') && !/Hip|Ankle/.test(joint)
        ? { x: at.x + 0.4 * perMeter, y: at.y }
        : at,
    )
    expect(offM(carried(torn, looked()).track, 60)).toBeLessThan(0.05)
  })

  it('are lost, with the frame and the reason, where the arms were not found either', () => {
    const gap = bodyOf((joint, frame, at) =>
      frame > 50 && frame < 90 && /Wrist|Elbow/.test(joint) ? null : at,
    )
    const { track, lost } = carried(gap, looked())
    const firstMissing = Array.from({ length: frames }, (_, f) => f).find((f) => !placeOn(track, f))
    expect(lost).toEqual([{ frame: firstMissing, why: 'changed' }])
    expect(firstMissing).toBe(49)
    expect(placeOn(track, 70)).toBeNull()
    expect(placeOn(track, 95)).not.toBeNull()
  })

  it('have no carrier without a body, and a club head has none with one', () => {
    const none: BodyTrack = { frames: new Int32Array(0), points: new Float32Array(0) }
    expect(carrierOf('hands', none, [mark], captureRate)).toBeNull()
    expect(carrierOf('club head', bodyOf(), [mark], captureRate)).toBeNull()
  })
})

describe('a belt', () => {
  it('goes with the hips, as far from their middle as it was marked', () => {
    const belt = { frame: 0, x: 300, y: 240 }
    const moving = bodyOf((joint, frame, at) =>
      joint.endsWith('Hip') ? { x: at.x + frame / 4, y: at.y } : at,
    )
    const followed = {
      track: trackOf([{ ...belt, errorPx: 0.25 }]),
      lost: [{ frame: 1, why: 'unsure' as const }],
    }
    const { track } = carry(followed, carrierOf('belt', moving, [belt], captureRate)!, [belt], range)
    expect(placeOn(track, 100)!.x).toBeCloseTo(325, 0)
    expect(placeOn(track, 100)!.y).toBeCloseTo(240, 0)
  })
})
