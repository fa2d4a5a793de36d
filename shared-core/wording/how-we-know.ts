import { sayWord, type Word } from './phrase.ts'

/** How a finding is known, said: on what data, by what method, from which source. */
export interface HowWeKnow {
  data: string
  method: string
  source: string
}
/** The same, before it is said. */
export type HowWeKnowWords = Readonly<Record<keyof HowWeKnow, Word>>

/** How a finding is known, by what says a word. */
export const sayHowWeKnow = (
  { data, method, source }: HowWeKnowWords,
  say: (word: Word) => string = sayWord,
): HowWeKnow => ({ data: say(data), method: say(method), source: say(source) })
