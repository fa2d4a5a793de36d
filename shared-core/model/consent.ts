import type { Student } from './entities.ts'

type Asked = Pick<Student, 'name' | 'isMinor' | 'consent'>

/** What the card lacks: filming or sharing not agreed to, an agreement that ran out, a minor without a guardian's. */
export type ConsentGap =
  | { lacks: 'agreement'; filming: boolean; sharing: boolean }
  | { lacks: 'time'; until: string }
  | { lacks: 'guardian' }

/**
 * The one rule of consent, for the Roster and for the hand-over.
 * @param today YYYY-MM-DD where the coach is; the last day of an agreement still counts
 * @returns null if everything that a package needs is on the student's card
 */
export const consentGap = ({ isMinor, consent }: Asked, today: string): ConsentGap | null => {
  if (!consent.filming || !consent.sharing) {
    return { lacks: 'agreement', filming: !consent.filming, sharing: !consent.sharing }
  }
  if (consent.until !== null && consent.until < today) return { lacks: 'time', until: consent.until }
  if (isMinor && !consent.isGuardian) return { lacks: 'guardian' }
  return null
}

const lackingWords = (gap: { filming: boolean; sharing: boolean }): string =>
  [gap.filming ? 'filming' : null, gap.sharing ? 'sharing' : null].filter(Boolean).join(' and ')

/** Why a package may not be written without an explicit yes; null if nothing is lacking. */
export const missingConsent = (student: Asked, today: string): string | null => {
  const gap = consentGap(student, today)
  if (gap === null) return null
  const who = student.isMinor ? 'consent of a guardian' : 'consent'
  switch (gap.lacks) {
    case 'agreement':
      return `${student.name} has no recorded ${who} to ${lackingWords(gap)}`
    case 'time':
      return `the recorded ${who} of ${student.name} ran out on ${gap.until}`
    case 'guardian':
      return `${student.name} is a minor, and the recorded consent is not a guardian’s`
  }
}

/** The same in a few words, beside a name that is there already. */
export const shortConsentGap = (student: Asked, today: string): string | null => {
  const gap = consentGap(student, today)
  if (gap === null) return null
  switch (gap.lacks) {
    case 'agreement':
      return `no consent to ${lackingWords(gap)} recorded`
    case 'time':
      return `consent ran out on ${gap.until}`
    case 'guardian':
      return 'no guardian’s consent recorded'
  }
}

/** May this student's numbers be kept and looked at beside those of others: storing agreed to, in time, by whoever must. */
export const mayBeKept = (
  { isMinor, consent }: Pick<Student, 'isMinor' | 'consent'>,
  today: string,
): boolean =>
  consent.storing && (consent.until === null || consent.until >= today) && (!isMinor || consent.isGuardian)

/**
 * Why a student's lessons may not go to a colleague, films and all; null if nothing is against it. There is no yes beside the
 * card: what a colleague keeps is out of this coach's hands.
 */
export const reasonNotToGive = (student: Asked, today: string): string | null => {
  const missing = missingConsent(student, today)
  if (missing !== null) return missing
  const { name, consent } = student
  if (!consent.storing) {
    return `${name} has no recorded consent to keeping clips, and a colleague would keep them`
  }
  if (consent.coversFace) {
    return `the films of ${name} may be handed over only with the face covered, and a lesson file holds them as filmed`
  }
  return null
}
