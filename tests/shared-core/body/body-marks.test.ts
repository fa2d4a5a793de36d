import { describe, expect, test } from 'vitest'
import { swingMotion, type SwingSpec } from '../../../demo-media/swing-motion.ts'
import { handMarks, withinFrames, type ViewMoment } from '../../../shared-core/body/body-marks.ts'
import { bodyMeasures } from '../../../shared-core/body/body-measures.ts'
import { shiftFields, type BodyTrack } from '../../../shared-core/body/body-track.ts'
import { jointCount, jointIndex, type JointName } from '../../../shared-core/body/joints.ts'
import { tempoMeasures } from '../../../shared-core/swing-measures/tempo-measures.ts'
import { chanceFrom, normal } from '../moments/synthetic-sound.ts'

const spec: SwingSpec = {
  club: 'driver',
  clubSpeedMps: 41,
  backswingSeconds: 0.84,
  downswingSeconds: 0.27,
  leadKneeAtImpactDeg: 168,
  braceBeforeImpactSeconds: 0.05,
  pelvisShiftM: 0.1,
  pelvisSlideM: 0.005,
  upperBodyDriftM: 0.02,
  shoulderTension: 0.3,
  ballSpeedMps: 60,
  launchDeg: 13,
  launchDirectionDeg: 0,
}
const motion = swingMotion(spec)
const truth = motion.moments
const leadIn = 0.6

type Joints = ReturnType<typeof motion.jointsAt>

/**
 * The figure's own joints as a model would give them, face on (or from down the line) at 160 pixels a metre, off by about a centimetre; a
 * left-handed player is the mirror picture. `change` alters the joints before they are filmed.
 */
const filmed = (
  rate: number,
  how: {
    isLeftHanded?: boolean
    isDownTheLine?: boolean
    motion?: typeof motion
    jointsAt?: (t: number) => Joints
    /** Share of the frames on which the lead wrist is laid upon the trail elbow, round the top. */
    strays?: boolean
  } = {},
) => {
  const chance = chanceFrom(7)
  const { isLeftHanded = false, isDownTheLine = false, jointsAt = motion.jointsAt } = how
  const own = how.motion ?? motion
  const truth = own.moments
  const count = Math.ceil((leadIn + truth.finish + 0.4) * rate)
  const points = new Float32Array(count * jointCount * 3)
  const places: [JointName, (j: Joints) => readonly number[]][] = [
    ['leftEar', (j) => j.head],
    ['rightEar', (j) => j.head],
    ['leftShoulder', (j) => j.leadShoulder],
    ['rightShoulder', (j) => j.trailShoulder],
    ['leftElbow', (j) => j.leadElbow],
    ['rightElbow', (j) => j.trailElbow],
    ['leftWrist', (j) => j.leadHand],
    ['rightWrist', (j) => j.trailHand],
    ['leftHip', (j) => j.leadHip],
    ['rightHip', (j) => j.trailHip],
    ['leftKnee', (j) => j.leadKnee],
    ['rightKnee', (j) => j.trailKnee],
    ['leftAnkle', (j) => j.leadAnkle],
    ['rightAnkle', (j) => j.trailAnkle],
  ]
  for (let k = 0; k < count; k++) {
    const t = k / rate - leadIn
    const joints = jointsAt(t)
    const isStray = how.strays === true && Math.abs(t - truth.top) < 0.12
    for (const [name, of] of places) {
      const [x, y, z] = (isStray && name === 'leftWrist' ? joints.trailElbow : of(joints)) as [
        number,
        number,
        number,
      ]
      const across = isDownTheLine ? z : isLeftHanded ? -x : x
      const at = [400 + 160 * across + 1.5 * normal(chance), 300 - 160 * y + 1.5 * normal(chance), 0.8]
      const joint = isLeftHanded ? name.replace(/left|right/, (s) => (s === 'left' ? 'right' : 'left')) : name
      points.set(at, (k * jointCount + jointIndex(joint as JointName)) * 3)
    }
  }
  const frameOf = (t: number) => Math.floor((t + leadIn) * rate)
  return {
    track: { frames: Int32Array.from({ length: count }, (_, i) => i), points },
    times: {
      atSeconds: Float64Array.from({ length: count }, (_, i) => i / rate),
      playbackRate: rate,
      captureRate: rate,
    },
    frameOf,
    side: isLeftHanded ? ('left' as const) : ('right' as const),
    tiltDeg: 0,
  }
}
const mark = (name: string, frame: number, how = 'motion'): ViewMoment => ({
  name,
  frame,
  how,
  isConfirmed: false,
})

const handsOf = ({ leadHand, trailHand }: Joints) => ({ leadHand, trailHand })

describe('moments from the hands’ way', () => {
  test.each([60, 240])('top and takeaway are those of the figure, at %i frames/s', (rate) => {
    const film = filmed(rate)
    // What the motion said is off by 50 and 40 ms.
    const moments = [
      mark('takeaway', film.frameOf(0.05)),
      mark('top', film.frameOf(truth.top - 0.04)),
      mark('impact', film.frameOf(truth.impact), 'sound'),
    ]
    const found = handMarks({ ...film, moments })
    const late = film.frameOf(truth.impact) / rate - leadIn
    const at = (name: string) => found.find((m) => m.name === name)!.atSeconds + late
    expect(Math.abs(at('top') - truth.top)).toBeLessThan(0.018)
    expect(Math.abs(at('takeaway'))).toBeLessThan(0.03)
    for (const { confidence, sdSeconds } of found) {
      expect(confidence).toBeGreaterThan(0.5)
      expect(sdSeconds).toBeGreaterThan(0.002)
    }
  })

  test.each([
    ['a left-handed player', { isLeftHanded: true }],
    ['a lead wrist that the model lays on the other elbow round the top', { strays: true }],
    ['both at once', { isLeftHanded: true, strays: true }],
  ])('%s: the same top and takeaway', (_, how) => {
    const film = filmed(120, how)
    const found = handMarks({ ...film, moments: [mark('impact', film.frameOf(truth.impact), 'sound')] })
    const late = film.frameOf(truth.impact) / 120 - leadIn
    const at = (name: string) => found.find((m) => m.name === name)!.atSeconds + late
    expect(Math.abs(at('top') - truth.top)).toBeLessThan(0.018)
    expect(Math.abs(at('takeaway'))).toBeLessThan(0.03)
  })

  test('hands that press toward the target first leave when they go back, not when they press', () => {
    const ramp = (share: number) =>
      Math.min(1, Math.max(0, share)) ** 2 * (3 - 2 * Math.min(1, Math.max(0, share)))
    const pressed = (t: number) => (t < 0 ? ramp((t + 0.35) / 0.25) : 1 - ramp(t / 0.25))
    const film = filmed(120, {
      jointsAt: (t) => {
        const posture = motion.postureAt(t)
        return motion.jointsOf({ ...posture, armDeg: posture.armDeg - 5 * pressed(t) })
      },
    })
    const found = handMarks({ ...film, moments: [mark('impact', film.frameOf(truth.impact), 'sound')] })
    const late = film.frameOf(truth.impact) / 120 - leadIn
    const takeaway = found.find((m) => m.name === 'takeaway')!
    expect(Math.abs(takeaway.atSeconds + late)).toBeLessThan(0.04)
  })

  test('a wide way back, as far from the strike as the top long before it, is not the top', () => {
    // Hands that swing out wide and come in again on their way up.
    const wide = (t: number) => 0.35 * Math.exp(-(((t - 0.55) / 0.15) ** 2))
    const film = filmed(120, {
      jointsAt: (t) => {
        const joints = motion.jointsAt(t)
        const out = ([x, y, z]: Joints['leadHand']): Joints['leadHand'] => [x - wide(t), y, z]
        return { ...joints, leadHand: out(joints.leadHand), trailHand: out(joints.trailHand) }
      },
    })
    const found = handMarks({ ...film, moments: [mark('impact', film.frameOf(truth.impact), 'sound')] })
    const late = film.frameOf(truth.impact) / 120 - leadIn
    expect(Math.abs(found.find((m) => m.name === 'top')!.atSeconds + late - truth.top)).toBeLessThan(0.02)
  })

  test('from down the line arms and shoulders tell the takeaway, and the motion’s mark counts for more', () => {
    const film = filmed(120, { isDownTheLine: true })
    const moments = [
      mark('takeaway', film.frameOf(0.03)),
      mark('impact', film.frameOf(truth.impact), 'sound'),
    ]
    const late = film.frameOf(truth.impact) / 120 - leadIn
    const [alone, both] = [moments.slice(1), moments].map((known) =>
      handMarks({ ...film, moments: known }).find((m) => m.name === 'takeaway')!,
    )
    expect(Math.abs(alone!.atSeconds + late)).toBeLessThan(0.08)
    expect(alone!.sdSeconds).toBeGreaterThan(0.05)
    expect(Math.abs(both!.atSeconds + late)).toBeLessThan(0.04)
    expect(both!.sdSeconds).toBeLessThan(alone!.sdSeconds)
  })

  test('a top whose places err by centimetres for a while is told by how the hands go from frame to frame', () => {
    const film = filmed(120)
    const { frames } = film.track
    const points = film.track.points.slice()
    // The model lays both wrists up to 6 cm too high from just after the turn: as if the hands went on back.
    const wrists = [jointIndex('leftWrist'), jointIndex('rightWrist')]
    const secondOf = (frame: number) => frame / 120 - leadIn
    frames.forEach((frame, k) => {
      const s = secondOf(frame) - truth.top
      const off = 10 * Math.exp(-(((s - 0.05) / 0.05) ** 2))
      for (const wrist of wrists) points[(k * jointCount + wrist) * 3 + 1]! -= off
    })
    // Its own way, four in five of it, as far as hands are slow enough to be followed.
    const shifts = new Float32Array(frames.length * shiftFields).fill(NaN)
    const placeAt = (t: number) => {
      const { leadHand, trailHand } = motion.jointsAt(t)
      return [80 * (leadHand[0] + trailHand[0]), -80 * (leadHand[1] + trailHand[1])] as const
    }
    frames.forEach((frame, k) => {
      if (k === 0) return
      const [a, b] = [placeAt(secondOf(frame - 1)), placeAt(secondOf(frame))]
      const [x, y] = [0.8 * (b[0] - a[0]), 0.8 * (b[1] - a[1])]
      if (Math.hypot(x, y) < 10) shifts.set([1, x, y, 0.1, 0.1], k * shiftFields)
    })
    const moments = [mark('impact', film.frameOf(truth.impact))]
    const topOf = (track: BodyTrack) => {
      const top = handMarks({ ...film, track, moments }).find((m) => m.name === 'top')!
      return { ...top, error: top.atSeconds - (truth.top - truth.impact) }
    }
    const [byPlaces, byBoth] = [topOf({ frames, points }), topOf({ frames, points, shifts })]
    expect(Math.abs(byPlaces.error)).toBeGreaterThan(0.02)
    expect(Math.abs(byBoth.error)).toBeLessThan(0.012)
    expect(byBoth.sdSeconds).toBeLessThan(byPlaces.sdSeconds)
  })

  test('hands that the model does not follow tell nothing', () => {
    const film = filmed(120, { jointsAt: (t) => ({ ...motion.jointsAt(t), ...handsOf(motion.jointsAt(0)) }) })
    const found = handMarks({ ...film, moments: [mark('impact', film.frameOf(truth.impact), 'sound')] })
    expect(found).toEqual([])
  })

  test('tempo counts within the frame, and says a smaller error than by motion alone', () => {
    const rate = 60
    const film = filmed(rate)
    const impact = mark('impact', film.frameOf(truth.impact), 'sound')
    const found = handMarks({ ...film, moments: [impact] })
    const byBody = ['takeaway', 'top'].map((name) => {
      const { atSeconds } = found.find((m) => m.name === name)!
      return mark(name, impact.frame + Math.round(atSeconds * rate), 'body')
    })
    const moments = [...byBody, impact].map((m) => ({ ...m, how: m.how!, isConfirmed: false }))
    const within = withinFrames({ ...film, moments })
    const { tempoRatio } = tempoMeasures(moments, film.times, 'file', within)
    const alone = tempoMeasures(
      moments.map((m) => ({ ...m, how: m.how === 'body' ? 'motion' : m.how })),
      film.times,
      'file',
    )
    expect(Math.abs(tempoRatio!.value - truth.top / (truth.impact - truth.top))).toBeLessThan(0.2)
    expect(tempoRatio!.sd).toBeLessThan(0.6 * alone.tempoRatio!.sd)
  })

  test('what the coach marked is neither moved nor told anew', () => {
    const film = filmed(60)
    const moments = [
      mark('takeaway', 20, 'coach'),
      { ...mark('top', 80), isConfirmed: true },
      mark('impact', film.frameOf(truth.impact), 'sound'),
    ]
    const proposed = handMarks({ ...film, moments }).map((m) => m.name)
    expect(proposed.filter((name) => name !== 'finish')).toEqual([])
    expect(withinFrames({ ...film, moments })).toEqual({})
  })

  /** When the figure's hips have slowed down to half of their fastest toward the target. */
  const slowsAt = (own: typeof motion): number => {
    const hips = (t: number) => (own.jointsAt(t).leadHip[0] + own.jointsAt(t).trailHip[0]) / 2
    const speed = (t: number) => (hips(t + 0.002) - hips(t - 0.002)) / 0.004
    const from = own.moments.top - 0.2
    const times = Array.from({ length: 300 }, (_, i) => from + i * 0.002)
    const most = Math.max(...times.map(speed))
    return times.filter((t) => t < own.moments.impact && speed(t) > most / 2).at(-1)!
  }

  const bodyMoments = (film: ReturnType<typeof filmed>, own: typeof motion) => {
    const impact = film.frameOf(own.moments.impact)
    const { moments } = bodyMeasures({
      ...film,
      moments: [
        mark('takeaway', film.frameOf(0), 'coach'),
        mark('top', film.frameOf(own.moments.top), 'coach'),
        mark('impact', impact),
      ],
      camera: 'face-on',
      pixelsPerMeter: null,
    })
    const late = impact / 240 - leadIn
    const at = (name: string) => moments.find((m) => m.name === name)!.atSeconds + late
    return { at, moments }
  }

  test('brace and release lie where the figure’s are; without an impact nothing is told', () => {
    const film = filmed(240)
    const { at } = bodyMoments(film, motion)
    expect(Math.abs(at('brace') - slowsAt(motion))).toBeLessThan(0.03)
    expect(Math.abs(at('release') - truth.release)).toBeLessThan(0.03)
    expect(handMarks({ ...film, moments: [] })).toEqual([])
  })

  test('an early brace is told early, a late one late: the hips say it, no habit', () => {
    for (const braceBeforeImpactSeconds of [0.11, 0.01]) {
      const own = swingMotion({ ...spec, braceBeforeImpactSeconds, pelvisSlideM: 0.002 })
      const { at } = bodyMoments(filmed(240, { motion: own, jointsAt: own.jointsAt }), own)
      expect(Math.abs(at('brace') - slowsAt(own))).toBeLessThan(0.03)
    }
  })

  test('a club that goes through slower is released later', () => {
    const { impact } = truth
    const slower = (t: number) => (t < impact ? t : impact + 0.7 * (t - impact))
    const film = filmed(240, { jointsAt: (t) => motion.jointsAt(slower(t)) })
    const later = impact + (truth.release - impact) / 0.7
    expect(Math.abs(bodyMoments(film, motion).at('release') - later)).toBeLessThan(0.03)
  })
})
