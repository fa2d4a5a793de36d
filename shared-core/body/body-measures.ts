import type { cameraViews } from '../model/entities.ts'
import type { MeasuredValues } from '../swing-measures/measured-swing.ts'
import type { ClipTimes } from '../timing/clip-clock.ts'
import { realSecondsBetween } from '../timing/clip-clock.ts'
import type { Measured } from '../timing/tempo.ts'
import { markOf, type BodyMark, type ViewMoment } from './body-marks.ts'
import { braceOf, releaseOf } from './body-moments.ts'
import {
  angleSeries,
  BodySeries,
  difference,
  distanceSeries,
  fitAt,
  isSeenFaceOn,
  leanSeries,
  levelOf,
  slopeSeries,
  type PlayingSide,
  type Series,
} from './body-series.ts'
import type { BodyTrack } from './body-track.ts'
import { said } from '../wording/phrase.ts'

export type CameraView = (typeof cameraViews)[number]

/**
 * What the measures are taken from: the points of one clip, its times and moments, and how it was filmed. Pixels of
 * the shown picture, frames from 0.
 */
export interface BodyInput {
  readonly track: BodyTrack
  readonly times: ClipTimes
  readonly moments: readonly ViewMoment[]
  readonly side: PlayingSide
  readonly camera: CameraView
  readonly tiltDeg: number
  readonly pixelsPerMeter: number | null
}

/**
 * What one clip shows of the body, each value with its unit in its name; what this camera can't see is absent and
 * said in `remarks`.
 */
export interface BodyMeasures {
  readonly camera: CameraView
  readonly values: MeasuredValues
  /** Brace and release as the body shows them; face on only. */
  readonly moments: readonly BodyMark[]
  /** Width of the shoulders at setup, metres; null without a scale. */
  readonly shoulderWidthM: number | null
  readonly remarks: readonly string[]
}

/**
 * What the model itself errs by beyond the scatter from frame to frame, one standard deviation: an angle in the picture, and a
 * place in shoulder widths. Set by hand; tests/worlds/body.md says how often two of what is said hold.
 */
const modelSd = { angleDeg: 3, widths: 0.035 }

const nothing = (camera: CameraView, remark: string): BodyMeasures => ({
  camera,
  values: {},
  moments: [],
  shoulderWidthM: null,
  remarks: [remark],
})

/**
 * Body measures of one swing from one camera. Angles are angles in the picture, never the joint's own. Travel is measured in
 * widths of the shoulders at setup, along the target line as the picture shows it. Definitions are common practice, no source,
 * unless said.
 */
export const bodyMeasures = (input: BodyInput): BodyMeasures => {
  const { track, times, moments, side } = input
  const frameOf = (name: string) => moments.find((m) => m.name === name)?.frame
  const impact = frameOf('impact')
  if (track.frames.length === 0) return nothing(input.camera, said('body.noPlayer'))
  if (impact === undefined) return nothing(input.camera, said('body.noImpact'))
  const body = new BodySeries(track, times, impact, { side, tiltDeg: input.tiltDeg })
  const second = (name: string) => {
    const frame = frameOf(name)
    return frame === undefined ? null : realSecondsBetween(times, impact, frame)
  }
  const takeaway = second('takeaway') ?? second('setup')
  const top = second('top')
  const setupFrom = takeaway === null ? null : Math.min(takeaway, second('setup') ?? takeaway) - 0.1
  const shoulders = [body.joint('Shoulder', 'lead'), body.joint('Shoulder', 'trail')] as const
  const hips = [body.joint('Hip', 'lead'), body.joint('Hip', 'trail')] as const
  const atSetup = (s: Series) =>
    setupFrom === null || takeaway === null ? null : levelOf(s, setupFrom, takeaway + 0.03)

  const width = atSetup(distanceSeries(...shoulders))
  const faceOn =
    setupFrom === null || takeaway === null ? null : isSeenFaceOn(body, setupFrom, takeaway + 0.03)
  const camera: CameraView =
    input.camera !== 'other' || faceOn === null ? input.camera : faceOn ? 'face-on' : 'down-the-line'
  const remarks: string[] = []
  if (input.camera === 'other' && camera !== 'other') {
    remarks.push(said(camera === 'face-on' ? 'body.takenAsFaceOn' : 'body.takenAsDownTheLine'))
  }

  const values: { -readonly [K in keyof MeasuredValues]: MeasuredValues[K] } = {}
  const put = (name: keyof MeasuredValues, found: { value: number; sd: number } | null, own: number) => {
    if (found) values[name] = { value: found.value, sd: Math.hypot(found.sd, own) }
  }
  const at = (s: Series, when: number | null): Measured | null =>
    when === null ? null : fitAt(s, when, body.halfWidth)

  const trunkSign =
    camera === 'down-the-line'
      ? Math.sign(atSetup(difference(body.head().x, body.middle('Hip').x))?.value ?? 1)
      : 1
  if (camera === 'face-on') {
    const leadSide = atSetup(difference(body.joint('Ankle', 'lead').x, body.joint('Ankle', 'trail').x))
    const sign = Math.sign(leadSide?.value ?? 0)
    if (sign === 0 || !width) {
      remarks.push(said('body.noFeet'))
    } else {
      const travel = (s: Series, when: number | null, direction: number): Measured | null => {
        const from = atSetup(s)
        const to = at(s, when)
        if (!from || !to) return null
        return {
          value: ((to.value - from.value) * direction) / width.value,
          sd: Math.hypot(from.sd, to.sd) / width.value,
        }
      }
      const head = body.head()
      put('headAlongTopWidths', travel(head.x, top, sign), modelSd.widths)
      put('headAlongImpactWidths', travel(head.x, 0, sign), modelSd.widths)
      put('headUpImpactWidths', travel(head.y, 0, -1), modelSd.widths)
      put('pelvisAlongImpactWidths', travel(body.middle('Hip').x, 0, sign), modelSd.widths)
      put('shoulderLineImpactDeg', at(slopeSeries(shoulders[1], shoulders[0], sign), 0), modelSd.angleDeg)
      put('pelvisLineImpactDeg', at(slopeSeries(hips[1], hips[0], sign), 0), 2 * modelSd.angleDeg)
      // + leans away from the target.
      put(
        'spineTiltSetupDeg',
        atSetup(leanSeries(body.middle('Hip'), body.middle('Shoulder'), -sign)),
        modelSd.angleDeg,
      )
      put(
        'spineTiltImpactDeg',
        at(leanSeries(body.middle('Hip'), body.middle('Shoulder'), -sign), 0),
        modelSd.angleDeg,
      )
      const knee = angleSeries(hips[0], body.joint('Knee', 'lead'), body.joint('Ankle', 'lead'))
      put('leadKneeSetupDeg', atSetup(knee), modelSd.angleDeg)
      put('leadKneeTopDeg', at(knee, top), modelSd.angleDeg)
      put('leadKneeImpactDeg', at(knee, 0), modelSd.angleDeg)
      const late = fitAt(knee, -0.035, Math.max(0.06, body.halfWidth), 1)
      if (late) values.leadKneeStraighteningDegPerS = { value: late.slope, sd: Math.hypot(late.slopeSd, 25) }
      const elbow = angleSeries(shoulders[0], body.joint('Elbow', 'lead'), body.joint('Wrist', 'lead'))
      put('leadElbowTopDeg', at(elbow, top), 2 * modelSd.angleDeg)
      put(
        'leadArmTopDeg',
        at(slopeSeries(shoulders[0], body.joint('Wrist', 'lead'), -sign), top),
        modelSd.angleDeg,
      )
      // How far the shoulders come up toward the ears.
      put(
        'shoulderRiseTopWidths',
        travel(difference(body.middle('Shoulder').y, head.y), top, -1),
        2 * modelSd.widths,
      )
      const brace = top === null ? null : braceOf(body, top, sign)
      const release = releaseOf(body, sign)
      if (brace) values.pelvisStopSeconds = { value: -brace.atSeconds, sd: brace.sdSeconds }
      remarks.push(said('body.anglesInPicture'), said('body.fromFront'))
      return {
        camera,
        values,
        moments: [
          ...(brace ? [markOf('brace', brace)] : []),
          ...(release ? [markOf('release', release)] : []),
        ],
        shoulderWidthM: input.pixelsPerMeter === null ? null : width.value / input.pixelsPerMeter,
        remarks,
      }
    }
  }
  if (camera === 'down-the-line') {
    // + bends toward the ball.
    put(
      'spineBendSetupDeg',
      atSetup(leanSeries(body.middle('Hip'), body.middle('Shoulder'), trunkSign)),
      modelSd.angleDeg,
    )
    put(
      'spineBendImpactDeg',
      at(leanSeries(body.middle('Hip'), body.middle('Shoulder'), trunkSign), 0),
      modelSd.angleDeg,
    )
    remarks.push(said('body.fromDownTheLine'))
  }
  if (camera === 'other') remarks.push(said('body.sayWhichCamera'))
  return { camera, values, moments: [], shoulderWidthM: null, remarks }
}
