import type { Student } from './entities.ts'
import { phrase, type Phrase } from '../wording/phrase.ts'

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

const agreementTo = (gap: { filming: boolean; sharing: boolean }): Phrase =>
  phrase(
    gap.filming && gap.sharing ? 'consent.toBoth' : gap.filming ? 'consent.toFilming' : 'consent.toSharing',
  )

/** Why a package may not be written without an explicit yes; null if nothing is lacking. */
export const missingConsent = (student: Asked, today: string): Phrase | null => {
  const gap = consentGap(student, today)
  if (gap === null) return null
  const whose = phrase(student.isMinor ? 'consent.ofGuardian' : 'consent.own')
  switch (gap.lacks) {
    case 'agreement':
      return phrase('consent.noneRecorded', { student: student.name, whose, to: agreementTo(gap) })
    case 'time':
      return phrase('consent.recordedRanOut', { student: student.name, whose, day: gap.until })
    case 'guardian':
      return phrase('consent.notAGuardians', { student: student.name })
  }
}

/** The same in a few words, beside a name that is there already. */
export const shortConsentGap = (student: Asked, today: string): Phrase | null => {
  const gap = consentGap(student, today)
  if (gap === null) return null
  switch (gap.lacks) {
    case 'agreement':
      return phrase('consent.shortNone', { to: agreementTo(gap) })
    case 'time':
      return phrase('consent.shortRanOut', { day: gap.until })
    case 'guardian':
      return phrase('consent.shortNoGuardian')
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
export const reasonNotToGive = (student: Asked, today: string): Phrase | null => {
  const missing = missingConsent(student, today)
  if (missing !== null) return missing
  const { name, consent } = student
  if (!consent.storing) {
    return phrase('consent.notToKeeping', { student: name })
  }
  if (consent.coversFace) {
    return phrase('consent.onlyCovered', { student: name })
  }
  return null
}
