import { ballMassKg, ballRadiusM } from '../flight/ball.ts'
import { degrees, radians, revPerMinute } from '../units.ts'

/** The two bodies of a strike, centred or not. */
export interface Bodies {
  /** Coefficient of restitution e. */
  restitution: number
  headMassKg: number
  ballMassKg?: number
}

/**
 * Efficiency of a centred strike of two free bodies, normal part only:
 * (1 + e) / (1 + m/M) · cos δ (textbook; Cochran & Stobbs 1968 appendix, second-hand).
 * @param spinLoftDeg δ, angle between the face normal and the head's velocity
 */
export const normalEfficiency = (
  { restitution, headMassKg, ballMassKg: ball = ballMassKg }: Bodies,
  spinLoftDeg = 0,
): number => ((1 + restitution) / (1 + ball / headMassKg)) * Math.cos(radians(spinLoftDeg))

/** What leaves the face. Spin is not given: against tour averages of the golf press a rigid collision is far off in spin. */
export interface Strike {
  efficiency: number
  ballSpeedMps: number
  /** Launch above the path of the head. */
  launchAbovePathDeg: number
  /** For checks against Penner's own numbers only; tour drives spin a third less, tour irons a third more. */
  modelSpinRpm: number
}

/**
 * Centred strike with the tangential part: the ball, a solid sphere, rolls as it leaves (Penner 2001, Am. J.
 * Phys. 69:563; formula second-hand, several sources agree).
 */
export function rollingStrike(
  { restitution, headMassKg, ballMassKg: ball = ballMassKg }: Bodies,
  spinLoftDeg: number,
  clubSpeedMps = 1,
  radiusM = ballRadiusM,
): Strike {
  const share = ball / headMassKg
  const normal = clubSpeedMps * normalEfficiency({ restitution, headMassKg, ballMassKg: ball }, spinLoftDeg)
  // m r² / I = 2.5 for a solid sphere.
  const along = (clubSpeedMps * Math.sin(radians(spinLoftDeg))) / (1 + share + 2.5)
  const ballSpeedMps = Math.hypot(normal, along)
  return {
    efficiency: ballSpeedMps / clubSpeedMps,
    ballSpeedMps,
    launchAbovePathDeg: spinLoftDeg - degrees(Math.atan2(along, normal)),
    modelSpinRpm: revPerMinute((2.5 * along) / radiusM),
  }
}

/** Restitution of the wooden-head era falling with speed, 0.86 − 0.0029 v cos δ (Penner's fit, second-hand). */
export const woodenHeadRestitution = (clubSpeedMps: number, spinLoftDeg: number): number =>
  0.86 - 0.0029 * clubSpeedMps * Math.cos(radians(spinLoftDeg))
