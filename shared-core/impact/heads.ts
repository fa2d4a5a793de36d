import type { StandardClub } from '../model/club.ts'
import { isStandardClub } from '../model/club.ts'

/** The heads that differ in how they strike. */
export type HeadFamily = 'driver' | 'wood' | 'iron'

/** What the ceiling of a club is computed from. */
export interface Head {
  family: HeadFamily
  headMassKg: number
  restitution: number
  /** Typical angle between face normal and head velocity at impact. */
  spinLoftDeg: number
  /** Men's tour average efficiency (from memory, widely reported); null where none is known. */
  publishedEfficiency: number | null
}

/**
 * Heads by club. Mass: driver 200 g (assumption; 204 g measured on a research driver); irons by a
 * club-maker's rule, 5-iron 254 g and 7 g for each number (second-hand), woods 210 to 220 g (from memory),
 * hybrids between wood and iron (assumption). Restitution: driver 0.83 (the rules' limit, second-hand),
 * fairway woods 0.82, irons 0.80 (assumption). Spin loft: solved from the tour's launch and attack angles with
 * the rolling strike (computed for the references); clubs not in those tables: assumption.
 */
const heads: Partial<Record<StandardClub, Head>> = (() => {
  const wood = (headMassKg: number, spinLoftDeg: number, publishedEfficiency: number | null): Head => ({
    family: 'wood',
    headMassKg,
    restitution: 0.82,
    spinLoftDeg,
    publishedEfficiency,
  })
  const iron = (headMassKg: number, spinLoftDeg: number, publishedEfficiency: number | null): Head => ({
    family: 'iron',
    headMassKg,
    restitution: 0.8,
    spinLoftDeg,
    publishedEfficiency,
  })
  return {
    driver: { ...wood(0.2, 15.0, 1.48), family: 'driver', restitution: 0.83 },
    '2-wood': wood(0.208, 14.9, null),
    '3-wood': wood(0.213, 14.8, 1.48),
    '5-wood': wood(0.218, 15.6, 1.47),
    '7-wood': wood(0.222, 17.0, null),
    '2-hybrid': wood(0.23, 16.0, null),
    '3-hybrid': wood(0.235, 17.0, null),
    '4-hybrid': wood(0.24, 18.5, null),
    '5-hybrid': wood(0.245, 20.5, null),
    '6-hybrid': wood(0.25, 23.0, null),
    '1-iron': iron(0.226, 15.0, null),
    '2-iron': iron(0.233, 15.7, null),
    '3-iron': iron(0.24, 16.5, 1.45),
    '4-iron': iron(0.247, 17.7, 1.43),
    '5-iron': iron(0.254, 19.4, 1.41),
    '6-iron': iron(0.261, 22.4, 1.38),
    '7-iron': iron(0.268, 25.4, 1.33),
    '8-iron': iron(0.275, 28.0, 1.32),
    '9-iron': iron(0.282, 31.2, 1.28),
    'pitching-wedge': iron(0.289, 36.7, 1.23),
    'gap-wedge': iron(0.292, 40.5, null),
    'sand-wedge': iron(0.296, 45.0, null),
    'lob-wedge': iron(0.3, 49.5, null),
  }
})()

/** The head of a club; null for a putter, an unknown club or a coach's own word. */
export const headOf = (club: string | null): Head | null =>
  isStandardClub(club) ? (heads[club] ?? null) : null
