import type { UnitSystem } from '../units.ts'
import { metricText } from '../units.ts'
import type { Ceiling } from './ceiling.ts'
import type { Gains } from './gains.ts'
import type { DeviceSuspicion, StrikeOrSpeed } from './strike-or-speed.ts'

/** The words of "strike or speed": the sentence for the student, and how sure it is with its weakest link. */
export interface StrikeOrSpeedWords {
  sentence: string
  howSure: string
}

const yards = (metres: number, system: UnitSystem) => metricText('carryM', Math.max(0, metres), system)

const span = ([low, high]: readonly [number, number], system: UnitSystem): string => {
  const [from, to] = [yards(low, system), yards(high, system)]
  return from === to ? `about ${to}` : `${from.replace(/ .*/, '')} to ${to}`
}

const outOfTen = (chance: number): string => {
  const tenths = Math.floor(10 * chance)
  return tenths >= 10 || chance > 0.98 ? 'more than 95 chances in 100' : `about ${tenths} chances in 10`
}

export function strikeOrSpeedWords(
  found: StrikeOrSpeed,
  gains: Gains,
  options: {
    ceiling: Ceiling
    club: string
    flagged: number
    /** Null where more shots alone would not settle it. */
    shotsNeeded: number | null
    system: UnitSystem
  },
): StrikeOrSpeedWords {
  const { ceiling, club, flagged, shotsNeeded, system } = options
  const { strike, speed, today } = gains
  const more = metricText('clubSpeedMps', speed.clubSpeedGainMps, system)
  const [own, reach] = [today.efficiency.toFixed(2), ceiling.efficiency.toFixed(2)]
  const level =
    Number(own) < Number(reach)
      ? `efficiency ${own}, about ${reach} is within reach`
      : `efficiency ${own}, as high as can be expected`
  const strikeWords = `a strike like that at today's speed would be worth ${span(strike.ci95, system)} of carry`
  const speedWords = `${more} more club speed at today's strike about ${yards(speed.gainM, system)}`
  switch (found.verdict) {
    case 'strike':
      return {
        sentence: `Strike holds the carry back, not speed: ${level}; ${strikeWords}, ${speedWords}.`,
        howSure: sure(found.strikeChance, ceiling, club, flagged),
      }
    case 'speed':
      return {
        sentence:
          `Speed holds the carry back, not strike: the strike is good enough (${level}), ${more} more club speed at this ` +
          `strike would be worth about ${yards(speed.gainM, system)} of carry.`,
        howSure: sure(1 - found.strikeChance, ceiling, club, flagged),
      }
    case 'cannot-tell': {
      const first = found.isStrikeFirst ? ' Look at the strike before any speed work.' : ''
      const settle =
        shotsNeeded === null
          ? ' They lie too close together, or what is within reach is too uncertain, for more shots alone to settle it.'
          : ` About ${shotsNeeded} more shots would settle it 8 times in 10.`
      return {
        sentence: `Can't tell yet which holds the carry back (${level}): ${strikeWords}, ${speedWords}.${first}${settle}`,
        howSure:
          shotsNeeded === null
            ? `Not sure. ${weakest(ceiling, club, flagged)}`
            : `Not sure yet; about ${shotsNeeded} more shots would tell. ${weakest(ceiling, club, flagged)}`,
      }
    }
  }
}

const sure = (chance: number, ceiling: Ceiling, club: string, flagged: number): string =>
  `${chance > 0.98 ? 'M' + outOfTen(chance).slice(1) : 'A' + outOfTen(chance).slice(1)} by these shots and the errors assumed for the device. ${weakest(ceiling, club, flagged)}`

/** The link the answer is no stronger than. */
function weakest(ceiling: Ceiling, club: string, flagged: number): string {
  const rests =
    ceiling.kind === 'measured'
      ? 'It rests on this player’s own shots only.'
      : ceiling.kind === 'formula'
        ? `It rests on a formula for what a ${club} can give; no published average is known.`
        : `It rests on the best players' average with a ${club}, quoted from memory.`
  const odd =
    flagged > 0 ? ` ${flagged} odd ${flagged === 1 ? 'reading was' : 'readings were'} left out.` : ''
  return `${rests[0]!.toUpperCase()}${rests.slice(1)}${odd}`
}

/** What is said where the device can't be believed. */
export const suspicionWords = (
  suspicion: DeviceSuspicion,
  club: string,
  shots: { above: number; of: number; limit: number | null },
): StrikeOrSpeedWords =>
  suspicion === 'units'
    ? {
        sentence: `No verdict: ball speed and club speed don't fit each other for a ${club}; the units or the columns look wrong.`,
        howSure: 'Nothing is said about strike or speed until the units are checked.',
      }
    : {
        sentence:
          `No verdict: ${shots.above} of ${shots.of} shots are above what a ${club} can give` +
          (shots.limit === null ? '' : ` (${shots.limit.toFixed(2)})`) +
          '; the device seems to misread club speed, or the units look wrong.',
        howSure: 'Nothing is said about strike or speed until the device or the units are checked.',
      }
