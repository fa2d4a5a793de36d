import { ballMassKg } from '../flight/ball.ts'
import type { Head, HeadFamily } from './heads.ts'
import { said } from '../wording/phrase.ts'

/** Published linear rules: share of ball speed lost per millimetre off centre. */
export const linearLossPerMm = {
  /** 0.14 an inch: Cochran-type formula (second-hand, from memory). */
  cochran: 0.14 / 25.4,
  /** 0.12 an inch: a golf writer's "historic measure" (second-hand). */
  historic: 0.12 / 25.4,
} as const

/** The way a strike missed the centre of the face. */
export type MissDirection = 'heelToToe' | 'lowToHigh'

/**
 * Moment of inertia about the axis a miss turns the head, kg m². Driver: research head, MDPI Proceedings 2020,
 * 49(1):47, Table 1 (found), its 5679 g cm² taken as the vertical axis and 4085 as the heel–toe axis
 * (assumption). Others: assumption; high and low misses of those change loft more than speed, so none is given.
 */
const inertiaKgM2: Record<HeadFamily, Record<MissDirection, number | null>> = {
  driver: { heelToToe: 5679e-7, lowToHigh: 4085e-7 },
  wood: { heelToToe: 3000e-7, lowToHigh: null },
  iron: { heelToToe: 2300e-7, lowToHigh: null },
}

/** Half the face a ball can meet, mm (assumption): beyond it a miss is no explanation. */
const halfFaceMm: Record<HeadFamily, Record<MissDirection, number>> = {
  driver: { heelToToe: 55, lowToHigh: 28 },
  wood: { heelToToe: 42, lowToHigh: 18 },
  iron: { heelToToe: 38, lowToHigh: 22 },
}

/** A club head as a free rigid body. */
export interface RigidHead {
  restitution: number
  headMassKg: number
  inertiaKgM2: number
  ballMassKg?: number
  /**
   * Share of the restitution lost one inch off centre, growing with the square of the distance. Real, but no
   * published number was found: the default is an assumption; 0 leaves the pure rigid body.
   */
  restitutionLossAtInch?: number
}

const defaultRestitutionLoss = 0.03
const inchM = 0.0254

/**
 * Share of ball speed lost by a strike off centre: rigid body, (1 + e) / (1 + m/M + m d²/I) (textbook), with
 * e falling a little away from the centre.
 */
export function offCentreLoss(missMm: number, head: RigidHead): number {
  const { restitution: e, headMassKg, inertiaKgM2: inertia, ballMassKg: ball = ballMassKg } = head
  const fall = head.restitutionLossAtInch ?? defaultRestitutionLoss
  const square = (missMm / 1000) ** 2
  const there = Math.max(0, e * (1 - (fall * square) / inchM ** 2))
  const free = 1 + ball / headMassKg
  return 1 - ((1 + there) / (free + (ball * square) / inertia)) * (free / (1 + e))
}

/** The miss, mm, that makes this loss in the rigid-body model; the inverse of `offCentreLoss`. 0 for no loss. */
export function missForLoss(lossShare: number, head: RigidHead): number {
  if (!(lossShare > 0)) return 0
  const { restitution: e, headMassKg, inertiaKgM2: inertia, ballMassKg: ball = ballMassKg } = head
  const fall = head.restitutionLossAtInch ?? defaultRestitutionLoss
  const free = 1 + ball / headMassKg
  const left = ((1 - Math.min(lossShare, 0.999)) * (1 + e)) / free
  const square = (1 + e - left * free) / ((e * fall) / inchM ** 2 + (left * ball) / inertia)
  return Math.sqrt(Math.max(0, square)) * 1000
}

/** The misses that would explain a loss of ball speed, if the place of the strike were all of it. */
export interface OffCentreExplanation {
  lossShare: number
  heelToToeMm: number
  /** Null where no inertia is known for it. */
  lowToHighMm: number | null
  /** By the published linear rules (small heads of old), from the steeper to the gentler one. */
  linearMm: [number, number]
  /** False if the miss would be off the face: then it was a mishit of another kind, or a misreading. */
  onTheFace: boolean
  note: string
}

/** Turns a loss of ball speed against the ceiling into the distance off centre that would explain it. */
export function explainByMiss(lossShare: number, head: Head): OffCentreExplanation {
  const loss = Math.max(0, lossShare)
  const of = (inertia: number | null) =>
    inertia === null ? null : missForLoss(loss, { ...head, inertiaKgM2: inertia })
  const heelToToeMm = of(inertiaKgM2[head.family].heelToToe)!
  const lowToHighMm = of(inertiaKgM2[head.family].lowToHigh)
  const onTheFace =
    heelToToeMm <= halfFaceMm[head.family].heelToToe ||
    (lowToHighMm !== null && lowToHighMm <= halfFaceMm[head.family].lowToHigh)
  return {
    lossShare: loss,
    heelToToeMm,
    lowToHighMm,
    linearMm: [loss / linearLossPerMm.cochran, loss / linearLossPerMm.historic],
    onTheFace,
    note: onTheFace ? said('miss.onTheFace') : said('miss.offTheFace'),
  }
}
