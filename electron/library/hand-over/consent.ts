import type { Student } from '../../../shared-core/model/entities.ts'

/**
 * Why a package may not be written without an explicit yes; null if everything needed is on the student's card.
 * @param today YYYY-MM-DD
 */
export const missingConsent = (student: Student, today: string): string | null => {
  const { consent } = student
  const who = student.isMinor ? 'consent of a guardian' : 'consent'
  if (!consent.filming || !consent.sharing) {
    const lacking = [consent.filming ? null : 'filming', consent.sharing ? null : 'sharing']
      .filter(Boolean)
      .join(' and ')
    return `${student.name} has no recorded ${who} to ${lacking}`
  }
  if (consent.until !== null && consent.until < today) {
    return `the recorded ${who} of ${student.name} ran out on ${consent.until}`
  }
  if (student.isMinor && !consent.isGuardian) {
    return `${student.name} is a minor, and the recorded consent is not a guardian’s`
  }
  return null
}
