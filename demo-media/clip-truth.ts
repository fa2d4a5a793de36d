import { project } from './camera.ts'
import { jointsIn } from './clip-film.ts'
import type { Film } from './clip-film.ts'
import { speedOfSoundMps } from './clip-sound.ts'
import { leadKneeAngleDeg } from './swing-motion.ts'
import type { Joints } from './swing-motion.ts'
import type { Vec3 } from './vector.ts'

export const round = (value: number, digits: number): number => Number(value.toFixed(digits))

export type Pixel = readonly [x: number, y: number]

/** Body points in pixels of the displayed picture. */
export const pointsAt = (film: Film, t: number): Record<string, Pixel> => {
  const joints = jointsIn(film, t)
  const named: readonly (readonly [string, keyof Joints])[] = [
    ['head', 'head'],
    ['leadShoulder', 'leadShoulder'],
    ['trailShoulder', 'trailShoulder'],
    ['leadHand', 'leadHand'],
    ['leadHip', 'leadHip'],
    ['leadKnee', 'leadKnee'],
    ['leadAnkle', 'leadAnkle'],
    ['trailHip', 'trailHip'],
    ['trailKnee', 'trailKnee'],
    ['trailAnkle', 'trailAnkle'],
    ['clubFace', 'face'],
  ]
  return Object.fromEntries(
    named.map(([name, key]) => {
      const [x, y] = project(film.view, joints[key])
      return [name, [round(x, 1), round(y, 1)] as const]
    }),
  )
}

/** Index of the frame nearest to a time. */
const nearest = (times: readonly number[], t: number): number => {
  let best = 0
  times.forEach((time, i) => {
    if (Math.abs(time - t) < Math.abs(times[best]! - t)) best = i
  })
  return best
}

/** Index of the last frame at or before a time. */
const lastBefore = (times: readonly number[], t: number): number => {
  let found = 0
  times.forEach((time, i) => {
    if (time <= t) found = i
  })
  return found
}

/** The ground truth of one clip, written beside it. */
export const clipTruth = (film: Film, file: string) => {
  const { kind, captureTimes, fileTimes } = film
  const startsAt = new Date(Math.round(film.startsAtMs)).toISOString()
  const firstImpactAt = film.filmed[0]!.takeawayAtSeconds + film.filmed[0]!.motion.moments.impact
  return {
    file,
    view: kind.view,
    widthPx: kind.widthPx,
    heightPx: kind.heightPx,
    codec: kind.codec,
    rotationDeg: kind.rotated ? 90 : 0,
    captureRate: kind.captureRate,
    playbackRate: kind.playbackRate,
    variableRate: kind.variableRate,
    frames: captureTimes.length,
    realSeconds: round(film.seconds, 4),
    startsAt,
    creationTime: `${startsAt.slice(0, 19)}Z`,
    microphoneM: kind.microphoneM,
    speedOfSoundMps: round(speedOfSoundMps, 2),
    sound: kind.sound !== 'none',
    soundStretched: kind.sound === 'stretched',
    neighbourStrikeAtSeconds:
      kind.neighbourSeconds === null ? null : round(firstImpactAt + kind.neighbourSeconds, 4),
    ...(kind.variableRate ? { frameAtSeconds: captureTimes.map((t) => round(t, 5)) } : {}),
    swings: film.filmed.map(({ swing, motion, takeawayAtSeconds }) => {
      const at = (t: number): number => takeawayAtSeconds + t
      const moment = (t: number, frame: number) => ({
        frame,
        atSeconds: round(at(t), 5),
        frameAtSeconds: round(captureTimes[frame]!, 5),
        frameAtFileSeconds: round(fileTimes[frame]!, 5),
        pointsPx: pointsAt(film, captureTimes[frame]!),
      })
      const { moments } = motion
      const places = Object.entries(moments).map(([name, t]) => [
        name,
        moment(t, name === 'impact' ? lastBefore(captureTimes, at(t)) : nearest(captureTimes, at(t))),
      ])
      const headAtSetup = motion.jointsAt(moments.setup).head
      const away = (head: Vec3): number => Math.hypot(head[0] - headAtSetup[0], head[1] - headAtSetup[1])
      let headTravelM = 0
      for (let t = 0; t <= moments.impact; t += 0.005) {
        headTravelM = Math.max(headTravelM, away(motion.jointsAt(t).head))
      }
      const joints = motion.jointsAt(moments.impact)
      const heard = at(moments.impact) + kind.microphoneM / speedOfSoundMps
      return {
        swing: swing.number,
        block: swing.block.number,
        blockName: swing.block.name,
        club: swing.spec.club,
        shot: swing.reading?.shot ?? null,
        mishit: swing.mishit,
        impactAt: new Date(swing.impactAtMs).toISOString(),
        moments: Object.fromEntries(places) as Record<keyof typeof moments, ReturnType<typeof moment>>,
        strikeHeardAtSeconds: kind.sound === 'none' ? null : round(heard, 5),
        strikeHeardAtFileSeconds:
          kind.sound === 'none' ? null : round((heard * kind.captureRate) / kind.playbackRate, 5),
        backswingSeconds: round(swing.spec.backswingSeconds, 4),
        downswingSeconds: round(swing.spec.downswingSeconds, 4),
        leadKneeAtImpactDeg: round(leadKneeAngleDeg(joints), 2),
        braceBeforeImpactMs: round(swing.spec.braceBeforeImpactSeconds * 1000, 1),
        /** Farthest the head gets from its place at setup until impact, seen face-on. */
        headTravelM: round(headTravelM, 4),
        /** Head at impact against setup, + towards the target. */
        headShiftAtImpactM: round(joints.head[0] - headAtSetup[0], 4),
        clubSpeedMps: round(swing.spec.clubSpeedMps, 3),
        /** Speed of the middle of the face in the picture's own space at impact. */
        modelClubSpeedMps: round(motion.clubSpeedAt(moments.impact - 2e-4), 3),
        ballSpeedMps: round(swing.spec.ballSpeedMps, 3),
        efficiency: round(swing.spec.ballSpeedMps / swing.spec.clubSpeedMps, 4),
        launchDeg: round(swing.spec.launchDeg, 2),
        launchDirectionDeg: round(swing.spec.launchDirectionDeg, 2),
      }
    }),
  }
}

export type ClipTruth = ReturnType<typeof clipTruth>
