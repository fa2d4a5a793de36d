// Made once: a formatter costs far more than a formatting. The page is in English; day before month, with its name, is
// misread nowhere.
const format = new Intl.DateTimeFormat('en-GB', {
  weekday: 'long',
  day: 'numeric',
  month: 'long',
  year: 'numeric',
  timeZone: 'UTC',
})

/** A date (YYYY-MM-DD) as the student reads it: "Saturday 16 May 2026". */
export const dayWords = (date: string): string =>
  format.format(new Date(`${date}T00:00:00Z`)).replace(',', '')
