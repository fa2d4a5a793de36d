import { describe, expect, test } from 'vitest'
import { capturedSwing } from '../../../demo-media/captured-swing.ts'
import { swingMotion, type Joints, type SwingMoments } from '../../../demo-media/swing-motion.ts'
import {
  doubtedImpact,
  framesToLook,
  isOpenToHands,
  momentsByReturn,
  returnInView,
  weighImpact,
  type ToldImpact,
} from '../../../shared-core/body/impact-by-hands.ts'
import { jointCount, jointIndex, type JointName } from '../../../shared-core/body/joints.ts'
import type { ClipTimes } from '../../../shared-core/timing/clip-clock.ts'
import { chanceFrom, normal } from '../moments/synthetic-sound.ts'

const figure = swingMotion({
  club: '7-iron',
  clubSpeedMps: 35,
  backswingSeconds: 0.84,
  downswingSeconds: 0.27,
  leadKneeAtImpactDeg: 168,
  braceBeforeImpactSeconds: 0.05,
  pelvisShiftM: 0.1,
  pelvisSlideM: 0.005,
  upperBodyDriftM: 0.02,
  shoulderTension: 0.3,
  ballSpeedMps: 50,
  launchDeg: 17,
  launchDirectionDeg: 0,
})
/** A real player's motion capture; its impact is known to ± 25 ms (data of mocap.cs.cmu.edu, see demo-media/captured-swing.ts). */
const captured = capturedSwing(1.5)
const leadIn = 0.8

const joints: readonly [JointName, keyof Joints][] = [
  ['leftShoulder', 'leadShoulder'],
  ['rightShoulder', 'trailShoulder'],
  ['leftElbow', 'leadElbow'],
  ['rightElbow', 'trailElbow'],
  ['leftWrist', 'leadHand'],
  ['rightWrist', 'trailHand'],
  ['leftHip', 'leadHip'],
  ['rightHip', 'trailHip'],
  ['leftKnee', 'leadKnee'],
  ['rightKnee', 'trailKnee'],
  ['leftAnkle', 'leadAnkle'],
  ['rightAnkle', 'trailAnkle'],
]

/** A player's own joints as a model would give them, off by a centimetre, on every frame of a film. */
const filmed = (
  { moments, jointsAt }: { moments: SwingMoments; jointsAt: (t: number) => Joints },
  rate: number,
  how: { isDownTheLine?: boolean; panPxPerS?: number; untilSeconds?: number; shownSlower?: number } = {},
) => {
  const chance = chanceFrom(11)
  const count = Math.ceil((leadIn + (how.untilSeconds ?? moments.finish + 0.3)) * rate)
  const points = new Float32Array(count * jointCount * 3)
  for (let k = 0; k < count; k++) {
    const t = k / rate - leadIn
    const now = jointsAt(t)
    for (const [name, of] of joints) {
      const [x, y, z] = now[of]
      const across = (how.isDownTheLine ? z : x) + ((how.panPxPerS ?? 0) * t) / 160
      const at = [400 + 160 * across + 1.5 * normal(chance), 300 - 160 * y + 1.5 * normal(chance), 0.8]
      points.set(at, (k * jointCount + jointIndex(name)) * 3)
    }
  }
  const playbackRate = rate / (how.shownSlower ?? 1)
  const times: ClipTimes = {
    atSeconds: Float64Array.from({ length: count }, (_, i) => i / playbackRate),
    playbackRate,
    captureRate: playbackRate,
  }
  const track = { frames: Int32Array.from({ length: count }, (_, i) => i), points }
  return {
    ...{ track, times, side: 'right' as const, tiltDeg: 0, isRateGuessed: how.shownSlower !== undefined },
    view: { fromFrame: 0, toFrame: count - 1 },
    struck: Math.floor((leadIn + moments.impact) * rate),
    struckSeconds: leadIn + moments.impact,
  }
}

const told = (frame: number, how: string, confidence: number): ToldImpact => ({
  ...{ name: 'impact', frame, how, confidence, isConfirmed: false },
})
const mute = { isBallSeen: false, isSoundRecorded: false }

describe('the hands’ return to the ball', () => {
  test.each([15, 30, 60, 120, 240])(
    'is within a frame or 10 ms of the figure’s strike at %i frames/s',
    (rate) => {
      const film = filmed(figure, rate)
      const seen = returnInView(film, film.view)!
      const error = Math.abs(seen.atSeconds - film.struckSeconds)
      expect(error).toBeLessThan(Math.max(0.01, rate < 60 ? 0.5 / rate : 0))
      expect(error).toBeLessThan(2 * seen.sdSeconds)
      expect(seen.isThrough).toBe(true)
      expect(Math.abs(seen.topSeconds - leadIn - figure.moments.top)).toBeLessThan(0.1)
    },
  )

  test('is told with an error that holds for a real player, who brings his hands 10 cm ahead', () => {
    const film = filmed(captured, 120)
    const seen = returnInView(film, film.view)!
    expect(Math.abs(seen.atSeconds - film.struckSeconds)).toBeLessThan(Math.min(0.03, 2.5 * seen.sdSeconds))
  })

  test('is told from down the line, too, less surely', () => {
    const [side, behind] = [filmed(figure, 60), filmed(figure, 60, { isDownTheLine: true })]
    const seen = returnInView(behind, behind.view)!
    expect(seen.sdSeconds).toBeGreaterThan(returnInView(side, side.view)!.sdSeconds)
    expect(Math.abs(seen.atSeconds - behind.struckSeconds)).toBeLessThan(2 * seen.sdSeconds)
  })

  test('a camera that turns does not move it', () => {
    const [still, turning] = [filmed(figure, 60), filmed(figure, 60, { panPxPerS: 60 })]
    const [one, other] = [returnInView(still, still.view)!, returnInView(turning, turning.view)!]
    expect(Math.abs(one.atSeconds - other.atSeconds)).toBeLessThan(0.004)
  })

  test('is found in footage shown slower than life by nobody knows how much', () => {
    const film = filmed(figure, 120, { shownSlower: 4 })
    const seen = returnInView(film, film.view)!
    expect(seen.times.captureRate).toBe(120)
    const impact = momentsByReturn([], seen).find((m) => m.name === 'impact')!
    expect(Math.abs(impact.frame - film.struck)).toBeLessThanOrEqual(1)
  })

  test.each([-0.06, -0.02])('there is none where the film ends %d s from impact', (after) => {
    const film = filmed(figure, 60, { untilSeconds: figure.moments.impact + after })
    expect(returnInView(film, film.view)).toBeNull()
  })

  test('a first look at three seconds meets it with a third of the frames', () => {
    const film = filmed(figure, 60)
    const frames = framesToLook(film.view, film.times)
    expect(frames.length).toBeLessThan(film.view.toFrame / 2)
    const points = Float32Array.from(
      Array.from(frames).flatMap((f) =>
        Array.from(film.track.points.subarray(f * jointCount * 3, (f + 1) * jointCount * 3)),
      ),
    )
    const seen = returnInView({ ...film, track: { frames, points } }, film.view)!
    expect(Math.abs(seen.atSeconds - film.struckSeconds)).toBeLessThan(0.03)
  })
})

describe('an impact weighed with the hands’ return', () => {
  const film = filmed(figure, 60)
  const seen = returnInView(film, film.view)!

  test('moves to the return where a mute film’s motion told another place', () => {
    const found = weighImpact(seen, told(film.struck - 20, 'motion', 0.3), mute)!
    expect(Math.abs(found.frame - film.struck)).toBeLessThanOrEqual(1)
    expect(found).toMatchObject({ how: 'body' })
    expect(found.confidence).toBeGreaterThan(0.6)
    expect(found.confidence).toBeLessThanOrEqual(0.85)
  })

  test('stays below a half where the film’s sound holds no strike: a swish returns like one', () => {
    expect(weighImpact(seen, undefined, { ...mute, isSoundRecorded: true })).toBeNull()
    const found = weighImpact(seen, told(film.struck, 'motion', 0.35), { ...mute, isSoundRecorded: true })!
    expect(found.confidence).toBeLessThan(0.5)
  })

  test('a sound at the return makes the strike surer than return or sound alone, and stays on its frame', () => {
    const sounding = { ...mute, isSoundRecorded: true }
    const found = weighImpact(seen, told(film.struck, 'sound', 0.42), sounding)!
    expect(found).toMatchObject({ frame: film.struck, confidence: 0.9 })
    // A neighbour's bang a third of a second away is not the strike.
    const bang = weighImpact(seen, told(film.struck + 20, 'sound', 0.42), sounding)!
    expect(Math.abs(bang.frame - film.struck)).toBeLessThanOrEqual(1)
    expect(bang.confidence).toBeLessThan(found.confidence)
  })

  test('is offered where none was told, only after the hands went through', () => {
    expect(weighImpact(seen, undefined, mute)!.confidence).toBeGreaterThan(0.6)
    expect(weighImpact({ ...seen, isThrough: false }, undefined, mute)).toBeNull()
  })

  test('is doubted where the hands are still up and no return is seen: the film ends before the strike', () => {
    const short = filmed(figure, 60, { untilSeconds: figure.moments.impact - 0.05 })
    const bang = Math.round((leadIn + figure.moments.top + 0.08) * 60)
    expect(doubtedImpact(short, told(bang, 'sound', 0.7))!.confidence).toBeLessThan(0.25)
    // At the ball they hang low, wherever they come from.
    expect(doubtedImpact(film, told(film.struck, 'sound', 0.7))).toBeNull()
    expect(doubtedImpact(film, told(5, 'sound', 0.7))).toBeNull()
  })

  test('at 240 frames/s the frame is told less surely than at 30: the hands say ± 7 ms', () => {
    const of = (rate: number) => {
      const own = filmed(figure, rate)
      return weighImpact(returnInView(own, own.view)!, undefined, mute)?.confidence ?? 0.46
    }
    expect(of(30)).toBeGreaterThan(of(240) + 0.1)
  })

  test('is left alone where a coach marked it, ball and sound tell it well, or the body has told it', () => {
    expect(isOpenToHands(undefined)).toBe(true)
    expect(isOpenToHands(told(5, 'motion', 0.4))).toBe(true)
    expect(isOpenToHands(told(5, 'sound+motion', 0.9))).toBe(false)
    expect(isOpenToHands(told(5, 'coach', 0.4))).toBe(false)
    expect(isOpenToHands({ ...told(5, 'motion', 0.4), isConfirmed: true })).toBe(false)
    expect(isOpenToHands(told(5, 'body', 0.4))).toBe(false)
  })
})
