import { readHeader } from './column-names.ts'
import { isKnownClub, readClub } from './read-club.ts'
import { isMissing } from './read-number.ts'
import { summaryWord } from './summary-row-word.ts'

/** A line that stands alone above others: its words, and the club they name if they name one. */
export type Heading = { readonly text: string; readonly club: string | null }

/** "Driver", "7 Iron (5 shots)", "Club: Driver", "Schläger;Driver": what stands before the colon and behind in brackets is no club. */
const clubIn = (text: string): string | null => {
  for (const piece of [text, text.replace(/^[^:]*:\s*/, '')]) {
    const bareText = piece
      .replace(/[([{][^)\]}]*[)\]}]/g, ' ')
      .replace(/[-–—:,;\s]+(?:\d+\s*)?(?:shots?|balls?|schläge|golpes|coups|colpi|slag)\s*$/i, '')
      .trim()
    // "50 shots" counts them; "52°" would be a wedge.
    const club = /[\p{L}°º]/u.test(bareText) ? readClub(bareText) : null
    if (club !== null && isKnownClub(club)) return club
  }
  return null
}

/**
 * Reads a line as a heading: one cell with words and nothing else, however many empty cells pad it, or a word for
 * "club" with the club beside it. Null for any other line.
 */
export const readHeading = (cells: readonly string[]): Heading | null => {
  const filled = cells.map((c) => c.trim()).filter((c) => !isMissing(c))
  if (filled.length === 2 && readHeader(filled[0]!.replace(/:$/, '')).target === 'club') {
    return { text: filled.join(' '), club: clubIn(filled[1]!) }
  }
  if (filled.length !== 1) return null
  const text = filled[0]!
  const club = clubIn(text)
  if (club === null && !/\p{L}/u.test(text)) return null
  // "Driver Average" is no heading of drivers; "Driver, 5 shots" is one.
  return { text, club: summaryWord(text)?.strength === 'strong' ? null : club }
}
