import { said } from '../wording/phrase.ts'

/** Club codes used inside; anything else a coach types is kept as it is. */
export const standardClubs = [
  'driver',
  '2-wood',
  '3-wood',
  '5-wood',
  '7-wood',
  '2-hybrid',
  '3-hybrid',
  '4-hybrid',
  '5-hybrid',
  '6-hybrid',
  '1-iron',
  '2-iron',
  '3-iron',
  '4-iron',
  '5-iron',
  '6-iron',
  '7-iron',
  '8-iron',
  '9-iron',
  'pitching-wedge',
  'gap-wedge',
  'sand-wedge',
  'lob-wedge',
  'putter',
] as const

export type StandardClub = (typeof standardClubs)[number]

/** True if the code is one of ours, so that ceilings and typical values exist for it. */
export const isStandardClub = (club: string | null): club is StandardClub =>
  club !== null && (standardClubs as readonly string[]).includes(club)

/** The code as words: "7-iron" → "7-iron", "pitching-wedge" → "pitching wedge". */
export const clubWords = (club: string | null): string =>
  club === null ? said('text.unknownClub') : /^\d/.test(club) ? club : club.replace(/-/g, ' ')
