import { findingsDe } from './coach/findings-de.ts'
import { findingsEs } from './coach/findings-es.ts'
import { sayHowWeKnow, type HowWeKnow, type HowWeKnowWords } from './how-we-know.ts'
import type { SpokenKey } from './coach/spoken.ts'
import { localeOf, type Language } from './language.ts'
import { blockIn, clubIn, sayIn } from './say.ts'
import { messageOf, sayerOf, sayWord, type PhraseKey, type Word } from './phrase.ts'

/** Messages of findings in the other languages; beside them stands what is said in English only. */
export const findingsIn: Record<Exclude<Language, 'en'>, Record<SpokenKey, string>> = {
  de: findingsDe,
  es: findingsEs,
}

/** A number with its unit, and nothing else: "2.1 mph", "+0.02", "1.5°". */
const number = /^[+−]?\d+\.\d+(?:°|\s?[\p{L}/%°: 1]+)?$/u
/** Places of names that somebody gave: a cue called 2.1 stays as it is. */
const names = ['cue', 'student', 'file']

const sayerIn = (language: Exclude<Language, 'en'>) => {
  const messages: Partial<Record<PhraseKey, string>> = findingsIn[language]
  const say = sayIn(language)
  return sayerOf({
    locale: localeOf[language],
    messageOf: (key) => messages[key] ?? messageOf(key),
    written: (text, place) => {
      // What the program named is said in the language; what the coach named stays as it is.
      if (place === 'label') return blockIn(say, text)
      if (place === 'club') return clubIn(say, text)
      return !names.includes(place) && number.test(text) ? text.replace('.', ',') : text
    },
  })
}
const sayers = { de: sayerIn('de'), es: sayerIn('es') }

/** Words of a finding in a language. German and Spanish are machine-assisted (`languageCaution`). */
export const sayFindingIn = (language: Language, word: Word): string =>
  language === 'en' ? sayWord(word) : sayers[language].say(word)

/** What of a finding is said. */
interface Texts {
  sentence: string
  howSure: string
  caution: string | null
  howWeKnow: HowWeKnow
  words: { sentence: Word; howSure: Word; caution: Word | null; howWeKnow: HowWeKnowWords }
}

/** A finding with all its texts in a language. */
export const findingIn = <F extends Texts>(language: Language, finding: F): F => {
  const { sentence, howSure, caution, howWeKnow } = finding.words
  const say = (word: Word) => sayFindingIn(language, word)
  return {
    ...finding,
    sentence: say(sentence),
    howSure: say(howSure),
    caution: caution === null ? null : say(caution),
    howWeKnow: sayHowWeKnow(howWeKnow, say),
  }
}
