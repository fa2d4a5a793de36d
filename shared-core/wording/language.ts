/** Languages of the student's page. The window speaks English. */
export const languages = ['en', 'de', 'es'] as const
export type Language = (typeof languages)[number]

/** Each language by its own name. */
export const languageNames: Record<Language, string> = { en: 'English', de: 'Deutsch', es: 'Español' }

/** What the coach is told of a language that no speaker has read yet; null for one that was written by hand. */
export const languageCaution = (language: Language): string | null =>
  language === 'en'
    ? null
    : `${languageNames[language]}: machine-assisted, please read before sending. What you wrote yourself stays as you wrote it.`

/** Locales by which numbers and days are written. British English: day before month, with its name, is misread nowhere. */
export const localeOf: Record<Language, string> = { en: 'en-GB', de: 'de-DE', es: 'es-ES' }
