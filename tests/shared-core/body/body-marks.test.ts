import { describe, expect, test } from 'vitest'
import { swingMotion } from '../../../demo-media/swing-motion.ts'
import { handMarks, withinFrames, type ViewMoment } from '../../../shared-core/body/body-marks.ts'
import { bodyMeasures } from '../../../shared-core/body/body-measures.ts'
import { jointCount, jointIndex, type JointName } from '../../../shared-core/body/joints.ts'
import { tempoMeasures } from '../../../shared-core/swing-measures/tempo-measures.ts'
import { chanceFrom, normal } from '../moments/synthetic-sound.ts'

const motion = swingMotion({
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
})
const truth = motion.moments
const leadIn = 0.6

/** The figure's own joints as a model would give them, face on at 160 pixels a metre, off by about a centimetre. */
const filmed = (rate: number) => {
  const chance = chanceFrom(7)
  const count = Math.ceil((leadIn + truth.finish + 0.4) * rate)
  const points = new Float32Array(count * jointCount * 3)
  const places: [JointName, (j: ReturnType<typeof motion.jointsAt>) => readonly number[]][] = [
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
    const joints = motion.jointsAt(k / rate - leadIn)
    for (const [name, of] of places) {
      const [x, y] = of(joints) as [number, number]
      const at = [400 + 160 * x + 1.5 * normal(chance), 300 - 160 * y + 1.5 * normal(chance), 0.8]
      points.set(at, (k * jointCount + jointIndex(name)) * 3)
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
    side: 'right' as const,
    tiltDeg: 0,
  }
}
const mark = (name: string, frame: number, how = 'motion'): ViewMoment => ({
  name,
  frame,
  how,
  isConfirmed: false,
})

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

  test('brace and release lie where the figure’s are; without an impact nothing is told', () => {
    const film = filmed(240)
    const impact = film.frameOf(truth.impact)
    const { moments } = bodyMeasures({
      ...film,
      moments: [
        mark('takeaway', film.frameOf(0), 'coach'),
        mark('top', film.frameOf(truth.top), 'coach'),
        mark('impact', impact),
      ],
      camera: 'face-on',
      pixelsPerMeter: null,
    })
    const late = impact / 240 - leadIn
    const at = (name: string) => moments.find((m) => m.name === name)!.atSeconds + late
    expect(Math.abs(at('brace') - truth.brace)).toBeLessThan(0.03)
    expect(Math.abs(at('release') - truth.release)).toBeLessThan(0.03)
    expect(handMarks({ ...film, moments: [] })).toEqual([])
  })
})
