import { typicalLaunch } from '../flight/typical-launch.ts'
import { clubWords } from '../model/club.ts'
import { ascending } from '../statistics/ascending.ts'
import { medianOfSorted } from '../statistics/median.ts'
import { scaledMad } from '../statistics/scaled-mad.ts'
import type { DeviceError } from './device-error.ts'
import { defaultDeviceError, efficiencyErrorShare } from './device-error.ts'
import { headOf } from './heads.ts'
import { normalEfficiency, rollingStrike } from './impact-model.ts'
import { type Word, phrase, sayWord } from '../wording/phrase.ts'

/** How well this player can be expected to strike this club, and how that is known. */
export interface Ceiling {
  club: string
  /** The efficiency within reach of this player with this club, as a level: what shots, blocks and the verdict are judged by. */
  efficiency: number
  /** `combined`: the player has shown more than the club's usual best; `measured`: only the player's own shots are known. */
  kind: 'measured' | 'combined' | 'published' | 'formula'
  /** Standard uncertainty of `efficiency`, with where a device takes club speed. */
  sd: number
  /** The level of the player's own best shots, the device's error taken out; null with fewer than `ownShotsNeeded`. */
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
  /** The same, before it is said. */
  basisWords: Word
}

/** From so many unflagged own shots on, the player's own best counts beside the club's (never the maximum, which grows with n). */
export const ownShotsNeeded = 20

/** How far a report and a head like it part: tour averages are printed to 0.01 and from memory; irons differ more (assumption). */
const publishedShare = { driver: 0.008, wood: 0.008, iron: 0.012 } as const
/** Formula and reports part by up to 3 % for woods and 5 % for irons, read as two standard uncertainties. */
const formulaShare = { driver: 0.015, wood: 0.015, iron: 0.025 } as const
/** Where on the head a device takes club speed shifts every efficiency of a session alike (assumption). */
const sessionShare = 0.011
/** A strongly delofted strike, against the typical one (assumption); only the limit uses it. */
const delofted = 6
/** A recorded spin loft farther than this from the typical one is not believed. */
const believableSpinLoft = 12
/** Below these club speeds the head is a light one (a child's set: nine tenths of the mass, assumption). */
const lightBelowMps = { driver: 27, wood: 26, iron: 22 } as const
const lightMassShare = 0.9
const lightShare = 0.012
/** Scatter of the best players' own efficiency about their average (assumption): their average is the soft ceiling, not their best shot. */
const bestPlayersScatter = 0.015
/** Standard deviations of the 90 % quantile. */
const ninth = 1.2816

/** What is known of the player and the device. */
export interface CeilingOptions {
  /** The player's own efficiencies with this club up to this lesson, without flagged shots. */
  ownEfficiencies?: readonly number[]
  /** Loft at impact minus attack angle of this shot. */
  spinLoftDeg?: number | null
  /** Club speed of this shot or block: a child's head is lighter. */
  clubSpeedMps?: number | null
  error?: DeviceError
  headMassKg?: number
  restitution?: number
  ballMassKg?: number
}

/** Spin loft and men's tour average of the irons for which one is known, the strongest first. */
const ironReports = (
  ['3-iron', '4-iron', '5-iron', '6-iron', '7-iron', '8-iron', '9-iron', 'pitching-wedge'] as const
).map((club) => {
  const head = headOf(club)!
  return { spinLoftDeg: head.spinLoftDeg, efficiency: head.publishedEfficiency! }
})

/** What the reports give for an iron of this spin loft: a 7-iron with a 5-iron's loft gives what a 5-iron gives. Null outside. */
function ironAt(spinLoftDeg: number): number | null {
  const next = ironReports.findIndex((report) => report.spinLoftDeg >= spinLoftDeg)
  if (next <= 0) return null
  const [a, b] = [ironReports[next - 1]!, ironReports[next]!]
  const part = (spinLoftDeg - a.spinLoftDeg) / (b.spinLoftDeg - a.spinLoftDeg)
  return a.efficiency + part * (b.efficiency - a.efficiency)
}

/** A block's typical spin loft from its launch: only an iron that launches lower than its kind is taken for a stronger one. */
export function spinLoftFromLaunch(
  club: string | null,
  launchDeg: number | null,
  attackDeg: number | null = null,
): number | null {
  const head = headOf(club)
  const typical = typicalLaunch(club)
  if (!head || !typical || head.family !== 'iron' || launchDeg === null) return null
  const above = (loft: number) => rollingStrike(head, loft).launchAbovePathDeg
  const usualAttack = typical.launchDeg - above(head.spinLoftDeg)
  const wanted = launchDeg - (attackDeg ?? usualAttack)
  if (attackDeg === null && wanted >= above(head.spinLoftDeg)) return null
  // Launch above the path grows steadily with loft; halving finds it.
  let [low, high] = [head.spinLoftDeg - believableSpinLoft, head.spinLoftDeg + believableSpinLoft]
  for (let step = 0; step < 40; step++) {
    const middle = (low + high) / 2
    if (above(middle) < wanted) low = middle
    else high = middle
  }
  return (low + high) / 2
}

/**
 * The level a player has shown: 90 % quantile of the real scatter over the usual one, less what even the best scatter about
 * their average. Median and MAD, so that mishits neither raise nor hide it.
 */
export function shownLevel(
  own: readonly number[],
  error: DeviceError = defaultDeviceError,
): { level: number; sd: number } {
  const middle = medianOfSorted(ascending(own))
  const spread = scaledMad(own, middle)
  const real = Math.sqrt(Math.max(0, spread ** 2 - (efficiencyErrorShare(error) * middle) ** 2))
  return {
    level: middle + ninth * Math.max(0, real - bestPlayersScatter),
    // Median 1.25, quantile 1.71 standard errors of the mean for normal scatter; in between.
    sd: Math.hypot((1.5 * spread) / Math.sqrt(own.length), (sessionShare * middle) / 2),
  }
}

const basedOn = (basis: Word) => ({ basis: sayWord(basis), basisWords: basis })

/**
 * The efficiency within reach: what the club can give (tour average at its loft and head; else the formula) combined with what
 * the player has shown. Own shots below the club's level say nothing about what could be reached; above it they raise it, weighted
 * by how well each is known. A club without a known head has a ceiling only once the player has one.
 * @returns the ceiling, or the reason why there is none
 */
export function ceilingOf(club: string | null, options: CeilingOptions = {}): Ceiling | { reason: Word } {
  const { ownEfficiencies = [], error = defaultDeviceError } = options
  const own = ownEfficiencies.filter((value) => Number.isFinite(value) && value > 0)
  const shown = own.length >= ownShotsNeeded ? shownLevel(own, error) : null
  const head = headOf(club)
  const words = clubWords(club)
  if (!head) {
    if (shown === null) {
      return {
        reason:
          club === 'putter'
            ? phrase('ceiling.putter')
            : phrase('ceiling.unknown', {
                club: club === null ? phrase('text.anUnknownClub') : `"${words}"`,
                needed: ownShotsNeeded,
                own: own.length,
              }),
      }
    }
    return {
      club: words,
      efficiency: shown.level,
      kind: 'measured',
      sd: shown.sd,
      measured: shown.level,
      published: null,
      formula: null,
      spinLoftDeg: null,
      limit: null,
      ...basedOn(phrase('ceiling.ownBest', { n: own.length, club: words })),
    }
  }
  const isLight = options.clubSpeedMps != null && options.clubSpeedMps < lightBelowMps[head.family]
  const headMassKg = options.headMassKg ?? head.headMassKg * (isLight ? lightMassShare : 1)
  const bodies = {
    restitution: options.restitution ?? head.restitution,
    headMassKg,
    ballMassKg: options.ballMassKg,
  }
  const recorded = options.spinLoftDeg
  const isBelieved =
    recorded != null && Math.abs(recorded - head.spinLoftDeg) <= believableSpinLoft && recorded > 0
  const spinLoftDeg = isBelieved ? recorded : head.spinLoftDeg
  const formula = rollingStrike(bodies, spinLoftDeg).efficiency
  let published: number | null = null
  if (head.publishedEfficiency !== null) {
    const byReports = isBelieved && head.family === 'iron' ? ironAt(spinLoftDeg) : null
    const moved =
      byReports !== null
        ? (byReports * formula) / rollingStrike(head, spinLoftDeg).efficiency
        : (head.publishedEfficiency * formula) / rollingStrike(head, head.spinLoftDeg).efficiency
    published = Math.min(normalEfficiency(bodies), moved)
  }
  const strongest = rollingStrike(bodies, Math.max(0, Math.min(spinLoftDeg, head.spinLoftDeg) - delofted))
  const limit = Math.min(normalEfficiency(bodies), Math.max(strongest.efficiency, published ?? 0, formula))
  const ofClub = published ?? formula
  const clubSd =
    ofClub *
    Math.hypot(
      published === null ? formulaShare[head.family] : publishedShare[head.family],
      sessionShare,
      isLight ? lightShare : 0,
    )
  const clubAverage = { club: words, formula: formula.toFixed(2) }
  const ofHead =
    published === null
      ? phrase('ceiling.formula', { club: words })
      : phrase(isBelieved ? 'ceiling.averageAtLoft' : 'ceiling.average', clubAverage)
  const basis = isLight ? phrase('ceiling.lightHead', { basis: ofHead }) : ofHead
  const shared = {
    club: words,
    measured: shown?.level ?? null,
    published,
    formula,
    spinLoftDeg,
    limit,
  }
  if (shown !== null && shown.level > ofClub) {
    const level = Math.min(shown.level, limit)
    const [a, b] = [1 / clubSd ** 2, 1 / Math.max(shown.sd, 1e-6) ** 2]
    return {
      ...shared,
      efficiency: (a * ofClub + b * level) / (a + b),
      kind: 'combined',
      // Both are read by the same kind of device; they do not make each other surer.
      sd: Math.min(clubSd, Math.max(shown.sd, ofClub * sessionShare)),
      ...basedOn(phrase('ceiling.raised', { basis, n: own.length, level: level.toFixed(2) })),
    }
  }
  return {
    ...shared,
    efficiency: ofClub,
    kind: published === null ? 'formula' : 'published',
    sd: clubSd,
    ...basedOn(basis),
  }
}
