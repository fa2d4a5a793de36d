import { ascending } from '../statistics/ascending.ts'
import { quantileOfSorted } from '../statistics/quantiles.ts'
import { standardDeviation } from '../statistics/variance.ts'
import { clubWords } from '../model/club.ts'
import { headOf } from './heads.ts'
import { normalEfficiency, rollingStrike } from './impact-model.ts'

export interface Ceiling {
  club: string
  /** The efficiency a shot is judged by: measured if there are enough own shots, else published, else the formula. */
  efficiency: number
  kind: 'measured' | 'published' | 'formula'
  /** Standard uncertainty of `efficiency` (sampling, or how far formula, reports and devices part). */
  sd: number
  /** 90 % quantile of the player's own efficiency; null with fewer than `ownShotsNeeded`. */
  measured: number | null
  /** Men's tour average of the club, at this shot's loft if that is known; a soft ceiling. Null where none is known. */
  published: number | null
  /** By the formula, from restitution, masses and loft; null for a club without a known head. */
  formula: number | null
  spinLoftDeg: number | null
  /** No strike of this club gives more than this, device error aside; null if unknown. */
  limit: number | null
  /** One sentence: what it rests on. */
  basis: string
}

/** From so many unflagged own shots on, the 90 % quantile is a measured ceiling (never the maximum, which grows with n). */
export const ownShotsNeeded = 20

/** Formula and reports part by up to 3 % for woods and 5 % for irons, read as two standard uncertainties. */
const formulaShare = { driver: 0.015, wood: 0.015, iron: 0.025 } as const
/** Where on the head a device takes club speed shifts every efficiency of a session alike (assumption). */
const sessionShare = 0.01
/** A strongly delofted strike, against the typical one (assumption); only the limit uses it. */
const delofted = 6
/** A recorded spin loft farther than this from the typical one is not believed. */
const believableSpinLoft = 12

export interface CeilingOptions {
  /** The player's own efficiencies with this club, without flagged shots. */
  ownEfficiencies?: readonly number[]
  /** Loft at impact minus attack angle of this shot. */
  spinLoftDeg?: number | null
  headMassKg?: number
  restitution?: number
  ballMassKg?: number
}

/**
 * The ceiling of efficiency for a club: formula, published average and the player's own side by side.
 * With a recorded spin loft the published average is moved as the formula moves (soft: tour players, from
 * memory). A club without a known head has a ceiling only once it is measured.
 * @returns the ceiling, or the reason why there is none
 */
export function ceilingOf(club: string | null, options: CeilingOptions = {}): Ceiling | { reason: string } {
  const { ownEfficiencies = [], ballMassKg } = options
  const own = ownEfficiencies.filter((value) => Number.isFinite(value) && value > 0)
  const measured = own.length >= ownShotsNeeded ? quantileOfSorted(ascending(own), 0.9) : null
  const head = headOf(club)
  if (!head && measured === null) {
    return {
      reason:
        club === 'putter'
          ? 'a putter has no ceiling of efficiency here'
          : `no ceiling is known for ${club === null ? 'an unknown club' : `"${clubWords(club)}"`}; ` +
            `${ownShotsNeeded} own shots would give one (${own.length} so far)`,
    }
  }

  let formula: number | null = null
  let published: number | null = null
  let limit: number | null = null
  let spinLoftDeg: number | null = null
  let familyShare = 0
  if (head) {
    const bodies = {
      restitution: options.restitution ?? head.restitution,
      headMassKg: options.headMassKg ?? head.headMassKg,
      ballMassKg,
    }
    const recorded = options.spinLoftDeg
    const believed =
      recorded != null && Math.abs(recorded - head.spinLoftDeg) <= believableSpinLoft && recorded > 0
    spinLoftDeg = believed ? recorded : head.spinLoftDeg
    formula = rollingStrike(bodies, spinLoftDeg).efficiency
    if (head.publishedEfficiency !== null) {
      const typical = rollingStrike(head, head.spinLoftDeg).efficiency
      published = Math.min(normalEfficiency(bodies), (head.publishedEfficiency * formula) / typical)
    }
    const strongest = rollingStrike(bodies, Math.max(0, Math.min(spinLoftDeg, head.spinLoftDeg) - delofted))
    limit = Math.min(normalEfficiency(bodies), Math.max(strongest.efficiency, published ?? 0, formula))
    familyShare = Math.hypot(formulaShare[head.family], sessionShare)
  }

  const words = clubWords(club)
  const shared = { club: words, measured, published, formula, spinLoftDeg, limit }
  if (measured !== null) {
    return {
      ...shared,
      efficiency: measured,
      kind: 'measured',
      // Large-sample error of a normal 90 % quantile: √(0.09/n)/0.1755 standard deviations.
      sd: (1.71 * standardDeviation(own)) / Math.sqrt(own.length),
      basis: `90 % quantile of this player's own ${own.length} shots with the ${words}`,
    }
  }
  if (published !== null) {
    return {
      ...shared,
      efficiency: published,
      kind: 'published',
      sd: familyShare * published,
      basis: `men's tour average with the ${words} (from memory), a soft ceiling; the formula gives ${formula!.toFixed(2)}`,
    }
  }
  return {
    ...shared,
    efficiency: formula!,
    kind: 'formula',
    sd: familyShare * formula!,
    basis: `two-body formula for the ${words} with an assumed head and loft; no published average is known`,
  }
}
