import { z } from 'zod'
import { findingPhrases } from './coach/findings.ts'
import { phrases as shortPhrases } from './coach/phrases.ts'
import { remarkPhrases } from './coach/remarks.ts'
import { workPhrases } from './coach/work.ts'
import { localeOf } from './language.ts'
import { formatMessage, type PlacesOf } from './message.ts'

const phrases = { ...shortPhrases, ...findingPhrases, ...remarkPhrases, ...workPhrases }
/** Every phrase that there is a message for. */
export type PhraseKey = keyof typeof phrases
/** The same as a list. */
export const phraseKeys = Object.keys(phrases) as PhraseKey[]
/** The message of a phrase. */
export const messageOf = (key: PhraseKey): string => phrases[key]

/** Words as data: which, and what fills its places. Crosses processes and is kept as JSON. */
export interface Phrase {
  readonly phrase: PhraseKey
  readonly values: Words
}
/** Several words as one: "a, b and c"; sentences after each other; parts set off by semicolons or commas. */
interface Joined {
  readonly join: 'and' | 'sentences' | 'semicolons' | 'commas'
  readonly words: readonly Word[]
}
/** Words at the beginning of a sentence. */
interface Capital {
  readonly capital: Word
}
/** A day, YYYY-MM-DD. */
interface Day {
  readonly day: string
}
/** What fills a place: a name or number as it is, or words that are said in the reader's language. */
export type Word = string | number | Phrase | Joined | Capital | Day
/** The values that a message is filled with, by their names in it. */
export type Words = Readonly<Record<string, Word>>

/** A word as it crosses to the window or lies in a draft. */
export const wordSchema: z.ZodType<Word> = z.lazy(() =>
  z.union([
    z.string(),
    z.number(),
    z.object({
      phrase: z.custom<PhraseKey>((key) => typeof key === 'string'),
      values: z.record(z.string(), wordSchema),
    }),
    z.object({ join: z.enum(['and', 'sentences', 'semicolons', 'commas']), words: z.array(wordSchema) }),
    z.object({ capital: wordSchema }),
    z.object({ day: z.string() }),
  ]),
)

/** What fills the places of a phrase; nothing where it has none. */
type Filled<K extends PhraseKey> =
  PlacesOf<(typeof phrases)[K]> extends never
    ? []
    : [values: Readonly<Record<PlacesOf<(typeof phrases)[K]>, Word>>]

/** A phrase of the list, its places filled. */
export const phrase = <K extends PhraseKey>(key: K, ...filled: Filled<K>): Phrase => ({
  phrase: key,
  values: (filled[0] ?? {}) as Words,
})

/** A phrase, said at once: for what is kept or shown as text. */
export const said = <K extends PhraseKey>(key: K, ...filled: Filled<K>): string =>
  sayWord(phrase(key, ...filled))

/** "a", "a and b", "a, b and c". */
export const andList = (words: readonly Word[]): Word => ({ join: 'and', words })
/** Sentences after each other; what is null is not said. */
export const sentences = (...words: readonly (Word | null)[]): Word => joined('sentences', words)
/** Words one after the other, parted by semicolons; null is left out. */
export const semicolons = (...words: readonly (Word | null)[]): Word => joined('semicolons', words)
/** Words one after the other, parted by commas; null is left out. */
export const commas = (...words: readonly (Word | null)[]): Word => joined('commas', words)
const joined = (join: Joined['join'], words: readonly (Word | null)[]): Word => {
  const some = words.filter((word) => word !== null)
  return some.length === 1 ? some[0]! : { join, words: some }
}
/** The word with a capital at its beginning. */
export const capital = (word: Word): Word => ({ capital: word })
/** A day, YYYY-MM-DD, written the language's way. */
export const dayWord = (day: string): Word => ({ day })

const between = { sentences: ' ', semicolons: '; ', commas: ', ' } as const

/** A language to say words in. */
export interface Tongue {
  readonly locale: string
  readonly messageOf: (key: PhraseKey) => string
  /** A text that fills a place, such as a written number, as the language writes it. */
  readonly written: (text: string, place: string) => string
}

/** Says words in a language. A message whose places are not all filled throws: that is a bug. */
export const sayerOf = ({ locale, messageOf: message, written }: Tongue) => {
  const conjunction = new Intl.ListFormat(locale, { type: 'conjunction' })
  const days = new Intl.DateTimeFormat(locale, {
    day: 'numeric',
    month: 'long',
    year: 'numeric',
    timeZone: 'UTC',
  })
  const sayAll = (words: Words): Record<string, string | number> =>
    Object.fromEntries(
      // Numbers stay numbers: a plural goes by them.
      Object.entries(words).map(([place, word]) => [
        place,
        typeof word === 'number' ? word : typeof word === 'string' ? written(word, place) : say(word),
      ]),
    )
  const say = (word: Word): string => {
    if (typeof word !== 'object') return String(word)
    if ('phrase' in word) return formatMessage(message(word.phrase), locale, sayAll(word.values))
    if ('day' in word) return days.format(new Date(`${word.day}T00:00:00Z`))
    if ('capital' in word) {
      const text = say(word.capital)
      return text.charAt(0).toLocaleUpperCase(locale) + text.slice(1)
    }
    const parts = word.words.map((part) => (typeof part === 'string' ? written(part, '') : say(part)))
    return word.join === 'and' ? conjunction.format(parts) : parts.join(between[word.join])
  }
  return { say, sayAll }
}

const english = sayerOf({ locale: localeOf.en, messageOf, written: (text) => text })

/** One word in English, the window's language. */
export const sayWord = (word: Word): string => english.say(word)

/** What fills the places of a message, in English. */
export const sayWords = (words: Words): Record<string, string | number> => english.sayAll(words)

/** The same where there may be nothing to say. */
export const sayOrNull = (word: Word | null): string | null => (word === null ? null : sayWord(word))

/** A word as it lies in the records: text as it is, what is made of phrases as JSON. */
export const keepWord = (word: Word): string => (typeof word === 'string' ? word : JSON.stringify(word))

/** What was kept; text that somebody wrote, or an older Leadside, stays as it is. */
export const keptWord = (kept: string): Word => {
  if (!kept.startsWith('{')) return kept
  try {
    return wordSchema.parse(JSON.parse(kept))
  } catch {
    return kept
  }
}
/** The same, said. */
export const sayKept = (kept: string): string => {
  try {
    return sayWord(keptWord(kept))
  } catch {
    // A phrase that this version doesn't have.
    return kept
  }
}
