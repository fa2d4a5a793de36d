import { readFileSync } from 'node:fs'
import type { Joints, SwingMoments } from './swing-motion.ts'
import { cross, mix, sub, squareTo, unit } from './vector.ts'
import type { Vec3 } from './vector.ts'

/**
 * A real swing for the figure: joints of a motion capture, no club and no ball, so the club is invented. Times in seconds from
 * the takeaway. Moments by the hands' and the pelvis' motion (impact ± 3 frames of 120 a second).
 *
 * The data used in this project was obtained from mocap.cs.cmu.edu. The database was created with funding from NSF EIA-0196217.
 */
export interface CapturedSwing {
  moments: SwingMoments
  jointsAt(t: number): Joints
}

const captureRate = 120
const takeawayFrame = 107

type Data = { names: string[]; frames: { frame: number; cm: Vec3[] }[] }

/** `speedUp` plays the capture faster: the swing is a slow one. */
export const capturedSwing = (speedUp = 1): CapturedSwing => {
  const data = JSON.parse(readFileSync(new URL('./captured-swing.json', import.meta.url), 'utf8')) as Data
  const at = (frame: number): number => (frame - takeawayFrame) / captureRate / speedUp
  const place = (name: string): number => data.names.indexOf(name)
  /** Metres, with the ball's place of the invented figure: the feet stand behind it. */
  const pointsAt = (t: number): Vec3[] => {
    const frame = takeawayFrame + t * captureRate * speedUp
    const { frames } = data
    let k = frames.findIndex((f) => f.frame >= frame)
    if (k < 0) k = frames.length - 1
    const [a, b] = [frames[Math.max(0, k - 1)]!, frames[k]!]
    const s = b.frame === a.frame ? 0 : Math.min(1, Math.max(0, (frame - a.frame) / (b.frame - a.frame)))
    return a.cm.map((p, i) => {
      const [x, y, z] = mix(p, b.cm[i]!, s)
      return [x / 100, y / 100, z / 100 - 0.75]
    })
  }
  const jointsAt = (t: number): Joints => {
    const points = pointsAt(t)
    const of = (name: string): Vec3 => points[place(name)]!
    const pelvis = mix(of('LeftUpLeg'), of('RightUpLeg'), 0.5)
    const hub = mix(of('LeftArm'), of('RightArm'), 0.5)
    const spine = unit(sub(hub, pelvis))
    const pelvisLead = unit(sub(of('LeftUpLeg'), of('RightUpLeg')))
    const chestLead = squareTo(sub(of('LeftArm'), of('RightArm')), spine)
    const chestForward = cross(chestLead, spine)
    const head = mix(of('Head'), of('Head_end'), 0.5)
    const headUp = unit(sub(of('Head'), of('Neck')))
    const headForward = squareTo(unit([chestForward[0] * 0.5, -0.4, chestForward[2] * 0.5 + 0.6]), headUp)
    const hands = mix(of('LeftHand'), of('RightHand'), 0.5)
    const shaft = unit(sub(hands, hub))
    const clubToe = squareTo([0, 0, 1], shaft)
    return {
      pelvis,
      hub,
      spine,
      pelvisLead,
      chestLead,
      chestForward,
      head,
      headForward,
      leadShoulder: of('LeftArm'),
      leadElbow: of('LeftForeArm'),
      leadHand: of('LeftHand'),
      trailShoulder: of('RightArm'),
      trailElbow: of('RightForeArm'),
      trailHand: of('RightHand'),
      leadHip: of('LeftUpLeg'),
      leadKnee: of('LeftLeg'),
      leadAnkle: of('LeftFoot'),
      leadToe: of('LeftToeBase_end'),
      trailHip: of('RightUpLeg'),
      trailKnee: of('RightLeg'),
      trailAnkle: of('RightFoot'),
      trailToe: of('RightToeBase_end'),
      shaft,
      clubToe,
      face: [hands[0] + shaft[0] * 0.85, hands[1] + shaft[1] * 0.85, hands[2] + shaft[2] * 0.85],
    }
  }
  return {
    moments: {
      setup: at(100),
      takeaway: 0,
      top: at(220),
      brace: at(286),
      impact: at(294),
      release: at(306),
      finish: at(355),
    },
    jointsAt,
  }
}
