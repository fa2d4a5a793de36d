import { z } from 'zod'
import { phrases } from './coach/phrases.ts'
import { localeOf } from './language.ts'
import { formatMessage, type PlacesOf } from './message.ts'

export type PhraseKey = keyof typeof phrases

/** Words as data, a part of a sentence: which, and what fills its places. Crosses processes and is kept as JSON. */
export interface Phrase {
  readonly phrase: PhraseKey
  readonly values: Words
}
/** What fills a place: a name or number as it is, or words that are said in the reader's language. */
export type Word = string | number | Phrase
export type Words = Readonly<Record<string, Word>>

export const wordSchema: z.ZodType<Word> = z.lazy(() =>
  z.union([
    z.string(),
    z.number(),
    z.object({
      phrase: z.custom<PhraseKey>((key) => typeof key === 'string'),
      values: z.record(z.string(), wordSchema),
    }),
  ]),
)

type Values<K extends PhraseKey> = Readonly<Record<PlacesOf<(typeof phrases)[K]>, Word>>

/** A phrase of the list, its places filled. */
export const phrase = <K extends PhraseKey>(
  key: K,
  ...[values]: PlacesOf<(typeof phrases)[K]> extends never ? [] : [values: Values<K>]
): Phrase => ({ phrase: key, values: (values ?? {}) as Words })

/** One word in English, the window's language. */
export const sayWord = (word: Word): string =>
  typeof word === 'object'
    ? formatMessage(phrases[word.phrase], localeOf.en, sayWords(word.values))
    : String(word)

/** Numbers stay numbers: a plural goes by them. */
export const sayWords = (words: Words): Record<string, string | number> =>
  Object.fromEntries(
    Object.entries(words).map(([name, word]) => [name, typeof word === 'number' ? word : sayWord(word)]),
  )

/** The same where there may be nothing to say. */
export const sayOrNull = (word: Word | null): string | null => (word === null ? null : sayWord(word))
