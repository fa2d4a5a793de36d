import type { StandardClub } from '../model/club.ts'
import { isStandardClub } from '../model/club.ts'
import { phrase, type Word } from '../wording/phrase.ts'

/** A stated typical launch and spin of a club, for shots whose device gave none. */
export interface TypicalLaunch {
  launchDeg: number
  launchSdDeg: number
  spinRpm: number
  spinSdRpm: number
  /** What it rests on. */
  basis: Word
}

/**
 * Men's tour averages by club (radar seasons, widely reprinted; from memory). Clubs that are not in those
 * tables are set between their neighbours (assumption). The spread is an assumption too: wide enough for the
 * women's tour driver (13.2°, 2611 rpm) and for an ordinary player.
 */
const launchAndSpin: Partial<Record<StandardClub, [launchDeg: number, spinRpm: number, between?: true]>> = {
  driver: [10.9, 2686],
  '2-wood': [10.0, 3170, true],
  '3-wood': [9.2, 3655],
  '5-wood': [9.4, 4350],
  '7-wood': [10.0, 4600, true],
  '2-hybrid': [9.8, 4390, true],
  '3-hybrid': [10.2, 4437],
  '4-hybrid': [10.8, 4700, true],
  '5-hybrid': [11.8, 5200, true],
  '6-hybrid': [13.5, 6000, true],
  '1-iron': [9.6, 4200, true],
  '2-iron': [10.0, 4400, true],
  '3-iron': [10.4, 4630],
  '4-iron': [11.0, 4836],
  '5-iron': [12.1, 5361],
  '6-iron': [14.1, 6231],
  '7-iron': [16.3, 7097],
  '8-iron': [18.1, 7998],
  '9-iron': [20.4, 8647],
  'pitching-wedge': [24.2, 9304],
  'gap-wedge': [26.0, 9500, true],
  'sand-wedge': [28.5, 9700, true],
  'lob-wedge': [31.0, 9800, true],
}

const launchSdDeg = 3
const spinSdShare = 0.2

/** Typical launch and spin of a club; null for a putter, an unknown club or a coach's own word. */
export function typicalLaunch(club: string | null): TypicalLaunch | null {
  const entry = isStandardClub(club) ? launchAndSpin[club] : undefined
  if (!entry) return null
  const [launchDeg, spinRpm, between] = entry
  return {
    launchDeg,
    launchSdDeg,
    spinRpm,
    spinSdRpm: spinSdShare * spinRpm,
    basis: phrase(between ? 'carry.betweenClubs' : 'carry.tourAverage'),
  }
}
