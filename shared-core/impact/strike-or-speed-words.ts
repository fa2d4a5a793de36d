import type { UnitSystem } from '../units.ts'
import { metricText } from '../units.ts'
import { phrase, sentences, type Phrase, type Word } from '../wording/phrase.ts'
import type { Ceiling } from './ceiling.ts'
import type { Gains } from './gains.ts'
import type { DeviceSuspicion, StrikeOrSpeed } from './strike-or-speed.ts'

/** The words of "strike or speed": the sentence for the coach, and how sure it is with its weakest link. */
export interface StrikeOrSpeedWords {
  sentence: Word
  howSure: Word
}

const yards = (metres: number, system: UnitSystem) => metricText('carryM', Math.max(0, metres), system)

const span = ([low, high]: readonly [number, number], system: UnitSystem): Phrase => {
  const [from, to] = [yards(low, system), yards(high, system)]
  return from === to
    ? phrase('held.about', { amount: to })
    : phrase('text.fromTo', { low: from.replace(/ .*/, ''), high: to })
}

/** The coach's sentence for strike or speed, how it is known, and what would settle it. */
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
      ? phrase('held.levelBelow', { own, reach })
      : phrase('held.levelAtReach', { own })
  const gain = yards(speed.gainM, system)
  const strikeWords = phrase('held.strikeWorth', { gain: span(strike.ci95, system) })
  const speedWords = phrase('held.speedWorth', { more, gain })
  switch (found.verdict) {
    case 'strike':
      return {
        sentence: phrase('held.strike', { level, strike: strikeWords, speed: speedWords }),
        howSure: sure(found.strikeChance, ceiling, club, flagged),
      }
    case 'speed':
      return {
        sentence: phrase('held.speed', { level, more, gain }),
        howSure: sure(1 - found.strikeChance, ceiling, club, flagged),
      }
    case 'cannot-tell':
      return {
        sentence: sentences(
          phrase('held.cannotTell', { level, strike: strikeWords, speed: speedWords }),
          found.isStrikeFirst ? phrase('held.strikeFirst') : null,
          shotsNeeded === null ? phrase('held.tooClose') : phrase('held.wouldSettle', { shots: shotsNeeded }),
        ),
        howSure: sentences(
          shotsNeeded === null ? phrase('held.notSure') : phrase('held.notSureYet', { shots: shotsNeeded }),
          ...weakest(ceiling, club, flagged),
        ),
      }
  }
}

const sure = (chance: number, ceiling: Ceiling, club: string, flagged: number): Word => {
  const tenths = Math.floor(10 * chance)
  return sentences(
    tenths >= 10 || chance > 0.98 ? phrase('held.nearlyCertain') : phrase('held.chances', { tenths }),
    ...weakest(ceiling, club, flagged),
  )
}

/** The link the answer is no stronger than. */
const weakest = (ceiling: Ceiling, club: string, flagged: number): (Word | null)[] => [
  ceiling.kind === 'measured'
    ? phrase('held.restsOnOwn')
    : ceiling.kind === 'formula'
      ? phrase('held.restsOnFormula', { club })
      : phrase('held.restsOnAverage', { club }),
  flagged > 0 ? phrase('held.oddReadings', { n: flagged }) : null,
]

/** What is said where the device can't be believed. */
export const suspicionWords = (
  suspicion: DeviceSuspicion,
  club: string,
  shots: { above: number; of: number; limit: number | null },
): StrikeOrSpeedWords => {
  if (suspicion === 'units') {
    return { sentence: phrase('held.unitsWrong', { club }), howSure: phrase('held.checkUnits') }
  }
  const { above, of, limit } = shots
  return {
    sentence:
      limit === null
        ? phrase('held.deviceWrong', { above, of, club })
        : phrase('held.deviceWrongLimit', { above, of, club, limit: limit.toFixed(2) }),
    howSure: phrase('held.checkDevice'),
  }
}
